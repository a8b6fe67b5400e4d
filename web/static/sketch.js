// @ts-check
// Drawing a structure: the editor of OpenChemLib, loaded when it is asked for.

/**
 * sketch opens the editor in a holder; what is drawn becomes the SMILES of an
 * input.
 * @param {HTMLElement} holder
 * @param {HTMLInputElement} input
 */
export async function sketch(holder, input) {
  const { CanvasEditor, Molecule } = await import("./lib/openchemlib.js");
  holder.hidden = false;
  const title = document.createElement("p");
  title.textContent = "Draw the structure, then take it. (With the keyboard alone, type its name or SMILES instead.)";
  const board = document.createElement("div");
  board.className = "board";
  const take = document.createElement("button");
  take.type = "button";
  take.textContent = "Take this structure";
  const close = document.createElement("button");
  close.type = "button";
  close.className = "quiet";
  close.textContent = "Close";
  holder.replaceChildren(title, board, take, " ", close);
  const editor = new CanvasEditor(board, { initialMode: "molecule" });
  const told = await fetch(`/structure?q=${encodeURIComponent(input.value)}`);
  if (told.ok && input.value.trim()) {
    const { smiles } = await told.json();
    editor.setMolecule(Molecule.fromSmiles(smiles));
  }
  const end = () => {
    editor.destroy?.();
    holder.replaceChildren();
    holder.hidden = true;
    input.focus();
  };
  close.addEventListener("click", end);
  take.addEventListener("click", () => {
    const smiles = editor.getMolecule().toIsomericSmiles();
    end();
    if (!smiles) return;
    input.value = smiles;
    input.dispatchEvent(new Event("input", { bubbles: true }));
    if (input.form?.dataset.live) input.form.requestSubmit();
  });
  take.focus();
}
