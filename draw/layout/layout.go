// Package layout gives a molecular graph coordinates in the plane, as a
// chemist would draw it: rings as regular polygons, chains as zigzags,
// carbonyl groups pointing up, long molecules lying flat.
//
// Call [Coordinates]. The bond length is 1 and y points up. The coordinates
// depend on the structure only: renumbering the atoms renumbers them.
//
// How it works: the atoms are put in canonical order; each ring system gets
// its own coordinates (polygons side by side; bridged systems from templates
// or by relaxing an energy); systems and chains are joined from the largest
// system outward; where parts collide, branches are flipped over their bond or
// bent aside; then the whole is turned. Bonds have length 1 except in bridged
// systems, where no flat drawing can have that.
package layout

import (
	"cmp"
	"math"
	"slices"

	"ionwright/mol"
)

// Point is a place in the plane.
type Point struct{ X, Y float64 }

// Coordinates returns a place for each atom of m, bonds having length 1 (in
// bridged ring systems, about 0.6 to 1.4), y up, the middle of the extent at
// the origin. Several parts stand side by side, larger ones first. Double
// bonds whose arrangement m gives have it, except in bridged systems, in
// systems of two such rings, and where a ring is too small for so many; there
// those in rings are drawn cis.
// It never fails; nil for the empty graph.
func Coordinates(m *mol.Mol) []Point {
	n := m.NumAtoms()
	if n == 0 {
		return nil
	}
	g := newGraph(m)
	g.findBlocks()
	parts := g.parts()
	slices.SortStableFunc(parts, func(a, b []int32) int {
		return cmp.Or(cmp.Compare(len(b), len(a)), cmp.Compare(a[0], b[0]))
	})
	x := 0.0
	for i, part := range parts {
		g.placePart(part)
		g.untangle(part)
		g.orient(part)
		lo, hi := g.extent(part)
		if i > 0 {
			x += partGap
		}
		for _, a := range part {
			g.pos[a].X += x - lo.X
			g.pos[a].Y -= (lo.Y + hi.Y) / 2
		}
		x += hi.X - lo.X
	}
	out := make([]Point, n)
	for c, atom := range g.atom {
		out[atom] = Point{g.pos[c].X - x/2, g.pos[c].Y}
	}
	return out
}

// partGap is the room between the parts of a structure, in bond lengths.
const partGap = 1.6

// graph is a structure in canonical order, with the places found so far.
type graph struct {
	m      *mol.Mol
	atom   []int32 // by canonical index, the index in m
	rank   []int32 // by index in m, the canonical index
	start  []int32 // neighbors of a: adj[start[a]:start[a+1]], ascending
	adj    []int32
	bondOf []int32 // bond in m, parallel to adj
	bonds  []edge  // a < b, in canonical order
	rings  [][]int32
	blocks []*block
	inRing []int32 // how many blocks an atom belongs to
	hints  []hint  // of the bridged systems placed so far
	uneven bool    // there is a bridged system, whose bonds differ in length
	pos    []Point
	placed []bool

	terminalDouble []bool // atoms like the O of a carbonyl group

	// A depth-first tree: the atoms of the branch that hangs from its parent
	// by a bond are order[enter[a]:enter[a]+size[a]].
	parent, enter, size, order []int32
	next                       []int32 // scratch: by atom, the neighbor to go to next
}

// edge is a bond between canonical indices.
type edge struct {
	a, b int32
	bond int32 // in m
}

