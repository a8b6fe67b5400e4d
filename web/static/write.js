// @ts-check
// The editor of a lesson: saves while one writes, shows what is wrong with the
// lesson beside the text, and keeps everything when two windows disagree.

import { makeEditor } from "./editor.js";
import { insertions } from "./insert.js";
import { listFiles } from "./packfiles.js";

/**
 * @typedef {{file: string, line?: number, col?: number, endCol?: number}} Span
 * @typedef {Span & {severity: string, message: string, claimed?: string, computed?: string, notes?: string[], suggestion?: string}} Finding
 * @typedef {{version: number, ok: boolean, diagnostics: Finding[], failure?: string, files: string[]}} Built
 * @typedef {{text: string, version: string, kept?: string, problem?: string}} Source
 */

/** @template {HTMLElement} T @param {string} id @returns {T} */
const the = (id) => /** @type {T} */ (document.getElementById(id));

const desk = the("writing");
const lesson = desk.dataset.lesson ?? "";
const readOnly = "readOnly" in desk.dataset;
const plain = /** @type {HTMLTextAreaElement} */ (the("text"));
const saved = the("saved");
const problems = the("problems");
const conflict = the("conflict");
const place = `/write/${encodeURIComponent(lesson)}`;
const draftKey = `ionwright-draft-${lesson}`;

let version = desk.dataset.version ?? "";
let other = /** @type {Source|undefined} */ (undefined); // what somebody else saved
let dirty = false;
let saving = false;
/** @type {ReturnType<typeof setTimeout>|undefined} */
let timer;

const editor = await makeEditor(the("editor"), plain.value, { readOnly, nonce: nonce(), changed, save: () => save() });
plain.hidden = true;
plain.disabled = true;

function nonce() {
  const meta = /** @type {HTMLMetaElement|null} */ (document.querySelector("meta[name=style-nonce]"));
  return meta?.content ?? "";
}

/** @param {string} text @param {boolean} [bad] */
function tell(text, bad) {
  saved.textContent = text;
  saved.classList.toggle("bad", Boolean(bad));
}

// A draft outlives a reload or a crash; it goes when its text is on the disk.
function changed() {
  dirty = true;
  try {
    localStorage.setItem(draftKey, JSON.stringify({ base: version, text: editor.text() }));
  } catch {
    // Without room for a draft the disk has to do.
  }
  tell(conflict.hidden ? "Not saved yet" : "Not saved: decide first", !conflict.hidden);
  clearTimeout(timer);
  timer = setTimeout(save, 500);
}

/** @param {string} [base] */
async function save(base) {
  clearTimeout(timer);
  if (readOnly || !dirty || (!conflict.hidden && base !== "*")) return;
  if (saving) {
    timer = setTimeout(save, 200);
    return;
  }
  saving = true;
  const text = editor.text();
  tell("Saving…");
  try {
    const answer = await fetch(`${place}/source`, { method: "PUT", body: text, headers: { "If-Match": base ?? version, "Content-Type": "text/plain" } });
    if (answer.status === 409) {
      disagree(/** @type {Source} */ (await answer.json()));
      return;
    }
    if (!answer.ok) throw new Error(await answer.text());
    const told = /** @type {Source} */ (await answer.json());
    version = told.version;
    conflict.hidden = true;
    if (editor.text() === text) {
      dirty = false;
      localStorage.removeItem(draftKey);
      tell(told.kept ? `Saved; the other text is kept as ${told.kept}` : "Saved");
    } else {
      changed();
    }
  } catch (error) {
    tell(`Not saved: ${error instanceof TypeError ? "the server doesn't answer; the text is kept in this browser" : error}`, true);
    timer = setTimeout(save, 3000);
  } finally {
    saving = false;
  }
}

/** @param {Source} theirs */
function disagree(theirs) {
  other = theirs;
  the("other").textContent = theirs.text;
  conflict.hidden = false;
  tell("Not saved: decide first", true);
}

