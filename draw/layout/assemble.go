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
		return slices.Clone(largest.atoms)
	}
	end := g.chainEnd(part)
	g.pos[end], g.placed[end] = Point{}, true
	return []int32{end}
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
	farthest := func(from int32) int32 {
		depth := map[int32]int{from: 0}
		queue := []int32{from}
		for i := 0; i < len(queue); i++ {
			for _, b := range g.neighbors(queue[i]) {
				if _, seen := depth[b]; !seen {
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
	var fresh []int32
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
	taken := make([]bool, len(free))
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

// crowding measures how near p is to the placed atoms but a.
func (g *graph) crowding(p Point, a int32) float64 {
	sum := 0.0
	for i, q := range g.pos {
		if g.placed[i] && int32(i) != a {
			d := p.squared(q)
			weight := 1.0
			if g.terminalDouble[i] {
				weight = 0.95 // rather near to =O than to a chain, so that chains go on straight
			}
			sum += weight / (0.02 + d*d)
		}
	}
	return sum
}

// linear reports whether the bonds of an atom outside rings lie in one line:
// a triple bond, or two double bonds.
func (g *graph) linear(a int32) bool {
	if g.inRing[a] > 0 || g.degree(a) != 2 {
		return false
	}
	doubles := 0
	for k := g.start[a]; k < g.start[a+1]; k++ {
		switch g.m.KekuleOrder(int(g.bondOf[k])) {
		case mol.Triple, mol.Quadruple:
			return true
		case mol.Double:
			doubles++
		}
	}
	return doubles == 2
}

// directions are unit vectors from a for its fresh neighbors, as many as
// there are or more: the choice is the caller's.
func (g *graph) directions(a int32, fresh []int32) []Point {
	var taken []float64
	for _, b := range g.neighbors(a) {
		if g.placed[b] {
			taken = append(taken, g.pos[b].minus(g.pos[a]).angle())
		}
	}
	turn := func(from float64, degrees ...float64) []Point {
		var out []Point
		for _, d := range degrees {
			out = append(out, direction(from+d*math.Pi/180))
		}
		return out
	}
	switch {
	case len(taken) == 0:
		switch len(fresh) {
		case 1:
			return turn(0, 30)
		case 2:
			if g.linear(a) {
				return turn(0, 0, 180)
			}
			return turn(0, 30, 150)
		case 3:
			return turn(0, -30, 90, 210)
		}
		return spread(0, 2*math.Pi, len(fresh), false)
	case len(taken) == 1 && len(fresh) == 1 && g.linear(a):
		return turn(taken[0], 180)
	case len(taken) == 1 && len(fresh) <= 2:
		return turn(taken[0], 120, -120)
	case len(taken) == 1 && len(fresh) == 3:
		branched := 0
		for _, b := range fresh {
			if g.branchSize(a, b) > 1 {
				branched++
			}
		}
		if branched == 1 && g.inRing[fresh[0]] == 0 { // a chain that goes on, with two small groups
			return g.chainWithTwo(a, taken[0])
		}
		return turn(taken[0], 180, 90, -90)
	}
	from, gap := widestGap(taken)
	out := spread(from, gap, len(fresh), true)
	if len(fresh) == 1 { // other gaps of about the same width: outside of rings is better
		for i, a := range taken {
			next := taken[(i+1)%len(taken)]
			if i+1 == len(taken) {
				next += 2 * math.Pi
			}
			if a != from && next-a > gap-0.2 {
				out = append(out, direction((a+next)/2))
			}
		}
	}
	return out
}

// widestGap finds the widest angle between neighboring directions, given in
// any order, and where it begins.
func widestGap(angles []float64) (from, gap float64) {
	slices.Sort(angles)
	from, gap = angles[len(angles)-1], angles[0]+2*math.Pi-angles[len(angles)-1]
	for i := 1; i < len(angles); i++ {
		if d := angles[i] - angles[i-1]; d > gap+1e-6 {
			from, gap = angles[i-1], d
		}
	}
	return from, gap
}

// chainWithTwo are the directions of a chain going on at 120 degrees, on the
// freer side, and of two small groups in the remaining angle.
func (g *graph) chainWithTwo(a int32, from float64) []Point {
	side := 1.0
	left := g.pos[a].plus(direction(from + 2*math.Pi/3))
	right := g.pos[a].plus(direction(from - 2*math.Pi/3))
	if g.crowding(right, a) < g.crowding(left, a)-1e-9 {
		side = -1
	}
	chain := direction(from + side*2*math.Pi/3)
	first, second := direction(from-side*80*math.Pi/180), direction(from-side*160*math.Pi/180)
	return []Point{chain, first, second}
}

// spread are n directions evenly in a gap, its ends left free if inside.
func spread(from, gap float64, n int, inside bool) []Point {
	parts := n
	if inside {
		parts = n + 1
	}
	out := make([]Point, n)
	for i := range out {
		k := float64(i)
		if inside {
			k++
		}
		out[i] = direction(from + gap*k/float64(parts))
	}
	return out
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
