package mol

import "ionwright/chem"

// FoldHydrogens returns the molecule with its plain hydrogen atoms turned into
// counts of their neighbors, as SMILES are read: hydrogens without isotope,
// charge or class, with one single bond, to an atom that is no hydrogen. One
// that is the only substituent at the end of an arranged double bond stays. It
// also returns the old index of each atom.
func (m *Mol) FoldHydrogens() (*Mol, []int) {
	newAtom, newBond := make([]int32, len(m.atoms)), make([]int32, len(m.bonds))
	plain := make([]bool, len(m.atoms))
	any := false
	for i := range m.atoms {
		plain[i] = m.plainHydrogen(i)
		any = any || plain[i]
	}
	kept := make([]int, 0, len(m.atoms))
	if !any {
		for i := range m.atoms {
			kept = append(kept, i)
		}
		return m, kept
	}
	list := m.arrangements()
	for k := range list {
		if list[k].bond {
			for end, ref := range list[k].refs {
				if ref >= 0 && plain[ref] && m.otherSubstituent(int(list[k].center), end, ref) < 0 {
					plain[ref] = false
				}
			}
		}
	}
	var atoms []Atom
	for i, a := range m.atoms {
		newAtom[i] = -1
		if !plain[i] {
			newAtom[i] = int32(len(atoms))
			atoms, kept = append(atoms, a), append(kept, i)
		}
	}
	var bonds []Bond
	for i, b := range m.bonds {
		newBond[i] = -1
		switch {
		case plain[b.Begin]:
			atoms[newAtom[b.End]].Hydrogens++
		case plain[b.End]:
			atoms[newAtom[b.Begin]].Hydrogens++
		default:
			newBond[i] = int32(len(bonds))
			b.Begin, b.End = newAtom[b.Begin], newAtom[b.End]
			bonds = append(bonds, b)
		}
	}
	for k := range list {
		m.foldArranged(&list[k], plain, atoms, bonds, newAtom, newBond)
	}
	rearrange(atoms, bonds, list, newAtom, newBond)
	folded, err := New(atoms, bonds)
	if err != nil {
		panic("mol: folding hydrogens: " + err.Error()) // the graph was sound before
	}
	folded.perceived = m.perceived
	return folded, kept
}

// plainHydrogen tells whether atom i is a hydrogen that says no more than a
// count.
func (m *Mol) plainHydrogen(i int) bool {
	if m.atoms[i] != (Atom{Element: chem.H}) || m.Degree(i) != 1 {
		return false
	}
	nb := m.Neighbors(i)[0]
	heavy := &m.atoms[nb.Atom]
	return m.bonds[nb.Bond].Order == Single && heavy.Element != chem.H && int(heavy.Hydrogens)+m.Degree(int(nb.Atom)) < 256
}

// otherSubstituent returns the substituent at end k of the chain around a
// bond that isn't ref, or -1.
func (m *Mol) otherSubstituent(bond, k int, ref int32) int32 {
	before, at, _ := m.chainEnd(bond, k)
	for _, nb := range m.Neighbors(int(at)) {
		if nb.Atom != before && nb.Atom != ref {
			return nb.Atom
		}
	}
	return -1
}

// foldArranged lets an arrangement refer to what remains when hydrogens go:
// the other substituent of a double bond, and the hydrogen that precedes the
// ligands of a center.
func (m *Mol) foldArranged(a *arranged, plain []bool, atoms []Atom, bonds []Bond, newAtom, newBond []int32) {
	if a.bond {
		for end, ref := range a.refs {
			if ref >= 0 && plain[ref] {
				a.refs[end] = m.otherSubstituent(int(a.center), end, ref)
				b := &bonds[newBond[a.center]]
				b.Stereo = Cis + Trans - b.Stereo
			}
		}
		return
	}
	center := &atoms[newAtom[a.center]]
	for k, ref := range a.refs {
		if ref < 0 || !plain[ref] {
			continue
		}
		if a.hidden || center.Chirality == AL1 || center.Chirality == AL2 {
			if center.Chirality == AL1 || center.Chirality == AL2 {
				// The hydrogen at an end is told by the end itself, first of
				// its pair.
				a.refs[k] = m.Neighbors(int(ref))[0].Atom
				if k&1 == 1 {
					a.refs[k-1], a.refs[k] = a.refs[k], a.refs[k-1]
					center.Chirality = center.Chirality.mirrored()
				}
				continue
			}
			a.refs = nil // two hydrogens: no arrangement
			return
		}
		order := []int8{int8(k)}
		rest := []int32{}
		for j, other := range a.refs {
			if j != k {
				order = append(order, int8(j))
				rest = append(rest, other)
			}
		}
		center.Chirality = center.Chirality.Reorder(order)
		a.refs, a.hidden = rest, true
		return
	}
}
