package rival

import (
	"fmt"
	"slices"
	"strings"

	"ionwright/chem"
	"ionwright/mol"
	"ionwright/mol/groups"
	"ionwright/mol/smarts"
)

// Fact is a piece of information that students can be given.
type Fact struct {
	Name string // "kinds of carbon atom"
	Says string // "kinds of carbon atom: 3"
}

// property is what a fact states the value of.
type property struct {
	name  string
	value func(m *mol.Mol) string
	says  func(value string) string
}

// mostFacts is how many facts together are tried.
const mostFacts = 3

// decide finds the fewest facts that exclude every rival of the verdict or
// worse; nil where there are none, or no facts that do.
func (s *search) decide(from Verdict) []Fact {
	var rivals []*mol.Mol
	for _, r := range s.result.Rivals {
		if r.Verdict >= from {
			rivals = append(rivals, r.Mol)
		}
	}
	if len(rivals) == 0 {
		return nil
	}
	var facts []Fact
	var excluded [][]bool // by fact and rival
	for _, p := range s.properties() {
		own := p.value(s.answer.Mol)
		row := make([]bool, len(rivals))
		for i, m := range rivals {
			row[i] = p.value(m) != own
		}
		if slices.Contains(row, true) {
			facts = append(facts, Fact{p.name, p.says(own)})
			excluded = append(excluded, row)
		}
	}
	for size := 1; size <= mostFacts; size++ {
		chosen := cover(excluded, make([]bool, len(rivals)), 0, size)
		var out []Fact
		for _, i := range chosen {
			out = append(out, facts[i])
		}
		if chosen != nil {
			return out
		}
	}
	return nil
}

// cover chooses rows from the first on that together cover what isn't yet.
func cover(rows [][]bool, covered []bool, first, size int) []int {
	if !slices.Contains(covered, false) {
		return []int{}
	}
	if size == 0 {
		return nil
	}
	for i := first; i < len(rows); i++ {
		with := slices.Clone(covered)
		for j, x := range rows[i] {
			with[j] = with[j] || x
		}
		if slices.Equal(with, covered) {
			continue
		}
		if rest := cover(rows, with, i+1, size-1); rest != nil {
			return append([]int{i}, rest...)
		}
	}
	return nil
}

// properties are the facts tried, those first that an instructor would give
// first.
func (s *search) properties() []property {
	named := func(name string) func(string) string {
		return func(value string) string { return name + ": " + value }
	}
	var all []property
	known := slices.Concat(s.problem.Groups, s.problem.Absent)
	for _, g := range groups.All() {
		pattern, ok := groups.Pattern(g.Name)
		if !ok || slices.Contains(known, g.Name) {
			continue
		}
		all = append(all, property{"group", func(m *mol.Mol) string {
			if pattern.Match(m) {
				return "there"
			}
			return "absent"
		}, named(g.Name)})
	}
	methyl := smarts.MustCompile("[CX4;H3]")
	all = append(all,
		property{"methyl groups", func(m *mol.Mol) string { return fmt.Sprint(methyl.Count(m)) }, named("number of methyl groups")},
		property{"equivalent methyl groups", methyls, named("methyl groups by equivalence")},
		property{"places on the ring", func(m *mol.Mol) string {
			if r, ok := substituents(m); ok {
				return r.pattern()
			}
			return "no ring with several groups"
		}, named("places of the groups on the benzene ring (infrared, below 900 cm\u207b\u00b9)")},
		property{"kinds of carbon atom", func(m *mol.Mol) string {
			return kinds(m, func(a mol.Atom) bool { return a.Element == chem.C })
		}, named("kinds of carbon atom")},
		property{"kinds of hydrogen atom", func(m *mol.Mol) string {
			return kinds(m, func(a mol.Atom) bool { return a.Hydrogens > 0 })
		}, named("kinds of hydrogen atom")},
	)
	if !s.problem.FormulaGiven {
		all = append(all, property{"formula", func(m *mol.Mol) string { return m.Formula().String() }, func(v string) string {
			return fmt.Sprintf("exact mass %.4f Da, so the formula is %s", float64(chem.MustFormula(v).MonoisotopicMass()), v)
		}})
	}
	return all
}

// methyls says how many methyl groups are equivalent: "3 + 1".
func methyls(m *mol.Mol) string {
	count := map[int32]int{}
	for v, class := range m.Classes() {
		if a := m.Atom(v); a.Element == chem.C && a.Hydrogens == 3 {
			count[class]++
		}
	}
	var sizes []string
	for _, n := range count {
		sizes = append(sizes, fmt.Sprint(n))
	}
	if len(sizes) == 0 {
		return "none"
	}
	slices.Sort(sizes)
	slices.Reverse(sizes)
	return strings.Join(sizes, " + ")
}

// kinds is how many different atoms of some sort there are.
func kinds(m *mol.Mol, counts func(mol.Atom) bool) string {
	classes := map[int32]bool{}
	for v, class := range m.Classes() {
		if counts(m.Atom(v)) {
			classes[class] = true
		}
	}
	return fmt.Sprint(len(classes))
}
