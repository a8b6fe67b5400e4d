package mol

import "slices"

// cycleSpace finds the relevant rings of a connected graph in which every
// atom has at least two neighbors: the rings that are no sum of shorter ones
// (Vismara, Electron. J. Combin. 4 (1997) R9). Atoms and bonds have local
// numbers; atoms of three or more neighbors, without which there is no ring,
// come last.
type cycleSpace struct {
	s     *scratch
	atoms []int32 // by local number
	bonds []int32 // by local number
	start []int32 // neighbors of local atom i: start[i] to start[i+1]
	to    []int32 // local atom
	by    []int32 // local bond

	words int      // 64-bit words of a set of bonds
	sets  []uint64 // sets of bonds of the cycles, one after the other
	ring  []int32  // atoms of the cycles, in the order round the ring, one after the other
	found []cycle

	distance, parent, hop []int32 // of the search from one root
	paths                 []int32 // number of shortest paths to the root, saturating
	queue                 []int32
	mark                  []int32
	stamp                 int32
}

// cycle is one ring that has been found. Cycles of one family differ by
// sums of shorter ones only.
type cycle struct {
	first    int32 // of its atoms in cycleSpace.ring
	size     int32
	set      int32 // first word in cycleSpace.sets
	leader   bool  // first of its family
	relevant bool
}

// maxFamily bounds how many rings of one family are listed, and maxCycles how
// many candidates are collected, which no graph of atoms with four bonds comes
// near.
const (
	maxFamily = 64
	maxCycles = 1 << 16
)

// newCycleSpace takes the atoms of one system and the ring bonds among them.
// place is a scratch array by atom, of which the places of atoms are used.
func (m *Mol) newCycleSpace(s *scratch, atoms []int32, place []int32) *cycleSpace {
	n := len(atoms)
	g := &cycleSpace{
		s: s, atoms: s.ints(n), start: s.zeros(n + 1),
		found: s.cycleList[:0], sets: s.cycleSets[:0], ring: s.cycleRing[:0],
	}
	for _, at := range atoms {
		place[at] = 0
	}
	inside := func(nb Neighbor) bool { return m.bonds[nb.Bond].ring && place[nb.Atom] >= 0 }
	low, high, ends := 0, n, 0
	for _, at := range atoms {
		degree := 0
		for _, nb := range m.Neighbors(int(at)) {
			if inside(nb) {
				degree++
			}
		}
		ends += degree
		if degree > 2 {
			high--
			g.atoms[high] = at
		} else {
			g.atoms[low] = at
			low++
		}
	}
	for k, at := range g.atoms {
		place[at] = int32(k)
	}
	g.to, g.by, g.bonds = s.ints(ends), s.ints(ends), s.ints(ends / 2)[:0]
	used := int32(0)
	for k, at := range g.atoms {
		g.start[k] = used
		for _, nb := range m.Neighbors(int(at)) {
			if !inside(nb) {
				continue
			}
			g.to[used] = place[nb.Atom]
			if place[nb.Atom] < int32(k) {
				// The bond has been numbered from its other end.
				for j := g.start[place[nb.Atom]]; ; j++ {
					if g.to[j] == int32(k) {
						g.by[used] = g.by[j]
						break
					}
				}
			} else {
				g.by[used] = int32(len(g.bonds))
				g.bonds = append(g.bonds, nb.Bond)
			}
			used++
		}
	}
	g.start[n] = used
	g.words = (len(g.bonds) + 63) / 64
	return g
}

// branched is the local number of the first atom with three neighbors.
func (g *cycleSpace) branched() int {
	first := len(g.atoms)
	for first > 0 && g.start[first]-g.start[first-1] > 2 {
		first--
	}
	return first
}

// search finds the candidates: for each branched root the rings of which it
// is the last atom and that two shortest paths of at most limit bonds make.
func (g *cycleSpace) search(limit int32) {
	n := len(g.atoms)
	g.distance, g.parent, g.hop, g.paths = g.s.ints(n), g.s.ints(n), g.s.ints(n), g.s.ints(n)
	g.queue, g.mark = g.s.ints(n), g.s.zeros(n)
	for root := g.branched(); root < n && len(g.found) < maxCycles; root++ {
		g.searchFrom(int32(root), limit)
	}
	// Keep the buffers that have grown for the next one.
	g.s.cycleList, g.s.cycleSets, g.s.cycleRing = g.found, g.sets, g.ring
}

