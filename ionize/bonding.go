package ionize

// bonding is one resonance form of a skeleton's neutral: how the valences that
// single bonds and hydrogens leave over pair up into pi bonds, and which stay
// alone. It is a maximum matching found greedily and mended by augmenting
// paths; in the rare odd-ring case where the paths miss one, a pi bond is
// counted too few and the ion is judged too costly, never too cheap.
type bonding struct {
	joins
	of   skeleton       // what it is the bonding of
	free [MaxAtoms]int8 // valences left after single bonds and hydrogens
	left [MaxAtoms]int8 // of these, the unpaired ones
	pi   [maxBonds]uint8

	pis    [MaxAtoms]uint8 // pi bonds at each atom
	hetero atomSet         // atoms with a pi bond to an element other than carbon
}

// bond works out the bonding of s. Each atom first gets one pi bond at most;
// second ones (triple bonds, cumulated double bonds) come from what is left
// then. So the odd electron of a phenyl or acyl radical stays on the atom that
// lost its bond.
func (m *molecule) bond(s *skeleton, b *bonding) {
	m.join(s, &b.joins)
	m.bondJoined(s, b)
}

// bonded reports whether b is the bonding of s.
func (b *bonding) bonded(s *skeleton) bool { return b.of == *s }

// bondJoined is bond where the bonds are listed already.
func (m *molecule) bondJoined(s *skeleton, b *bonding) {
	b.of = *s
	b.free, b.left, b.pi, b.pis, b.hetero = [MaxAtoms]int8{}, [MaxAtoms]int8{}, [maxBonds]uint8{}, [MaxAtoms]uint8{}, 0
	var open, more atomSet // atoms with a valence to pair; with more than one
	for rest := s.atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		f := m.atoms[i].valence - int8(b.degree(i)) - int8(s.hydrogen(i))
		b.free[i], b.left[i] = f, min(f, 1)
		if f > 0 {
			open = open.with(i)
		}
		if f > 1 {
			more = more.with(i)
		}
	}
	pairing := open
	open = m.pair(b, open)
	if more != 0 {
		for rest := more; rest != 0; rest &= rest - 1 {
			i := rest.first()
			b.left[i] += b.free[i] - 1
		}
		open = m.pair(b, open|more)
	}
	m.closeShells(b, open)
	for rest := pairing; rest != 0; rest &= rest - 1 {
		i := rest.first()
		for _, half := range b.at(i) {
			if n := b.pi[half.bond]; n > 0 {
				b.pis[i] += n
				if m.atoms[half.to].element != iC {
					b.hetero = b.hetero.with(i)
				}
			}
		}
	}
}

// pair pairs up what is left at the open atoms, and returns those that stay
// open.
func (m *molecule) pair(b *bonding, open atomSet) atomSet {
	if open&(open-1) != 0 {
		open = m.pairOpen(b, open)
	}
	return m.augment(b, open)
}

// pairOpen pairs neighbours among the open atoms, the most constrained first,
// and returns those that stay open.
func (m *molecule) pairOpen(b *bonding, open atomSet) atomSet {
	var partners [MaxAtoms]uint8 // open neighbours that can take one more pi bond
	waiting := open              // those that have some
	for rest := open; rest != 0; rest &= rest - 1 {
		i := rest.first()
		for _, half := range b.at(i) {
			if open.has(int(half.to)) && b.pi[half.bond] < 2 {
				partners[i]++
			}
		}
		if partners[i] == 0 {
			waiting = waiting.without(i)
		}
	}
	lose := func(i int) {
		if partners[i]--; partners[i] == 0 {
			waiting = waiting.without(i)
		}
	}
	for waiting != 0 {
		i := m.mostConstrained(&partners, waiting)
		j, bond := m.bestPartner(b, open, i)
		b.pi[bond]++
		if b.pi[bond] == 2 {
			lose(i)
			lose(j)
		}
		for _, at := range [2]int{i, j} {
			if b.left[at]--; b.left[at] > 0 {
				continue
			}
			open, waiting = open.without(at), waiting.without(at)
			for _, half := range b.at(at) {
				if open.has(int(half.to)) && b.pi[half.bond] < 2 {
					lose(int(half.to))
				}
			}
		}
	}
	return open
}

