package isomer

import "sync"

// problem is one distribution of a formula's atoms over kinds: the structures
// of different problems are different.
type problem struct {
	kinds  []kind
	counts []int
	compositions
	n      int // vertices
	excess int // rings and bonds beyond the first between two vertices
	levels int // excess + 1
	all    int32

	// forests are the classes of rooted forests, by composition and excess.
	forests []forest
	// limit is the largest size of forests whose class is listed.
	limit int
	// options are what a core atom can be, by the sum of its bond orders.
	options [5][]option
	// choice finds an option by its class and kind; -1 where there is none.
	choice [5][]int32

	rules   *rules
	bad     map[int32][]bool // branches ruled out, by class and index of the forest
	counted sync.Map         // forests of a class and bonds that aren't listed
}

// newProblem lays a problem out: counts by kind, and the formula's hydrogens.
// It returns nil where no structure has so many hydrogens.
func newProblem(kinds []kind, counts []int, hydrogens int, r *rules) *problem {
	p := &problem{rules: r}
	valences := 0
	for k, n := range counts {
		if n > 0 {
			p.kinds, p.counts = append(p.kinds, kinds[k]), append(p.counts, n)
			p.n += n
			valences += n * kinds[k].valence
		}
	}
	if (valences-hydrogens)%2 != 0 {
		return nil // a radical
	}
	p.excess = (valences-hydrogens)/2 - (p.n - 1)
	if p.excess < 0 || valences < hydrogens {
		return nil
	}
	p.levels = p.excess + 1
	return p
}

// tables is how many entries the tables of the problem have.
func (p *problem) tables() int {
	return numberOfCells(p.counts) * p.levels * len(p.kinds)
}

// prepared returns the problem with its tables.
func (p *problem) prepared() *problem {
	q := &problem{kinds: p.kinds, counts: p.counts, n: p.n, excess: p.excess, levels: p.levels, rules: p.rules}
	q.compositions = newCompositions(p.kinds, p.counts)
	q.all = int32(len(q.cells) - 1)
	q.list()
	for sum := 2; sum <= 4; sum++ {
		q.offer(sum)
	}
	return q
}

// class is the number of a class of forests.
func (p *problem) class(cell int32, excess int) int32 {
	return cell*int32(p.levels) + int32(excess)
}

// allowed tells whether a branch isn't ruled out.
func (p *problem) allowed(id, index int32) bool {
	if p.bad == nil {
		return true
	}
	bad := p.bad[id]
	return bad == nil || !bad[index]
}

// branch is a class of rooted trees: a kind at its root, bound to the parent
// by a bond, with a forest of a class on it.
type branch struct {
	id     int32 // greater for another class; orders the branches of a forest
	kind   uint8
	order  uint8
	size   uint8
	forest int32 // class
	cell   int32 // of the forest
	excess int   // of the forest
	// The forest's bonds to the root sum up to least to most.
	least, most int
}

// branchOf returns the class of branches of a composition, excess (the bond
// to the parent included), kind at the root and order of the bond to the
// parent; false where there is none.
func (p *problem) branchOf(cell int32, excess, k, order int) (branch, bool) {
	kind := &p.kinds[k]
	below := cell - p.radix[k]
	excess -= order - 1
	if order > kind.valence || excess < 0 || !p.cells[cell].holds(unit(k)) || kind.double && order != 2 {
		return branch{}, false
	}
	b := branch{
		id:   ((cell*int32(p.levels)+int32(excess))*int32(len(p.kinds))+int32(k))*3 + int32(order-1),
		kind: uint8(k), order: uint8(order), size: p.size[cell],
		cell: below, excess: excess, forest: p.class(below, excess),
		most: kind.valence - order,
	}
	if kind.bare {
		b.least = b.most
	}
	return b, p.possible(below, excess, b.least, b.most)
}

// possible tells whether a class of forests has members whose bonds to the
// root sum up to least to most: surely where the class is listed, and as far
// as the valences say otherwise.
func (p *problem) possible(cell int32, excess, least, most int) bool {
	if int(p.size[cell]) <= p.limit {
		f := &p.forests[p.class(cell, excess)]
		return f.start[most+1] > f.start[least]
	}
	return most > 0 && int(p.sum[cell])-2*(int(p.size[cell])+excess)+most >= 0
}
