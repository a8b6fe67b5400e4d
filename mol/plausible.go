package mol

import "ionwright/chem"

// plausible returns a copy of the molecule without the marks that can't be an
// arrangement whatever the symmetry.
func (m *Mol) plausible() *Mol {
	result := m.copied()
	for i := range m.atoms {
		if m.atoms[i].Chirality != NotChiral && !m.canBeChiral(i) {
			result.atoms[i].Chirality = NotChiral
		}
	}
	for i := range m.bonds {
		if m.bonds[i].Stereo != NoStereo && !m.CanBeCisTrans(i) {
			result.bonds[i].Stereo = NoStereo
		}
	}
	return result
}

// canBeChiral tells whether the mark of atom i has as many ligands as its
// class wants, and isn't on a nitrogen that inverts or a flat atom.
func (m *Mol) canBeChiral(i int) bool {
	a := &m.atoms[i]
	refs, hidden := m.ligands(i)
	n := len(refs)
	if hidden {
		n++
	}
	if n != a.Chirality.ligands() || a.Hydrogens > 1 || a.Aromatic {
		return false
	}
	if a.Chirality > TH2 {
		return true
	}
	if a.Element == chem.C && (a.Charge > 0 || m.hasMultiple(i)) {
		return false
	}
	if a.Element == chem.N && a.Charge == 0 && m.Valence(i) == 3 {
		ring := 0
		for _, nb := range m.Neighbors(i) {
			if m.bonds[nb.Bond].ring {
				ring++
			}
		}
		return ring == 3 || m.inRingUpTo(i, 3)
	}
	return true
}

// hasMultiple tells whether atom i has a bond of higher order than single.
func (m *Mol) hasMultiple(i int) bool {
	for _, nb := range m.Neighbors(i) {
		if m.bonds[nb.Bond].kekule > Single {
			return true
		}
	}
	return false
}

// CanBeCisTrans tells whether bond i can carry a [BondStereo] as far as its
// surroundings are concerned: it is a double bond, the middle of its chain of
// double bonds, in no ring of fewer than 8 atoms, and each end of the chain has
// one or two substituents and at most one hydrogen. Whether the substituents
// differ isn't looked at.
func (m *Mol) CanBeCisTrans(i int) bool {
	b := &m.bonds[i]
	if b.Order != Double {
		return false
	}
	_, _, left := m.chainEnd(i, 0)
	_, _, right := m.chainEnd(i, 1)
	if left != right || left == maxCumulated {
		return false
	}
	for k := range 2 {
		_, at, _ := m.chainEnd(i, k)
		others := m.Degree(int(at)) - 1
		if others < 1 || others > 2 || m.atoms[at].Hydrogens > 1 {
			return false
		}
	}
	return !b.ring || m.smallestRingOf(i, smallRing) == 0
}

// Flank returns, for the ends of the chain of double bonds around a bond
// (Begin's side first), the atoms that carry the substituents and the first
// substituent of each, to which [BondStereo] refers; false where an end has
// none.
func (m *Mol) Flank(bond int) (ends, refs [2]int, ok bool) {
	for k := range 2 {
		before, at, _ := m.chainEnd(bond, k)
		ends[k], refs[k] = int(at), -1
		for _, nb := range m.Neighbors(int(at)) {
			if nb.Atom != before {
				refs[k] = int(nb.Atom)
				break
			}
		}
	}
	return ends, refs, refs[0] >= 0 && refs[1] >= 0
}

// smallRing is the size up to which a ring fixes its double bonds: trans is
// known from cyclooctene on.
const smallRing = 7

// inRingUpTo tells whether atom i is in a ring of at most size atoms.
func (m *Mol) inRingUpTo(i, size int) bool {
	for _, nb := range m.Neighbors(i) {
		if m.bonds[nb.Bond].ring && m.smallestRingOf(int(nb.Bond), size) > 0 {
			return true
		}
	}
	return false
}

// smallestRingOf returns the size of the smallest ring of a bond, 0 where it
// is above limit.
func (m *Mol) smallestRingOf(bond, limit int) int {
	b := &m.bonds[bond]
	distance := map[int32]int{b.Begin: 1}
	queue := []int32{b.Begin}
	for head := 0; head < len(queue); head++ {
		at := queue[head]
		if distance[at] == limit {
			break
		}
		for _, nb := range m.Neighbors(int(at)) {
			if int(nb.Bond) == bond || !m.bonds[nb.Bond].ring {
				continue
			}
			if nb.Atom == b.End {
				return distance[at] + 1
			}
			if distance[nb.Atom] == 0 {
				distance[nb.Atom] = distance[at] + 1
				queue = append(queue, nb.Atom)
			}
		}
	}
	return 0
}
