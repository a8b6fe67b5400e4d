package layout

import (
	"cmp"
	"slices"
)

// block is a ring system: rings that share bonds, directly or through each
// other. Spiro rings are blocks of their own that share an atom.
type block struct {
	atoms []int32 // ascending
	rings [][]int32
	pos   []Point // of atoms, once laid out
	hints []hint  // of bridged systems
}

// hint says in which direction a neighbor outside the block has room.
type hint struct {
	atom, neighbor int32
	d              Point
}

// findBlocks takes the rings in an order of their own and groups them.
func (g *graph) findBlocks() {
	found := g.m.Rings()
	if len(found) == 0 {
		return
	}
	total := 0
	for _, ring := range found {
		total += len(ring)
	}
	g.rings = make([][]int32, len(found))
	room := make([]int32, total)
	for i, ring := range found {
		g.rings[i] = g.canonicalRing(ring, room[:len(ring):len(ring)])
		room = room[len(ring):]
	}
	slices.SortFunc(g.rings, func(a, b []int32) int {
		return cmp.Or(cmp.Compare(len(a), len(b)), slices.Compare(a, b))
	})
	leader := make([]int, len(g.rings))
	find := func(i int) int {
		for leader[i] != i {
			i = leader[i]
		}
		return i
	}
	owner := make([]int, g.m.NumBonds()) // 1 + the first ring that has the bond
	for i, ring := range g.rings {
		leader[i] = i
		for k, a := range ring {
			bond := g.bond(a, ring[(k+1)%len(ring)])
			if owner[bond] == 0 {
				owner[bond] = i + 1
			} else {
				a, b := find(owner[bond]-1), find(i)
				leader[max(a, b)] = min(a, b)
			}
		}
	}
	byLeader := make([]*block, len(g.rings))
	for i, ring := range g.rings {
		b := byLeader[find(i)]
		if b == nil {
			b = &block{}
			byLeader[find(i)] = b
			g.blocks = append(g.blocks, b)
		}
		b.rings = append(b.rings, ring)
		b.atoms = append(b.atoms, ring...)
	}
	for _, b := range g.blocks {
		slices.Sort(b.atoms)
		b.atoms = slices.Compact(b.atoms)
		for _, a := range b.atoms {
			g.inRing[a]++
		}
	}
}

// canonicalRing renumbers a ring, into out, and starts it at its least atom,
// toward the lesser of that atom's two neighbors.
func (g *graph) canonicalRing(ring, out []int32) []int32 {
	n := len(ring)
	least := 0
	for i, a := range ring {
		if g.rank[a] < g.rank[ring[least]] {
			least = i
		}
	}
	step := 1
	if g.rank[ring[(least+n-1)%n]] < g.rank[ring[(least+1)%n]] {
		step = n - 1
	}
	for i := range out {
		out[i] = g.rank[ring[(least+i*step)%n]]
	}
	return out
}

// place is the index of atom a in b.atoms, -1 if it isn't there.
func (b *block) place(a int32) int {
	if i, ok := slices.BinarySearch(b.atoms, a); ok {
		return i
	}
	return -1
}

// sharedBonds counts the bonds that two rings have in common.
func sharedBonds(a, b []int32) int {
	n := 0
	for i, x := range a {
		y := a[(i+1)%len(a)]
		for j, u := range b {
			v := b[(j+1)%len(b)]
			if x == u && y == v || x == v && y == u {
				n++
			}
		}
	}
	return n
}
