// @ts-check
// Draws the instrument to scale on a canvas.

/**
 * @typedef {import("./demonstrate.js").Frame} Frame
 * @typedef {import("./demonstrate.js").Layout} Layout
 * @typedef {import("./demonstrate.js").Bend} Bend
 * @typedef {import("./demonstrate.js").Point} Point
 * @typedef {{paper: string, panel: string, ink: string, muted: string, faint: string, accent: string, second: string}} Colors
 * @typedef {{context: CanvasRenderingContext2D, width: number, height: number, unit: number, letter: number, at: (x: number, y: number) => [number, number]}} Scale
 */

/**
 * sized gives a canvas a size on the page, with as many dots as the screen has
 * there.
 * @param {HTMLCanvasElement} canvas
 * @param {number} width px
 * @param {number} height px
 * @returns {CanvasRenderingContext2D}
 */
export function sized(canvas, width, height) {
  const dots = window.devicePixelRatio || 1;
  const context = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
  canvas.width = Math.round(width * dots);
  canvas.height = Math.round(height * dots);
  canvas.style.height = `${height}px`;
  context.setTransform(dots, 0, 0, dots, 0, 0);
  return context;
}

/** pathUnit is the unit of paths, in m. */
export const pathUnit = 1e-5;

/**
 * extent is what of the instrument must be seen.
 * @param {Layout} layout
 */
function extent(layout) {
  const points = [layout.source, layout.collector];
  for (const bend of [layout.magnet, layout.electric]) if (bend) points.push(...arc(bend, bend.half * 1.6 || bend.radius * 0.15, 24), ...arc(bend, -(bend.half * 1.6 || bend.radius * 0.15), 24));
  const xs = points.map((p) => p.x);
  const ys = points.map((p) => p.y);
  return { left: Math.min(...xs), right: Math.max(...xs), bottom: Math.min(...ys), top: Math.max(...ys) };
}

/**
 * arc is a line beside the central path through a bend; outward is positive.
 * @param {Bend} bend
 * @param {number} beside in m
 * @param {number} pieces
 * @returns {Point[]}
 */
function arc(bend, beside, pieces) {
  const from = Math.atan2(bend.start.y - bend.center.y, bend.start.x - bend.center.x);
  const out = [];
  for (let k = 0; k <= pieces; k++) {
    const angle = from + (bend.angle * k) / pieces;
    out.push({ x: bend.center.x + (bend.radius + beside) * Math.cos(angle), y: bend.center.y + (bend.radius + beside) * Math.sin(angle) });
  }
  return out;
}

/**
 * fitted is the scale at which the whole instrument fits its canvas. It gives
 * the canvas its size.
 * @param {HTMLCanvasElement} canvas
 * @param {Layout} layout
 * @param {number} width px, of the place on the page
 * @param {number} letter px
 * @returns {Scale}
 */
export function fitted(canvas, layout, width, letter) {
  const e = extent(layout);
  const wide = e.right - e.left;
  const high = e.top - e.bottom;
  const tallest = (0.62 * window.innerHeight) / width;
  const ratio = Math.min(Math.max(0.45, tallest), Math.max(0.3, (high / wide) * 1.05));
  const height = Math.round(width * ratio);
  const context = sized(canvas, width, height);
  const margin = Math.min(width, height) * 0.09;
  const unit = Math.min((width - 2 * margin) / wide, (height - 2 * margin) / high);
  const dx = (width - unit * wide) / 2;
  const dy = (height - unit * high) / 2;
  return { context, width, height, unit, letter, at: (x, y) => [dx + (x - e.left) * unit, height - dy - (y - e.bottom) * unit] };
}

/**
 * drawInstrument draws magnet, walls, slits and the paths of the beams.
 * @param {Scale} scale
 * @param {Frame} frame
 * @param {Colors} colors
 */
