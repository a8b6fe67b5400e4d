// @ts-check
// Inserts blocks, compounds and spectrum files into a lesson.

import { names } from "./words.js";

/** @typedef {import("./editor.js").Editor} Editor */

/**
 * snippets are the blocks that can be inserted. @ stands for a compound of the
 * lesson, % for an instrument, ~ for an idea.
 * @type {[string, string][]}
 */
export const snippets = [
  ["Computed value", "{{ basePeak(@).mz }}"],
  ["Checked value", "[72]{= mass(@) }"],
  ["Figure", "\n```figure\nid: figure-new\nspectrum: @\ncaption: The spectrum.\n```\n\n{{ figure(\"figure-new\") }} shows it.\n"],
  ["Claim", "\n```claim\nthat: basePeak(@).mz == 43\nsays: The base peak is at m/z 43.\nteaches: ~\n```\n"],
  ["Question", "\n```question\nid: question-new\nkind: number\nidea: ~\nask: What is the nominal mass?\nanswer: mass(@)\nbecause: It is the sum of the mass numbers.\n```\n"],
  ["Note for the instructor", "\n```note\nsays: Say here what only the key shows.\n```\n"],
];

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
    button.addEventListener("click", () => {
      const source = editor.text();
      menu.open = false;
      let ready = text.replaceAll("@", keyOf(source, "compounds")).replaceAll("~", keyOf(source, "ideas"));
      for (const id of ["figure-new", "question-new"]) ready = ready.replaceAll(id, freeId(source, id.split("-")[0]));
      editor.insert(ready);
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
