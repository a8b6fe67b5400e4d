package smarts

// A plan is the order in which the atoms of a pattern are placed on a
// molecule.
type plan struct {
	code  program
	steps []step
	rings []ringTest
}

// A step places one atom of the pattern.
type step struct {
	test     int32    // where the atom's test starts in the code
	from     int32    // the step on whose atom's neighbors this one is looked for; -1: on every atom
	bond     bondMask // the bond to it
	class    int8     // where from is -1: the only class of atoms that can pass, or -1
	atom     int32    // index of the atom in the pattern
	ringFrom int32    // rings[ringFrom:ringTo] are the bonds to atoms placed before
	ringTo   int32
}

// A ringTest asks for a bond between the atom of its step and that of an
// earlier one.
type ringTest struct {
	to   int32
	bond bondMask
}

// planner orders the atoms of one query.
type planner struct {
	q      *query
	rarity []int // of each atom, larger is rarer
	placed []int // the step of each atom, -1 before it has one
	links  [][]queryLink
	plan   plan
}

// queryLink is a bond as one of its atoms sees it.
type queryLink struct {
	atom int
	mask bondMask
}

// newPlan orders the atoms of a query. The search starts at the atom first,
// or at the rarest where first is negative; it goes on with the atom that has
// most bonds to placed ones, then the rarest. What isn't connected with the
// placed atoms starts anew at its rarest atom.
func newPlan(q *query, first int, envs *environments) plan {
	n := len(q.atoms)
	p := planner{q: q, rarity: make([]int, n), placed: make([]int, n), links: make([][]queryLink, n)}
	for i, a := range q.atoms {
		p.rarity[i] = rarity(a.expr, envs)
		p.placed[i] = -1
	}
	for _, b := range q.bonds {
		p.links[b.a] = append(p.links[b.a], queryLink{b.b, b.mask})
		p.links[b.b] = append(p.links[b.b], queryLink{b.a, b.mask})
	}
	if first < 0 {
		first = p.rarest()
	}
	p.place(first, envs)
	for len(p.plan.steps) < n {
		next := p.nearest()
		if next < 0 {
			next = p.rarest()
		}
		p.place(next, envs)
	}
	return p.plan
}

// rarest returns the rarest atom that isn't placed; of equals the one with
// most bonds, then the first.
func (p *planner) rarest() int {
	best := -1
	for i, at := range p.placed {
		if at >= 0 {
			continue
		}
		if best < 0 || p.rarity[i] > p.rarity[best] ||
			p.rarity[i] == p.rarity[best] && len(p.links[i]) > len(p.links[best]) {
			best = i
		}
	}
	return best
}

// nearest returns the atom to place next to the placed ones, -1 where none is
// bound to them.
func (p *planner) nearest() int {
	best, bestBonds := -1, 0
	for i, at := range p.placed {
		if at >= 0 {
			continue
		}
		bonds := 0
		for _, l := range p.links[i] {
			if p.placed[l.atom] >= 0 {
				bonds++
			}
		}
		if bonds > bestBonds || bonds == bestBonds && bonds > 0 && p.rarity[i] > p.rarity[best] {
			best, bestBonds = i, bonds
		}
	}
	return best
}

// place appends the step of an atom.
func (p *planner) place(atom int, envs *environments) {
	s := step{atom: int32(atom), from: -1, class: -1, ringFrom: int32(len(p.plan.rings))}
	for _, l := range p.links[atom] {
		at := p.placed[l.atom]
		switch {
		case at < 0:
		case s.from < 0:
			s.from, s.bond = int32(at), l.mask
		default:
			p.plan.rings = append(p.plan.rings, ringTest{int32(at), l.mask})
		}
	}
	s.ringTo = int32(len(p.plan.rings))
	e := p.q.atoms[atom].expr
	if s.from < 0 {
		s.class = soleClass(e, envs)
	}
	s.test = p.plan.code.add(e, accept, reject)
	p.placed[atom] = len(p.plan.steps)
	p.plan.steps = append(p.plan.steps, s)
}