the("keep-mine").addEventListener("click", () => {
  dirty = true;
  save("*");
});
the("take-other").addEventListener("click", async () => {
  if (!other) return;
  const answer = await fetch(`${place}/kept`, { method: "POST", body: editor.text(), headers: { "Content-Type": "text/plain" } });
  if (!answer.ok) {
    tell(`Not done: ${await answer.text()}`, true);
    return;
  }
  const { kept } = await answer.json();
  take(other);
  tell(`Taken; what was here is kept as ${kept}`);
});

/** @param {Source} source */
function take(source) {
  version = source.version;
  editor.replace(source.text);
  clearTimeout(timer);
  dirty = false;
  localStorage.removeItem(draftKey);
  conflict.hidden = true;
}

// What another program or window saves comes in by itself while nothing is
// unsaved here.
async function follow() {
  if (readOnly || saving || !conflict.hidden) return;
  const answer = await fetch(`${place}/source`);
  if (!answer.ok) return;
  const now = /** @type {Source} */ (await answer.json());
  if (now.version === version || saving) return;
  if (!dirty) {
    take(now);
    tell("Changed elsewhere, and taken over");
  } else if (now.text !== editor.text()) {
    disagree(now);
  }
}

/** @param {Built} built */
function show(built) {
  const findings = built.diagnostics.map((d) => item(d));
  if (built.failure) findings.push(Object.assign(document.createElement("li"), { textContent: built.failure }));
  problems.replaceChildren(...findings);
  const errors = built.diagnostics.filter((d) => d.severity === "error").length;
  const warnings = built.diagnostics.length - errors;
  const count = (/** @type {number} */ n, /** @type {string} */ what) => (n ? [`${n} ${what}${n > 1 ? "s" : ""}`] : []);
  the("problem-count").textContent = [...count(errors, "error"), ...count(warnings, "warning")].join(", ") || "none";
  listFiles(the("pack-files"), `/lesson/${encodeURIComponent(lesson)}/`, built.files);
  editor.mark(built.diagnostics.filter((d) => d.file === "lesson.md"));
}

/** @param {Finding} d */
function item(d) {
  const li = document.createElement("li");
  li.className = d.severity;
  const go = document.createElement("button");
  go.type = "button";
  go.className = "quiet";
  go.textContent = d.line ? `${d.file === "lesson.md" ? "line" : d.file} ${d.line}` : d.file;
  go.disabled = d.file !== "lesson.md";
  go.addEventListener("click", () => editor.go(d.line ?? 1, d.col ?? 1));
  const words = document.createElement("div");
  const lines = [`${d.severity}: ${d.message}`];
  if (d.claimed || d.computed) lines.push(`claimed ${d.claimed ?? ""}, computed ${d.computed ?? ""}`);
  lines.push(...(d.notes ?? []));
  if (d.suggestion) lines.push(d.suggestion);
  for (const line of lines) words.append(Object.assign(document.createElement("p"), { textContent: line }));
  li.append(go, words);
  return li;
}

async function look() {
  const answer = await fetch(`/lesson/${encodeURIComponent(lesson)}/-/state`);
  if (answer.ok) show(await answer.json());
}
const events = new EventSource(`/lesson/${encodeURIComponent(lesson)}/-/events`);
events.addEventListener("message", () => {
  look();
  follow();
});
addEventListener("focus", follow);
addEventListener("beforeunload", () => {
  if (dirty && conflict.hidden) save();
});

// A draft from before a reload or a crash.
const stored = localStorage.getItem(draftKey);
if (stored && !readOnly) {
  const draft = JSON.parse(stored);
  if (draft.text === editor.text()) {
    localStorage.removeItem(draftKey);
  } else {
    const theirs = { text: editor.text(), version };
    editor.replace(draft.text);
    dirty = true;
    if (draft.base === version) {
      tell("Brought back what wasn't saved");
      save();
    } else {
      disagree(theirs);
    }
  }
}

if (!readOnly) insertions({ place, editor });
desk.dataset.ready = "yes";
