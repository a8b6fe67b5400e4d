// @ts-check
// The live view of the instrument: the field rises, the server says where the
// ions fly at each field, and the view moves them along these paths. Every
// path, wall and height comes from the server; here things are only drawn.

import { Stage } from "./stage.js";
import { presenterKeys } from "./presenter.js";

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

const place = the("stage");
const now = the("now");
const play = /** @type {HTMLButtonElement} */ (the("play"));
const slider = /** @type {HTMLInputElement} */ (the("field"));
const shown = the("field-shown");
const projector = /** @type {HTMLButtonElement} */ (the("projector"));
const motion = matchMedia("(prefers-reduced-motion: reduce)");

/** Seconds that a whole sweep takes on the stage. */
const sweepSeconds = 24;

/** At how many fields of a sweep the server is asked where the ions fly. */
const stops = 480;

/** Milliseconds between the writings of the field in figures. */
const writing = 120;

const stage = new Stage(motion.matches);
/** @type {Sweep|undefined} */
let sweep;
let field = 0; // T, where the sweep is
let asked = NaN; // T, of the frame that was asked for last
let reached = 0; // T, up to which the trace is drawn
let playing = false;
let waiting = false;
let ticking = false;
let last = 0; // ms, of the last frame
let spoken = 0; // ms, when the sentence was last said
let written = 0; // ms, when the field was last written

/** @param {string} name */
const address = (name) => new URL(the("result").dataset[name] ?? "", location.href);

/** loadSweep asks for the trace of the present settings. */
async function loadSweep() {
  const answer = await fetch(address("sweep"));
  if (!answer.ok) {
    place.hidden = true;
    pause();
    return;
  }
  const before = sweep;
  sweep = /** @type {Sweep} */ (await answer.json());
  place.hidden = false;
  const share = before ? (field - before.from) / (before.to - before.from) : 0;
  const told = Number(new URLSearchParams(location.search).get("field"));
  field = before ? sweep.from + Math.min(1, Math.max(0, share)) * (sweep.to - sweep.from) : told || sweep.from;
  reached = field;
  slider.min = String(sweep.from);
  slider.max = String(sweep.to);
  asked = NaN;
  await loadFrame(field);
  stage.trace.again();
  draw();
  run();
}

/**
 * loadFrame asks where the ions fly at a field.
 * @param {number} at T
 */
async function loadFrame(at) {
  if (waiting || at === asked || !sweep) return;
  waiting = true;
  asked = at;
  try {
    const to = address("frame");
    to.searchParams.set("field", at.toPrecision(7));
    const answer = await fetch(to);
    if (answer.ok) {
      stage.show(/** @type {Frame} */ (await answer.json()));
      say();
    }
  } finally {
    waiting = false;
  }
}

/**
 * stop is the field whose paths are shown while the sweep passes: that of an
 * ion's arrival where there was one since the last, or one of a row.
 * @param {number} since T
 */
function stop(since) {
  if (!sweep) return field;
  const arrival = sweep.arrivals.find((a) => a.field > since && a.field <= field);
  if (arrival) return arrival.field;
  const step = (sweep.to - sweep.from) / stops;
  return Math.max(since, sweep.from + Math.floor((field - sweep.from) / step) * step);
}

/** say tells in words what is seen, not faster than it can be heard. */
function say() {
  const text = stage.frame?.sentence ?? "";
  const time = performance.now();
  if (now.textContent === text || (playing && time - spoken < 700)) return;
  spoken = time;
  now.textContent = text;
}

/** write tells the field in figures. */
function write() {
  written = performance.now();
  slider.value = String(field);
  slider.setAttribute("aria-valuetext", `${field.toFixed(3)} tesla`);
  shown.textContent = field.toFixed(3);
}

/** draw shows everything as it is now. */
function draw() {
  if (!sweep || place.hidden) return;
  stage.draw(0, sweep, reached, field);
  write();
}

/** refit draws everything again at other sizes or colours. */
function refit() {
  stage.fit();
  draw();
}

/** run starts the frames; they stop by themselves when nothing moves. */
function run() {
  if (ticking) return;
  ticking = true;
  requestAnimationFrame((time) => {
    last = time;
    tick(time);
  });
}

/** @param {number} time in ms */
function tick(time) {
  if (!sweep || place.hidden || (stage.still && !playing)) {
    ticking = false;
    return;
  }
  const passed = Math.min(0.1, (time - last) / 1000);
  last = time;
  if (playing) {
    field = Math.min(sweep.to, field + (passed * (sweep.to - sweep.from)) / sweepSeconds);
    reached = Math.max(reached, field);
    loadFrame(stop(asked));
    if (time - written > writing) write();
    if (field >= sweep.to) pause();
  }
  stage.draw(passed, sweep, reached, field);
  requestAnimationFrame(tick);
}

function start() {
  if (!sweep) return;
  if (field >= sweep.to) {
    field = reached = asked = sweep.from;
    stage.trace.again();
  }
  playing = true;
  play.textContent = "Pause";
  run();
}

function pause() {
  playing = false;
  play.textContent = "Start";
  if (sweep) write();
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
  draw();
  await loadFrame(field);
  if (field !== asked) await loadFrame(field);
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
  refit();
}
const turn = () => project(!document.body.classList.contains("projected"));

play.addEventListener("click", () => (playing ? pause() : start()));
the("step").addEventListener("click", () => stepTo(1));
the("step-back").addEventListener("click", () => stepTo(-1));
the("reset").addEventListener("click", restart);
projector.addEventListener("click", turn);
slider.addEventListener("input", () => {
  if (playing) pause();
  go(Number(slider.value));
});
document.addEventListener("shown", (event) => {
  if (event.target instanceof HTMLElement && event.target.id === "result") loadSweep();
});
addEventListener("resize", refit);
document.getElementById("theme")?.addEventListener("click", () => setTimeout(refit));
matchMedia("(prefers-color-scheme: dark)").addEventListener("change", refit);
motion.addEventListener("change", () => {
  stage.still = motion.matches;
  draw();
  run();
});
presenterKeys({ play: () => play.click(), next: () => stepTo(1), before: () => stepTo(-1), restart, projector: turn });

if ("projector" in the("result").dataset) project(true);
await loadSweep();
