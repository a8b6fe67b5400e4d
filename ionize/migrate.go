package ionize

// proposeMigrations offers the steps in which a silyl group or a halogen of
// part B moves to the atom of part A at the broken bond, with the charge on
// either: m/z 147 of compounds with two trimethylsilyl groups, fluorine on
// silicon from fluorinated arenes.
func (c *split) proposeMigrations() {
	m := c.x.m
	to := m.atoms[c.a].element
	if to != iSi && to != iO && to != iN && to != iS || c.full(c.a) {
		return
	}
	var bridges bondSet
	m.join(&c.partB, &m.paired.joins)
	c.partB.bridges(&m.paired.joins, noBond, &bridges)
	for b := range m.ends {
		if !bridges.has(b) {
			continue
		}
		for _, g := range [2]int{int(m.ends[b][0]), int(m.ends[b][1])} {
			if c.migrates(g, to) {
				c.migrate(g, b)
			}
		}
	}
}

// migrates reports whether a group bound through atom g goes to an atom of
// the element to: silyl to heteroatoms, halogen to silicon.
func (c *split) migrates(g int, to uint8) bool {
	switch c.x.m.atoms[g].element {
	case iSi:
		return to != iSi
	case iF, iCl, iBr:
		return to == iSi
	}
	return false
}

// migrate moves the group behind bond b, seen from its atom g.
func (c *split) migrate(g, b int) {
	m := c.x.m
	group := m.reach(&c.partB, g, b, noBond)
	if group.has(c.b) {
		return
	}
	bond, ok := m.form(c.a, g)
	if !ok || c.x.s.bonds.has(bond) {
		return
	}
	grown := c.x.s.part(m, c.partA.atoms|group)
	grown.bonds = grown.bonds.with(bond)
	left := c.partB.part(m, c.partB.atoms.minus(group))
	p := proposal{
		kind: GroupMigration, ion: grown, neutral: left,
		cut: [2]int16{int16(c.bond), int16(b)}, formed: int16(bond),
	}
	c.x.emit(p)
	p.ion, p.neutral = left, grown
	c.x.emit(p)
}
