package layout

import (
	"math"

	"ionwright/mol"
)

// keepStereo mirrors what was just placed at a, about the double bond that a
// was reached by, if that bond's arrangement is given and isn't drawn so.
func (g *graph) keepStereo(a int32) {
	for k := g.start[a]; k < g.start[a+1]; k++ {
		b := g.adj[k]
		if !g.placed[b] {
			continue
		}
		bond := int(g.bondOf[k])
		if want := g.m.Bond(bond).Stereo; want == mol.NoStereo || g.m.RingBond(bond) {
			continue
		}
		if drawn, ok := g.arrangement(bond); ok && drawn != g.m.Bond(bond).Stereo {
			g.mirrorBranch(b, a)
		}
	}
}

// arrangement is how a double bond is drawn; false if a neighbor that decides
// it isn't placed or stands in line with the bond.
func (g *graph) arrangement(bond int) (mol.BondStereo, bool) {
	b := g.m.Bond(bond)
	left, right, ok := g.deciding(bond)
	if !ok {
		return 0, false
	}
	p, q := g.pos[g.rank[b.Begin]], g.pos[g.rank[b.End]]
	axis := q.minus(p)
	l, r := axis.cross(g.pos[left].minus(p)), axis.cross(g.pos[right].minus(q))
	if math.Abs(l) < 1e-3 || math.Abs(r) < 1e-3 {
		return 0, false
	}
	if l*r > 0 {
		return mol.Cis, true
	}
	return mol.Trans, true
}

// deciding are the neighbors that a bond's Stereo speaks of, in canonical
// numbers: the first neighbor of either end beyond the bond. In a chain of
// double bonds they are those of the chain's ends; that is only drawn right
// for the simple bond.
func (g *graph) deciding(bond int) (left, right int32, ok bool) {
	left, right = g.references(bond)
	return left, right, left >= 0 && right >= 0 && g.placed[left] && g.placed[right]
}

// references are deciding's neighbors, -1 where there is none.
func (g *graph) references(bond int) (left, right int32) {
	b := g.m.Bond(bond)
	find := func(end, other int32) int32 {
		for _, nb := range g.m.Neighbors(int(end)) {
			if nb.Atom != other {
				return g.rank[nb.Atom]
			}
		}
		return -1
	}
	return find(b.Begin, b.End), find(b.End, b.Begin)
}

// mirrorBranch mirrors the placed atoms on b's side of the acyclic bond from
// a to b about the bond.
func (g *graph) mirrorBranch(a, b int32) {
	origin, d := g.pos[a], g.pos[b].minus(g.pos[a]).unit()
	g.eachInBranch(a, b, func(x int32) {
		if g.placed[x] {
			g.pos[x] = g.pos[x].mirrored(origin, d)
		}
	})
}

// eachInBranch visits the atoms on b's side of the acyclic bond from a to b.
func (g *graph) eachInBranch(a, b int32, visit func(int32)) {
	if g.parent[b] == a {
		for _, x := range g.order[g.enter[b] : g.enter[b]+g.size[b]] {
			visit(x)
		}
		return
	}
	root := a
	for g.parent[root] >= 0 {
		root = g.parent[root]
	}
	from, to := g.enter[a], g.enter[a]+g.size[a]
	for i := g.enter[root]; i < g.enter[root]+g.size[root]; i++ {
		if i < from || i >= to {
			visit(g.order[i])
		}
	}
}
