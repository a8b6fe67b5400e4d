package mol

import "slices"

// element is one arrangement in space as canonical ranking sees it.
type element struct {
	atom, bond  int32    // its atom or bond; the other is -1
	refs        []int32  // ligands in the order that the mark refers to
	hidden      bool     // a hydrogen or lone pair precedes them
	ends        [2]int32 // of a double bond or chain: the atoms that carry the substituents
	others      [2]int32 // of a double bond: the second substituents, -1 = none
	value       int8     // what the mark says by the order of cells; 0 = not told apart yet
	meaningless bool     // dropped
}

// home is an atom of the element, by which it is assigned to a part.
func (e *element) home() int32 {
	if e.atom >= 0 {
		return e.atom
	}
	return min(e.ends[0], e.ends[1])
}

// each calls f for each atom that the element speaks of.
func (e *element) each(f func(at int32)) {
	for _, at := range e.refs {
		if at >= 0 {
			f(at)
		}
	}
	if e.atom >= 0 {
		f(e.atom)
		return
	}
	for k := range 2 {
		f(e.ends[k])
		if e.others[k] >= 0 {
			f(e.others[k])
		}
	}
}

// stereoElements lists the arrangements.
func (m *Mol) stereoElements() []element {
	var list []element
	for i := range m.atoms {
		if m.atoms[i].Chirality == NotChiral {
			continue
		}
		refs, hidden := m.ligands(i)
		list = append(list, element{atom: int32(i), bond: -1, refs: refs, hidden: hidden})
	}
	for i := range m.bonds {
		b := &m.bonds[i]
		if b.Stereo == NoStereo {
			continue
		}
		e := element{atom: -1, bond: int32(i), refs: make([]int32, 2)}
		for k := range e.ends {
			before, at, _ := m.chainEnd(i, k)
			e.ends[k], e.refs[k], e.others[k] = at, -1, -1
			for _, nb := range m.Neighbors(int(at)) {
				switch {
				case nb.Atom == before:
				case e.refs[k] < 0:
					e.refs[k] = nb.Atom
				default:
					e.others[k] = nb.Atom
				}
			}
		}
		list = append(list, e)
	}
	return list
}

