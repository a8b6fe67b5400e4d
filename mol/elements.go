package mol

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
