package ionize

import (
	"slices"

	"ionwright/chem"
)

// spot is a place of electrons in a frame: a pair of atoms or an atom.
type spot struct {
	pair bool
	at   int
}

// flight is electrons going from one spot to another.
type flight struct {
	from, to  spot
	electrons int8
}

// changes lists the spots that lose and those that gain electrons between two
// forms, with how many.
func (f *frame) changes(before, after *lewis) (losing, gaining []flight) {
	note := func(s spot, change int8) {
		switch {
		case change < 0:
			losing = append(losing, flight{from: s, electrons: -change})
		case change > 0:
			gaining = append(gaining, flight{to: s, electrons: change})
		}
	}
	for p := range f.pairs {
		note(spot{true, p}, after.shared(p)-before.shared(p))
	}
	for i := range f.atoms {
		note(spot{false, i}, f.loose(after, i)-f.loose(before, i))
	}
	return losing, gaining
}

// reaches reports whether one arrow can lead from one spot to the other:
// between an atom and a pair that holds it, or between two pairs that share an
// atom. An electron never jumps from atom to atom.
func (f *frame) reaches(from, to spot) bool {
	switch {
	case !from.pair && !to.pair:
		return false
	case !from.pair:
		return f.pairs[to.at][0] == from.at || f.pairs[to.at][1] == from.at
	case !to.pair:
		return f.pairs[from.at][0] == to.at || f.pairs[from.at][1] == to.at
	}
	p, q := f.pairs[from.at], f.pairs[to.at]
	return p[0] == q[0] || p[0] == q[1] || p[1] == q[0] || p[1] == q[1]
}

// mostArrows is the number of arrows above which a panel would show nothing.
const mostArrows = 12

// flights finds the arrows that lead from one form to another, as few as there
// can be, and of these such that hydrogens move without their electrons where
// they can; false where no arrows do, because an electron would have to jump.
func (f *frame) flights(before, after *lewis) ([]flight, bool) {
	losing, gaining := f.changes(before, after)
	if len(losing) > mostArrows || len(gaining) > mostArrows {
		return nil, false
	}
	t := transport{frame: f, losing: losing, gaining: gaining, budget: 4000}
	if !t.balanced() {
		return nil, false
	}
	t.assign(0)
	return t.best, t.found
}

// transport is the search for the fewest arrows.
type transport struct {
	frame           *frame
	losing, gaining []flight
	current, best   []flight
	cost, least     int // two for each arrow, one for each hydride
	found           bool
	budget          int // of trials, so that odd cases end
}

func (t *transport) balanced() bool {
	lost, gained := int8(0), int8(0)
	for _, s := range t.losing {
		lost += s.electrons
	}
	for _, s := range t.gaining {
		gained += s.electrons
	}
	return lost == gained
}

// assign gives the electrons of the k-th losing spot and those after it a spot
// to go to.
func (t *transport) assign(k int) {
	if t.budget--; t.budget < 0 || t.found && t.cost >= t.least {
		return
	}
	for k < len(t.losing) && t.losing[k].electrons == 0 {
		k++
	}
	if k == len(t.losing) {
		t.best, t.least, t.found = slices.Clone(t.current), t.cost, true
		return
	}
	source := &t.losing[k]
	for electrons := min(source.electrons, 2); electrons >= 1; electrons-- {
		for g := range t.gaining {
			sink := &t.gaining[g]
			if sink.electrons < electrons || !t.frame.reaches(source.from, sink.to) || t.repeats(source.from, sink.to) {
				continue
			}
			source.electrons -= electrons
			sink.electrons -= electrons
			price := 2
			if electrons == 2 && t.frame.hydride(source.from, sink.to) {
				price++
			}
			t.cost += price
			t.current = append(t.current, flight{source.from, sink.to, electrons})
			t.assign(k)
			t.current = t.current[:len(t.current)-1]
			t.cost -= price
			source.electrons += electrons
			sink.electrons += electrons
		}
	}
}

// hydride reports whether an arrow between two pairs takes a hydrogen along
// with its electrons.
func (f *frame) hydride(from, to spot) bool {
	if !from.pair || !to.pair {
		return false
	}
	for _, i := range f.pairs[from.at] {
		if f.atoms[i].element == chem.H && (f.pairs[to.at][0] == i || f.pairs[to.at][1] == i) {
			return true
		}
	}
	return false
}

// repeats reports whether an arrow from one spot to the other is there already:
// two single electrons on one way are a pair.
func (t *transport) repeats(from, to spot) bool {
	for _, a := range t.current {
		if a.from == from && a.to == to {
			return a.electrons == 1
		}
	}
	return false
}
