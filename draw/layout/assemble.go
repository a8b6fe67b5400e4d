package layout

import (
	"cmp"
	"math"
	"slices"

	"ionwright/mol"
)

// placePart places the atoms of one connected part: its largest ring system
// first, or else the end of its longest chain, then outward from what is
// placed, atom by atom.
func (g *graph) placePart(part []int32) {
	queue := g.begin(part)
	for i := 0; i < len(queue); i++ {
		queue = g.expand(queue[i], queue)
	}
}

// begin places the first atom or ring system and returns its atoms.
func (g *graph) begin(part []int32) []int32 {
	var largest *block
	for _, b := range g.blocks {
		if _, ok := slices.BinarySearch(part, b.atoms[0]); ok && (largest == nil || len(b.atoms) > len(largest.atoms)) {
			largest = b
		}
	}
	if largest != nil {
		g.layOutBlock(largest)
		for i, a := range largest.atoms {
			g.pos[a], g.placed[a] = largest.pos[i], true
		}
		g.hints = append(g.hints, largest.hints...)
		return append(make([]int32, 0, len(part)), largest.atoms...)
	}
	end := g.chainEnd(part)
	g.pos[end], g.placed[end] = Point{}, true
	return append(make([]int32, 0, len(part)), end)
}

// endOrder is the order of an end atom's bond: chains rather end with CH3 than
// with =O.
func (g *graph) endOrder(a int32) mol.Order {
	if g.degree(a) == 0 {
		return 0
	}
	return g.bondOrder(a, g.neighbors(a)[0])
}

// chainEnd is an end of a longest chain in a part without rings.
func (g *graph) chainEnd(part []int32) int32 {
	depth := make([]int32, len(g.atom)) // 1 at the start
	queue := make([]int32, 0, len(part))
	farthest := func(from int32) int32 {
		clear(depth)
		depth[from] = 1
		queue = append(queue[:0], from)
		for i := 0; i < len(queue); i++ {
			for _, b := range g.neighbors(queue[i]) {
				if depth[b] == 0 {
					depth[b] = depth[queue[i]] + 1
					queue = append(queue, b)
				}
			}
		}
		best := from
		for _, a := range queue {
			if cmp.Or(cmp.Compare(depth[a], depth[best]), cmp.Compare(g.endOrder(best), g.endOrder(a)), cmp.Compare(best, a)) > 0 {
				best = a
			}
		}
		return best
	}
	return farthest(farthest(part[0]))
}

// expand places the neighbors of a placed atom, with the ring systems that
// they or the atom belong to, and appends the new atoms to the queue.
func (g *graph) expand(a int32, queue []int32) []int32 {
	if g.inRing[a] > 0 {
		for _, b := range g.blocks { // spiro systems
			if i := b.place(a); i >= 0 && !g.placed[b.atoms[(i+1)%len(b.atoms)]] && !g.partlyPlaced(b, a) {
				queue = g.placeSpiro(a, b, queue)
			}
		}
	}
	var room [8]int32 // more than an atom has neighbors, but for odd input
	fresh := room[:0]
	for _, b := range g.neighbors(a) {
		if !g.placed[b] {
			fresh = append(fresh, b)
		}
	}
	if len(fresh) == 0 {
		return queue
	}
	// The largest branch gets the best direction; of equal ones, =O comes last,
	// so that chains go on past carbonyl groups.
	slices.SortStableFunc(fresh, func(x, y int32) int {
		return cmp.Or(cmp.Compare(g.branchSize(a, y), g.branchSize(a, x)), cmp.Compare(g.bondOrder(a, x), g.bondOrder(a, y)))
	})
	fresh, queue = g.followHints(a, fresh, queue)
	if len(fresh) == 0 {
		return queue
	}
	free := g.directions(a, fresh)
	if len(free) == 1 {
		queue = g.placeNeighbor(a, fresh[0], free[0], queue)
		g.keepStereo(a)
		return queue
	}
	var marks [8]bool
	taken := append(marks[:0], make([]bool, len(free))...)
	for _, b := range fresh {
		best, bestScore := -1, math.Inf(1)
		for k, d := range free {
			if taken[k] {
				continue
			}
			score := g.crowding(g.pos[a].plus(d), a) + 0.5*g.crowding(g.pos[a].plus(d.times(2)), a)
			if score < bestScore-1e-9 {
				best, bestScore = k, score
			}
		}
		taken[best] = true
		queue = g.placeNeighbor(a, b, free[best], queue)
	}
	g.keepStereo(a)
	return queue
}

