package mol

import "slices"

// ringInfo is what is known of the rings beyond which bonds are in one.
type ringInfo struct {
	relevant [][]int32
	smallest [][]int32 // subset of relevant
}

// Rings returns the rings that are no sum of shorter ones, each as its atoms
// in order round the ring, small ones first: the union of all smallest sets of
// smallest rings. It depends on the structure only; cubane has its six faces,
// naphthalene two rings. The set is shared and found once: don't change it.
//
// Of rings that differ only in which of several equally short ways they take
// (round the benzene rings of a cyclophane), 64 at most are listed. In a ring
// system of more than 2,048 bonds only rings of up to 8 atoms are found, sums of
// shorter ones included: beyond, the work would grow with the third power.
func (m *Mol) Rings() [][]int32 { return m.ringInfo().relevant }

// SmallestRings returns a smallest set of smallest rings, a part of
// [Mol.Rings]: [Mol.NumRings] rings, together as small as possible. Where the
// choice isn't unique (five of cubane's faces) it falls on the rings of the
// lowest canonical ranks, so that it doesn't depend on the order of the atoms,
// except among equivalent ones. In a ring system of more than 2,048 bonds it is
// what Rings finds. The set is shared: don't change it.
func (m *Mol) SmallestRings() [][]int32 { return m.ringInfo().smallest }

// NumRings returns the number of independent rings: bonds - atoms + parts.
func (m *Mol) NumRings() int { return len(m.bonds) - len(m.atoms) + m.parts }

func (m *Mol) ringInfo() *ringInfo {
	info := m.rings.Load()
	if info == nil {
		info = m.findRings()
		m.rings.Store(info)
	}
	return info
}

// findRings finds the rings of each system of ring bonds.
func (m *Mol) findRings() *ringInfo {
	s := acquire()
	defer s.release()
	info := &ringInfo{}
	var ranks []int32  // found when first needed
	var before []int32 // system whose places are still set
	place := s.filled(len(m.atoms), -1)
	taken := s.zeros(len(m.atoms))
	for root := range m.atoms {
		if taken[root] != 0 || !m.RingAtom(root) {
			continue
		}
		system := []int32{int32(root)}
		taken[root] = 1
		simple := true
		for head := 0; head < len(system); head++ {
			degree := 0
			for _, nb := range m.Neighbors(int(system[head])) {
				if !m.bonds[nb.Bond].ring {
					continue
				}
				degree++
				if taken[nb.Atom] == 0 {
					taken[nb.Atom] = 1
					system = append(system, nb.Atom)
				}
			}
			simple = simple && degree == 2
		}
		if simple {
			ring := m.round(system[0])
			info.relevant, info.smallest = append(info.relevant, ring), append(info.smallest, ring)
			continue
		}
		for _, at := range before {
			place[at] = -1
		}
		before = system
		g := m.newCycleSpace(s, system, place)
		if len(g.bonds) > vastSystem {
			g.search(vastLimit)
			for _, c := range g.found {
				ring := g.atomsOf(c)
				info.relevant, info.smallest = append(info.relevant, ring), append(info.smallest, ring)
			}
			continue
		}
		g.search(int32(len(system)))
		g.sift()
		m.choose(g, &ranks, info)
	}
	for _, rings := range [][][]int32{info.relevant, info.smallest} {
		slices.SortStableFunc(rings, func(a, b []int32) int { return len(a) - len(b) })
	}
	return info
}

// round returns the atoms of the only ring that first is in.
func (m *Mol) round(first int32) []int32 {
	ring := []int32{first}
	before, at := int32(-1), first
	for {
		for _, nb := range m.Neighbors(int(at)) {
			if m.bonds[nb.Bond].ring && nb.Atom != before {
				before, at = at, nb.Atom
				break
			}
		}
		if at == first {
			return ring
		}
		ring = append(ring, at)
	}
}

// choose lists the relevant rings and picks an independent set of them. ranks
// are the canonical ranks, once they have been needed.
func (m *Mol) choose(g *cycleSpace, ranks *[]int32, info *ringInfo) {
	full := len(g.bonds) - len(g.atoms) + 1
	relevant := make([]cycle, 0, full)
	for _, c := range g.found {
		if c.relevant {
			relevant = append(relevant, c)
		}
	}
	if len(relevant) > full {
		if *ranks == nil {
			*ranks = m.CanonicalRanks()
		}
		orderByRank(g, relevant, *ranks)
	}
	basis := newBasis(g.s, len(g.bonds), full)
	for _, c := range relevant {
		ring := g.atomsOf(c)
		info.relevant = append(info.relevant, ring)
		if len(relevant) == full || basis.insert(g.set(c)) {
			info.smallest = append(info.smallest, ring)
		}
	}
}

// atomsOf returns the atoms of a cycle by their numbers in the molecule.
func (g *cycleSpace) atomsOf(c cycle) []int32 {
	ring := make([]int32, 0, c.size)
	for _, at := range g.ring[c.first : c.first+c.size] {
		ring = append(ring, g.atoms[at])
	}
	return ring
}

// orderByRank sorts rings of one size by the canonical ranks of their atoms.
func orderByRank(g *cycleSpace, rings []cycle, ranks []int32) {
	keys := make(map[int32][]int32, len(rings))
	for _, c := range rings {
		key := make([]int32, 0, c.size)
		for _, at := range g.ring[c.first : c.first+c.size] {
			key = append(key, ranks[g.atoms[at]])
		}
		slices.Sort(key)
		keys[c.first] = key
	}
	slices.SortStableFunc(rings, func(a, b cycle) int {
		if a.size != b.size {
			return int(a.size - b.size)
		}
		return slices.Compare(keys[a.first], keys[b.first])
	})
}
