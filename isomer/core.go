package isomer

import (
	"context"
	"slices"
)

// ring is the core of n atoms in one ring.
func ring(n int) *graph {
	g := &graph{n: n}
	for i := range n {
		g.join(i, (i+1)%n)
	}
	return g
}

// strand is the edges between two vertices of a kernel, or the loops of one.
type strand struct {
	i, j  int
	edges int
	first int // index of the first edge in the filling
}

// cores makes the graphs of n vertices with the kernel, each once: it deals
// vertices of two edges out to the kernel's edges, so that no filling is less
// than what an automorphism of the kernel makes of it. It stops where yield
// returns false.
func (k *kernel) cores(ctx context.Context, n int, yield func(*graph) bool) bool {
	s := subdivision{k: k, group: k.automorphisms(), yield: yield, ctx: ctx}
	for i := range k.n {
		for j := i; j < k.n; j++ {
			if k.m[i][j] > 0 {
				s.strands = append(s.strands, strand{i, j, int(k.m[i][j]), len(s.filling)})
				for range k.m[i][j] {
					s.filling = append(s.filling, 0)
				}
			}
		}
	}
	s.at = make([][]int, k.n)
	for i := range s.at {
		s.at[i] = make([]int, k.n)
	}
	for x, t := range s.strands {
		s.at[t.i][t.j], s.at[t.j][t.i] = x, x
	}
	s.fill(0, 0, n-k.n)
	return !s.stopped
}

type subdivision struct {
	k       *kernel
	group   [][]uint8
	strands []strand
	at      [][]int // strand between two vertices
	filling []int   // vertices on each edge
	ctx     context.Context
	yield   func(*graph) bool
	stopped bool
}

// fill fills edge e of strand x and those after it with the vertices left.
// Of the edges of a strand the first has the most vertices.
func (s *subdivision) fill(x, e, left int) {
	if s.stopped {
		return
	}
	if x == len(s.strands) {
		if left == 0 && s.greatest() {
			s.stopped = s.ctx.Err() != nil || !s.yield(s.graph())
		}
		return
	}
	t := s.strands[x]
	most, least := left, 0
	if e > 0 {
		most = min(most, s.filling[t.first+e-1])
	}
	switch {
	case t.i == t.j:
		least = 2
	case e < t.edges-1:
		least = 1
	}
	for v := least; v <= most; v++ {
		s.filling[t.first+e] = v
		if e == t.edges-1 {
			s.fill(x+1, 0, left-v)
		} else {
			s.fill(x, e+1, left-v)
		}
	}
}

// greatest tells whether no automorphism makes the filling greater.
func (s *subdivision) greatest() bool {
	for _, g := range s.group {
		for _, t := range s.strands {
			u := s.strands[s.at[g[t.i]][g[t.j]]]
			c := slices.Compare(s.filling[u.first:u.first+u.edges], s.filling[t.first:t.first+t.edges])
			if c > 0 {
				return false
			}
			if c < 0 {
				break
			}
		}
	}
	return true
}

func (s *subdivision) graph() *graph {
	g := &graph{n: s.k.n}
	for _, t := range s.strands {
		for _, v := range s.filling[t.first : t.first+t.edges] {
			at := t.i
			for range v {
				g.join(at, g.n)
				at = g.n
				g.n++
			}
			g.join(at, t.j)
		}
	}
	return g
}
