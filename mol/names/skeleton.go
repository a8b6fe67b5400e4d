package names

import (
	"fmt"
	"strconv"

	"ionwright/chem"
)

// unsaturate sets the double and triple bonds of en and yn.
func (a *assembly) unsaturate(s state) []state {
	states := []state{s}
	for _, u := range a.unsat {
		var next []state
		for _, s := range states {
			if u.locants != nil {
				if !a.countFits(u.at, u.locants, u.count, "double or triple bond") {
					return nil
				}
				if !a.unsaturateAt(&s, u) {
					return nil
				}
				next = append(next, s)
				continue
			}
			next = append(next, a.unsaturateAnywhere(s, u)...)
		}
		states = next
	}
	return states
}

func (a *assembly) unsaturateAt(s *state, u unsaturation) bool {
	for _, l := range u.locants {
		to := l.to
		if to == "" {
			n, err := strconv.Atoi(l.label)
			if err != nil {
				a.missing(l)
				return false
			}
			to = strconv.Itoa(n + 1)
			if a.core.plain && n == a.core.size {
				to = "1"
			}
		}
		begin, end := s.labelled(l.label), s.labelled(to)
		if len(begin) != 1 {
			a.missing(l)
			return false
		}
		k := -1
		if len(end) == 1 {
			k = s.bondBetween(begin[0], end[0])
		}
		if k < 0 {
			a.wrong(l.at, fmt.Sprintf("no bond of %s goes from position %s to %s", a.what(), shown(l.label), to))
			return false
		}
		if s.graph.bonds[k].order != 1 {
			a.wrong(l.at, fmt.Sprintf("the bond at position %s has two endings", shown(l.label)))
			return false
		}
		s.graph.bonds[k].order = u.order
		if s.hydrogens(begin[0]) < 0 || s.hydrogens(end[0]) < 0 {
			a.wrong(l.at, fmt.Sprintf("a multiple bond at position %s gives an atom too many bonds", shown(l.label)))
			return false
		}
	}
	return true
}

// unsaturateAnywhere places endings without locants: on a plain ring with
// nothing else at 1, else in every way, cumulated bonds only where nothing
// else is possible.
func (a *assembly) unsaturateAnywhere(s state, u unsaturation) []state {
	if a.core.plain && u.count == 1 && len(a.unsat) == 1 && a.freeOfSuffix() {
		s.graph.bonds[s.bondBetween(0, 1)].order = u.order
		return []state{s}
	}
	var found []state
	bonds := len(s.graph.bonds)
	for _, cumulated := range []bool{false, true} {
		var choose func(s state, from, left int)
		choose = func(s state, from, left int) {
			if len(found) >= maxStates {
				return
			}
			if left == 0 {
				found = append(found, s)
				return
			}
			for k := from; k < bonds; k++ {
				b := s.graph.bonds[k]
				if u.count == 1 && len(a.suffixes) == 0 && a.core.kind == chainCore && len(a.unsat) == 1 && s.atoms[b.a].chain > a.core.size-s.atoms[b.a].chain {
					continue // the lowest numbering counts
				}
				if b.order != 1 || s.atoms[b.a].element != chem.C || s.atoms[b.b].element != chem.C {
					continue
				}
				if !cumulated && (s.multiple(b.a) || s.multiple(b.b)) {
					continue
				}
				next := s.clone()
				next.graph.bonds[k].order = u.order
				if next.hydrogens(b.a) < 0 || next.hydrogens(b.b) < 0 {
					continue
				}
				choose(next, k+1, left-1)
			}
		}
		choose(s, 0, u.count)
		if len(found) > 0 {
			break
		}
	}
	if len(found) >= maxStates {
		a.wrong(u.at, "the double or triple bonds need locants")
		return nil
	}
	return found
}

// freeOfSuffix reports whether no ending but en may claim position 1: there is
// none, or it has its locants.
func (a *assembly) freeOfSuffix() bool {
	for _, x := range a.suffixes {
		if x.locants == nil {
			return false
		}
	}
	return true
}

// multiple reports whether atom i has a double or triple bond.
func (g *graph) multiple(i int) bool {
	found := false
	g.neighbors(i, func(_, order int) { found = found || order > 1 })
	return found
}

// checkKetones refuses a ketone ending at the end of a chain unless a
// substituent makes it a ketone.
func (a *assembly) checkKetones(s state) []state {
	if a.core.kind != chainCore {
		return []state{s}
	}
	for _, x := range a.suffixes {
		if x.def.kind != ketoneSuffix {
			continue
		}
		for i := range s.atoms {
			if (s.atoms[i].chain == 1 || s.atoms[i].chain == a.core.size) && s.atoms[i].element == chem.C && s.carbonyl(i) && s.hydrogens(i) > 0 {
				a.wrong(x.at, "a C=O at the end of a chain is an aldehyde (ending al), not a ketone")
				return nil
			}
		}
	}
	return []state{s}
}

// carbonyl reports whether atom i has a double bond to oxygen.
func (g *graph) carbonyl(i int) bool {
	found := false
	g.neighbors(i, func(j, order int) {
		found = found || order == 2 && g.atoms[j].element == chem.O
	})
	return found
}
