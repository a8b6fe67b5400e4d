package isomer

import (
	"errors"
	"math/bits"
)

// graph is a simple graph without atoms: a core.
type graph struct {
	n        int
	a, b     []uint8 // edges
	adjacent [MaxAtoms]uint64
}

func (g *graph) join(a, b int) {
	g.a, g.b = append(g.a, uint8(a)), append(g.b, uint8(b))
	g.adjacent[a] |= 1 << b
	g.adjacent[b] |= 1 << a
}

// perm is a permutation: image by vertex.
type perm [MaxAtoms]uint8

// mostAutomorphisms bounds the list of a graph's automorphisms. A graph of
// rings that has more must be larger than what can be gone through.
const mostAutomorphisms = 1 << 17

var errSymmetry = errors.New("a ring system has more than 131072 symmetries: ask for fewer rings")

// automorphisms lists the automorphisms of a connected graph but for the
// identity.
func (g *graph) automorphisms() ([]perm, error) {
	invariant := g.refine()
	distinct := true
	size := [MaxAtoms]int{}
	start := 0
	for v := range g.n {
		for w := range g.n {
			if invariant[v] == invariant[w] {
				size[v]++
			}
		}
		if size[v] > 1 {
			distinct = false
		}
		if size[v] < size[start] {
			start = v
		}
	}
	if distinct {
		return nil, nil
	}
	s := symmetry{g: g, invariant: invariant}
	s.walk(start)
	for w := range g.n {
		if invariant[w] == invariant[start] {
			s.assign(0, w)
		}
	}
	if s.tooMany {
		return nil, errSymmetry
	}
	return s.found, nil
}

// refine gives each vertex a number that automorphisms keep.
func (g *graph) refine() (h [MaxAtoms]uint64) {
	for v := range g.n {
		h[v] = uint64(bits.OnesCount64(g.adjacent[v]))
	}
	for range min(g.n, 6) {
		var next [MaxAtoms]uint64
		for v := range g.n {
			sum := h[v] * 0x9E3779B97F4A7C15
			for set := g.adjacent[v]; set != 0; set &= set - 1 {
				x := h[bits.TrailingZeros64(set)] + 0x7F4A7C15
				x ^= x >> 31
				x *= 0xBF58476D1CE4E5B9
				x ^= x >> 29
				sum += x
			}
			next[v] = sum
		}
		h = next
	}
	return h
}

// symmetry is a search for automorphisms, along a walk on which every vertex
// but the first has a neighbor before it.
type symmetry struct {
	g         *graph
	invariant [MaxAtoms]uint64
	order     [MaxAtoms]int // vertices as walked
	from      [MaxAtoms]int // the neighbor before, by place
	earlier   [MaxAtoms]uint64
	image     perm
	used      uint64
	found     []perm
	tooMany   bool
}

func (s *symmetry) walk(start int) {
	seen := uint64(1) << start
	s.order[0] = start
	n := 1
	for i := 0; i < n; i++ {
		v := s.order[i]
		for set := s.g.adjacent[v] &^ seen; set != 0; set &= set - 1 {
			w := bits.TrailingZeros64(set)
			seen |= 1 << w
			s.order[n], s.from[n] = w, v
			n++
		}
	}
	before := uint64(0)
	for i := range n {
		v := s.order[i]
		s.earlier[i] = s.g.adjacent[v] & before
		before |= 1 << v
	}
}

// assign maps the vertex at a place of the walk to w and goes on.
func (s *symmetry) assign(place, w int) {
	if s.tooMany {
		return
	}
	v := s.order[place]
	// The neighbors met before must go to neighbors of w, no others among the
	// images used: as many edges, so counting is enough.
	count := 0
	for set := s.earlier[place]; set != 0; set &= set - 1 {
		if s.g.adjacent[w]&(1<<s.image[bits.TrailingZeros64(set)]) == 0 {
			return
		}
		count++
	}
	if bits.OnesCount64(s.g.adjacent[w]&s.used) != count {
		return
	}
	s.image[v] = uint8(w)
	if place == s.g.n-1 {
		for i := range s.g.n {
			if s.image[i] != uint8(i) {
				if len(s.found) >= mostAutomorphisms {
					s.tooMany = true
					return
				}
				s.found = append(s.found, s.image)
				return
			}
		}
		return
	}
	s.used |= 1 << w
	next := s.order[place+1]
	for set := s.g.adjacent[s.image[s.from[place+1]]] &^ s.used; set != 0; set &= set - 1 {
		if x := bits.TrailingZeros64(set); s.invariant[x] == s.invariant[next] {
			s.assign(place+1, x)
		}
	}
	s.used &^= 1 << w
}
