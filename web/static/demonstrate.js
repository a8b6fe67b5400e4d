// @ts-check
// The live view of the instrument: the field rises, the server says where the
// ions fly at each field, and the view moves them along these paths. Every
// path, wall and height comes from the server; here things are only drawn.

import { drawInstrument, fitted } from "./instrument.js";
import { Flight } from "./flight.js";
import { drawTrace } from "./trace.js";

/**
 * @typedef {{x: number, y: number}} Point
 * @typedef {{points: number[], arrives: boolean}} Path  points: x, y, x, y ... in units of 10 micrometres
 * @typedef {{mz: number, intensity: number, share: number, paths: Path[]}} Beam
 * @typedef {{center: Point, start: Point, end: Point, radius: number, direction: number, angle: number, half: number}} Bend
 * @typedef {{source: Point, electric?: Bend, magnet: Bend, collector: Point, toCollector: number, entryFace: number, exitFace: number}} Layout
 * @typedef {{field: number, layout: Layout, beams: Beam[], sentence: string}} Frame
 * @typedef {{from: number, to: number, signal: number[], arrivals: {mz: number, field: number, height: number}[], voltage: number}} Sweep
 */

/** @template {HTMLElement} T @param {string} id @returns {T} */
const the = (id) => /** @type {T} */ (document.getElementById(id));

const stage = the("stage");
const view = /** @type {HTMLCanvasElement} */ (the("instrument-live"));
const trace = /** @type {HTMLCanvasElement} */ (the("trace-live"));
const now = the("now");
const play = /** @type {HTMLButtonElement} */ (the("play"));
const slider = /** @type {HTMLInputElement} */ (the("field"));
const shown = the("field-shown");
const projector = /** @type {HTMLButtonElement} */ (the("projector"));
const still = matchMedia("(prefers-reduced-motion: reduce)");

/** Seconds that a whole sweep takes on the stage. */
const sweepSeconds = 24;

const flight = new Flight();
/** @type {Frame|undefined} */
let frame;
/** @type {Sweep|undefined} */
let sweep;
let field = 0; // T, where the sweep is
let asked = NaN; // T, of the frame that was asked for last
let reached = 0; // T, up to which the trace is drawn
let playing = false;
let waiting = false;
let last = 0;
let spoken = 0;

/** @param {string} name */
const address = (name) => new URL(the("result").dataset[name] ?? "", location.href);

/** loadSweep asks for the trace of the present settings. */
async function loadSweep() {
  const answer = await fetch(address("sweep"));
  if (!answer.ok) {
    stage.hidden = true;
    pause();
    return;
  }
  const before = sweep;
  sweep = /** @type {Sweep} */ (await answer.json());
  stage.hidden = false;
  const share = before ? (field - before.from) / (before.to - before.from) : 0;
  const told = Number(new URLSearchParams(location.search).get("field"));
  field = before ? sweep.from + Math.min(1, Math.max(0, share)) * (sweep.to - sweep.from) : told || sweep.from;
  reached = field;
  slider.min = String(sweep.from);
  slider.max = String(sweep.to);
  asked = NaN;
  await loadFrame();
  draw();
}

/** loadFrame asks where the ions fly at the present field. */
async function loadFrame() {
  if (waiting || field === asked || !sweep) return;
  waiting = true;
  asked = field;
  try {
    const to = address("frame");
    to.searchParams.set("field", field.toPrecision(7));
    const answer = await fetch(to);
    if (answer.ok) {
      frame = /** @type {Frame} */ (await answer.json());
      flight.follow(frame);
      say();
    }
  } finally {
    waiting = false;
  }
}

/** say tells in words what is seen, not faster than it can be heard. */
function say() {
  if (!frame) return;
  const text = frame.sentence;
  const time = performance.now();
  if (now.textContent === text || (playing && time - spoken < 700)) return;
  spoken = time;
  now.textContent = text;
}

function draw() {
  if (!frame || !sweep || stage.hidden) return;
  const colors = palette();
  const scale = fitted(view, frame.layout);
  drawInstrument(scale, frame, colors);
  flight.draw(scale, colors, still.matches);
  drawTrace(trace, sweep, Math.max(reached, field), field, colors);
  slider.value = String(field);
  slider.setAttribute("aria-valuetext", `${field.toFixed(3)} tesla`);
  shown.textContent = field.toFixed(3);
}

