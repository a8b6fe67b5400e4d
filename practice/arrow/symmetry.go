package arrow

import (
	"slices"

	"ionwright/mol"
	"ionwright/practice/answer"
)

// mostEqual is how many equal sets of arrows are listed: more are only ever
// needed for partial marks.
const mostEqual = 48

// Equal are the sets of arrows that symmetry of the drawn structure makes equal
// to a way: the way itself first, each once, at most 48.
func Equal(m *mol.Mol, way []answer.Arrow) [][]answer.Arrow {
	out := [][]answer.Arrow{way}
	s := symmetry{m: m, classes: m.Classes(), image: make([]int, m.NumAtoms()), used: make([]bool, m.NumAtoms())}
	s.visit = func() bool {
		moved := make([]answer.Arrow, len(way))
		for i, a := range way {
			moved[i] = answer.Arrow{Half: a.Half, From: s.place(a.From), To: s.place(a.To)}
		}
		if !slices.ContainsFunc(out, func(have []answer.Arrow) bool { return sameSet(have, moved) }) {
			out = append(out, moved)
		}
		return len(out) < mostEqual
	}
	s.extend(0)
	return out
}

func sameSet(x, y []answer.Arrow) bool {
	return len(x) == len(y) && !slices.ContainsFunc(x, func(a answer.Arrow) bool { return !slices.Contains(y, a) })
}

// symmetry goes through the ways to map a structure onto itself.
type symmetry struct {
	m       *mol.Mol
	classes []int32
	image   []int
	used    []bool
	visit   func() bool
	tried   int
}

// mostTried bounds the search on graphs of high symmetry.
const mostTried = 20_000

// extend maps the atoms from v on; false where enough was found.
func (s *symmetry) extend(v int) bool {
	if v == s.m.NumAtoms() {
		return s.visit()
	}
	for w := range s.m.NumAtoms() {
		if s.tried++; s.tried > mostTried {
			return false
		}
		if s.used[w] || s.classes[v] != s.classes[w] || !s.fits(v, w) {
			continue
		}
		s.image[v], s.used[w] = w, true
		more := s.extend(v + 1)
		if s.used[w] = false; !more {
			return false
		}
	}
	return true
}

// fits tells whether v and w are alike and the bonds from v to the atoms mapped
// before it are there, with the same orders, from w.
func (s *symmetry) fits(v, w int) bool {
	if s.m.Atom(v) != s.m.Atom(w) {
		return false
	}
	for u := range v {
		x, bondX := s.m.BondBetween(v, u)
		y, bondY := s.m.BondBetween(w, s.image[u])
		if bondX != bondY || bondX && s.m.KekuleOrder(x) != s.m.KekuleOrder(y) {
			return false
		}
	}
	return true
}

func (s *symmetry) place(p answer.Place) answer.Place {
	if p.IsAtom() {
		return answer.Place{A: s.image[p.A-1] + 1}
	}
	return pair(s.image[p.A-1], s.image[p.B-1])
}
