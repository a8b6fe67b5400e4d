package reading

import "ionwright/chem"

// Alternatives that need atoms which no likely formula has only confuse: they
// are left out where the formulas listed are almost surely all that come in
// question.
const (
	almostAll     = 0.9 // of the probability of all formulas
	likelyFormula = 0.01
)

// likely tells whether a likely formula holds the atoms; true where the
// formulas aren't sure enough.
func (d *desk) likely(part chem.Formula) bool {
	sum := 0.0
	for _, f := range d.formulas {
		if f.Probability >= likelyFormula {
			sum += f.Probability
		}
	}
	if sum < almostAll {
		return true
	}
	for _, f := range d.formulas {
		if f.Probability >= likelyFormula && f.Formula.Contains(part.WithCharge(0)) {
			return true
		}
	}
	return false
}

// likelyLosses keeps the neutrals that are likely.
func (d *desk) likelyLosses(all []LossAssignment) []LossAssignment {
	var out []LossAssignment
	for _, l := range all {
		if d.likely(l.Formula) {
			out = append(out, l)
		}
	}
	return out
}

// likelyIons keeps the ions that are likely.
func (d *desk) likelyIons(all []Assignment) []Assignment {
	var out []Assignment
	for _, a := range all {
		if d.likely(a.Formula) {
			out = append(out, a)
		}
	}
	return out
}
