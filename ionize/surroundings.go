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
	joins                 joins

	// Scratch of lookJoined.
	deepest  [MaxAtoms]uint32
	ringHalf [2*maxBonds + 1]uint8 // 1 where the bond listed in joins is one of a ring
	passed   [2][MaxAtoms]uint32   // what an atom passes on along a bond of a chain, of a ring
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
	c.rings = bondSet{s.bonds[0] &^ bridges[0], s.bonds[1] &^ bridges[1]}
	cyclic := c.rings != bondSet{}
	for rest := s.atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		ringBonds := 0
		if cyclic {
			for k := j.start[i]; k < j.end[i]; k++ {
				bond := j.halves[k].bond
				c.ringHalf[k] = uint8(c.rings[bond>>6] >> (bond & 63) & 1)
				ringBonds += int(c.ringHalf[k])
			}
		}
		degree, hydrogens := j.degree(i), s.hydrogen(i)
		code := uint32(m.atoms[i].element) | uint32(degree)<<4 | uint32(hydrogens)<<8 |
			uint32(int(m.atoms[i].valence)-degree-hydrogens+2)<<12 | uint32(min(ringBonds, 3))<<16
		if m.atoms[i].aromatic {
			code |= 1 << 18
		}
		c.self[i] = mix(code, 1)
	}
	c.spread(s.atoms, j, cyclic, &c.self, &c.near, 2)
	c.spread(s.atoms, j, cyclic, &c.near, &c.far, 3)
	c.spread(s.atoms, j, cyclic, &c.far, &c.deep, 4)
	c.spread(s.atoms, j, cyclic, &c.deep, &c.deepest, 5)
	low, high := uint32(s.atoms.len()), uint32(0)
	c.plain = low
	for rest := s.atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		code := c.deepest[i]
		c.plain += mix(code, 6)
		if extra := uint32(m.label[i])<<8 | uint32(s.deuterium(i)); extra != 0 {
			code = mix(code, extra)
		}
		low += mix(code, 6)
		high += mix(code, 7)
	}
	c.whole = uint64(mix(low, 8)) | uint64(mix(high, 9))<<32
	c.plain = mix(c.plain, 8)
}

// spread makes each atom's code of the next wider neighbourhood.
func (c *surroundings) spread(atoms atomSet, j *joins, cyclic bool, from, to *[MaxAtoms]uint32, salt uint32) {
	const chain, ring = 16, 17
	chained, ringed := &c.passed[0], &c.passed[1]
	for rest := atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		chained[i] = mix(from[i], chain)
		if cyclic {
			ringed[i] = mix(from[i], ring)
		}
	}
	for rest := atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		sum := uint32(0)
		if cyclic {
			for k := j.start[i]; k < j.end[i]; k++ {
				sum += c.passed[c.ringHalf[k]&1][j.halves[k].to&(MaxAtoms-1)]
			}
		} else {
			for _, half := range j.at(i) {
				sum += chained[half.to&(MaxAtoms-1)]
			}
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
