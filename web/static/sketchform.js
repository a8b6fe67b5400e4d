// @ts-check
// A form that builds a structure atom by atom, for who doesn't use a pointer.
// It changes the molecule of the editor, and says in words what there is.

/** Elements that can be added, with their atomic numbers. @type {[string, number][]} */
const elements = [["carbon", 6], ["nitrogen", 7], ["oxygen", 8], ["fluorine", 9], ["silicon", 14], ["phosphorus", 15], ["sulfur", 16], ["chlorine", 17], ["bromine", 35], ["iodine", 53]];

/** @type {[string, number][]} */
const orders = [["single", 1], ["double", 2], ["triple", 3]];

/**
 * sketchForm makes the form.
 * @param {any} editor
 * @param {any} Molecule
 * @returns {HTMLElement}
 */
export function sketchForm(editor, Molecule) {
  const form = document.createElement("div");
  form.className = "sketchform";
  form.setAttribute("role", "group");
  form.setAttribute("aria-label", "Build by keyboard");
  const from = list("sketch-from", "Atom");
  const order = list("sketch-order", "Bond", orders);
  const element = list("sketch-element", "New atom", elements);
  const to = list("sketch-to", "Other atom");
  const said = document.createElement("p");
  said.id = "sketch-said";
  said.setAttribute("role", "status");
  const row = document.createElement("div");
  row.className = "row";
  row.append(
    from.field, order.field, element.field,
    button("sketch-add", "Add the new atom", add),
    to.field,
    button("sketch-join", "Join the two atoms", join),
    button("sketch-change", "Make the atom the new one", change),
    button("sketch-remove", "Remove the atom", remove),
    button("sketch-clear", "Remove all", clear),
  );
  const lead = document.createElement("p");
  lead.textContent = "Draw on the board with a pointer, or build here by keyboard: choose an atom of the board and what is joined to it.";
  form.append(lead, row, said);

  const type = [0, Molecule.cBondTypeSingle, Molecule.cBondTypeDouble, Molecule.cBondTypeTriple];
  const molecule = () => editor.getMolecule();
  const bondType = () => type[Number(order.select.value)];
  const atom = () => (from.select.value === "" ? -1 : Number(from.select.value));

  function add() {
    const m = molecule();
    const at = atom();
    const added = m.addAtom(Number(element.select.value));
    if (at >= 0) m.setBondType(m.addBond(at, added), bondType());
    changed(added);
  }

  function join() {
    const m = molecule();
    const [a, b] = [atom(), Number(to.select.value)];
    if (a < 0 || a === b) {
      said.textContent = "Choose two different atoms.";
      return;
    }
    const there = m.getBond(a, b);
    m.setBondType(there < 0 ? m.addBond(a, b) : there, bondType());
    changed(a);
  }

  function change() {
    if (atom() < 0) return;
    molecule().setAtomicNo(atom(), Number(element.select.value));
    changed(atom());
  }

  function remove() {
    if (atom() < 0) return;
    molecule().deleteAtom(atom());
    changed(-1);
  }

  function clear() {
    molecule().clear();
    changed(-1);
  }

  /**
   * changed lays the structure out and draws it.
   * @param {number} at atom to go on from
   */
  function changed(at) {
    const m = molecule();
    m.ensureHelperArrays(Molecule.cHelperNeighbours);
    m.inventCoordinates();
    editor.moleculeChanged();
    tell(at);
  }

  /**
   * tell fills the lists of atoms and says what there is.
   * @param {number} at atom that is chosen; -1: the last
   */
  function tell(at) {
    const m = molecule();
    const count = m.getAllAtoms();
    const name = (/** @type {number} */ i) => `${m.getAtomLabel(i)}${i + 1}`;
    for (const select of [from.select, to.select]) {
      const chosen = select === from.select ? (at < 0 ? count - 1 : at) : Number(select.value);
      select.replaceChildren(...Array.from({ length: count }, (_, i) => new Option(name(i), String(i), false, i === chosen)));
      if (count === 0) select.append(new Option("none yet", ""));
    }
    const bonds = Array.from({ length: m.getAllBonds() }, (_, i) => `${name(m.getBondAtom(0, i))}${["", "–", "=", "≡"][m.getBondOrder(i)] ?? "–"}${name(m.getBondAtom(1, i))}`);
    const formula = count > 0 ? m.getMolecularFormula().formula : "nothing";
    said.textContent = `On the board: ${formula}${bonds.length ? `, with the bonds ${bonds.join(", ")}` : ""}.`;
  }

  editor.setOnChangeListener((/** @type {{isUserEvent: boolean}} */ event) => {
    if (event.isUserEvent) tell(-1);
  });
  tell(-1);
  return form;
}

/**
 * list makes a labelled list.
 * @param {string} id
 * @param {string} label
 * @param {[string, number][]} [options]
 */
function list(id, label, options = []) {
  const field = document.createElement("div");
  field.className = "field";
  const words = document.createElement("label");
  words.htmlFor = id;
  words.textContent = label;
  const select = document.createElement("select");
  select.id = id;
  select.dataset.still = "";
  for (const [text, value] of options) select.append(new Option(text, String(value)));
  field.append(words, select);
  return { field, select };
}

/**
 * @param {string} id
 * @param {string} text
 * @param {() => void} does
 */
function button(id, text, does) {
  const b = document.createElement("button");
  b.type = "button";
  b.className = "quiet";
  b.id = id;
  b.textContent = text;
  b.addEventListener("click", does);
  return b;
}
