// @ts-check
// Inserts blocks, compounds and spectrum files into a lesson.

import { names } from "./words.js";

/** @typedef {import("./editor.js").Editor} Editor */

/**
 * snippets are the blocks that can be inserted. @ stands for a compound of the
 * lesson, ~ for an idea, MASS and BASE for the compound's nominal mass and base
 * peak, so that what is inserted holds.
 * @type {[string, string][]}
 */
export const snippets = [
  ["Computed value", "{{ basePeak(@).mz }}"],
  ["Checked value", "[MASS]{= mass(@) }"],
  ["Spectrum", "\n```figure\nid: figure-new\nspectrum: @\ncaption: The spectrum.\n```\n\n{{ figure(\"figure-new\") }} shows it.\n"],
  ["Mechanism", "\n```mechanism\nid: mechanism-new\ncompound: @\nmz: BASE\ncaption: How the ion of m/z {{ basePeak(@).mz }} comes about.\n```\n\n{{ figure(\"mechanism-new\") }} shows where the electrons go.\n"],
  ["Structure", "\n```structure\nid: structure-new\ncompound: @\ncaption: The structure.\n```\n\n{{ figure(\"structure-new\") }} shows it.\n"],
  ["Claim", "\n```claim\nthat: basePeak(@).mz == BASE\nsays: The base peak is at m/z {{ basePeak(@).mz }}.\nteaches: ~\n```\n"],
  ["Question", "\n```question\nid: question-new\nkind: number\nidea: ~\nask: What is the nominal mass?\nanswer: mass(@)\nbecause: It is the sum of the mass numbers.\n```\n"],
  ["Note for the instructor", "\n```note\nsays: Say here what only the key shows.\n```\n"],
];

/**
 * facts are a compound's nominal mass and base peak, from the row of the front
 * matter that has its SMILES. Where they can't be had, the check of the lesson
 * says what is right.
 * @param {string} source
 * @param {string} key
 */
async function facts(source, key) {
  const row = new RegExp(`^ {2}${key}:(.*(?:\\n {4,}.*)*)`, "m").exec(source)?.[1] ?? "";
  const smiles = /smiles:\s*"?([^\s",}]+)/.exec(row)?.[1] ?? row.trim();
  const answer = await fetch(`/structure?spectrum=1&q=${encodeURIComponent(smiles)}`);
  return answer.ok ? /** @type {Promise<{mass: number, base: number}>} */ (answer.json()) : { mass: 72, base: 43 };
}

/**
 * keyOf is the first key of a mapping in the front matter.
 * @param {string} text
 * @param {string} mapping
 */
function keyOf(text, mapping) {
  const found = new RegExp(`^${mapping}:\\n(?: {4,}.*\\n)*? {2}([A-Za-z_]\\w*):`, "m").exec(text);
  return found?.[1] ?? mapping.replace(/s$/, "");
}

/**
 * insertions gives life to the menu.
 * @param {{place: string, editor: Editor}} desk
 */
