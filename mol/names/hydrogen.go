package names

import (
	"fmt"
	"strings"
)

// hydrogenate takes the positions of hydro prefixes, of indicated and of added
// hydrogen out of the mancude part.
func (a *assembly) hydrogenate(s state) []state {
	var explicit, hydro []locant
	loose, all := 0, false
	for _, g := range append(a.hydro, a.groups...) {
		for _, l := range g.locants {
			if l.stereo {
				s.stereo |= otherMark
			}
		}
		switch g.kind {
		case stereoMark:
			s.stereo |= g.marks
		case indicated:
			explicit = append(explicit, g.locants...)
		case hydroGroup:
			if a.core.kind == fixedCore && g.locants != nil {
				if !a.saturate(&s, g) {
					return nil
				}
				continue
			}
			if a.core.kind != ringCore {
				a.wrong(g.at, "hydro prefixes need a ring with double bonds; "+a.what()+" has none")
				return nil
			}
			switch {
			case g.count == 0:
				all = true
			case g.count%2 == 1:
				a.wrong(g.at, "hydrogen is added in pairs: dihydro, tetrahydro")
				return nil
			case g.locants == nil:
				loose += g.count
			case !a.countFits(g.at, g.locants, g.count, "hydrogen"):
				return nil
			default:
				hydro = append(hydro, g.locants...)
			}
		}
	}
	for _, x := range a.suffixes {
		explicit = append(explicit, x.hydrogen...)
	}
	if a.core.kind != ringCore {
		if len(explicit) > 0 {
			a.wrong(explicit[0].at, "indicated hydrogen needs a ring with double bonds; "+a.what()+" has none")
			return nil
		}
		return []state{s}
	}
	s.stated = len(explicit) > 0 && !a.exocyclic()
	for _, l := range append(explicit, hydro...) {
		found := a.find(&s, l)
		if len(found) != 1 {
			a.missing(l)
			return nil
		}
		if !s.atoms[found[0]].pool {
			a.wrong(l.at, fmt.Sprintf("position %s of %s is saturated already or can't be", shown(l.label), a.what()))
			return nil
		}
		s.atoms[found[0]].pool = false
	}
	if len(explicit) == 0 {
		for _, label := range a.core.indic {
			for _, i := range s.labelled(label) {
				s.atoms[i].pool = false
			}
		}
	}
	pool := 0
	for _, x := range s.atoms {
		if x.pool {
			pool++
		}
	}
	if loose > 0 {
		// Without locants the prefix must say it all: every double bond.
		if loose != pool-pool%2 {
			return a.hydroChoices(s, loose)
		}
		all = true
	}
	if all {
		for i := range s.atoms {
			s.atoms[i].pool = false
		}
	}
	return []state{s}
}

// exocyclic reports whether an ending puts a double bond on the ring from
// outside, so that hydrogen may be left out: 1H-indene-1,3-dione.
func (a *assembly) exocyclic() bool {
	for _, x := range a.suffixes {
		switch x.def.kind {
		case ketoneSuffix, thioneSuffix, imineSuffix:
			return true
		}
	}
	return false
}

// saturate adds hydrogen to double bonds of a retained parent: each pair of
// positions must be the ends of one.
func (a *assembly) saturate(s *state, g group) bool {
	if !a.countFits(g.at, g.locants, g.count, "hydrogen") {
		return false
	}
	var atoms []int
	for _, l := range g.locants {
		found := a.find(s, l)
		if len(found) != 1 {
			a.missing(l)
			return false
		}
		atoms = append(atoms, found[0])
	}
	for k := 0; k+1 < len(atoms); k += 2 {
		b := s.bondBetween(atoms[k], atoms[k+1])
		if b < 0 || s.graph.bonds[b].order != 2 || s.benzenoid(s.graph.bonds[b]) {
			a.wrong(g.locants[k].at, fmt.Sprintf("%s has no double bond between positions %s and %s", a.what(), shown(g.locants[k].label), shown(g.locants[k+1].label)))
			return false
		}
		s.graph.bonds[b].order = 1
	}
	return true
}

// hydroChoices adds hydrogen without locants in every possible way.
func (a *assembly) hydroChoices(s state, count int) []state {
	var pool []int
	for i, x := range s.atoms {
		if x.pool {
			pool = append(pool, i)
		}
	}
	var found []state
	var choose func(s state, from, left int)
	choose = func(s state, from, left int) {
		if len(found) >= maxStates || !a.spend(len(s.atoms)) {
			return
		}
		if left == 0 {
			trial := s.clone()
			if trial.place() {
				found = append(found, s)
			}
			return
		}
		for k := from; k <= len(pool)-left; k++ {
			next := s.clone()
			next.atoms[pool[k]].pool = false
			choose(next, k+1, left-1)
		}
	}
	choose(s, 0, count)
	if len(found) == 0 {
		a.wrong(a.core.at, "the hydrogens added to "+a.what()+" need locants")
	}
	return found
}

// placeDoubleBonds gives the mancude part its double bonds. Where that is
// impossible, one position is saturated: indicated hydrogen that the name
// leaves out.
func (a *assembly) placeDoubleBonds(s state) []state {
	pool := false
	for _, x := range s.atoms {
		pool = pool || x.pool
	}
	if !pool || s.place() {
		return []state{s}
	}
	var found []state
	for i := range s.atoms {
		if s.stated {
			break
		}
		x := s.atoms[i]
		if !x.pool || len(x.labels) == 0 || fusion(x.labels[0]) {
			continue
		}
		next := s.clone()
		next.atoms[i].pool = false
		if next.place() {
			found = append(found, next)
		}
	}
	if len(found) == 0 {
		a.wrong(a.core.at, "the double bonds of "+a.what()+" have no place with this indicated hydrogen")
	}
	return found
}

// fusion reports whether a locant is that of an atom common to two rings: 4a.
func fusion(label string) bool {
	label = strings.TrimRight(label, "'")
	return letter(label[len(label)-1]) && digit(label[0])
}
