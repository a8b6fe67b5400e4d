package smiles

import (
	"cmp"
	"slices"

	"ionwright/chem"
	"ionwright/mol"
)

// start chooses the first atom of a molecule in one part.
func (w *writer) start() int32 {
	best := int32(0)
	if w.ranks == nil {
		return 0
	}
	bestKey := w.startKey(0)
	for i := int32(1); i < int32(w.m.NumAtoms()); i++ {
		if key := w.startKey(i); key < bestKey {
			best, bestKey = i, key
		}
	}
	return best
}

// startOf chooses the first atom of a part.
func (w *writer) startOf(component []int) int32 {
	if w.ranks == nil {
		return int32(component[0])
	}
	best := int32(component[0])
	for _, i := range component {
		if w.startKey(int32(i)) < w.startKey(best) {
			best = int32(i)
		}
	}
	return best
}

// startKey orders atoms as first ones: few bonds, heteroatoms before carbon
// before hydrogen, then rank.
func (w *writer) startKey(at int32) int64 {
	kind := int64(0)
	switch w.m.Atom(int(at)).Element {
	case chem.C:
		kind = 1
	case chem.H:
		kind = 2
	}
	return int64(w.m.Degree(int(at)))<<36 | kind<<32 | int64(w.rank(at))
}

// walk numbers the atoms of a part depth first and finds its ring bonds.
// Among the neighbors, those by multiple bonds come first, so that a single
// bond closes the ring.
func (w *writer) walk(root int32) {
	m := w.m
	begin := len(w.order)
	w.parent[root] = -1
	w.enter(root)
	for at := root; ; {
		next, end := w.cursor[at], w.nearAt[at+1]
		for next < end && w.visit[w.near[next].Atom] != 0 {
			next++
		}
		w.cursor[at] = next + 1
		if next < end {
			to := w.near[next]
			w.parent[to.Atom] = to.Bond
			w.enter(to.Atom)
			at = to.Atom
			continue
		}
		if at == root {
			break
		}
		up := w.above(at)
		w.weight[up] += w.weight[at]
		at = up
	}
	if len(w.order)-begin == m.NumAtoms() && m.NumBonds() == m.NumAtoms()-1 {
		return // a tree
	}
	// Each bond that isn't of the tree closes a ring. It is listed from its
	// lower end, which comes later.
	for _, at := range w.order[begin:] {
		for _, nb := range m.Neighbors(int(at)) {
			if w.visit[nb.Atom] < w.visit[at] && nb.Bond != w.parent[at] && w.parent[nb.Atom] != nb.Bond {
				c := int32(len(w.closures))
				w.closures = append(w.closures, closure{bond: nb.Bond, above: nb.Atom, below: at})
				w.ends = append(w.ends, end{c, w.first[nb.Atom]}, end{c, w.first[at]})
				w.first[nb.Atom], w.first[at] = int32(len(w.ends)-2), int32(len(w.ends)-1)
			}
		}
	}
}

// sortNeighbors lists the neighbors of each atom in the order to walk: by
// multiple bonds first, then by rank.
func (w *writer) sortNeighbors() {
	m := w.m
	w.near = w.near[:0]
	for i := range m.NumAtoms() {
		begin := len(w.near)
		w.nearAt[i], w.cursor[i] = int32(begin), int32(begin)
		list := m.Neighbors(i)
		if len(list) > manyNeighbors {
			w.near = append(w.near, list...)
			slices.SortFunc(w.near[begin:], func(a, b mol.Neighbor) int { return cmp.Compare(w.walkKey(a), w.walkKey(b)) })
			continue
		}
		for _, nb := range list {
			w.near = append(w.near, nb)
			k, key := len(w.near)-1, w.walkKey(nb)
			for ; k > begin && w.walkKey(w.near[k-1]) > key; k-- {
				w.near[k] = w.near[k-1]
			}
			w.near[k] = nb
		}
	}
	w.nearAt[m.NumAtoms()] = int32(len(w.near))
}

// manyNeighbors is the number of neighbors up to which insertion sorts them.
const manyNeighbors = 16

func (w *writer) walkKey(nb mol.Neighbor) int64 {
	key := int64(w.rank(nb.Atom))
	if w.ranks != nil {
		if o := w.m.Bond(int(nb.Bond)).Order; o == mol.Single || o == mol.Aromatic {
			key += 1 << 32
		}
	}
	return key
}

// enter takes an atom into the walk.
func (w *writer) enter(at int32) {
	w.order = append(w.order, at)
	w.visit[at] = int32(len(w.order))
	w.weight[at] = 1
}

// above is the atom above at in the tree.
func (w *writer) above(at int32) int32 {
	return w.m.Bond(int(w.parent[at])).Other(at)
}
