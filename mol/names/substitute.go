package names

import (
	"fmt"
	"slices"

	"ionwright/chem"
)

// substitute bonds the substituents of the groups: first those whose place the
// name gives, then the others wherever there is room.
func (a *assembly) substitute(s state) []state {
	states := []state{s}
	for _, located := range []bool{true, false} {
		for k := range a.groups {
			g := &a.groups[k]
			if g.kind != substituent || (g.locants != nil) != located || g.count == everyHydrogen {
				continue
			}
			var next []state
			for _, s := range states {
				if located {
					next = append(next, a.placeLocated(s, g)...)
				} else {
					next = append(next, a.placeAnywhere(s, g)...)
				}
				if len(next) > maxStates {
					break
				}
			}
			if len(next) == 0 {
				return nil
			}
			if len(next) > maxStates {
				next = next[:maxStates]
				for i := range next {
					next[i].cut = true
				}
			}
			states = next
		}
	}
	for k := range a.groups {
		if g := &a.groups[k]; g.count == everyHydrogen {
			for i := range states {
				a.replaceAll(&states[i], g)
			}
		}
	}
	return states
}

// replaceAll puts the substituent of a perfluoro prefix in the place of every
// hydrogen on carbon, those of the other substituents too.
func (a *assembly) replaceAll(s *state, g *group) {
	for i := range len(s.atoms) {
		if s.atoms[i].element != chem.C {
			continue
		}
		for range a.room(s, i) {
			s.bond(i, &g.rads[0])
		}
	}
}

// room is the number of hydrogens of atom i that substituents may replace: the
// free bond of a substituent keeps its own.
func (a *assembly) room(s *state, i int) int {
	if s.atoms[i].closed {
		return 0
	}
	h := s.hydrogens(i)
	if slices.Contains(s.bonds, i) {
		h--
		if kind := a.bondKind(); kind != bridge {
			h -= int(kind)
		}
	}
	return h
}

// order is the bond order of a substituent.
func (x *radical) order() int {
	if x.kind == bridge {
		return 1
	}
	return 1 + int(x.kind)
}

// bond joins a copy of the substituent to atom i.
func (s *state) bond(i int, x *radical) {
	s.join(i, x.graph, x.bonds[0], x.order())
}

func (s *state) take(g *group, k int) {
	x := &g.rads[k]
	if len(g.rads) > 1 {
		s.choice += string(rune('0' + k))
	}
	s.penalty += x.penalty + g.penalty
	s.cut = s.cut || x.cut
	s.stereo |= x.stereo
}

// placeLocated bonds the substituents of a group with locants.
func (a *assembly) placeLocated(s state, g *group) []state {
	if len(g.locants) == 1 && !g.locants[0].atom && a.core.plain && a.core.kind == ringCore && len(a.suffixes) == 0 {
		if pair, ok := benzenePair(g.locants[0].label); ok {
			return a.placePair(s, g, pair)
		}
	}
	if a.core.plain && len(a.suffixes)+len(a.unsat) == 0 && len(g.locants) == 1 && g.locants[0].label != "1" && a.onlySubstituent() {
		a.wrong(g.locants[0].at, "the only substituent of "+a.what()+" is at position 1, which needs no locant")
		return nil
	}
	var found []state
	bridges, others := false, false
	for k := range g.rads {
		x := &g.rads[k]
		if x.kind == bridge {
			bridges = true
			if g.count == 1 && len(g.locants) == 2 {
				found = append(found, a.placeBridge(s, g, k)...)
			}
			continue
		}
		others = true
		if len(g.locants) != g.count {
			continue
		}
		t := s.clone()
		t.take(g, k)
		found = append(found, a.placeEach(t, g, x, g.locants)...)
	}
	if len(found) == 0 && others && len(g.locants) != g.count {
		a.wrong(g.at, fmt.Sprintf("%s, but %s: their numbers must be equal", plural(len(g.locants), "locant"), plural(g.count, "substituent")))
	} else if len(found) == 0 && bridges && !others {
		a.wrong(g.at, "a bridging prefix needs the locants of two positions with a free hydrogen")
	}
	return found
}

// onlySubstituent reports whether the name has one substituent in all.
func (a *assembly) onlySubstituent() bool {
	count := 0
	for _, g := range a.groups {
		if g.kind == substituent {
			count += g.count
		}
	}
	return count == 1
}

