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
		if try >= 5 && bestScore < 12 {
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
