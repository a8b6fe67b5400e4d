package layout

import (
	"math"
	"slices"

	"ionwright/mol"
)

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
	var room [8]float64
	taken := room[:0]
	for _, b := range g.neighbors(a) {
		if g.placed[b] {
			taken = append(taken, g.pos[b].minus(g.pos[a]).angle())
		}
	}
	turn := func(from float64, degrees ...float64) []Point {
		out := make([]Point, 0, len(degrees))
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
