package ionize

import (
	"math"

	"ionwright/chem"
)

// after is where the engine's atoms are once a step has led to the ion made,
// which the engine knows as the ion known: the same ion, made perhaps of other
// atoms of the molecule.
func (w whereabouts) after(m *molecule, made, known *skeleton) whereabouts {
	if *made == *known {
		return w
	}
	match := matching{m: m, made: made, known: known}
	for i := range match.to {
		match.to[i] = -1
	}
	for rest := known.atoms; rest != 0; rest &= rest - 1 {
		match.order = append(match.order, rest.first())
	}
	if !match.place(0) {
		return w
	}
	out := whereabouts{mol: w.mol, source: append([]int(nil), w.source...)}
	for _, i := range match.order {
		out.source[i] = w.source[match.to[i]]
	}
	return out
}

// matching is the search for which atom of one skeleton is which of another.
type matching struct {
	m           *molecule
	made, known *skeleton
	order       []int
	to          [MaxAtoms]int // by atom of known: that of made
	used        atomSet
}

// place finds atoms for the k-th of order and those after it.
func (x *matching) place(k int) bool {
	if k == len(x.order) {
		return true
	}
	i := x.order[k]
	for rest := x.made.atoms & ^x.used; rest != 0; rest &= rest - 1 {
		j := rest.first()
		if !x.alike(i, j) {
			continue
		}
		x.to[i] = j
		x.used = x.used.with(j)
		if x.place(k + 1) {
			return true
		}
		x.to[i] = -1
		x.used = x.used.without(j)
	}
	return false
}

// alike reports whether atom j of made can be atom i of known, given those
// that are placed.
func (x *matching) alike(i, j int) bool {
	a, b := x.m.atoms[i], x.m.atoms[j]
	if a.element != b.element || x.m.label[i] != x.m.label[j] || x.known.hydrogens[i] != x.made.hydrogens[j] ||
		x.m.degree(x.known, i) != x.m.degree(x.made, j) {
		return false
	}
	for _, k := range x.order {
		if x.to[k] >= 0 && x.joined(x.known, i, k) != x.joined(x.made, j, x.to[k]) {
			return false
		}
	}
	return true
}

func (x *matching) joined(s *skeleton, i, j int) bool {
	for _, h := range x.m.adjacency[i] {
		if int(h.to) == j {
			return s.bonds.has(int(h.bond))
		}
	}
	return false
}

// carbeneLeaves reports whether the neutral is left with a carbon that has six
// electrons, two of them in no bond.
func (a *account) carbeneLeaves(l *lewis) bool {
	for i, leaves := range a.leaves {
		if leaves && a.atoms[i].element == chem.C && l.charge[i] == 0 && a.left(l, i) >= 2 {
			return true
		}
	}
	return false
}

// whole is the likeliest form before the step and after it, for steps whose
// electrons can't be followed; nil where there is none.
func (a *account) whole() (before, after *lewis) {
	if starts := a.starts(); len(starts) > 0 {
		before = starts[0].form
	}
	all := make([]int, len(a.events))
	for e := range all {
		all[e] = e
	}
	changed, _ := a.does(a.base, all)
	least := math.Inf(1)
	take := func(l *lewis) {
		if cost := a.cost(l); cost < least && a.neutralLeaves(l) {
			after, least = l, cost
		}
	}
	for i := range a.atoms {
		if !a.leaves[i] {
			a.ionize(changed, i, take)
		}
	}
	a.ionizeFormed(changed, all, take)
	return before, after
}

// carry is the form in which the step before left the ion, laid onto this
// step's atoms; nil where it doesn't fit.
func (a *account) carry(w whereabouts, previous *Form) *lewis {
	before := map[int]int{} // by atom of the molecule: place in previous
	for i, at := range previous.Atoms {
		if !at.IsHydrogen && !at.Leaves {
			before[at.Atom] = i
		}
	}
	bonds := map[[2]int]int{}
	for _, b := range previous.Bonds {
		bonds[[2]int{b.Begin, b.End}], bonds[[2]int{b.End, b.Begin}] = b.Electrons, b.Electrons
	}
	l := a.base.clone()
	for i := range a.atoms {
		at := &a.atoms[i]
		if at.element == chem.H {
			continue
		}
		k, ok := before[w.source[at.source]]
		if !ok {
			return nil
		}
		l.charge[i] = int8(previous.Atoms[k].Charge)
		l.valence[i] = at.hole(l.charge[i])
	}
	for p, ends := range a.pairs {
		x, y := ends[0], ends[1]
		if !l.joined[p] || a.atoms[x].element == chem.H || a.atoms[y].element == chem.H {
			continue
		}
		electrons := bonds[[2]int{before[w.source[a.atoms[x].source]], before[w.source[a.atoms[y].source]]}]
		if electrons == 0 {
			return nil
		}
		l.pi[p] = int8(electrons+1)/2 - 1
		if electrons%2 == 1 {
			l.half = p
		}
	}
	if !a.possible(l) {
		return nil
	}
	return l
}