func newGraph(m *mol.Mol) *graph {
	n, bonds := m.NumAtoms(), m.NumBonds()
	// One piece of memory for all lists of numbers.
	numbers := make([]int32, 8*n+1+4*bonds)
	list := func(n int) []int32 {
		part := numbers[:n:n]
		numbers = numbers[n:]
		return part
	}
	flags := make([]bool, 2*n)
	g := &graph{
		m: m, rank: m.CanonicalRanks(), atom: list(n), start: list(n + 1), inRing: list(n), pos: make([]Point, n),
		placed: flags[:n:n], terminalDouble: flags[n:], adj: list(2 * bonds)[:0], bondOf: list(2 * bonds)[:0],
		parent: list(n), enter: list(n), size: list(n), order: list(n)[:0], next: list(n),
	}
	for i, r := range g.rank {
		g.atom[r] = int32(i)
	}
	for c := range n {
		g.start[c] = int32(len(g.adj))
		first := len(g.adj)
		for _, nb := range m.Neighbors(int(g.atom[c])) {
			// Insertion sort: an atom has few neighbors.
			r, k := g.rank[nb.Atom], len(g.adj)
			g.adj, g.bondOf = append(g.adj, 0), append(g.bondOf, 0)
			for ; k > first && g.adj[k-1] > r; k-- {
				g.adj[k], g.bondOf[k] = g.adj[k-1], g.bondOf[k-1]
			}
			g.adj[k], g.bondOf[k] = r, nb.Bond
		}
	}
	g.start[n] = int32(len(g.adj))
	g.bonds = make([]edge, 0, bonds)
	for c := range int32(n) {
		for k := g.start[c]; k < g.start[c+1]; k++ {
			if g.adj[k] > c {
				g.bonds = append(g.bonds, edge{c, g.adj[k], g.bondOf[k]})
			}
		}
	}
	for c := range int32(n) {
		g.terminalDouble[c] = g.degree(c) == 1 && m.KekuleOrder(int(g.bondOf[g.start[c]])) == mol.Double
	}
	g.walk()
	return g
}

func (g *graph) neighbors(a int32) []int32 { return g.adj[g.start[a]:g.start[a+1]] }

func (g *graph) degree(a int32) int { return int(g.start[a+1] - g.start[a]) }

// bond is the bond in m between neighbors a and b.
func (g *graph) bond(a, b int32) int32 {
	for k := g.start[a]; k < g.start[a+1]; k++ {
		if g.adj[k] == b {
			return g.bondOf[k]
		}
	}
	return -1
}

// walk builds the depth-first tree over all parts.
func (g *graph) walk() {
	n := len(g.atom)
	next := g.next
	var room [64]int32
	for i := range g.enter {
		g.enter[i] = -1
	}
	for root := range int32(n) {
		if g.enter[root] >= 0 {
			continue
		}
		g.parent[root] = -1
		stack := append(room[:0], root)
		g.enter[root] = int32(len(g.order))
		g.order = append(g.order, root)
		for len(stack) > 0 {
			a := stack[len(stack)-1]
			if next[a] == int32(g.degree(a)) {
				stack = stack[:len(stack)-1]
				g.size[a] = int32(len(g.order)) - g.enter[a]
				continue
			}
			b := g.neighbors(a)[next[a]]
			next[a]++
			if g.enter[b] < 0 {
				g.parent[b] = a
				g.enter[b] = int32(len(g.order))
				g.order = append(g.order, b)
				stack = append(stack, b)
			}
		}
	}
}

// parts lists the connected parts, each ascending.
func (g *graph) parts() [][]int32 {
	var parts [][]int32
	for i := int32(0); i < int32(len(g.order)); {
		root := g.order[i]
		part := slices.Clone(g.order[i : i+g.size[root]])
		slices.Sort(part)
		parts = append(parts, part)
		i += g.size[root]
	}
	return parts
}

// branch is the atoms on b's side of the acyclic bond from a to b, and how
// many they are without listing them.
func (g *graph) branchSize(a, b int32) int32 {
	if g.parent[b] == a {
		return g.size[b]
	}
	root := a
	for g.parent[root] >= 0 {
		root = g.parent[root]
	}
	return g.size[root] - g.size[a]
}

// extent is the least and the greatest coordinates of the atoms.
func (g *graph) extent(atoms []int32) (lo, hi Point) {
	lo, hi = Point{math.Inf(1), math.Inf(1)}, Point{math.Inf(-1), math.Inf(-1)}
	for _, a := range atoms {
		p := g.pos[a]
		lo = Point{min(lo.X, p.X), min(lo.Y, p.Y)}
		hi = Point{max(hi.X, p.X), max(hi.Y, p.Y)}
	}
	return lo, hi
}
