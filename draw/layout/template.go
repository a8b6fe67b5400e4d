package layout

import (
	"math"
	"slices"
	"sync"
)

// template is a bridged skeleton as it is usually drawn.
type template struct {
	name  string
	bonds [][2]int
	pos   []Point
}

// templates lists the skeletons that have a drawing of their own. The places
// are ours: an outline that is a regular polygon where that is possible, with
// the shortest bridge inside; cubane and adamantane as seen a little from
// above (parallel projection).
var templates = sync.OnceValue(func() []template {
	h := math.Sqrt(3) / 2
	return []template{
		{
			"bicyclo[2.2.1]heptane",
			[][2]int{{0, 1}, {1, 2}, {2, 3}, {3, 4}, {4, 5}, {5, 0}, {0, 6}, {6, 3}},
			[]Point{{-1, 0}, {-0.5, -h}, {0.5, -h}, {1, 0}, {0.5, h}, {-0.5, h}, {0, 0.22}},
		},
		{
			"bicyclo[2.2.1]heptane", // with room at the one-atom bridge
			[][2]int{{0, 1}, {1, 2}, {2, 3}, {3, 4}, {4, 5}, {5, 0}, {0, 6}, {6, 3}},
			[]Point{{-0.95, 0.3}, {-0.6, -0.85}, {0.6, -0.85}, {0.95, 0.3}, {0.42, -0.2}, {-0.42, -0.2}, {0, 1}},
		},
		{
			"bicyclo[2.2.2]octane",
			[][2]int{{0, 1}, {1, 2}, {2, 3}, {3, 4}, {4, 5}, {5, 0}, {0, 6}, {6, 7}, {7, 3}},
			[]Point{{-1, 0}, {-0.5, -h}, {0.5, -h}, {1, 0}, {0.5, h}, {-0.5, h}, {-0.37, 0.16}, {0.37, 0.16}},
		},
		{
			"bicyclo[3.1.1]heptane",
			[][2]int{{0, 1}, {1, 2}, {2, 3}, {3, 4}, {4, 5}, {5, 0}, {1, 6}, {6, 5}},
			[]Point{{-1, 0}, {-0.5, -h}, {0.5, -h}, {1, 0}, {0.5, h}, {-0.5, h}, {-0.02, 0}},
		},
		{
			"adamantane",
			[][2]int{{0, 1}, {1, 2}, {2, 3}, {3, 4}, {4, 5}, {5, 0}, {1, 6}, {3, 7}, {5, 8}, {6, 9}, {7, 9}, {8, 9}},
			[]Point{{-0.86, 0.62}, {-0.86, -0.38}, {0.1, -0.72}, {0.96, -0.38}, {0.96, 0.62}, {0, 0.96}, {-0.42, -1.1}, {1.0, -1.32}, {-0.02, 0.05}, {0.3, -1.62}},
		},
		{
			"cubane",
			[][2]int{{0, 1}, {1, 2}, {2, 3}, {3, 0}, {4, 5}, {5, 6}, {6, 7}, {7, 4}, {0, 4}, {1, 5}, {2, 6}, {3, 7}},
			[]Point{{0, 0}, {1, 0}, {1, 1}, {0, 1}, {0.52, 0.4}, {1.52, 0.4}, {1.52, 1.4}, {0.52, 1.4}},
		},
	}
})

// template places the bridged rings as in a template and fuses the others to
// them, in the best of the ways that there are; false if there is no template
// for them.
func (s *system) template(core []int) bool {
	var atoms []int
	for _, i := range core {
		atoms = append(atoms, s.rings[i]...)
	}
	slices.Sort(atoms)
	atoms = slices.Compact(atoms)
	if len(atoms) == 0 || len(atoms) > 10 {
		return false
	}
	adj := make([][]bool, len(atoms))
	bonds := 0
	for i := range atoms {
		adj[i] = make([]bool, len(atoms))
		for j := range i {
			if slices.Contains(s.adj[atoms[i]], atoms[j]) {
				adj[i][j], adj[j][i] = true, true
				bonds++
			}
		}
	}
	best, bestScore := []Point(nil), math.Inf(1)
	for _, t := range templates() {
		if len(t.pos) != len(atoms) || len(t.bonds) != bonds {
			continue
		}
		for _, match := range t.matches(adj) {
			s.reset()
			for k, i := range match {
				s.pos[atoms[i]] = t.pos[k]
				s.placed[atoms[i]] = true
			}
			for _, i := range core {
				s.done[i] = true
			}
			s.fuse(-1)
			if slices.Contains(s.placed[:s.size], false) {
				continue
			}
			s.placeNeighbors()
			if score := s.score(); score < bestScore-1e-6 {
				best, bestScore = slices.Clone(s.pos), score
			}
		}
	}
	if best == nil {
		return false
	}
	copy(s.pos, best)
	for i := range s.placed {
		s.placed[i] = true
	}
	return true
}

// mostMatches bounds how many of the ways to lay a template over a system
// are tried; cubane has 48.
const mostMatches = 24

// matches lists ways to assign an atom of the graph to each of the template's
// such that bonds are the same.
func (t template) matches(adj [][]bool) [][]int {
	n := len(t.pos)
	want := make([][]bool, n)
	for i := range want {
		want[i] = make([]bool, n)
	}
	for _, b := range t.bonds {
		want[b[0]][b[1]], want[b[1]][b[0]] = true, true
	}
	var found [][]int
	match, used := make([]int, 0, n), make([]bool, n)
	var try func()
	try = func() {
		k := len(match)
		if k == n {
			found = append(found, slices.Clone(match))
			return
		}
		for i := range n {
			if used[i] || len(found) == mostMatches {
				continue
			}
			fits := true
			for j, other := range match {
				if want[k][j] != adj[i][other] {
					fits = false
					break
				}
			}
			if fits {
				match, used[i] = append(match, i), true
				try()
				match, used[i] = match[:k], false
			}
		}
	}
	try()
	return found
}
