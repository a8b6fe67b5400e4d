// @ts-check
// The stage: the instrument on one canvas, the ions above it on another, the
// trace beside. Sizes and colours are read when they change and kept, so that a
// frame asks the page for nothing.

import { drawInstrument, fitted } from "./instrument.js";
import { Flight, pictures } from "./flight.js";
import { Trace } from "./trace.js";

/**
 * @typedef {import("./demonstrate.js").Frame} Frame
 * @typedef {import("./demonstrate.js").Sweep} Sweep
 * @typedef {import("./instrument.js").Scale} Scale
 * @typedef {import("./instrument.js").Colors} Colors
 */

/** @param {string} id */
const canvas = (id) => /** @type {HTMLCanvasElement} */ (document.getElementById(id));

export class Stage {
  /** @param {boolean} still whether ions aren't to move */
  constructor(still) {
    this.still = still;
    this.view = canvas("instrument-live");
    this.above = canvas("ions-live");
    this.trace = new Trace(canvas("trace-live"), canvas("field-live"));
    this.flight = new Flight();
    /** @type {Frame|undefined} */
    this.frame = undefined;
    /** @type {Scale|undefined} */
    this.scale = undefined;
    this.colors = palette();
  }

  /**
   * show takes the paths of a moment.
   * @param {Frame} frame
   */
  show(frame) {
    const other = !this.scale || JSON.stringify(frame.layout) !== JSON.stringify(this.frame?.layout);
    this.frame = frame;
    if (other) this.fit();
    else this.follow();
  }

  /** fit reads sizes and colours, and draws the instrument again. */
  fit() {
    if (!this.frame || this.view.clientWidth === 0) return;
    const letter = parseFloat(getComputedStyle(document.body).fontSize) * 0.85;
    this.colors = palette();
    this.scale = fitted(this.view, this.frame.layout, this.view.clientWidth, letter);
    this.above.width = this.view.width;
    this.above.height = this.view.height;
    this.above.style.height = this.view.style.height;
    const dots = window.devicePixelRatio || 1;
    this.ions = /** @type {CanvasRenderingContext2D} */ (this.above.getContext("2d"));
    this.ions.setTransform(dots, 0, 0, dots, 0, 0);
    this.pictures = pictures(letter, this.colors);
    this.trace.fit(this.trace.canvas.clientWidth, letter);
    this.follow();
  }

  follow() {
    if (!this.frame || !this.scale) return;
    drawInstrument(this.scale, this.frame, this.colors);
    this.flight.follow(this.frame, this.scale);
  }

  /**
   * draw brings ions and trace up to date.
   * @param {number} passed in s
   * @param {Sweep} sweep
   * @param {number} reached T
   * @param {number} field T
   */
  draw(passed, sweep, reached, field) {
    if (!this.scale || !this.ions || !this.pictures) return;
    if (this.still) {
      this.ions.clearRect(0, 0, this.scale.width, this.scale.height);
    } else {
      this.flight.move(passed);
      this.flight.draw(this.ions, this.scale, this.pictures);
    }
    this.trace.draw(sweep, reached, field, this.colors);
  }
}

/**
 * palette reads the colours of the page, which follow light and dark.
 * @returns {Colors}
 */
function palette() {
  const style = getComputedStyle(document.documentElement);
  /** @param {string} role */
  const color = (role) => style.getPropertyValue(`--ionwright-${role}`).trim();
  return { paper: color("paper"), panel: color("panel"), ink: color("ink"), muted: color("muted"), faint: color("faint"), accent: color("accent"), second: color("second") };
}
