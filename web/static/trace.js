// @ts-check
// Draws what the detector has recorded so far. While the sweep goes on only
// what is new is drawn: a piece of the line, and the mark of the field on a
// canvas above.

import { sized } from "./instrument.js";

/**
 * @typedef {import("./demonstrate.js").Sweep} Sweep
 * @typedef {import("./instrument.js").Colors} Colors
 * @typedef {{left: number, right: number, top: number, bottom: number}} Box
 */

/** Height of the trace over its width. */
const ratio = 0.45;

export class Trace {
  /**
   * @param {HTMLCanvasElement} canvas of the trace
   * @param {HTMLCanvasElement} above of the mark
   */
  constructor(canvas, above) {
    this.canvas = canvas;
    this.above = above;
    /** @type {Box} */
    this.box = { left: 0, right: 1, top: 0, bottom: 1 };
    this.width = 0;
    this.height = 0;
    this.letter = 16;
    this.drawn = 0; // points of the line
    this.labels = 0; // of ions that have arrived
    this.marked = -1; // px, where the mark stands
  }

  /**
   * fit gives the canvases their size; all has to be drawn again.
   * @param {number} width px
   * @param {number} letter px
   */
  fit(width, letter) {
    this.width = width;
    this.height = Math.round(width * ratio);
    this.letter = letter;
    this.box = { left: 10, right: width - 10, top: letter * 2.4, bottom: this.height - letter * 2.4 };
    this.line = sized(this.canvas, width, this.height);
    this.mark = sized(this.above, width, this.height);
    this.drawn = 0;
    this.marked = -1;
  }

  /** again makes the next draw draw everything. */
  again() {
    this.drawn = 0;
    this.marked = -1;
  }

  /**
   * draw brings the trace up to a field.
   * @param {Sweep} sweep
   * @param {number} reached T, up to which it was recorded
   * @param {number} field T, where the sweep is
   * @param {Colors} colors
   */
  draw(sweep, reached, field, colors) {
    if (!this.line || !this.mark) return;
    const points = sweep.signal.length;
    const end = Math.min(points, Math.floor(((reached - sweep.from) / (sweep.to - sweep.from)) * (points - 1)) + 1);
    const labels = sweep.arrivals.filter((a) => a.field <= reached).length;
    if (this.drawn === 0 || end < this.drawn || labels !== this.labels) {
      this.axis(this.line, sweep, colors);
      this.piece(this.line, sweep, 0, end, colors);
      this.names(this.line, sweep, reached, colors);
      this.labels = labels;
    } else if (end > this.drawn) {
      this.piece(this.line, sweep, this.drawn - 1, end, colors);
    }
    this.drawn = end;
    this.point(this.mark, this.x(sweep, field), colors);
  }

  /** @param {Sweep} sweep @param {number} field T */
  x(sweep, field) {
    return this.box.left + ((field - sweep.from) / (sweep.to - sweep.from)) * (this.box.right - this.box.left);
  }

  /** @param {number} signal 0 to 1 */
  y(signal) {
    return this.box.bottom - signal * (this.box.bottom - this.box.top);
  }

  /**
   * point moves the mark of the field.
   * @param {CanvasRenderingContext2D} c
   * @param {number} x px
   * @param {Colors} colors
   */
  point(c, x, colors) {
    if (Math.abs(x - this.marked) < 0.25) return;
    c.clearRect(this.marked - 3, 0, 6, this.height);
    this.marked = x;
    c.fillStyle = colors.accent;
    c.fillRect(x - 1, this.box.top - 4, 2, this.box.bottom - this.box.top + 10);
  }

  /**
   * piece draws the line from one point to another.
   * @param {CanvasRenderingContext2D} c
   * @param {Sweep} sweep
   * @param {number} from index
   * @param {number} end index after the last
   * @param {Colors} colors
   */
  piece(c, sweep, from, end, colors) {
    const wide = (this.box.right - this.box.left) / (sweep.signal.length - 1);
    c.strokeStyle = colors.ink;
    c.lineWidth = 1.6;
    c.lineJoin = "round";
    c.beginPath();
    for (let k = Math.max(0, from); k < end; k++) c.lineTo(this.box.left + k * wide, this.y(sweep.signal[k]));
    c.stroke();
  }

  /**
   * axis clears the canvas and draws the axis of the field.
   * @param {CanvasRenderingContext2D} c
   * @param {Sweep} sweep
   * @param {Colors} colors
   */
  axis(c, sweep, colors) {
    const { box, letter, width, height } = this;
    c.clearRect(0, 0, width, height);
    c.font = `${letter}px 'Ionwright Go', sans-serif`;
    c.strokeStyle = colors.muted;
    c.fillStyle = colors.muted;
    c.lineWidth = 1;
    c.beginPath();
    c.moveTo(box.left, box.bottom);
    c.lineTo(box.right, box.bottom);
    const step = tickStep(sweep.to - sweep.from, (box.right - box.left) / (letter * 5));
    const digits = Math.max(0, Math.ceil(-Math.log10(step)));
    for (let b = Math.ceil(sweep.from / step) * step; b <= sweep.to; b += step) {
      const x = this.x(sweep, b);
      c.moveTo(x, box.bottom);
      c.lineTo(x, box.bottom + 4);
      c.textAlign = x < letter * 2 ? "left" : x > width - letter * 2 ? "right" : "center";
      c.fillText(b.toFixed(digits), x, box.bottom + letter * 1.1);
    }
    c.stroke();
    c.textAlign = "right";
    c.fillText("magnetic field (T)", box.right, height - 3);
  }

  /**
   * names writes the m/z of what has arrived, the tallest peaks first, none
   * over another.
   * @param {CanvasRenderingContext2D} c
   * @param {Sweep} sweep
   * @param {number} reached T
   * @param {Colors} colors
   */
  names(c, sweep, reached, colors) {
    const points = sweep.signal.length;
    c.fillStyle = colors.ink;
    c.textAlign = "center";
    /** @type {[number, number][]} */
    const taken = [];
    const top = Math.max(...sweep.arrivals.map((a) => a.height), 1);
    for (const a of [...sweep.arrivals].sort((p, q) => q.height - p.height)) {
      if (a.field > reached || a.field < sweep.from) continue;
      const text = Number.isInteger(a.mz) ? String(a.mz) : a.mz.toFixed(1);
      const half = c.measureText(text).width / 2 + 2;
      const at = this.x(sweep, a.field);
      if (taken.some(([l, r]) => at + half > l && at - half < r)) continue;
      taken.push([at - half, at + half]);
      const k = Math.min(points - 1, Math.round(((a.field - sweep.from) / (sweep.to - sweep.from)) * (points - 1)));
      c.fillText(text, Math.min(Math.max(at, half), this.width - half), Math.max(this.letter, this.y(sweep.signal[k] || a.height / top) - 4));
    }
  }
}

/**
 * tickStep is a round step that gives about so many ticks.
 * @param {number} span
 * @param {number} count
 */
function tickStep(span, count) {
  const rough = span / Math.max(2, count);
  const power = 10 ** Math.floor(Math.log10(rough));
  return power * ([1, 2, 5].find((m) => m * power >= rough) ?? 10);
}
