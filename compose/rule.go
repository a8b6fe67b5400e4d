package compose

import "ionwright/chem"

// Rule is a heuristic that keeps or rejects a formula. None is applied unless
// a [Space] lists it: each of them rejects some formulas of real molecules.
type Rule struct {
	Name   string // short, for an option: "senior"
	Doc    string // what it demands, in a sentence
	Source string // where it comes from
	Holds  func(chem.Formula) bool
}

const (
	senior1951 = "Senior, Partitions and their representative graphs, Am. J. Math. 73 (1951) 663"
	golden2007 = "Kind and Fiehn, Seven Golden Rules for heuristic filtering of molecular formulas obtained by accurate mass spectrometry, BMC Bioinformatics 8 (2007) 105"
)

// Rules returns all rules, in the order in which they are documented. The
// slice is the caller's.
func Rules() []Rule {
	return []Rule{
		{"senior", "the valences let all atoms hang together: the sum of the highest is at least twice the number of atoms less 2, no atom needs more bonds than the others have, and a neutral formula has an even number of atoms with odd valence", senior1951, senior},
		{"counts", "no element more often than in any molecule of that mass in two large collections (C, H, N, O, P, S, F, Cl, Br, Si; up to 3000 Da)", golden2007 + ", table 1", counts},
		{"hydrogen", "0.1 to 6 hydrogen atoms for each carbon atom (99.99 % of real formulas); formulas without carbon pass", golden2007 + ", table 2, extended range", ratios(extendedHydrogen)},
		{"heteroatoms", "for each carbon atom at most 6 F, 2 Cl, 2 Br, 4 N, 3 O, 2 P, 3 S, 1 Si (99.99 % of real formulas); formulas without carbon pass", golden2007 + ", table 2, extended range", ratios(extendedHeteroatoms)},
		{"hydrogen-common", "0.2 to 3.1 hydrogen atoms for each carbon atom (99.7 % of real formulas); formulas without carbon pass", golden2007 + ", table 2, common range", ratios(commonHydrogen)},
		{"heteroatoms-common", "for each carbon atom at most 1.5 F, 0.8 Cl, 0.8 Br, 1.3 N, 1.2 O, 0.3 P, 0.8 S, 0.5 Si (99.7 % of real formulas); formulas without carbon pass", golden2007 + ", table 2, common range", ratios(commonHeteroatoms)},
		{"combinations", "where several of N, O, P, S occur together, none of them too often", golden2007 + ", table 3", combinations},
	}
}

// RuleNamed returns the rule with that name, and false where there is none.
func RuleNamed(name string) (Rule, bool) {
	for _, r := range Rules() {
		if r.Name == name {
			return r, true
		}
	}
	return Rule{}, false
}

// ratio bounds the number of atoms of an element for each carbon atom.
type ratio struct {
	element   chem.Element
	low, high float64
}

// ratios returns the check of all the bounds.
func ratios(bounds []ratio) func(chem.Formula) bool {
	return func(f chem.Formula) bool {
		carbon := float64(f.Count(chem.C))
		if carbon == 0 {
			return true
		}
		for _, b := range bounds {
			if n := float64(f.Count(b.element)); n < b.low*carbon || n > b.high*carbon {
				return false
			}
		}
		return true
	}
}

// The bounds of table 2 of Kind and Fiehn 2007, from 45,000 formulas of 30 to
// 1500 Da.
var (
	extendedHydrogen    = []ratio{{chem.H, 0.1, 6}}
	commonHydrogen      = []ratio{{chem.H, 0.2, 3.1}}
	extendedHeteroatoms = []ratio{{chem.F, 0, 6}, {chem.Cl, 0, 2}, {chem.Br, 0, 2}, {chem.N, 0, 4}, {chem.O, 0, 3}, {chem.P, 0, 2}, {chem.S, 0, 3}, {chem.Si, 0, 1}}
	commonHeteroatoms   = []ratio{{chem.F, 0, 1.5}, {chem.Cl, 0, 0.8}, {chem.Br, 0, 0.8}, {chem.N, 0, 1.3}, {chem.O, 0, 1.2}, {chem.P, 0, 0.3}, {chem.S, 0, 0.8}, {chem.Si, 0, 0.5}}
)

// combinations is table 3 of Kind and Fiehn 2007, for masses below 2000 Da.
func combinations(f chem.Formula) bool {
	n, o, p, s := f.Count(chem.N), f.Count(chem.O), f.Count(chem.P), f.Count(chem.S)
	switch {
	case min(n, o, p, s) > 1 && !(n < 10 && o < 20 && p < 4 && s < 3):
	case min(n, o, p) > 3 && !(n < 11 && o < 22 && p < 6):
	case min(o, p, s) > 1 && !(o < 14 && p < 3 && s < 3):
	case min(p, s, n) > 1 && !(p < 3 && s < 3 && n < 4):
	case min(n, o, s) > 6 && !(n < 19 && o < 14 && s < 8):
	default:
		return true
	}
	return false
}