export function insertions({ place, editor }) {
  const menu = /** @type {HTMLDetailsElement} */ (document.getElementById("insert"));
  const list = /** @type {HTMLElement} */ (document.getElementById("snippets"));
  for (const [name, text] of snippets) {
    const button = document.createElement("button");
    button.type = "button";
    button.className = "quiet";
    button.textContent = name;
    button.addEventListener("click", async () => {
      const source = editor.text();
      menu.open = false;
      const compound = keyOf(source, "compounds");
      const known = /MASS|BASE/.test(text) ? await facts(source, compound) : { mass: 0, base: 0 };
      let ready = text.replaceAll("MASS", String(known.mass)).replaceAll("BASE", String(known.base));
      ready = ready.replaceAll("@", compound).replaceAll("~", keyOf(source, "ideas"));
      for (const id of ["figure-new", "mechanism-new", "structure-new", "question-new"]) ready = ready.replaceAll(id, freeId(source, id.split("-")[0]));
      editor.insert(ready, placeFor(editor.text(), editor.head(), ready.startsWith("\n")));
    });
    list.append(button, " ");
  }
  menu.addEventListener("keydown", (event) => {
    if (event.key !== "Escape") return;
    menu.open = false;
    menu.querySelector("summary")?.focus();
  });

  const compound = /** @type {HTMLFormElement} */ (document.getElementById("add-compound"));
  const compoundName = /** @type {HTMLInputElement} */ (document.getElementById("compound-name"));
  compound.addEventListener("submit", async (event) => {
    event.preventDefault();
    const problem = /** @type {HTMLElement} */ (document.getElementById("compound-problem"));
    const answer = await fetch(`/structure?q=${encodeURIComponent(compoundName.value)}`);
    problem.hidden = answer.ok;
    if (!answer.ok) {
      problem.textContent = await answer.text();
      return;
    }
    const { smiles } = await answer.json();
    const name = /[=#[\]()]/.test(compoundName.value) ? "" : compoundName.value;
    addCompound(editor, name, smiles, "");
    menu.open = false;
  });
  const draw = /** @type {HTMLButtonElement} */ (document.getElementById("draw"));
  draw.hidden = false;

  const file = /** @type {HTMLFormElement} */ (document.getElementById("add-file"));
  file.addEventListener("submit", async (event) => {
    event.preventDefault();
    const input = /** @type {HTMLInputElement} */ (document.getElementById("spectrum-file"));
    const problem = /** @type {HTMLElement} */ (document.getElementById("file-problem"));
    const chosen = input.files?.[0];
    if (!chosen) return;
    const answer = await fetch(`${place}/files/${encodeURIComponent(chosen.name)}`, { method: "POST", body: chosen });
    problem.hidden = answer.ok;
    if (!answer.ok) {
      problem.textContent = await answer.text();
      return;
    }
    const stored = await answer.json();
    addCompound(editor, stored.title, "", stored.file);
    menu.open = false;
  });
}

/**
 * placeFor is where something can be inserted near the cursor: not in a block,
 * and a block not in a paragraph. With the cursor in the front matter, where it
 * stands before anything was written, it is the end of the text.
 * @param {string} text
 * @param {number} head where the cursor is
 * @param {boolean} block
 */
export function placeFor(text, head, block) {
  const front = /^---\n[\s\S]*?\n---[ \t]*\n/.exec(text)?.[0].length ?? 0;
  if (head < front) return text.length;
  let [at, fence] = [front, false];
  for (const line of text.slice(front).split("\n")) {
    const end = at + line.length;
    const edge = line.startsWith("```");
    if (edge) fence = !fence;
    if (head <= end && !fence && !edge) {
      if (!block) return Math.max(at, head);
      if (line.trim() === "") return at;
    }
    at = end + 1;
  }
  return text.length;
}

/**
 * freeId is an id that the text doesn't have.
 * @param {string} source
 * @param {string} stem
 */
function freeId(source, stem) {
  let n = 1;
  while (source.includes(`${stem}${n}`)) n++;
  return `${stem}${n}`;
}

/**
 * addCompound writes a row of the front matter. A measured spectrum comes with
 * a structure to fill in: the file rarely has one.
 * @param {Editor} editor
 * @param {string} name
 * @param {string} smiles
 * @param {string} measured
 */
function addCompound(editor, name, smiles, measured) {
  const source = editor.text();
  const taken = names(source);
  let n = 1;
  while (taken.includes(`compound${n}`)) n++;
  const parts = [name && `name: ${JSON.stringify(name)}`, `smiles: ${JSON.stringify(smiles || "")}`, measured ? `measured: ${JSON.stringify(measured)}` : "computed: yes"];
  const row = `  compound${n}: { ${parts.filter(Boolean).join(", ")} }\n`;
  const there = /^compounds:[ \t]*\n/m.exec(source);
  if (there) {
    editor.insert(row, there.index + there[0].length);
    return;
  }
  const front = /^---\n/.exec(source);
  editor.insert(front ? `compounds:\n${row}` : `---\ntitle: \ncompounds:\n${row}---\n`, front ? 4 : 0);
}
