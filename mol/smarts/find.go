package smarts

import (
	"math"
	"slices"

	"ionwright/mol"
)

// CountAll returns in how many ways the pattern lies on the molecule.
func (mt *Matcher) CountAll(p *Pattern) int {
	n := 0
	for s, ok := mt.begin(p); ok && s.next(); {
		n++
	}
	return n
}

// Find returns each set of atoms on which the pattern lies, once, as the
// first of the ways in which it lies there, in lexical order. Item i is the
// 0-based index of the molecule's atom on which the pattern's atom i lies.
func (mt *Matcher) Find(p *Pattern) [][]int {
	var distinct [][]int
	seen := map[string]bool{}
	var key []byte
	for _, atoms := range mt.FindAll(p) {
		sorted := slices.Clone(atoms)
		slices.Sort(sorted)
		key = key[:0]
		for _, a := range sorted {
			key = append(key, byte(a), byte(a>>8))
		}
		if !seen[string(key)] {
			seen[string(key)] = true
			distinct = append(distinct, atoms)
		}
	}
	return distinct
}

// FindAll returns every way in which the pattern lies on the molecule, in
// lexical order.
func (mt *Matcher) FindAll(p *Pattern) [][]int {
	var all [][]int
	for atoms := range mt.All(p) {
		way := make([]int, len(atoms))
		for i, a := range atoms {
			way[i] = int(a)
		}
		all = append(all, way)
	}
	slices.SortFunc(all, slices.Compare)
	return all
}

// Match says whether the pattern occurs in the molecule. This, Count and Find
// prepare the molecule each time and don't limit the search: for many
// patterns, many molecules, or patterns from strangers use a [Matcher].
func (p *Pattern) Match(m *mol.Mol) bool { return unlimited(m).Match(p) }

// Count returns on how many sets of atoms the pattern lies.
func (p *Pattern) Count(m *mol.Mol) int { return unlimited(m).Count(p) }

// Find returns the sets of atoms on which the pattern lies, as
// [Matcher.Find] does.
func (p *Pattern) Find(m *mol.Mol) [][]int { return unlimited(m).Find(p) }

func unlimited(m *mol.Mol) *Matcher {
	mt := &Matcher{Limit: math.MaxInt}
	mt.Load(m)
	return mt
}
