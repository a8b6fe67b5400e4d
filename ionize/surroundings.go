package ionize

// surroundings are codes of each atom's neighbourhood in an ion: of the atom
// alone, to its neighbours, and to theirs. Equal neighbourhoods have equal
// codes whatever the numbering; resonance forms share them, since they are
// made from single bonds, hydrogens and left-over valences only.
type surroundings struct {
	self, near, far, deep [MaxAtoms]uint32 // to no, one, two, three bonds away
	whole                 uint64           // of the entire ion, labels included
	plain                 uint32           // of the entire ion as if it had no labels
	rings                 bondSet
	inRing, inChain       atomSet // atoms with a bond in a ring, with one in none
	joins                 joins

	ways      [2 * maxBonds]uint8  // for each half-bond of joins the place in spreading of what comes along it
	spreading [2 * MaxAtoms]uint32 // what goes out of each atom along chains, then along rings
	deepest   [MaxAtoms]uint32
}

// look works out the codes of s; what c holds of atoms outside s is left from
// before.
func (m *molecule) look(s *skeleton, c *surroundings) {
	m.join(s, &c.joins)
	m.lookJoined(s, &c.joins, c)
}

// lookJoined is look where the bonds of s are listed already.
func (m *molecule) lookJoined(s *skeleton, j *joins, c *surroundings) {
	var bridges bondSet
	s.bridges(j, noBond, &bridges)
	c.rings = s.bonds.minus(bridges)
	c.inRing, c.inChain = 0, 0
	for rest := s.atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		ringBonds := 0
		for k := j.start[i]; k < j.end[i]; k++ {
			half := j.halves[k]
			inRing := uint8(c.rings[half.bond>>6] >> (half.bond & 63) & 1)
			c.ways[k] = half.to + inRing*MaxAtoms
			ringBonds += int(inRing)
		}
		degree, hydrogens := j.degree(i), s.hydrogen(i)
		if ringBonds > 0 {
			c.inRing = c.inRing.with(i)
		}
		if ringBonds < degree {
			c.inChain = c.inChain.with(i)
		}
		code := uint32(m.atoms[i].element) | uint32(degree)<<4 | uint32(hydrogens)<<8 |
			uint32(int(m.atoms[i].valence)-degree-hydrogens+2)<<12 | uint32(min(ringBonds, 3))<<16
		if m.atoms[i].aromatic {
			code |= 1 << 18
		}
		c.self[i] = mix(code, 1)
	}
	c.spread(s.atoms, j, &c.self, &c.near, 2)
	c.spread(s.atoms, j, &c.near, &c.far, 3)
	c.spread(s.atoms, j, &c.far, &c.deep, 4)
	c.spread(s.atoms, j, &c.deep, &c.deepest, 5)
	low, high := uint32(s.atoms.len()), uint32(0)
	c.plain = low
	for rest := s.atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		code := c.deepest[i]
		own := mix(code, 6)
		c.plain += own
		if extra := uint32(m.label[i])<<8 | uint32(s.deuterium(i)); extra != 0 {
			code = mix(code, extra)
			own = mix(code, 6)
		}
		low += own
		high += mix(code, 7)
	}
	c.whole = uint64(mix(low, 8)) | uint64(mix(high, 9))<<32
	c.plain = mix(c.plain, 8)
}

// spread makes each atom's code of the next wider neighbourhood.
func (c *surroundings) spread(atoms atomSet, j *joins, from, to *[MaxAtoms]uint32, salt uint32) {
	const chain, ring = 16, 17
	for rest := c.inChain; rest != 0; rest &= rest - 1 {
		i := rest.first() & (MaxAtoms - 1)
		c.spreading[i] = mix(from[i], chain)
	}
	for rest := c.inRing; rest != 0; rest &= rest - 1 {
		i := rest.first() & (MaxAtoms - 1)
		c.spreading[i+MaxAtoms] = mix(from[i], ring)
	}
	for rest := atoms; rest != 0; rest &= rest - 1 {
		i := rest.first() & (MaxAtoms - 1)
		sum := uint32(0)
		for _, way := range c.ways[j.start[i]:j.end[i]] {
			sum += c.spreading[way%(2*MaxAtoms)]
		}
		to[i] = mix(from[i]^mix(sum, salt), salt)
	}
}

// mix is a hash step with good avalanche (the finalizer of MurmurHash3, public
// domain).
func mix(a, b uint32) uint32 {
	h := a ^ b*0x9e3779b1
	h ^= h >> 16
	h *= 0x85ebca6b
	h ^= h >> 13
	h *= 0xc2b2ae35
	h ^= h >> 16
	return h
}
