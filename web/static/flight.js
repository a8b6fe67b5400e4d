// @ts-check
// Ions in flight: each follows one of the paths that the server computed, at a
// speed that goes with one over the square root of m/z, as after the same
// voltage. When the field changes, an ion goes on along the path of its kind at
// the new field.
//
// What is drawn sixty times a second is a copied picture for each ion and no
// more: places on the paths are worked out when paths come, and the pictures
// when colours do.

import { pathUnit } from "./instrument.js";

/**
 * @typedef {import("./demonstrate.js").Frame} Frame
 * @typedef {import("./instrument.js").Scale} Scale
 * @typedef {import("./instrument.js").Colors} Colors
 * @typedef {{places: Float32Array, long: number, arrives: boolean}} Track  places: x, y, x, y ... in px, evenly along the path; long: m
 * @typedef {{beam: number, ray: number, at: number}} Ion  at: m along the path
 * @typedef {{x: number, y: number, arrived: boolean, age: number}} End  of an ion; age in s
 * @typedef {{flying: HTMLCanvasElement, arriving: HTMLCanvasElement, rings: HTMLCanvasElement[][], size: number}} Pictures
 */

/** How many ions are in flight, at most. */
export const inFlight = 300;

/** How many ends of ions are seen at a time, at most. */
const mostEnds = 80;

/** Seconds that the slowest ion takes through the instrument on the stage. */
const slowest = 3.2;

/** Places that a path is divided into. */
const places = 96;

/** Seconds for which the end of an ion is seen, and in how many pictures. */
const fading = 0.4;
const ringSteps = 8;

export class Flight {
  constructor() {
    /** @type {Track[][]} by beam and ray */
    this.tracks = [];
    /** @type {number[]} m on the stage in a second, by beam */
    this.speeds = [];
    /** @type {Ion[]} */
    this.ions = [];
    /** @type {End[]} */
    this.ends = [];
    this.kinds = "";
  }

  /**
   * follow takes the paths of a moment.
   * @param {Frame} frame
   * @param {Scale} scale
   */
  follow(frame, scale) {
    this.tracks = frame.beams.map((beam) => beam.paths.map((path) => track(path.points, path.arrives, scale)));
    const longest = Math.max(...this.tracks.flat().map((t) => t.long));
    const heaviest = Math.max(...frame.beams.map((b) => b.mz));
    this.speeds = frame.beams.map((b) => (longest / slowest) * Math.sqrt(heaviest / b.mz));
    const kinds = frame.beams.map((b) => `${b.mz}:${b.intensity}:${b.paths.length}`).join();
    if (kinds === this.kinds) return;
    this.kinds = kinds;
    this.ions = [];
    this.ends = [];
    counts(frame.beams.map((b) => b.intensity)).forEach((count, beam) => {
      for (let k = 0; k < count; k++) {
        const ray = (k * 7) % frame.beams[beam].paths.length;
        this.ions.push({ beam, ray, at: fraction(this.ions.length) * this.tracks[beam][ray].long });
      }
    });
  }

  /** @param {number} passed in s */
  move(passed) {
    for (const end of this.ends) end.age += passed;
    this.ends = this.ends.filter((end) => end.age < fading);
    for (const ion of this.ions) {
      const t = this.tracks[ion.beam][ion.ray];
      ion.at += passed * this.speeds[ion.beam];
      if (ion.at < t.long) continue;
      ion.at %= t.long;
      if (this.ends.length < mostEnds) this.ends.push({ x: t.places[2 * places], y: t.places[2 * places + 1], arrived: t.arrives, age: 0 });
    }
  }

  /**
   * draw shows the ions on a canvas of their own.
   * @param {CanvasRenderingContext2D} c
   * @param {Scale} scale
   * @param {Pictures} pictures
   */
  draw(c, scale, pictures) {
    c.clearRect(0, 0, scale.width, scale.height);
    for (const end of this.ends) {
      stamp(c, pictures.rings[end.arrived ? 1 : 0][Math.floor((end.age / fading) * ringSteps)], end.x, end.y);
    }
    for (const ion of this.ions) {
      const t = this.tracks[ion.beam][ion.ray];
      const along = (Math.min(ion.at, t.long) / t.long) * places;
      const k = Math.min(Math.floor(along), places - 1);
      const rest = along - k;
      const x = t.places[2 * k] + rest * (t.places[2 * k + 2] - t.places[2 * k]);
      const y = t.places[2 * k + 1] + rest * (t.places[2 * k + 3] - t.places[2 * k + 1]);
      stamp(c, t.arrives ? pictures.arriving : pictures.flying, x, y);
    }
  }
}