// bondOrder is the order of the bond from a to its neighbor b.
func (g *graph) bondOrder(a, b int32) mol.Order { return g.m.KekuleOrder(int(g.bond(a, b))) }

// followHints places those neighbors of a for which the layout of a bridged
// system has left room, and returns the others.
func (g *graph) followHints(a int32, fresh, queue []int32) (rest, longer []int32) {
	if len(g.hints) == 0 {
		return fresh, queue
	}
	for _, b := range fresh {
		i := slices.IndexFunc(g.hints, func(h hint) bool { return h.atom == a && h.neighbor == b })
		if i < 0 {
			rest = append(rest, b)
			continue
		}
		queue = g.placeNeighbor(a, b, g.hints[i].d, queue)
	}
	return rest, queue
}

// partlyPlaced reports whether an atom of b other than a has a place.
func (g *graph) partlyPlaced(b *block, a int32) bool {
	return slices.ContainsFunc(b.atoms, func(x int32) bool { return x != a && g.placed[x] })
}

// placeNeighbor places b at the end of a bond from a in direction d, and with
// it the ring system that b is part of.
func (g *graph) placeNeighbor(a, b int32, d Point, queue []int32) []int32 {
	at := g.pos[a].plus(d)
	if g.inRing[b] == 0 {
		g.pos[b], g.placed[b] = at, true
		return append(queue, b)
	}
	for _, bl := range g.blocks {
		if bl.place(b) >= 0 {
			return g.placeBlock(bl, b, at, d, queue)
		}
	}
	return queue
}

// placeSpiro places system b on the free side of its atom a.
func (g *graph) placeSpiro(a int32, b *block, queue []int32) []int32 {
	var away Point
	for _, h := range g.hints {
		if h.atom == a && !g.placed[h.neighbor] {
			away = away.plus(h.d)
		}
	}
	if away.length() > 0.1 {
		return g.placeBlock(b, a, g.pos[a], away.unit(), queue)
	}
	for _, n := range g.neighbors(a) {
		if g.placed[n] {
			away = away.plus(g.pos[a].minus(g.pos[n]).unit())
		}
	}
	return g.placeBlock(b, a, g.pos[a], away.unit(), queue)
}

// placeBlock places a ring system with its atom b at the given place such
// that the system lies in direction d from there. Of the two ways to lay it
// down the one is taken that comes less close to what is placed.
func (g *graph) placeBlock(bl *block, b int32, at, d Point, queue []int32) []int32 {
	if bl.pos == nil {
		g.layOutBlock(bl)
	}
	k := bl.place(b)
	inward := g.inward(bl, k)
	best := make([]Point, len(bl.atoms))
	bestScore, mirrored := math.Inf(1), false
	for _, mirror := range []bool{false, true} {
		candidate := make([]Point, len(bl.atoms))
		score := 0.0
		sin, cos := inward.cross(d), inward.dot(d)
		for i, p := range bl.pos {
			q := p.minus(bl.pos[k]).turned(sin, cos)
			if mirror {
				q = q.mirrored(Point{}, d)
			}
			candidate[i] = at.plus(q)
			if i != k {
				score += g.crowding(candidate[i], b)
			}
		}
		if score < bestScore-1e-9 {
			copy(best, candidate)
			bestScore, mirrored = score, mirror
		}
	}
	for _, h := range bl.hints {
		v := h.d.turned(inward.cross(d), inward.dot(d))
		if mirrored {
			v = v.mirrored(Point{}, d)
		}
		g.hints = append(g.hints, hint{h.atom, h.neighbor, v})
	}
	for i, a := range bl.atoms {
		if !g.placed[a] {
			queue = append(queue, a)
		}
		g.pos[a], g.placed[a] = best[i], true
	}
	return queue
}

// inward is the unit vector from the block's k-th atom against the free
// direction there: the opposite of the middle of its widest gap.
func (g *graph) inward(bl *block, k int) Point {
	var outward Point
	for _, h := range bl.hints {
		if h.atom == bl.atoms[k] && g.placed[h.neighbor] {
			outward = outward.plus(h.d)
		}
	}
	if outward.length() > 0.1 {
		return outward.unit().times(-1)
	}
	var angles []float64
	for _, n := range g.neighbors(bl.atoms[k]) {
		if i := bl.place(n); i >= 0 {
			angles = append(angles, bl.pos[i].minus(bl.pos[k]).angle())
		}
	}
	from, gap := widestGap(angles)
	return direction(from + gap/2 + math.Pi)
}