export function drawInstrument(scale, frame, colors) {
  const { context: c, letter, at } = scale;
  const { layout } = frame;
  c.clearRect(0, 0, scale.width, scale.height);
  c.font = `${letter}px 'Ionwright Go', sans-serif`;
  c.lineWidth = 1.5;
  field(scale, layout.magnet, colors, "magnet");
  if (layout.electric) field(scale, layout.electric, colors, "electric sector");
  c.globalAlpha = 0.28;
  for (const beam of frame.beams) {
    c.strokeStyle = beam.share > 0 ? colors.accent : colors.muted;
    c.lineWidth = beam.share > 0 ? 1.4 : 0.7;
    c.beginPath();
    for (const { points } of beam.paths) {
      for (let k = 0; k < points.length; k += 2) {
        const [x, y] = at(points[k] * pathUnit, points[k + 1] * pathUnit);
        if (k === 0) c.moveTo(x, y);
        else c.lineTo(x, y);
      }
    }
    c.stroke();
  }
  c.globalAlpha = 1;
  slit(scale, layout.source, 0, colors.ink, "source");
  slit(scale, layout.collector, layout.toCollector, colors.ink, "detector");
  scaleBar(scale, colors);
}

/**
 * @param {Scale} scale
 * @param {Bend} bend
 * @param {Colors} colors
 * @param {string} name
 */
function field(scale, bend, colors, name) {
  const { context: c, at, letter } = scale;
  const half = bend.half || bend.radius * 0.15;
  const outer = arc(bend, half, 48);
  const inner = arc(bend, -half, 48);
  c.beginPath();
  for (const p of [...outer, ...inner.reverse()]) c.lineTo(...at(p.x, p.y));
  c.closePath();
  c.fillStyle = colors.panel;
  c.fill();
  c.strokeStyle = colors.muted;
  for (const wall of [outer, inner]) {
    c.beginPath();
    for (const p of wall) c.lineTo(...at(p.x, p.y));
    c.stroke();
  }
  // The name stands inward of the bend, where no ion goes.
  const from = Math.atan2(bend.start.y - bend.center.y, bend.start.x - bend.center.x) + bend.angle / 2;
  const free = bend.radius - half;
  const [x, y] = at(bend.center.x + free * Math.cos(from), bend.center.y + free * Math.sin(from));
  const long = c.measureText(name).width;
  c.fillStyle = colors.muted;
  c.textAlign = "center";
  c.fillText(name, x - Math.cos(from) * (long / 2 + letter * 0.7), y + Math.sin(from) * letter + letter / 3);
}

/**
 * @param {Scale} scale
 * @param {Point} place
 * @param {number} direction of the beam, against +x
 * @param {string} color
 * @param {string} name
 */
function slit(scale, place, direction, color, name) {
  const { context: c, at, letter } = scale;
  const [x, y] = at(place.x, place.y);
  const [nx, ny] = [-Math.sin(direction), -Math.cos(direction)];
  const long = letter * 1.5;
  c.strokeStyle = color;
  c.lineWidth = 2.5;
  for (const side of [-1, 1]) {
    c.beginPath();
    c.moveTo(x + side * nx * 3, y + side * ny * 3);
    c.lineTo(x + side * nx * long, y + side * ny * long);
    c.stroke();
  }
  c.fillStyle = color;
  const width = c.measureText(name).width;
  const beside = Math.abs(nx) > 0.5 ? [0, letter * 1.6] : [0, long + letter];
  c.textAlign = "center";
  c.fillText(name, Math.min(Math.max(x + beside[0], width / 2 + 2), scale.width - width / 2 - 2), Math.min(y + beside[1], scale.height - 3));
}

/**
 * @param {Scale} scale
 * @param {Colors} colors
 */
function scaleBar(scale, colors) {
  const { context: c, unit, letter, height } = scale;
  const long = [0.01, 0.02, 0.05, 0.1, 0.2, 0.5].find((m) => m * unit > 60) ?? 1;
  const y = height - 6;
  c.strokeStyle = colors.muted;
  c.fillStyle = colors.muted;
  c.lineWidth = 1.5;
  c.beginPath();
  c.moveTo(8, y);
  c.lineTo(8 + long * unit, y);
  c.stroke();
  c.textAlign = "left";
  c.fillText(`${Math.round(long * 100)} cm`, 8, y - letter / 2.5);
}
