package candidate

import (
	_ "embed"
	"fmt"
	"math"
	"strconv"
	"strings"
	"sync"

	"ionwright/mol"
	"ionwright/mol/smarts"
	"ionwright/reading"
	"ionwright/reading/infer"
)

// Parts are the parts of the evidence for a structure, or what each weighs, in
// the order of PartNames.
type Parts [4]float64

// PartNames say what the parts are.
var PartNames = [...]string{"match", "explained", "groups", "formula"}

// Score is the weighted sum of a structure's parts: natural logarithms of the
// odds.
func (weights Parts) Score(parts Parts) float64 {
	sum := 0.0
	for k := range parts {
		sum += weights[k] * parts[k]
	}
	return sum
}

// weights.tsv holds a line for each part: its name and what it weighs. Lines
// that start with # are comments. The fit writes it.
//
//go:embed weights.tsv
var weightsFile string

var weights = sync.OnceValues(func() (Parts, error) { return parseWeights(weightsFile) })

func parseWeights(text string) (Parts, error) {
	var out Parts
	found := 0
	for n, line := range strings.Split(text, "\n") {
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		name, value, _ := strings.Cut(line, "\t")
		weight, err := strconv.ParseFloat(value, 64)
		if found == len(PartNames) || name != PartNames[found] || err != nil || !(weight >= 0) || weight > 1e6 {
			return out, fmt.Errorf("weights.tsv: line %d: %q isn't the name of the next part, a tab and its weight", n+1, line)
		}
		out[found] = weight
		found++
	}
	if found < len(PartNames) {
		return out, fmt.Errorf("weights.tsv: %d of %d parts have a weight", found, len(PartNames))
	}
	return out, nil
}

// Parts returns the parts of the structure's evidence.
func (r Ranked) Parts() Parts { return Parts{r.Match, r.Explained, r.Clues, r.Formula} }

// Probabilities are kept off 0 and 1 before their logarithms are added: the
// groups aren't independent, and a reading is sometimes wrong.
const least = 0.02

// groupsLikely is the natural logarithm of how probable the structure's groups
// are by the peaks alone.
func groupsLikely(read reading.Reading, m *mol.Mol) float64 {
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
	return sum
}

// formulaLikely is the natural logarithm of how probable the structure's mass
// and formula are by the peaks alone.
func formulaLikely(read reading.Reading, m *mol.Mol) float64 {
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
	return math.Log(formula)
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
