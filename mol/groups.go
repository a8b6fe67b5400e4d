package mol

// groups divides the cells of a region that still matter into groups that
// don't restrict each other: between cells of different groups either all
// atoms are bound, in the same way, or none, and no open arrangement speaks of
// both. Trees hanging on the core don't matter: atoms of one cell carry equal
// trees.
func (c *canonizer) groups(r region) []region {
	var cells []int32
	opens := c.openCells(r)
	c.cellsOf(r, func(cell int32) {
		if c.core[c.lab[cell]] != 0 || len(opens) > 0 {
			cells = append(cells, cell)
		}
	})
	if len(cells) == 0 {
		return nil
	}
	index := make(map[int32]int, len(cells))
	for k, cell := range cells {
		index[cell] = k
	}
	o := newOrbits(len(cells))
	for k, cell := range cells {
		at := c.lab[cell]
		for _, nb := range c.m.Neighbors(int(at)) {
			other, ok := index[c.cell[nb.Atom]]
			if ok && !c.boundToAll(at, cells[other], nb) {
				o.union(k, other)
			}
		}
	}
	for _, linked := range opens {
		first := -1
		for _, cell := range linked {
			if k, ok := index[cell]; ok {
				if first < 0 {
					first = k
				}
				o.union(first, k)
			}
		}
	}
	groupOf := map[int]int{}
	var groups []region
	for k, cell := range cells {
		top := o.find(k)
		g, ok := groupOf[top]
		if !ok {
			g = len(groups)
			groupOf[top] = g
			groups = append(groups, nil)
		}
		groups[g] = append(groups[g], span{cell, cell + c.size[cell]})
	}
	return groups
}

// boundToAll tells whether an atom is bound to all atoms of a cell as it is
// to one of them.
func (c *canonizer) boundToAll(at, cell int32, like Neighbor) bool {
	order := c.m.bonds[like.Bond].Order
	count := int32(0)
	for _, nb := range c.m.Neighbors(int(at)) {
		if c.cell[nb.Atom] == cell && c.m.bonds[nb.Bond].Order == order {
			count++
		}
	}
	return count == c.size[cell]
}

// openCells lists for each open arrangement the cells of a region that it
// speaks of.
func (c *canonizer) openCells(r region) [][]int32 {
	var list [][]int32
	for _, i := range c.mine {
		e := &c.elements[i]
		if e.value != 0 {
			continue
		}
		var cells []int32
		e.each(func(at int32) {
			if r.holds(c.cell[at]) {
				cells = append(cells, c.cell[at])
			}
		})
		if len(cells) > 0 {
			list = append(list, cells)
		}
	}
	return list
}

// equivalent tells whether all ways to split a region are known to be
// equivalent. The core decides, where it is so if all its cells with several
// atoms are pairs, but one triple perhaps, or if the atoms exceed the cells by
// four at most (McKay, Congr. Numer. 30 (1981) 45, lemma 2.25). Arrangements
// must all be resolved: then every symmetry keeps them.
func (c *canonizer) equivalent(r region) bool {
	if len(c.mine) > 0 && len(c.openCells(r)) > 0 {
		return false
	}
	excess, several := int32(0), int32(0)
	c.cellsOf(r, func(cell int32) {
		if c.core[c.lab[cell]] != 0 {
			excess += c.size[cell] - 1
			several++
		}
	})
	return excess <= several+1 || excess <= 4
}
