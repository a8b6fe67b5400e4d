package mol

// blossom searches augmenting paths in a general graph: a breadth-first
// search in which odd cycles are contracted to their base.
type blossom struct {
	*matcher
	parent []int32 // the atom before, on the alternating path
	base   []int32 // base of the contracted cycle the atom is in
	queue  []int32
	mark   []int32 // walk number that last passed a base, for the common ancestor
	walk   int32
	outer  []int32 // 1 = at even distance from the root
	inside []int32 // bases of the cycle being contracted, by walk number
}

func newBlossom(k *matcher, s *scratch) *blossom {
	n := len(k.mate)
	return &blossom{
		matcher: k, parent: s.ints(n), base: s.ints(n), queue: s.ints(n)[:0],
		mark: s.zeros(n), outer: s.ints(n), inside: s.zeros(n),
	}
}

// augment looks for an augmenting path from root and applies it; false where
// there is none.
func (f *blossom) augment(root int32) bool {
	for i := range f.base {
		f.base[i], f.parent[i], f.outer[i] = int32(i), -1, 0
	}
	f.outer[root] = 1
	f.queue = append(f.queue[:0], root)
	for head := 0; head < len(f.queue); head++ {
		at := f.queue[head]
		for _, nb := range f.m.Neighbors(int(at)) {
			to := nb.Atom
			if !f.joins(nb) || f.base[at] == f.base[to] || f.mate[at] == to {
				continue
			}
			if to == root || f.mate[to] >= 0 && f.parent[f.mate[to]] >= 0 {
				f.contract(at, to)
				continue
			}
			if f.parent[to] >= 0 {
				continue
			}
			f.parent[to] = at
			if f.mate[to] < 0 {
				f.flip(to)
				return true
			}
			f.outer[f.mate[to]] = 1
			f.queue = append(f.queue, f.mate[to])
		}
	}
	return false
}

// flip exchanges paired and unpaired bonds along the path that ends at atom.
func (f *blossom) flip(atom int32) {
	for atom >= 0 {
		before := f.parent[atom]
		next := f.mate[before]
		f.mate[atom], f.mate[before] = before, atom
		atom = next
	}
}

// contract makes the odd cycle closed by the bond a-b one base.
func (f *blossom) contract(a, b int32) {
	top := f.ancestor(a, b)
	f.walk++
	f.climb(a, top, b)
	f.climb(b, top, a)
	for i := range f.base {
		if f.inside[f.base[i]] == f.walk {
			f.base[i] = top
			if f.outer[i] == 0 {
				f.outer[i] = 1
				f.queue = append(f.queue, int32(i))
			}
		}
	}
}

// ancestor returns the base where the paths from a and b to the root meet.
func (f *blossom) ancestor(a, b int32) int32 {
	f.walk++
	for {
		a = f.base[a]
		f.mark[a] = f.walk
		if f.mate[a] < 0 {
			break
		}
		a = f.parent[f.mate[a]]
	}
	for {
		b = f.base[b]
		if f.mark[b] == f.walk {
			return b
		}
		b = f.parent[f.mate[b]]
	}
}

// climb marks the bases from atom up to top and turns their parents round the
// cycle, beginning with child.
func (f *blossom) climb(atom, top, child int32) {
	for f.base[atom] != top {
		f.inside[f.base[atom]] = f.walk
		f.inside[f.base[f.mate[atom]]] = f.walk
		f.parent[atom] = child
		child = f.mate[atom]
		atom = f.parent[f.mate[atom]]
	}
}
