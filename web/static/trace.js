// @ts-check
// Draws what the detector has recorded so far.

import { sized } from "./instrument.js";

/**
 * @typedef {import("./demonstrate.js").Sweep} Sweep
 * @typedef {import("./instrument.js").Colors} Colors
 */

/**
 * drawTrace draws the trace up to a field, with the m/z of what has arrived.
 * @param {HTMLCanvasElement} canvas
 * @param {Sweep} sweep
 * @param {number} reached T, up to which it was recorded
 * @param {number} field T, where the sweep is
 * @param {Colors} colors
 */
export function drawTrace(canvas, sweep, reached, field, colors) {
  const { context: c, width, height } = sized(canvas, 0.45);
  const letter = parseFloat(getComputedStyle(document.body).fontSize) * 0.85;
  const box = { left: 10, right: width - 10, top: letter * 2.4, bottom: height - letter * 2.4 };
  const span = sweep.to - sweep.from;
  const x = (/** @type {number} */ b) => box.left + ((b - sweep.from) / span) * (box.right - box.left);
  const y = (/** @type {number} */ s) => box.bottom - s * (box.bottom - box.top);
  c.font = `${letter}px 'Ionwright Go', sans-serif`;
  c.strokeStyle = colors.muted;
  c.fillStyle = colors.muted;
  c.lineWidth = 1;
  c.beginPath();
  c.moveTo(box.left, box.bottom);
  c.lineTo(box.right, box.bottom);
  const step = tickStep(span, (box.right - box.left) / (letter * 5));
  const digits = Math.max(0, Math.ceil(-Math.log10(step)));
  for (let b = Math.ceil(sweep.from / step) * step; b <= sweep.to; b += step) {
    c.moveTo(x(b), box.bottom);
    c.lineTo(x(b), box.bottom + 4);
    c.textAlign = x(b) < letter * 2 ? "left" : x(b) > width - letter * 2 ? "right" : "center";
    c.fillText(b.toFixed(digits), x(b), box.bottom + letter * 1.1);
  }
  c.stroke();
  c.textAlign = "right";
  c.fillText("magnetic field (T)", box.right, height - 3);

  const points = sweep.signal.length;
  const end = Math.min(points - 1, Math.floor(((reached - sweep.from) / span) * (points - 1)));
  c.strokeStyle = colors.ink;
  c.lineWidth = 1.6;
  c.beginPath();
  for (let k = 0; k <= end; k++) c.lineTo(box.left + (k / (points - 1)) * (box.right - box.left), y(sweep.signal[k]));
  c.stroke();

  // Labels, the tallest peaks first, none over another.
  c.fillStyle = colors.ink;
  c.textAlign = "center";
  /** @type {[number, number][]} */
  const taken = [];
  const top = Math.max(...sweep.arrivals.map((a) => a.height), 1);
  for (const a of [...sweep.arrivals].sort((p, q) => q.height - p.height)) {
    if (a.field > reached || a.field < sweep.from) continue;
    const text = Number.isInteger(a.mz) ? String(a.mz) : a.mz.toFixed(1);
    const half = c.measureText(text).width / 2 + 2;
    const at = x(a.field);
    if (taken.some(([l, r]) => at + half > l && at - half < r)) continue;
    taken.push([at - half, at + half]);
    const k = Math.min(points - 1, Math.round(((a.field - sweep.from) / span) * (points - 1)));
    c.fillText(text, Math.min(Math.max(at, half), width - half), Math.max(letter, y(sweep.signal[k] || a.height / top) - 4));
  }

  c.strokeStyle = colors.accent;
  c.lineWidth = 2;
  c.beginPath();
  c.moveTo(x(field), box.top - 4);
  c.lineTo(x(field), box.bottom + 6);
  c.stroke();
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