// closeShells lets an atom that has more bonds in the molecule than its lowest
// valence take two unpaired valences back as a lone pair: sulfur dioxide from
// a sulfone, nitrogen monoxide from a nitro group.
func (m *molecule) closeShells(b *bonding, open atomSet) {
	for rest := open; rest != 0; rest &= rest - 1 {
		i := rest.first()
		for spare := m.atoms[i].valence - lowestValence[m.atoms[i].element]; spare >= 2 && b.left[i] >= 2; spare -= 2 {
			b.left[i] -= 2
		}
	}
}

// lowestValence is the smallest number of bonds of each element's neutral
// compounds.
var lowestValence = [numElements]int8{iC: 4, iN: 3, iO: 2, iF: 1, iSi: 4, iP: 3, iS: 2, iCl: 1, iBr: 1, iI: 1}

// mostConstrained picks the waiting atom with the fewest partners, a
// heteroatom first among equals, so that carbonyls pair before chains do.
func (m *molecule) mostConstrained(partners *[MaxAtoms]uint8, waiting atomSet) int {
	best, bestRank := 0, 1<<10
	for rest := waiting; rest != 0; rest &= rest - 1 {
		i := rest.first()
		rank := int(partners[i]) * 4
		if m.atoms[i].element == iC {
			rank++
		}
		if rank < bestRank {
			best, bestRank = i, rank
		}
	}
	return best
}

// bestPartner picks the open neighbour that has the fewest open neighbours
// itself.
func (m *molecule) bestPartner(b *bonding, open atomSet, i int) (atom, bond int) {
	bestRank := 1 << 10
	for _, half := range b.at(i) {
		j := int(half.to)
		if !open.has(j) || b.pi[half.bond] >= 2 {
			continue
		}
		rank := 0
		for _, next := range b.at(j) {
			if open.has(int(next.to)) {
				rank++
			}
		}
		if rank < bestRank {
			bestRank, atom, bond = rank, j, int(half.bond)
		}
	}
	return atom, bond
}

// augment lengthens the matching along alternating paths between two unpaired
// valences that aren't neighbours. It returns the atoms that stay open.
func (m *molecule) augment(b *bonding, open atomSet) (still atomSet) {
	for rest := open; rest != 0; rest &= rest - 1 {
		i := rest.first()
		for b.left[i] > 0 {
			seen := atomSet(0).with(i)
			if !m.augmentFrom(b, i, &seen) {
				break
			}
			b.left[i]--
		}
	}
	for rest := open; rest != 0; rest &= rest - 1 {
		if i := rest.first(); b.left[i] > 0 {
			still = still.with(i)
		}
	}
	return still
}

func (m *molecule) augmentFrom(b *bonding, i int, seen *atomSet) bool {
	for _, half := range b.at(i) {
		j, bond := int(half.to), int(half.bond)
		if seen.has(j) || b.pi[bond] >= 2 || b.free[j] <= 0 {
			continue
		}
		*seen = seen.with(j)
		if b.left[j] > 0 {
			b.left[j]--
			b.pi[bond]++
			return true
		}
		for _, next := range b.at(j) {
			k, freed := int(next.to), int(next.bond)
			if freed == bond || b.pi[freed] == 0 || seen.has(k) {
				continue
			}
			*seen = seen.with(k)
			b.pi[freed]--
			if m.augmentFrom(b, k, seen) {
				b.pi[bond]++
				return true
			}
			b.pi[freed]++
		}
	}
	return false
}

// piAt is the number of pi bonds at atom i, and hetero whether one of them
// leads to an element other than carbon.
func (b *bonding) piAt(i int) (n int, hetero bool) { return int(b.pis[i]), b.hetero.has(i) }
