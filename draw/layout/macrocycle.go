package layout

import (
	"math"
	"slices"

	"ionwright/mol"
)

// smallestE is the size of the least ring that holds a double bond with its
// ring neighbors on opposite sides: trans-cyclooctene can be kept in a bottle.
const smallestE = 8

// transBonds lists the double bonds of a ring that are given with their ring
// neighbors on opposite sides, by the place of the first of their atoms.
func (g *graph) transBonds(ring []int32) []int {
	var out []int
	n := len(ring)
	if n < smallestE {
		return nil
	}
	for i, a := range ring {
		b := ring[(i+1)%n]
		bond := int(g.bond(a, b))
		stereo := g.m.Bond(bond).Stereo
		left, right := g.references(bond)
		if stereo == mol.NoStereo || left < 0 || right < 0 {
			continue
		}
		if g.rank[g.m.Bond(bond).Begin] != a {
			left, right = right, left
		}
		trans := stereo == mol.Trans
		if left != ring[(i+n-1)%n] {
			trans = !trans
		}
		if right != ring[(i+2)%n] {
			trans = !trans
		}
		if trans {
			out = append(out, i)
		}
	}
	return out
}

// mostTrans bounds the ways that are tried: two for each such bond.
const mostTrans = 6

// macrocycle lays out a system of which a ring has double bonds with their ring
// neighbors on opposite sides: at one end of each the ring bends inward. The
// other rings are fused to it. It reports whether there is such a ring, just
// one, and a drawing in which nothing collides.
func (s *system) macrocycle() bool {
	index := -1
	var trans []int
	for i, ring := range s.b.rings {
		if found := s.g.transBonds(ring); len(found) > 0 {
			if index >= 0 {
				return false
			}
			index, trans = i, found
		}
	}
	if index < 0 {
		return false
	}
	ring := s.rings[index]
	n := len(ring)
	s.connect()
	var best []Point
	bestScore := math.Inf(1)
	ways := 1 << min(len(trans), mostTrans)
	for try := range 2 * ways {
		way, back := try%ways, math.Pi/3
		if try >= ways { // small rings need a sharper corner
			if back = math.Pi / 2; best != nil {
				break
			}
		}
		inward := make([]bool, n)
		score := 0.0
		for k, first := range trans {
			corner := first
			if k < mostTrans && way>>k&1 == 1 {
				corner = (first + 1) % n
			}
			inward[corner] = true
			score += float64(s.g.degree(s.b.atoms[ring[corner]]) - 2) // what hangs there would be inside
		}
		points := bentRing(inward, back)
		s.reset()
		for i, a := range ring {
			s.pos[a], s.placed[a] = points[i], true
		}
		s.done[index] = true
		s.fuse(-1)
		if !bends(points, trans) || s.tangles() > 0 {
			continue
		}
		for i, p := range s.pos { // an open drawing is better
			for _, q := range s.pos[:i] {
				score += 0.05 / p.squared(q)
			}
		}
		if score < bestScore-1e-6 {
			best, bestScore = slices.Clone(s.pos), score
		}
	}
	if best == nil {
		s.reset()
		return false
	}
	copy(s.pos, best)
	return true
}

// bends reports whether the ring turns to different sides at the ends of just
// the bonds listed.
func bends(ring []Point, trans []int) bool {
	n := len(ring)
	turn := func(i int) bool {
		p, q, r := ring[(i+n-1)%n], ring[i%n], ring[(i+1)%n]
		return q.minus(p).cross(r.minus(q)) > 0
	}
	for _, i := range trans {
		if turn(i) == turn(i+1) {
			return false
		}
	}
	return true
}

// bentRing is a ring of bonds of length 1 that turns back by an angle at some
// corners, the others sharing what is missing to a full turn. The way round is
// walked, closed, and then relaxed.
func bentRing(inward []bool, back float64) []Point {
	n, corners := float64(len(inward)), 0.0
	for _, in := range inward {
		if in {
			corners++
		}
	}
	turn := (2*math.Pi + corners*back) / (n - corners)
	points := make([]Point, len(inward))
	var at Point
	heading := 0.0
	for i, in := range inward {
		points[i] = at
		if in {
			heading -= back
		} else {
			heading += turn
		}
		at = at.plus(direction(heading))
	}
	for i := range points { // at is where the first should be again
		points[i] = points[i].minus(at.times(float64(i) / n))
	}
	// Each round moves atoms a part of the way to the distances they should
	// have (Müller et al., position-based dynamics, 2007): bonds, across a
	// corner, and away from all others.
	move := func(i, j int, length, part float64) {
		d := points[j].minus(points[i])
		l := max(d.length(), 1e-9)
		shift := d.times(part * (l - length) / (2 * l))
		points[i], points[j] = points[i].plus(shift), points[j].minus(shift)
	}
	size := len(points)
	for round := range 600 {
		last := round >= 400 // the bonds alone
		for i := range points {
			move(i, (i+1)%size, 1, 1)
			if last {
				continue
			}
			angle := turn
			if inward[(i+1)%size] {
				angle = back
			}
			move(i, (i+2)%size, 2*math.Cos(angle/2), 0.2)
			for j := i + 3; j < size && j < i+size-2; j++ {
				if l := points[i].distance(points[j]); l < 1.7 {
					move(i, j, 1.7, 0.1)
				}
			}
		}
	}
	return points
}