/** palette reads the colours of the page, which follow light and dark. */
function palette() {
  const style = getComputedStyle(document.documentElement);
  /** @param {string} role */
  const color = (role) => style.getPropertyValue(`--ionwright-${role}`).trim();
  return { paper: color("paper"), panel: color("panel"), ink: color("ink"), muted: color("muted"), faint: color("faint"), accent: color("accent"), second: color("second") };
}

/** @param {number} time */
function tick(time) {
  const passed = Math.min(0.1, (time - last) / 1000);
  last = time;
  if (playing && sweep) {
    field = Math.min(sweep.to, field + (passed * (sweep.to - sweep.from)) / sweepSeconds);
    reached = Math.max(reached, field);
    if (field >= sweep.to) pause();
    loadFrame();
  }
  if (!still.matches) flight.move(passed);
  if (!document.hidden && (playing || !still.matches)) draw();
  requestAnimationFrame(tick);
}

function start() {
  if (!sweep) return;
  if (field >= sweep.to) {
    field = reached = sweep.from;
  }
  playing = true;
  play.textContent = "Pause";
}

function pause() {
  playing = false;
  play.textContent = "Start";
  remember();
  say();
}

/** remember writes the field into the address. */
function remember() {
  const to = new URL(location.href);
  to.searchParams.set("field", field.toPrecision(5));
  history.replaceState(history.state, "", to);
}

/**
 * stepTo goes to the next ion that arrives, or to the one before.
 * @param {1|-1} direction
 */
function stepTo(direction) {
  if (!sweep) return;
  if (playing) pause();
  const near = (sweep.to - sweep.from) / 1e5;
  const fields = sweep.arrivals.map((a) => a.field).sort((a, b) => a - b);
  const next = direction > 0 ? fields.find((b) => b > field + near) : fields.reverse().find((b) => b < field - near);
  go(next ?? (direction > 0 ? sweep.to : sweep.from));
}

/** @param {number} to T */
async function go(to) {
  field = to;
  reached = Math.max(reached, field);
  await loadFrame();
  if (field !== asked) await loadFrame();
  remember();
  draw();
}

function restart() {
  if (!sweep) return;
  pause();
  reached = sweep.from;
  go(sweep.from);
}

/** @param {boolean} on */
function project(on) {
  document.body.classList.toggle("projected", on);
  projector.setAttribute("aria-pressed", String(on));
  const to = new URL(location.href);
  if (on) to.searchParams.set("projector", "1");
  else to.searchParams.delete("projector");
  history.replaceState(history.state, "", to);
  draw();
}

play.addEventListener("click", () => (playing ? pause() : start()));
the("step").addEventListener("click", () => stepTo(1));
the("step-back").addEventListener("click", () => stepTo(-1));
the("reset").addEventListener("click", restart);
projector.addEventListener("click", () => project(!document.body.classList.contains("projected")));
slider.addEventListener("input", () => {
  if (playing) pause();
  go(Number(slider.value));
});
document.addEventListener("shown", (event) => {
  if (event.target instanceof HTMLElement && event.target.id === "result") loadSweep();
});
addEventListener("resize", draw);
document.getElementById("theme")?.addEventListener("click", () => setTimeout(draw));

// The presenter's keys, wherever the focus is but in a field that needs them.
document.addEventListener("keydown", (event) => {
  if (event.ctrlKey || event.metaKey || event.altKey || !(event.target instanceof Element)) return;
  const field = event.target.closest("input, textarea, select, summary, a, button");
  const typing = event.target.matches("input:not([type=range]), textarea, select");
  if (typing) return;
  const key = event.key.length === 1 ? event.key.toLowerCase() : event.key;
  /** @type {Record<string, () => void>} */
  const keys = { p: () => project(!document.body.classList.contains("projected")), r: restart };
  if (!field) keys[" "] = () => play.click();
  if (!event.target.matches("input")) {
    keys.ArrowRight = () => stepTo(1);
    keys.ArrowLeft = () => stepTo(-1);
  }
  if (/^[1-9]$/.test(key)) {
    keys[key] = () => /** @type {HTMLElement|null} */ (document.querySelector(`[data-if][aria-keyshortcuts="${key}"]`))?.click();
  }
  if (!keys[key]) return;
  event.preventDefault();
  keys[key]();
});

if ("projector" in the("result").dataset) project(true);
await loadSweep();
requestAnimationFrame((time) => {
  last = time;
  tick(time);
});
