package mol

import "slices"

// arranged is one arrangement in space with the atoms it refers to, so that
// it outlives a change of their order.
type arranged struct {
	center int32   // atom, or bond where it is a double bond
	bond   bool    //
	hidden bool    // a hydrogen or lone pair that isn't in the graph is first
	refs   []int32 // atoms in the order that the mark refers to
}

// arrangements lists the marks of m with what they refer to.
func (m *Mol) arrangements() []arranged {
	var list []arranged
	for i := range m.atoms {
		if m.atoms[i].Chirality == NotChiral {
			continue
		}
		refs, hidden := m.ligands(i)
		list = append(list, arranged{center: int32(i), hidden: hidden, refs: refs})
	}
	for i := range m.bonds {
		if m.bonds[i].Stereo == NoStereo {
			continue
		}
		_, refs, _ := m.Flank(i)
		list = append(list, arranged{center: int32(i), bond: true, refs: []int32{int32(refs[0]), int32(refs[1])}})
	}
	return list
}

// ligands returns the atoms that the chirality mark of atom i refers to, in
// order, and whether a hydrogen or lone pair comes before them.
func (m *Mol) ligands(i int) (refs []int32, hidden bool) {
	a := &m.atoms[i]
	if a.Chirality == AL1 || a.Chirality == AL2 {
		if m.Degree(i) != 2 {
			return nil, false
		}
		for _, nb := range m.Neighbors(i) {
			before, at, _ := m.walkDoubles(int32(i), nb.Atom)
			if m.Degree(int(at)) == 2 {
				refs = append(refs, at) // stands for its own hydrogen
			}
			for _, far := range m.Neighbors(int(at)) {
				if far.Atom != before {
					refs = append(refs, far.Atom)
				}
			}
		}
		return refs, false
	}
	for _, nb := range m.Neighbors(i) {
		refs = append(refs, nb.Atom)
	}
	return refs, a.Hydrogens > 0 || len(refs) == 3 && a.Chirality <= TH2
}

// walkDoubles follows a chain of double bonds from before over at to the last
// atom, and returns the atom before it, it, and the number of steps. Chains
// longer than maxCumulated, and closed ones, end there.
func (m *Mol) walkDoubles(before, at int32) (int32, int32, int) {
	for steps := range maxCumulated {
		next := int32(-1)
		if m.Degree(int(at)) == 2 {
			for _, nb := range m.Neighbors(int(at)) {
				if nb.Atom != before && m.bonds[nb.Bond].kekule == Double {
					next = nb.Atom
				}
			}
		}
		if next < 0 {
			return before, at, steps
		}
		before, at = at, next
	}
	return before, at, maxCumulated
}

// maxCumulated bounds the half length of a chain of double bonds that has an
// arrangement.
const maxCumulated = 50

// rearrange rewrites the marks of atoms and bonds, which are in their new
// order already, for the new order of neighbors, and drops those whose
// neighbors aren't the same atoms any more. newAtom and newBond give the new
// index of each old one, -1 = removed; what is beyond their end is new.
func rearrange(atoms []Atom, bonds []Bond, list []arranged, newAtom, newBond []int32) {
	if len(list) == 0 {
		return
	}
	after, err := assemble(slices.Clone(atoms), slices.Clone(bonds))
	if err != nil {
		return // New will say so
	}
	for i := range after.bonds {
		if b := &after.bonds[i]; b.kekule == Aromatic {
			b.kekule = Single
		}
	}
	for _, old := range list {
		if old.bond {
			if at := newBond[old.center]; at >= 0 {
				bonds[at].Stereo = after.restereo(int(at), old, newAtom)
			}
			continue
		}
		if at := newAtom[old.center]; at >= 0 {
			atoms[at].Chirality = after.rechiral(int(at), old, newAtom)
		}
	}
}

// rechiral returns the mark that says of atom i what old said.
func (m *Mol) rechiral(i int, old arranged, newAtom []int32) Chirality {
	refs, hidden := m.ligands(i)
	shift := 0
	if hidden {
		shift = 1
	}
	if hidden != old.hidden || len(refs) != len(old.refs) || len(refs)+shift > maxLigands {
		return NotChiral
	}
	var order [maxLigands]int8 // order[k] is the old place of what is now at k
	for k, ref := range refs {
		place := -1
		for j, was := range old.refs {
			if was >= 0 && newAtom[was] == ref {
				place = j
			}
		}
		if place < 0 {
			return NotChiral
		}
		order[k+shift] = int8(place + shift)
	}
	return m.atoms[i].Chirality.Reorder(order[:len(refs)+shift])
}

// restereo returns the mark that says of bond i what old said.
func (m *Mol) restereo(i int, old arranged, newAtom []int32) BondStereo {
	stereo := m.bonds[i].Stereo
	_, refs, ok := m.Flank(i)
	if !ok || m.bonds[i].Order != Double {
		return NoStereo
	}
	for k, now := range refs {
		was := old.refs[k]
		if was < 0 || newAtom[was] < 0 {
			return NoStereo
		}
		if newAtom[was] == int32(now) {
			continue
		}
		// The other substituent of the same end: the opposite side.
		if !m.shareEnd(i, k, newAtom[was]) {
			return NoStereo
		}
		stereo = Cis + Trans - stereo
	}
	return stereo
}

// shareEnd tells whether atom is a substituent at end k (0 = Begin) of the
// chain of double bonds around bond i.
func (m *Mol) shareEnd(i, k int, atom int32) bool {
	before, at, _ := m.chainEnd(i, k)
	for _, nb := range m.Neighbors(int(at)) {
		if nb.Atom == atom && nb.Atom != before {
			return true
		}
	}
	return false
}
