package layout

import (
	"math"
	"slices"

	"ionwright/mol"
)

// Following returns places for m that follow a drawing in which some of its
// atoms stand already, such as those of an ion that lost a part: places holds
// them by atom. If every atom has a place, and bonds between them are about 1
// long, these are the result. Otherwise m is laid out anew and turned, mirrored
// if that helps, and moved so that the known atoms come nearest to their
// places (least squares; Kabsch 1976). Atoms that m doesn't have are ignored.
func Following(m *mol.Mol, places map[int]Point) []Point {
	n := m.NumAtoms()
	if p := kept(m, places); p != nil {
		return p
	}
	own := Coordinates(m)
	var known []int
	for i := range n {
		if q, ok := places[i]; ok && !math.IsNaN(q.X+q.Y) && !math.IsInf(q.X+q.Y, 0) {
			known = append(known, i)
		}
	}
	if len(known) == 0 {
		return own
	}
	var from, to Point
	for _, i := range known {
		from, to = from.plus(own[i]), to.plus(places[i])
	}
	from, to = from.times(1/float64(len(known))), to.times(1/float64(len(known)))
	best, bestGain := own, math.Inf(-1)
	for _, mirror := range []float64{1, -1} {
		// The angle that brings the known atoms nearest has the sine and
		// cosine of their summed cross and dot products.
		var sin, cos float64
		for _, i := range known {
			u, v := own[i].minus(from), places[i].minus(to)
			u.X *= mirror
			sin += u.cross(v)
			cos += u.dot(v)
		}
		gain := math.Hypot(sin, cos)
		if gain <= bestGain+1e-9 {
			continue
		}
		bestGain = gain
		if gain < 1e-9 {
			sin, cos = 0, 1
		} else {
			sin, cos = sin/gain, cos/gain
		}
		best = make([]Point, n)
		for i, p := range own {
			u := p.minus(from)
			u.X *= mirror
			best[i] = u.turned(sin, cos).plus(to)
		}
	}
	return best
}

// kept returns the places themselves if they make a drawing of m: every atom
// has one, bonds are 0.55 to 1.5 long, and no two atoms are nearer than half a
// bond. nil otherwise.
func kept(m *mol.Mol, places map[int]Point) []Point {
	p := make([]Point, m.NumAtoms())
	for i := range p {
		q, ok := places[i]
		if !ok || slices.ContainsFunc(p[:i], func(o Point) bool { return o.squared(q) < 0.5*0.5 }) {
			return nil
		}
		p[i] = q
	}
	for i := range m.NumBonds() {
		b := m.Bond(i)
		if l := p[b.Begin].distance(p[b.End]); !(l > 0.55 && l < 1.5) {
			return nil
		}
	}
	return p
}
