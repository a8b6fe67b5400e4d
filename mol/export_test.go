package mol

import "math/rand/v2"

// Shuffled returns the same molecule with atoms and bonds in random order and
// random direction.
func (m *Mol) Shuffled(r *rand.Rand) *Mol {
	atomOrder, bondOrder := r.Perm(len(m.atoms)), r.Perm(len(m.bonds))
	newAtom, newBond := make([]int32, len(m.atoms)), make([]int32, len(m.bonds))
	atoms, bonds := make([]Atom, len(m.atoms)), make([]Bond, len(m.bonds))
	for i, at := range atomOrder {
		newAtom[i] = int32(at)
		atoms[at] = m.atoms[i]
	}
	for i, at := range bondOrder {
		newBond[i] = int32(at)
		b := m.bonds[i]
		b.Begin, b.End = newAtom[b.Begin], newAtom[b.End]
		bonds[at] = b
	}
	list := m.arrangements()
	rearrange(atoms, bonds, list, newAtom, newBond)
	for i := range bonds {
		// The references of an arrangement are told by end: exchange both.
		if r.IntN(2) == 0 {
			bonds[i].Begin, bonds[i].End = bonds[i].End, bonds[i].Begin
		}
	}
	result, err := New(atoms, bonds)
	if err != nil {
		panic(err)
	}
	return result
}
