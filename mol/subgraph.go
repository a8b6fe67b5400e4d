package mol

import "fmt"

// Induced returns the graph of the given atoms, in that order, with the bonds
// among them; bonds to other atoms are cut without adding hydrogens. It fails
// where an atom is named twice or isn't there.
func (m *Mol) Induced(atoms []int) (*Mol, error) {
	newAtom := make([]int32, len(m.atoms))
	for i := range newAtom {
		newAtom[i] = -1
	}
	kept := make([]Atom, len(atoms))
	for at, i := range atoms {
		if i < 0 || i >= len(m.atoms) || newAtom[i] >= 0 {
			return nil, fmt.Errorf("taking a part of a molecule: atom %d is named twice or isn't there", i+1)
		}
		newAtom[i] = int32(at)
		kept[at] = m.atoms[i]
	}
	newBond := make([]int32, len(m.bonds))
	bonds := make([]Bond, 0, len(m.bonds))
	for i, b := range m.bonds {
		newBond[i] = -1
		if newAtom[b.Begin] >= 0 && newAtom[b.End] >= 0 {
			newBond[i] = int32(len(bonds))
			b.Begin, b.End = newAtom[b.Begin], newAtom[b.End]
			bonds = append(bonds, b)
		}
	}
	if m.stereo {
		rearrange(kept, bonds, m.arrangements(), newAtom, newBond)
	}
	part, err := New(kept, bonds)
	if err != nil {
		return nil, fmt.Errorf("taking a part of a molecule: %w", err)
	}
	return part, nil
}

// Renumbered returns the same graph with its atoms in the given order:
// order[k] is the index here of what becomes atom k. It fails where order
// isn't a permutation.
func (m *Mol) Renumbered(order []int) (*Mol, error) {
	if len(order) != len(m.atoms) {
		return nil, fmt.Errorf("renumbering a molecule of %d atoms: %d numbers given", len(m.atoms), len(order))
	}
	return m.Induced(order)
}
