package candidate

import (
	"math"
	"sync"

	"ionwright/mol"
	"ionwright/mol/smarts"
	"ionwright/reading"
	"ionwright/reading/infer"
)

// What each part of the evidence weighs, in natural logarithms of the odds:
// judged by eye before anything was measured, and not fitted; "go run ./bench
// candidates" tells how well they do.
const (
	weightMatch     = 16.0
	weightExplained = 4.0
	weightClues     = 0.35
)

func (r Ranked) score() float64 {
	return weightMatch*r.Match + weightExplained*r.Explained + weightClues*r.Clues
}

// Probabilities are kept off 0 and 1 before their logarithms are added: the
// groups aren't independent, and a reading is sometimes wrong.
const least = 0.02

// clues adds up how probable the structure's groups, mass and formula are by
// the peaks alone.
func clues(read reading.Reading, m *mol.Mol) float64 {
	sum := 0.0
	patterns := patterns()
	for _, g := range read.Groups {
		p := min(1-least, max(least, g.Probability))
		if pattern, ok := patterns[g.Name]; !ok {
			continue
		} else if !pattern.Match(m) {
			p = 1 - p
		}
		sum += math.Log(p)
	}
	f := m.Formula()
	mass := least
	for _, ion := range read.MolecularIon {
		if ion.MZ == f.NominalMass() {
			mass = max(mass, ion.Probability)
		}
	}
	formula := least * mass
	for _, c := range read.Formulas {
		if c.Formula == f {
			formula = max(formula, c.Probability)
		}
	}
	// Unlike the groups these two count in full: divided by the weight.
	return sum + math.Log(formula)/weightClues
}

// patterns are the patterns of the groups that a spectrum is read for.
var patterns = sync.OnceValue(func() map[string]*smarts.Pattern {
	out := map[string]*smarts.Pattern{}
	for _, g := range infer.Groups {
		if p, err := smarts.Compile(g.SMARTS()); err == nil { // a test compiles them all
			out[g.Name()] = p
		}
	}
	return out
})