// placeEach bonds one copy of x at each of the locants; a locant may name
// several atoms (o in a ring), which gives several structures.
func (a *assembly) placeEach(s state, g *group, x *radical, locants []locant) []state {
	states := []state{s}
	for _, l := range locants {
		var next []state
		for _, s := range states {
			atoms := a.find(&s, l)
			if len(atoms) == 0 {
				a.missing(l)
				return nil
			}
			for _, i := range atoms {
				if a.room(&s, i) < x.order() || !a.suits(&s, i, x, &l) {
					continue
				}
				if x.alkyl && a.endOfChain(&s, i) {
					a.wrong(l.at, fmt.Sprintf("an alkyl group at position %s makes the chain longer than %s; name the longer chain", shown(l.label), a.what()))
					return nil
				}
				t := s.clone()
				t.bond(i, x)
				next = append(next, t)
			}
			if len(next) == 0 {
				a.wrong(l.at, fmt.Sprintf("position %s of %s has no free hydrogen for another substituent", shown(l.label), a.what()))
			}
		}
		if len(next) > maxStates {
			next = next[:maxStates]
		}
		states = next
	}
	return states
}

// placeBridge bonds the two ends of a bridge: 3,4-methylenedioxy, 1,2-epoxy.
func (a *assembly) placeBridge(s state, g *group, k int) []state {
	x := &g.rads[k]
	one, two := a.find(&s, g.locants[0]), a.find(&s, g.locants[1])
	if len(one) == 0 || len(two) == 0 {
		for k, found := range [][]int{one, two} {
			if len(found) == 0 {
				a.missing(g.locants[k])
			}
		}
		return nil
	}
	var found []state
	for _, i := range one {
		for _, j := range two {
			if i == j || a.room(&s, i) < 1 || a.room(&s, j) < 1 {
				continue
			}
			t := s.clone()
			t.take(g, k)
			first := t.join(i, x.graph, x.bonds[0], 1)
			t.addBond(j, first+x.bonds[1]-x.bonds[0], 1)
			found = append(found, t)
		}
	}
	return found
}

// placePair handles benzene with two substituents at o, m or p: two of one
// kind, or this one and the other group without locants.
func (a *assembly) placePair(s state, g *group, pair []int) []state {
	var others []*group
	for k := range a.groups {
		if h := &a.groups[k]; h != g && h.kind == substituent {
			others = append(others, h)
		}
	}
	alone := len(others) == 0 && g.count == 2
	mixed := len(others) == 1 && g.count == 1 && others[0].count == 1 && others[0].locants == nil
	if !alone && !mixed {
		a.wrong(g.at, "o, m and p need exactly two substituents on the benzene ring")
		return nil
	}
	var found []state
	for k := range g.rads {
		x := &g.rads[k]
		if x.kind == bridge {
			continue
		}
		t := s.clone()
		t.take(g, k)
		if a.room(&t, pair[1]) < x.order() {
			continue
		}
		t.bond(pair[1], x)
		if alone { // else the other substituent goes to position 1, see placeAnywhere
			t.bond(pair[0], x)
		}
		found = append(found, t)
	}
	return found
}

// placeAnywhere bonds the substituents of a group without locants in every way
// there is room for.
func (a *assembly) placeAnywhere(s state, g *group) []state {
	mixed := a.othersLocated(g)
	if mixed && a.core.plain && a.core.kind == ringCore && len(a.suffixes) == 0 && g.count == 1 && g == &a.groups[len(a.groups)-1] {
		// 4-bromonitrobenzene: the group without locant is at position 1.
		one := *g
		one.locants = []locant{{at: g.at, label: "1"}}
		return a.placeLocated(s, &one)
	}
	var found []state
	reason := ""
	for k := range g.rads {
		x := &g.rads[k]
		if x.kind == bridge {
			reason = "a bridging prefix needs two locants"
			continue
		}
		var atoms []int
		for i, y := range s.atoms {
			if y.open && a.room(&s, i) >= x.order() && !a.lengthens(&s, i, x) && a.suits(&s, i, x, nil) {
				atoms = append(atoms, i)
			}
		}
		before := len(found)
		base := s.clone()
		base.take(g, k)
		var choose func(s state, from, left int)
		choose = func(s state, from, left int) {
			if left == 0 {
				found = append(found, s)
				return
			}
			if len(found)-before > maxStates || mixed && len(found) > 1 {
				return
			}
			free := 0
			for _, i := range atoms[from:] {
				free += a.room(&s, i) / x.order()
			}
			for k := from; k < len(atoms) && free >= left; k++ {
				i := atoms[k]
				here := a.room(&s, i) / x.order()
				if here > 0 {
					t := s.clone()
					t.bond(i, x)
					choose(t, k, left-1)
				}
				free -= here
			}
		}
		choose(base, 0, g.count)
		if len(found) == before && reason == "" {
			reason = fmt.Sprintf("%s has no room for %s", a.what(), plural(g.count, "further substituent"))
		}
	}
	if mixed {
		if len(found) > 1 {
			a.wrong(g.at, "other substituents have locants; this one needs one too")
			return nil
		}
		for i := range found {
			found[i].penalty++
		}
	}
	if len(found) > maxStates {
		found = found[:maxStates]
		for i := range found {
			found[i].cut = true
		}
	}
	if len(found) == 0 && reason != "" {
		a.wrong(g.at, reason)
	}
	return found
}