// chainEnd returns the last atom of the chain of double bonds from bond i
// towards its end k (0 = Begin), the atom before it, and the number of steps.
func (m *Mol) chainEnd(i, k int) (before, at int32, steps int) {
	b := &m.bonds[i]
	if k == 0 {
		return m.walkDoubles(b.End, b.Begin)
	}
	return m.walkDoubles(b.Begin, b.End)
}

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
	if a.Element.Symbol() == "C" && (a.Charge > 0 || m.hasMultiple(i)) {
		return false
	}
	if a.Element.Symbol() == "N" && a.Charge == 0 && m.Valence(i) == 3 {
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

// resolve gives values to the arrangements whose ligands the cells tell apart
// by now, and splits the cells by them. It returns whether there were any.
// The value stays right when cells split further, because the pieces keep
// their order.
func (c *canonizer) resolve() bool {
	any := false
	for _, i := range c.mine {
		e := &c.elements[i]
		if e.value != 0 {
			continue
		}
		e.value = c.reading(e)
		if e.value == 0 {
			continue
		}
		any = true
		if e.atom >= 0 {
			c.add(e.atom, uint64(e.value))
		} else {
			c.add(e.ends[0], uint64(e.value))
			c.add(e.ends[1], uint64(e.value))
		}
	}
	c.split()
	return any
}

// reading returns what the element's mark says when its ligands are taken in
// the order of their cells, or 0 where two of them are in one cell.
func (c *canonizer) reading(e *element) int8 {
	if e.bond >= 0 {
		stereo := c.m.bonds[e.bond].Stereo
		for k := range 2 {
			if e.others[k] < 0 {
				continue
			}
			first, second := c.cell[e.refs[k]], c.cell[e.others[k]]
			if first == second {
				return 0
			}
			if second < first {
				stereo = Cis + Trans - stereo
			}
		}
		return int8(stereo)
	}
	mark := c.m.atoms[e.atom].Chirality
	var order [maxLigands]int8
	shift := int8(0)
	if e.hidden {
		shift = 1
	}
	n := int8(len(e.refs))
	group := n
	if mark == AL1 || mark == AL2 {
		group = 2 // the two ends are told apart or not: no matter
	}
	for from := int8(0); from < n; from += group {
		for i := from; i < from+group; i++ {
			k := i
			for ; k > from; k-- {
				before, now := c.cell[e.refs[order[shift+k-1]-shift]], c.cell[e.refs[i]]
				if before == now {
					return 0
				}
				if before < now {
					break
				}
				order[shift+k] = order[shift+k-1]
			}
			order[shift+k] = i + shift
		}
	}
	return int8(mark.Reorder(order[:n+shift]))
}

// dropEmptyMarks drops the marks of the part that are no arrangement because
// the mirrored mark gives the same molecule. Where two equal chains hang on
// the place that is plain; else the element is mirrored and the codes are
// compared.
func (c *canonizer) dropEmptyMarks() {
	for again := true; again; {
		again = false
		c.mine = slices.DeleteFunc(c.mine, func(i int) bool {
			e := &c.elements[i]
			if e.value != 0 || !c.twins(e) {
				return false
			}
			e.meaningless, again = true, true
			return true
		})
	}
	var open []int
	for _, i := range c.mine {
		if c.elements[i].value == 0 && c.elements[i].mirrors(c.m) {
			open = append(open, i)
		}
	}
	if len(open) == 0 || len(open) > maxOpen {
		return
	}
	c.findCore()
	here := c.save(c.whole())
	code := func() []int32 {
		c.restore(here)
		c.explore(c.whole())
		c.descend(c.whole())
		return c.code(c.whole())
	}
	before := code()
	for _, i := range open {
		e := &c.elements[i]
		e.mirror(c.m)
		after := code()
		e.mirror(c.m)
		if slices.Equal(before, after) {
			e.meaningless = true
			k := slices.Index(c.mine, i)
			c.mine = slices.Delete(c.mine, k, k+1)
			here.values = slices.Delete(here.values, k, k+1)
			before = code()
		}
	}
	c.restore(here)
}

// maxOpen bounds how many marks of one part are tried by mirroring; with more,
// all of them are kept.
const maxOpen = 32

// mirrors tells whether the element has exactly two arrangements.
func (e *element) mirrors(m *Mol) bool {
	return e.bond >= 0 || m.atoms[e.atom].Chirality <= AL2
}

// mirror changes the element's mark to the other arrangement.
func (e *element) mirror(m *Mol) {
	if e.bond >= 0 {
		m.bonds[e.bond].Stereo = Cis + Trans - m.bonds[e.bond].Stereo
		return
	}
	m.atoms[e.atom].Chirality = m.atoms[e.atom].Chirality.mirrored()
}

// twins tells whether two substituents of the element in one cell are open
// chains without open arrangements: then they are equal, as cells of trees
// hold only equivalent atoms.
func (c *canonizer) twins(e *element) bool {
	pair := func(center, a, b int32) bool {
		return a >= 0 && b >= 0 && c.cell[a] == c.cell[b] && c.plainBranch(center, a) && c.plainBranch(center, b)
	}
	if e.bond >= 0 {
		return pair(e.ends[0], e.refs[0], e.others[0]) || pair(e.ends[1], e.refs[1], e.others[1])
	}
	if c.m.atoms[e.atom].Chirality > TH2 {
		return false
	}
	for i, a := range e.refs {
		for _, b := range e.refs[:i] {
			if pair(e.atom, a, b) {
				return true
			}
		}
	}
	return false
}

// plainBranch tells whether what hangs on center by first has neither rings
// nor open arrangements.
func (c *canonizer) plainBranch(center, first int32) bool {
	type step struct{ before, at int32 }
	queue := []step{{center, first}}
	for head := 0; head < len(queue); head++ {
		before, at := queue[head].before, queue[head].at
		for _, i := range c.mine {
			e := &c.elements[i]
			if e.value == 0 && (e.atom == at || e.bond >= 0 && (e.ends[0] == at || e.ends[1] == at)) {
				return false
			}
		}
		for _, nb := range c.m.Neighbors(int(at)) {
			if nb.Atom == before {
				continue
			}
			if c.m.bonds[nb.Bond].ring {
				return false
			}
			queue = append(queue, step{at, nb.Atom})
		}
		if before == center && c.bondInRing(center, first) {
			return false
		}
	}
	return true
}

// bondInRing tells whether the bond between two neighbors is in a ring.
func (c *canonizer) bondInRing(a, b int32) bool {
	bond, ok := c.m.BondBetween(int(a), int(b))
	return ok && c.m.bonds[bond].ring
}

// cleaned returns the molecule without the marks that were dropped.
func (c *canonizer) cleaned() *Mol {
	for i := range c.elements {
		e := &c.elements[i]
		switch {
		case !e.meaningless:
		case e.atom >= 0:
			c.m.atoms[e.atom].Chirality = NotChiral
		default:
			c.m.bonds[e.bond].Stereo = NoStereo
		}
	}
	return c.m
}
