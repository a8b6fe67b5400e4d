// @ts-check
// Ions in flight: each follows one of the paths that the server computed, at a
// speed that goes with one over the square root of m/z, as after the same
// voltage. When the field changes, an ion goes on along the path of its kind at
// the new field.

import { pathUnit } from "./instrument.js";

/**
 * @typedef {import("./demonstrate.js").Frame} Frame
 * @typedef {import("./instrument.js").Scale} Scale
 * @typedef {import("./instrument.js").Colors} Colors
 * @typedef {{points: [number, number][], lengths: number[], long: number, arrives: boolean}} Path
 * @typedef {{beam: number, ray: number, at: number}} Ion  at: m along the path
 */

/** How many ions are in flight. */
export const inFlight = 300;

/** Seconds that the slowest ion takes through the instrument on the stage. */
const slowest = 3.2;

export class Flight {
  constructor() {
    /** @type {Path[][]} */
    this.paths = [];
    /** @type {number[]} */
    this.speeds = [];
    /** @type {Ion[]} */
    this.ions = [];
    /** @type {[number, number, boolean, number][]} x, y, arrived, age in s */
    this.ends = [];
  }

  /**
   * follow takes the paths of a moment.
   * @param {Frame} frame
   */
  follow(frame) {
    const same = frame.beams.length === this.paths.length && this.mz === frame.beams.map((b) => b.mz).join();
    this.mz = frame.beams.map((b) => b.mz).join();
    this.paths = frame.beams.map((beam) => beam.paths.map((path) => measured(path.points, path.arrives)));
    const longest = Math.max(...this.paths.flat().map((p) => p.long));
    const heaviest = Math.max(...frame.beams.map((b) => b.mz));
    this.speeds = frame.beams.map((b) => (longest / slowest) * Math.sqrt(heaviest / b.mz));
    if (same) return;
    // As many of each kind as its current asks for, one at least.
    const total = frame.beams.reduce((sum, b) => sum + b.intensity, 0);
    this.ions = [];
    frame.beams.forEach((b, beam) => {
      const count = Math.max(1, Math.round((inFlight * b.intensity) / total));
      for (let k = 0; k < count && this.ions.length < inFlight; k++) {
        const ray = (k * 7) % b.paths.length;
        this.ions.push({ beam, ray, at: fraction(this.ions.length) * this.paths[beam][ray].long });
      }
    });
  }

  /** @param {number} passed in s */
  move(passed) {
    for (const ion of this.ions) {
      const path = this.paths[ion.beam]?.[ion.ray];
      if (!path) continue;
      ion.at += passed * this.speeds[ion.beam];
      if (ion.at < path.long) continue;
      const [x, y] = path.points[path.points.length - 1];
      this.ends.push([x, y, path.arrives, 0]);
      ion.at %= path.long;
    }
    for (const end of this.ends) end[3] += passed;
    this.ends = this.ends.filter((end) => end[3] < 0.4).slice(-inFlight);
  }

  /**
   * draw shows the ions; without motion only the paths are seen.
   * @param {Scale} scale
   * @param {Colors} colors
   * @param {boolean} still
   */
  draw(scale, colors, still) {
    if (still) return;
    const { context: c, at } = scale;
    const size = Math.max(1.6, scale.letter / 7);
    for (const [x, y, arrived, age] of this.ends) {
      c.globalAlpha = 1 - age / 0.4;
      c.strokeStyle = arrived ? colors.accent : colors.second;
      c.lineWidth = 1.5;
      c.beginPath();
      c.arc(...at(x, y), size * (1 + age * (arrived ? 14 : 4)), 0, 7);
      c.stroke();
    }
    c.globalAlpha = 1;
    for (const arrives of [false, true]) {
      c.fillStyle = arrives ? colors.accent : colors.paper;
      c.strokeStyle = arrives ? colors.accent : colors.muted;
      c.lineWidth = 1;
      c.beginPath();
      for (const ion of this.ions) {
        const path = this.paths[ion.beam]?.[ion.ray];
        if (!path || path.arrives !== arrives) continue;
        const [x, y] = at(...along(path, Math.min(ion.at, path.long)));
        c.moveTo(x + size, y);
        c.arc(x, y, size, 0, 7);
      }
      c.fill();
      c.stroke();
    }
  }
}

/**
 * fraction spreads the ions evenly over their paths.
 * @param {number} k
 */
const fraction = (k) => (k * 0.6180339887) % 1;

/**
 * @param {number[]} flat x, y, x, y ...
 * @param {boolean} arrives
 * @returns {Path}
 */
function measured(flat, arrives) {
  /** @type {[number, number][]} */
  const points = [];
  for (let k = 0; k < flat.length; k += 2) points.push([flat[k] * pathUnit, flat[k + 1] * pathUnit]);
  const lengths = [0];
  for (let k = 1; k < points.length; k++) {
    lengths.push(lengths[k - 1] + Math.hypot(points[k][0] - points[k - 1][0], points[k][1] - points[k - 1][1]));
  }
  return { points, lengths, long: lengths[lengths.length - 1] || 1e-9, arrives };
}

/**
 * along is the place on a path.
 * @param {Path} path
 * @param {number} at in m
 * @returns {[number, number]}
 */
function along(path, at) {
  let low = 0;
  let high = path.lengths.length - 1;
  while (high - low > 1) {
    const half = (low + high) >> 1;
    if (path.lengths[half] <= at) low = half;
    else high = half;
  }
  const [a, b] = [path.points[low], path.points[high]];
  const piece = path.lengths[high] - path.lengths[low] || 1;
  const t = (at - path.lengths[low]) / piece;
  return [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
}
