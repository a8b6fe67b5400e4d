package layout

import (
	"math"
	"slices"
)

// spring pulls two atoms to a distance.
type spring struct {
	a, b           int
	length, weight float64
}

// springs are the bonds, and across one atom the distances that the rings
// would have as regular polygons, weaker.
func (s *system) springs() []spring {
	var out []spring
	for a, list := range s.adj {
		for _, b := range list {
			if a < b {
				out = append(out, spring{a, b, 1, 1})
			}
		}
	}
	for k := s.size; k < len(s.pos); k++ {
		switch next := s.adj[k][1:]; len(next) {
		case 1:
			out = append(out, spring{s.adj[k][0], next[0], 2, 0.3}) // straight on
		case 2:
			d := across(6)
			out = append(out, spring{s.adj[k][0], next[0], d, 0.3}, spring{s.adj[k][0], next[1], d, 0.3}, spring{next[0], next[1], d, 0.3})
		}
	}
	out = append(out, s.spiros...)
	for _, ring := range s.rings {
		n := len(ring)
		if n < 4 || n > 12 {
			continue
		}
		d := across(n)
		for i := range ring {
			out = append(out, spring{ring[i], ring[(i+2)%n], d, 0.12})
		}
	}
	return out
}

// relax lowers the energy of springs, of atoms that come nearer to each other
// than a bond length and of atoms near to bonds, by steps down the gradient
// that are kept small, so that bonds don't jump over each other.
func (s *system) relax() {
	springs := s.springs()
	n := len(s.pos)
	bonded := make([]bool, n*n)
	var edges [][2]int
	for a, list := range s.adj {
		for _, b := range list {
			bonded[a*n+b] = true
			if a < b {
				edges = append(edges, [2]int{a, b})
			}
		}
	}
	force := make([]Point, n)
	push := func(a, b int, from float64, k float64) {
		d := s.pos[a].minus(s.pos[b])
		l := math.Sqrt(d.dot(d))
		if l < 1e-9 {
			d, l = Point{1e-9, 0}, 1e-9
		}
		f := d.times(k * (from - l) / l)
		force[a] = force[a].plus(f)
		force[b] = force[b].minus(f)
	}
	steps := 250
	if n > large {
		steps = 250 * large * large / (n * n)
	}
	const room = 0.5 // between an atom and a bond
	// Only what is near can push. The pairs that may come near are listed with
	// a margin, and anew when something may have moved by half of that.
	const margin = 0.4
	var near [][2]int   // atoms that aren't bonded
	var atEdge [][2]int // index of an edge, and an atom
	list := func() {
		near, atEdge = near[:0], atEdge[:0]
		for a := range n {
			for b := range a {
				if !bonded[a*n+b] && s.pos[a].squared(s.pos[b]) < (1+margin)*(1+margin) {
					near = append(near, [2]int{a, b})
				}
			}
		}
		for i, e := range edges {
			p, q := s.pos[e[0]], s.pos[e[1]]
			for a := range n {
				if d, _ := s.pos[a].toSegment(p, q); a != e[0] && a != e[1] && d < (room+margin)*(room+margin) {
					atEdge = append(atEdge, [2]int{i, a})
				}
			}
		}
	}
	drift := math.Inf(1) // since the pairs were listed
	for step := range steps {
		if drift > margin/2 {
			list()
			drift = 0
		}
		clear(force)
		for _, sp := range springs {
			push(sp.a, sp.b, sp.length, sp.weight)
		}
		for _, p := range near {
			if s.pos[p[0]].squared(s.pos[p[1]]) < 1 {
				push(p[0], p[1], 1, 0.5)
			}
		}
		for _, p := range atEdge {
			e, a := edges[p[0]], p[1]
			d, inside := s.pos[a].toSegment(s.pos[e[0]], s.pos[e[1]])
			if !inside || d >= room*room {
				continue
			}
			normal := s.pos[e[1]].minus(s.pos[e[0]]).unit()
			normal = Point{-normal.Y, normal.X}
			if normal.dot(s.pos[a].minus(s.pos[e[0]])) < 0 {
				normal = normal.times(-1)
			}
			f := normal.times(0.6 * (room - math.Sqrt(d)))
			force[a] = force[a].plus(f)
			force[e[0]] = force[e[0]].minus(f.times(0.5))
			force[e[1]] = force[e[1]].minus(f.times(0.5))
		}
		rate := 0.3 * (1 - float64(step)/(1.2*float64(steps)))
		moved := 0.0
		for i := range force {
			f := force[i].times(rate)
			if l := f.length(); l > 0.08 {
				f = f.times(0.08 / l)
			}
			s.pos[i] = s.pos[i].plus(f)
			moved = max(moved, math.Abs(f.X)+math.Abs(f.Y))
		}
		drift += moved
		if moved < 1e-3 {
			break
		}
	}
	s.stretchNeighbors()
}

// stretchNeighbors puts the neighbors outside at the distance at which they
// will be drawn.
func (s *system) stretchNeighbors() {
	for k := s.size; k < len(s.pos); k++ {
		near := s.adj[k][0]
		s.pos[k] = s.pos[near].plus(s.pos[k].minus(s.pos[near]).unit())
	}
}

// score judges a drawing of the system; lower is better. Below flawed nothing
// is wrong with it.
func (s *system) score() float64 {
	score := 0.0
	var edges [][2]int
	for a, list := range s.adj {
		for _, b := range list {
			if a < b {
				edges = append(edges, [2]int{a, b})
			}
		}
	}
	for a := range s.pos {
		for b := range a {
			switch d := s.pos[a].squared(s.pos[b]); {
			case d < 0.55*0.55:
				score += 20
			case d < 0.9*0.9 && !slices.Contains(s.adj[a], b):
				score += 0.9 - math.Sqrt(d)
			}
		}
	}
	for i, e := range edges {
		d := s.pos[e[0]].distance(s.pos[e[1]]) - 1
		score += 2 * d * d
		for _, f := range edges[:i] {
			if e[0] != f[0] && e[0] != f[1] && e[1] != f[0] && e[1] != f[1] && crossing(s.pos[e[0]], s.pos[e[1]], s.pos[f[0]], s.pos[f[1]]) {
				score += 10
			}
		}
		for a := range s.pos {
			if a == e[0] || a == e[1] {
				continue
			}
			if d, inside := s.pos[a].toSegment(s.pos[e[0]], s.pos[e[1]]); inside && d < 0.25*0.25 {
				score += 12
			} else if inside && d < 0.4*0.4 {
				score += 0.4 - math.Sqrt(d)
			}
		}
	}
	for _, ring := range s.rings { // regular rings where they can be
		if n := len(ring); n >= 4 && n <= 8 {
			for i := range ring {
				d := s.pos[ring[i]].distance(s.pos[ring[(i+2)%n]]) - across(n)
				score += 0.1 * d * d
			}
		}
	}
	return score
}
