package reading

import (
	"fmt"
	"math"
	"strings"

	"ionwright/chem"
	"ionwright/isotope"
	"ionwright/reading/infer"
)

// isGiven is the reason for what the reader was told.
const isGiven = "it is given"

// mostFormulas is how many formulas a reading lists.
const mostFormulas = 20

// keepFormulas puts the ranked formulas, or the given one, into words.
func (d *desk) keepFormulas(ranked []infer.Formula) {
	if f, told := d.formula(); told {
		d.formulas = []FormulaCandidate{{Formula: f, Probability: 1, Reasons: append([]string{isGiven}, d.formulaFacts(f)...)}}
		return
	}
	_, exact := d.exactMass(d.mol)
	for i, f := range ranked {
		if i == mostFormulas && !exact {
			break
		}
		c := FormulaCandidate{Formula: f.Formula, Probability: f.Probability}
		if f.Reasons != nil {
			c.Reasons = append(d.formulaFacts(f.Formula), formulaReasons(f)...)
		}
		d.formulas = append(d.formulas, c)
	}
	d.weighByExactMass()
}

// formulaFacts says what can be checked by hand: rings plus double bonds and
// the isotope pattern.
func (d *desk) formulaFacts(f chem.Formula) []string {
	out := []string{"it has " + plural(int(f.DBE()), "ring or double bond", "rings or double bonds")}
	mass := f.NominalMass()
	r := d.rel(mass)
	if r < 5 {
		return out
	}
	unit := isotope.Unit(f)
	light := unit.At(mass)
	if light <= 0 {
		return out
	}
	for k := 1; k <= 2; k++ {
		expected, seen := unit.At(mass+k)/light*100, d.rel(mass+k)/r*100
		if expected*r/100 < 1 {
			continue // too weak to have been kept
		}
		out = append(out, fmt.Sprintf("its M+%d should be %.1f %% of M and is %.1f %%", k, expected, seen))
	}
	return out
}

// formulaReasons words what moved the ranking, the three strongest.
func formulaReasons(f infer.Formula) []string {
	var out []string
	for _, c := range f.Reasons {
		if len(out) == 3 || math.Abs(c.Weight) < 0.2 {
			break
		}
		speaks := "speaks for it"
		if c.Weight < 0 {
			speaks = "speaks against it"
		}
		switch {
		case strings.HasPrefix(c.Feature, "fragments on "):
			out = append(out, "what the fragments say on "+strings.TrimPrefix(c.Feature, "fragments on ")+" "+speaks)
		case c.Feature == "ion current that no part of the formula explains":
			out = append(out, fmt.Sprintf("%.0f %% of the ion current fits no part of it, which %s", 100*c.Value, speaks))
		case strings.HasPrefix(c.Feature, "peaks that no part"):
			out = append(out, fmt.Sprintf("%s no part of it, which %s", fits(int(c.Value)), speaks))
		case strings.HasPrefix(c.Feature, "M+"):
			out = append(out, "the measured "+strings.Fields(c.Feature)[0]+" "+speaks)
		}
	}
	return out
}

func fits(n int) string {
	switch n {
	case 0:
		return "no peak fits"
	case 1:
		return "one peak fits"
	}
	return fmt.Sprintf("%d peaks fit", n)
}
