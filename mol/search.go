package mol

import "slices"

// span is a range of c.lab that holds whole cells. What splits its cells
// doesn't move atoms beyond it.
type span struct{ begin, end int32 }

// region is the part of a partition that one search is about.
type region []span

// whole is the region of all atoms.
func (c *canonizer) whole() region { return region{{0, int32(len(c.lab))}} }

// cellsOf calls f for each cell of a region with several atoms.
func (c *canonizer) cellsOf(r region, f func(cell int32)) {
	for _, s := range r {
		for cell := s.begin; cell < s.end; cell += c.size[cell] {
			if c.size[cell] > 1 {
				f(cell)
			}
		}
	}
}

// explore splits a region into single atoms, in the way that gives the lowest
// code. It returns false where nothing was to be chosen: then some cells may
// be left, to be split in any way.
//
// Where all ways are known to be equivalent there is nothing to choose. Cells
// that don't restrict each other are searched one after the other. Else each
// atom of one cell is individualized in turn, without those that a symmetry
// found on the way maps to one that has been tried.
func (c *canonizer) explore(r region) bool {
	if c.equivalent(r) {
		return false
	}
	groups := c.groups(r)
	if len(groups) != 1 {
		for _, g := range groups {
			c.explore(g)
		}
		return len(groups) > 0
	}
	group := groups[0]
	if c.equivalent(group) {
		return false
	}
	cell := c.target(group)
	here := c.save(group)
	members := append([]int32(nil), c.lab[cell:cell+c.size[cell]]...)
	same := newOrbits(len(members))
	var best state
	var bestCode []int32
	for i, at := range members {
		if i > 0 && (same.find(i) != i || c.work > canonicalWork) {
			continue
		}
		step := func() {
			c.restore(here)
			c.individualize(at)
			c.settle()
		}
		finish := func(search bool) []int32 {
			if search {
				c.explore(group)
			}
			c.descend(group)
			return c.code(group)
		}
		step()
		// The first way is searched. The others are compared with it as they
		// come, which finds a symmetry if there is one, and searched if not.
		code := finish(i == 0)
		if i > 0 && !slices.Equal(code, bestCode) {
			step()
			code = finish(true)
		}
		switch {
		case i == 0 || slices.Compare(code, bestCode) < 0:
			best, bestCode = c.save(group), code
		case slices.Equal(code, bestCode):
			same.join(members, best.lab, c.save(group).lab)
		}
	}
	c.restore(best)
	return true
}

// retrace splits the part again from a state before the search, each atom of
// the core in the order that the search found. The search keeps and brings back
// the cells of one group only, so that trees hanging on the core are left in
// the order of the last way tried; here they follow the core. The order of
// equal trees matters only to arrangements that are still open then.
func (c *canonizer) retrace(before state) {
	found := append([]int32(nil), c.lab...)
	c.restore(before)
	follow := func(matters func(at int32) bool) {
		for _, at := range found {
			if c.size[c.cell[at]] > 1 && matters(at) {
				c.individualize(at)
				c.settle()
			}
		}
	}
	follow(func(at int32) bool { return c.core[at] != 0 })
	if len(c.mine) > 0 && len(c.openCells(c.whole())) > 0 {
		follow(func(int32) bool { return true })
	}
}

// descend splits what is left of a region, always at the first atom of the
// first cell.
func (c *canonizer) descend(r region) {
	for _, s := range r {
		for start := s.begin; start < s.end; {
			if c.size[start] == 1 {
				start++
				continue
			}
			c.individualize(c.lab[start])
			c.settle()
		}
	}
}

// code lists the bonds within a region that is split into single atoms, each
// at its later atom, and the values of the arrangements there. Splits of one
// code differ by a symmetry.
func (c *canonizer) code(r region) []int32 {
	m := c.m
	var code []int32
	for _, s := range r {
		for i := s.begin; i < s.end; i++ {
			at := c.lab[i]
			begin := len(code)
			for _, nb := range m.neighbors[m.start[at]:m.start[at+1]] {
				if p := c.pos[nb.Atom]; p < i {
					code = append(code, p<<3|int32(m.bonds[nb.Bond].Order))
				}
			}
			slices.Sort(code[begin:])
			code = append(code, -1)
		}
	}
	c.work += len(code)
	if len(c.mine) > 0 {
		begin := len(code)
		for _, i := range c.mine {
			e := &c.elements[i]
			if c.concerns(r, e) {
				code = append(code, c.pos[e.home()]<<7|int32(e.value))
			}
		}
		slices.Sort(code[begin:])
	}
	return code
}

// concerns tells whether an arrangement speaks of an atom of the region.
func (c *canonizer) concerns(r region, e *element) bool {
	found := false
	e.each(func(at int32) { found = found || r.holds(c.pos[at]) })
	return found
}

// holds tells whether a place of c.lab is in the region.
func (r region) holds(place int32) bool {
	for _, s := range r {
		if place >= s.begin && place < s.end {
			return true
		}
	}
	return false
}

// state is a copy of the cells of a region and of what its arrangements say.
type state struct {
	region
	lab, cell, size []int32
	cells           int
	values          []int8 // of all elements of the part
}

// save copies the state of a region.
func (c *canonizer) save(r region) state {
	n := int32(0)
	for _, s := range r {
		n += s.end - s.begin
	}
	buffer := make([]int32, 0, 3*n)
	for _, s := range r {
		buffer = append(buffer, c.lab[s.begin:s.end]...)
	}
	for _, s := range r {
		for _, at := range c.lab[s.begin:s.end] {
			buffer = append(buffer, c.cell[at])
		}
	}
	for _, s := range r {
		buffer = append(buffer, c.size[s.begin:s.end]...)
	}
	c.work += int(3 * n)
	values := make([]int8, len(c.mine))
	for k, i := range c.mine {
		values[k] = c.elements[i].value
	}
	return state{r, buffer[:n:n], buffer[n : 2*n : 2*n], buffer[2*n:], c.cells, values}
}

// restore brings a saved state back.
func (c *canonizer) restore(saved state) {
	k := 0
	for _, s := range saved.region {
		for i := s.begin; i < s.end; i++ {
			at := saved.lab[k]
			c.lab[i], c.pos[at], c.cell[at], c.size[i] = at, i, saved.cell[k], saved.size[k]
			k++
		}
	}
	c.work += k
	c.cells = saved.cells
	for k, i := range c.mine {
		c.elements[i].value = saved.values[k]
	}
}

// target is the cell of a region to individualize in: the first of the
// smallest, of the core where it has some.
func (c *canonizer) target(r region) int32 {
	best, bestCore := int32(-1), false
	c.cellsOf(r, func(cell int32) {
		core := c.core[c.lab[cell]] != 0
		if best < 0 || core && !bestCore || core == bestCore && c.size[cell] < c.size[best] {
			best, bestCore = cell, core
		}
	})
	return best
}
