package layout

import (
	"math"
	"math/rand/v2"
	"slices"
)

// layOutBridged lays out a system that polygons side by side can't show. It
// starts from a template, from rings placed one after the other, from the
// outline of two bridged rings and from an outline with everything else at
// the center of its neighbors (Tutte 1963), relaxes each, and keeps the best.
// core lists the bridged rings; it may be empty.
func (s *system) layOutBridged(core []int) {
	type start func() bool
	starts := []start{func() bool { return s.template(core) }}
	order := core
	if len(order) == 0 {
		order = byLength(s.rings)
	}
	for _, i := range order[:min(len(order), 6)] {
		starts = append(starts, func() bool { s.fuse(i); return true })
	}
	for _, outline := range s.outlines(core) {
		starts = append(starts,
			func() bool { s.outlined(outline); s.fuse(-1); return true },
			func() bool { return s.tutte(outline) })
	}
	if len(s.pos) > large {
		starts = starts[:min(len(starts), 3)]
	}
	best, bestScore := slices.Clone(s.pos), math.Inf(1)
	for i, begin := range starts {
		s.reset()
		if !begin() || slices.Contains(s.placed[:s.size], false) {
			continue
		}
		if i > 0 {
			s.placeNeighbors()
			s.relax()
		}
		if score := s.score(); score < bestScore-1e-6 {
			best, bestScore = slices.Clone(s.pos), score
		}
		if i == 0 && bestScore < flawed || bestScore < pleasing {
			break // a template that fits needs no rival
		}
	}
	if bestScore >= flawed && len(s.pos) <= large {
		best = s.shake(best, bestScore)
	}
	s.pos = best
}

// large systems, in atoms and neighbors, get less of everything, so that the
// time stays bounded.
const large = 120

// Scores: the least of a drawing with something wrong, and one that needs no
// improvement.
const (
	flawed   = 5.0
	pleasing = 0.25
)

// shake moves everything at random, relaxes, and keeps what is better, a few
// times. The random numbers are always the same.
func (s *system) shake(best []Point, bestScore float64) []Point {
	random := rand.New(rand.NewPCG(3, 4))
	for try := range 40 {
		if try >= 10 && bestScore < 12 {
			break // a crossing may have to be, but nothing worse
		}
		for i := range s.pos {
			s.pos[i] = best[i].plus(Point{random.NormFloat64(), random.NormFloat64()}.times(0.45))
		}
		s.relax()
		if score := s.score(); score < bestScore-1e-6 {
			best, bestScore = slices.Clone(s.pos), score
			if score < flawed {
				break
			}
		}
	}
	return best
}

// outlines lists closed ways round two or more of the rings, longest first:
// the candidates for the outside of the drawing.
func (s *system) outlines(core []int) [][]int {
	rings := core
	if len(rings) < 2 {
		rings = byLength(s.rings)
	}
	rings = rings[:min(len(rings), 6)]
	var found [][]int
	for set := 1; set < 1<<len(rings); set++ {
		times := map[[2]int]bool{}
		members := 0
		for k, i := range rings {
			if set>>k&1 == 0 {
				continue
			}
			members++
			ring := s.rings[i]
			for j, a := range ring {
				b := ring[(j+1)%len(ring)]
				e := [2]int{min(a, b), max(a, b)}
				times[e] = !times[e]
			}
		}
		if members < 2 {
			continue
		}
		if cycle := simpleCycle(times, s.size); cycle != nil {
			found = append(found, cycle)
		}
	}
	slices.SortStableFunc(found, func(a, b []int) int { return len(b) - len(a) })
	return found[:min(len(found), 6)]
}

// simpleCycle is the cycle that the marked edges are, nil if they aren't one.
func simpleCycle(edges map[[2]int]bool, atoms int) []int {
	adj := make([][]int, atoms)
	n := 0
	for a := range atoms {
		for b := a + 1; b < atoms; b++ {
			if edges[[2]int{a, b}] {
				adj[a], adj[b] = append(adj[a], b), append(adj[b], a)
				n++
			}
		}
	}
	first := slices.IndexFunc(adj, func(l []int) bool { return len(l) > 0 })
	if first < 0 {
		return nil
	}
	cycle := []int{first}
	for before, at := -1, first; ; {
		if len(adj[at]) != 2 {
			return nil
		}
		next := adj[at][0]
		if next == before {
			next = adj[at][1]
		}
		if next == first {
			break
		}
		before, at = at, next
		if cycle = append(cycle, at); len(cycle) > n {
			return nil
		}
	}
	if len(cycle) != n {
		return nil
	}
	return cycle
}

// outlined places a cycle as a regular polygon.
func (s *system) outlined(cycle []int) {
	r := polygonRadius(len(cycle))
	for i, a := range cycle {
		s.pos[a] = direction(2 * math.Pi * float64(i) / float64(len(cycle))).times(r)
		s.placed[a] = true
	}
}

// tutte places a cycle as a regular polygon and every other atom at the
// center of its neighbors.
func (s *system) tutte(cycle []int) bool {
	s.outlined(cycle)
	fixed := slices.Clone(s.placed)
	for i := range s.size {
		if !fixed[i] {
			s.pos[i] = Point{}
			s.placed[i] = true
		}
	}
	for range 200 {
		for i := range s.size {
			if fixed[i] {
				continue
			}
			var sum Point
			n := 0.0
			for _, j := range s.adj[i] {
				if j < s.size {
					sum = sum.plus(s.pos[j])
					n++
				}
			}
			s.pos[i] = sum.times(1 / n)
		}
	}
	return true
}

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
	for step := range steps {
		clear(force)
		for _, sp := range springs {
			push(sp.a, sp.b, sp.length, sp.weight)
		}
		for a := range n {
			for b := range a {
				if !bonded[a*n+b] && s.pos[a].squared(s.pos[b]) < 1 {
					push(a, b, 1, 0.5)
				}
			}
		}
		const room = 0.5 // between an atom and a bond
		for _, e := range edges {
			middle := s.pos[e[0]].plus(s.pos[e[1]]).times(0.5)
			reach := s.pos[e[0]].squared(middle) + room*room
			for a := range n {
				if a == e[0] || a == e[1] || s.pos[a].squared(middle) > reach {
					continue
				}
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
			switch d := s.pos[a].distance(s.pos[b]); {
			case d < 0.55:
				score += 20
			case d < 0.9 && !slices.Contains(s.adj[a], b):
				score += 0.9 - d
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