/**
 * counts shares the ions out: as many of each kind as its current asks for,
 * one at least.
 * @param {number[]} intensities
 */
function counts(intensities) {
  const total = intensities.reduce((sum, y) => sum + y, 0);
  const free = inFlight - intensities.length;
  return intensities.map((y) => 1 + Math.floor((free * y) / total));
}

/**
 * fraction spreads the ions evenly over their paths.
 * @param {number} k
 */
const fraction = (k) => (k * 0.6180339887) % 1;

/**
 * stamp copies a picture, its middle to a place.
 * @param {CanvasRenderingContext2D} c
 * @param {HTMLCanvasElement} picture
 * @param {number} x
 * @param {number} y
 */
function stamp(c, picture, x, y) {
  const dots = window.devicePixelRatio || 1;
  const size = picture.width / dots;
  c.drawImage(picture, x - size / 2, y - size / 2, size, size);
}

/**
 * pictures draws what ions look like.
 * @param {number} letter px
 * @param {Colors} colors
 * @returns {Pictures}
 */
export function pictures(letter, colors) {
  const size = Math.max(1.6, letter / 7);
  const ring = (/** @type {boolean} */ arrived) =>
    Array.from({ length: ringSteps }, (_, k) => {
      const age = ((k + 0.5) / ringSteps) * fading;
      return circle(size * (1 + age * (arrived ? 14 : 4)), "", arrived ? colors.accent : colors.second, 1 - age / fading);
    });
  return { flying: circle(size, colors.paper, colors.muted, 1), arriving: circle(size, colors.accent, colors.accent, 1), rings: [ring(false), ring(true)], size };
}

/**
 * @param {number} radius px
 * @param {string} inside color; "" none
 * @param {string} line color
 * @param {number} strength 0 to 1
 */
function circle(radius, inside, line, strength) {
  const dots = window.devicePixelRatio || 1;
  const half = Math.ceil((radius + 2) * dots) / dots;
  const canvas = document.createElement("canvas");
  canvas.width = canvas.height = Math.round(2 * half * dots);
  const c = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
  c.scale(dots, dots);
  c.globalAlpha = strength;
  c.fillStyle = inside || "transparent";
  c.strokeStyle = line;
  c.lineWidth = inside ? 1 : 1.5;
  c.beginPath();
  c.arc(half, half, radius, 0, 7);
  c.fill();
  c.stroke();
  return canvas;
}

/**
 * track divides a path evenly.
 * @param {number[]} flat x, y, x, y ... in units of pathUnit
 * @param {boolean} arrives
 * @param {Scale} scale
 * @returns {Track}
 */
function track(flat, arrives, scale) {
  const lengths = [0];
  for (let k = 2; k < flat.length; k += 2) {
    lengths.push(lengths[lengths.length - 1] + Math.hypot(flat[k] - flat[k - 2], flat[k + 1] - flat[k - 1]));
  }
  const long = lengths[lengths.length - 1] || 1;
  const out = new Float32Array(2 * places + 2);
  let piece = 0;
  for (let n = 0; n <= places; n++) {
    const at = (n / places) * long;
    while (piece < lengths.length - 2 && lengths[piece + 1] < at) piece++;
    const t = (at - lengths[piece]) / (lengths[piece + 1] - lengths[piece] || 1);
    const k = 2 * piece;
    const [x, y] = scale.at((flat[k] + t * (flat[k + 2] - flat[k])) * pathUnit, (flat[k + 1] + t * (flat[k + 3] - flat[k + 1])) * pathUnit);
    out[2 * n] = x;
    out[2 * n + 1] = y;
  }
  return { places: out, long: long * pathUnit, arrives };
}
