package mol

import "slices"

// ringInfo is what is known of the rings beyond which bonds are in one.
type ringInfo struct {
	rings [][]int32
}

// Rings returns a smallest set of smallest rings: as many rings as there are
// bonds more than a tree has (bonds - atoms + parts), together as small as
// possible, each as its atoms in order round the ring. The set is shared and
// found once: don't change it.
//
// Where the choice isn't unique (cubane has six faces, of which five are
// chosen) it falls on the rings of the lowest canonical ranks, so that it
// doesn't depend on the order of the atoms, except among equivalent ones.
func (m *Mol) Rings() [][]int32 {
	if info := m.rings.Load(); info != nil {
		return info.rings
	}
	info := &ringInfo{rings: m.smallestRings()}
	m.rings.Store(info)
	return info.rings
}

// smallestRings finds the rings of each system of ring bonds.
func (m *Mol) smallestRings() [][]int32 {
	s := acquire()
	defer s.release()
	var rings [][]int32
	var ranks []int32 // found when first needed
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
			rings = append(rings, m.round(system[0]))
			continue
		}
		g := m.newCycleSpace(s, system, place)
		g.search(int32(len(system)))
		g.sift()
		rings = append(rings, m.chosen(g, &ranks)...)
		for _, at := range system {
			place[at] = -1
		}
	}
	slices.SortStableFunc(rings, func(a, b []int32) int { return len(a) - len(b) })
	return rings
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

// chosen picks an independent set of the relevant rings. ranks are the
// canonical ranks, once they have been needed.
func (m *Mol) chosen(g *cycleSpace, ranks *[]int32) [][]int32 {
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
	var rings [][]int32
	for _, c := range relevant {
		if len(relevant) > full && !basis.insert(g.set(c)) {
			continue
		}
		ring := make([]int32, 0, c.size)
		for _, at := range g.ring[c.first : c.first+c.size] {
			ring = append(ring, g.atoms[at])
		}
		rings = append(rings, ring)
	}
	return rings
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