func (g *cycleSpace) searchFrom(root, limit int32) {
	for i := int32(0); i <= root; i++ {
		g.distance[i] = -1
	}
	g.distance[root], g.hop[root], g.paths[root] = 0, -1, 1
	queue := append(g.queue[:0], root)
	for head := 0; head < len(queue); head++ {
		at := queue[head]
		if g.distance[at] == limit {
			break
		}
		for j := g.start[at]; j < g.start[at+1]; j++ {
			to := g.to[j]
			if to > root {
				continue
			}
			if g.distance[to] < 0 {
				g.distance[to], g.parent[to], g.hop[to], g.paths[to] = g.distance[at]+1, at, g.hop[at], 0
				if at == root {
					g.hop[to] = to
				}
				queue = append(queue, to)
			}
			if g.distance[to] == g.distance[at]+1 {
				g.paths[to] = min(g.paths[to]+g.paths[at], maxFamily)
			}
		}
	}
	for _, at := range queue[1:] {
		for j := g.start[at]; j < g.start[at+1]; j++ {
			to := g.to[j]
			if to >= root || g.distance[to] < 0 {
				continue
			}
			if g.distance[to] == g.distance[at] && to < at && g.hop[to] != g.hop[at] {
				g.collect(root, at, to, -1)
			}
			if g.distance[to] != g.distance[at]-1 {
				continue
			}
			for k := j + 1; k < g.start[at+1]; k++ {
				other := g.to[k]
				if other < root && g.distance[other] == g.distance[to] && g.hop[other] != g.hop[to] {
					g.collect(root, to, other, at)
				}
			}
		}
	}
}

// collect adds the rings of the shortest paths from root to left and right,
// closed by the atom top between them or, where it is -1, by their bond.
func (g *cycleSpace) collect(root, left, right, top int32) {
	lefts, rights := g.paths[left], g.paths[right]
	leader := true
	for k := int32(0); k < min(lefts*rights, maxFamily); k++ {
		first := int32(len(g.ring))
		if !g.trace(root, left, k%lefts) {
			g.ring = g.ring[:first]
			continue
		}
		half := len(g.ring)
		g.ring = append(g.ring, root)
		if !g.trace(root, right, k/lefts) {
			g.ring = g.ring[:first]
			continue
		}
		slices.Reverse(g.ring[half+1:])
		if top >= 0 {
			g.ring = append(g.ring, top)
		}
		c := cycle{first: first, size: int32(len(g.ring)) - first, set: int32(len(g.sets)), leader: leader}
		for range g.words {
			g.sets = append(g.sets, 0)
		}
		g.chart(c)
		g.found = append(g.found, c)
		leader = false
		g.stamp++
	}
	g.stamp++
}

// trace appends the atoms of path number k from at down to the root, without
// the root; false where it meets an atom of the same ring again.
func (g *cycleSpace) trace(root, at, k int32) bool {
	if g.stamp == 0 {
		g.stamp = 1
	}
	for at != root {
		if g.mark[at] == g.stamp {
			g.stamp++
			return false
		}
		g.mark[at] = g.stamp
		g.ring = append(g.ring, at)
		if g.paths[at] == 1 {
			at = g.parent[at]
			continue
		}
		for j := g.start[at]; j < g.start[at+1]; j++ {
			to := g.to[j]
			if to > root || g.distance[to] != g.distance[at]-1 {
				continue
			}
			if k < g.paths[to] {
				at = to
				break
			}
			k -= g.paths[to]
		}
	}
	return true
}

// chart fills in the set of bonds of a cycle.
func (g *cycleSpace) chart(c cycle) {
	set := g.set(c)
	ring := g.ring[c.first : c.first+c.size]
	before := ring[len(ring)-1]
	for _, at := range ring {
		for j := g.start[at]; j < g.start[at+1]; j++ {
			if g.to[j] == before {
				set[g.by[j]>>6] |= 1 << (g.by[j] & 63)
				break
			}
		}
		before = at
	}
}

// set returns the set of bonds of a cycle.
func (g *cycleSpace) set(c cycle) []uint64 { return g.sets[c.set : int(c.set)+g.words] }

// sift sorts the cycles by size and marks those that are relevant: no sum of
// shorter ones. It returns their number.
func (g *cycleSpace) sift() int {
	slices.SortStableFunc(g.found, func(a, b cycle) int { return int(a.size - b.size) })
	rank, full := 0, len(g.bonds)-len(g.atoms)+1
	basis := newBasis(g.s, len(g.bonds), full)
	relevant := 0
	for begin := 0; begin < len(g.found); {
		end := begin
		shorter := rank
		for ; end < len(g.found) && g.found[end].size == g.found[begin].size; end++ {
			c := &g.found[end]
			if !c.leader {
				c.relevant = g.found[end-1].relevant // the same family: collected one after the other
			} else if shorter < full {
				c.relevant = basis.independent(g.set(*c), shorter)
				if c.relevant && rank < full && basis.insert(g.set(*c)) {
					rank++
				}
			}
			if c.relevant {
				relevant++
			}
		}
		begin = end
	}
	return relevant
}
