package mol

import "slices"

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
