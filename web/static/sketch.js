// @ts-check
// Drawing a structure: the editor of OpenChemLib, loaded when it is asked for,
// and beside it a form that builds the same structure by keyboard.

import { sketchForm } from "./sketchform.js";

/**
 * sketch opens the editor in a holder; what is drawn becomes the SMILES of an
 * input.
 * @param {HTMLElement} holder
 * @param {HTMLInputElement} input
 */
export async function sketch(holder, input) {
  const { CanvasEditor, Molecule } = await import("./lib/openchemlib.js");
  holder.hidden = false;
  const board = document.createElement("div");
  board.className = "board";
  board.setAttribute("role", "application");
  board.setAttribute("aria-label", "Board to draw on with a pointer; the form before it does the same by keyboard");
  const take = document.createElement("button");
  take.type = "button";
  take.id = "sketch-take";
  take.textContent = "Take this structure";
  const close = document.createElement("button");
  close.type = "button";
  close.className = "quiet";
  close.textContent = "Close";
  const end = () => {
    editor.destroy();
    holder.replaceChildren();
    holder.hidden = true;
    input.focus();
  };
  holder.replaceChildren(board);
  const editor = new CanvasEditor(board, { initialMode: "molecule" });
  const told = await fetch(`/structure?q=${encodeURIComponent(input.value)}`);
  if (told.ok && input.value.trim()) {
    const { smiles } = await told.json();
    editor.setMolecule(Molecule.fromSmiles(smiles));
  }
  const form = sketchForm(editor, Molecule);
  holder.replaceChildren(form, board, take, " ", close);
  close.addEventListener("click", end);
  holder.addEventListener("keydown", (event) => {
    if (event.key === "Escape" && !holder.hidden) end();
  });
  take.addEventListener("click", () => {
    const smiles = editor.getMolecule().toIsomericSmiles();
    end();
    if (!smiles) return;
    input.value = smiles;
    input.dispatchEvent(new Event("input", { bubbles: true }));
    if (input.form?.dataset.live) input.form.requestSubmit();
  });
  /** @type {HTMLElement|null} */ (form.querySelector("#sketch-from"))?.focus();
}
