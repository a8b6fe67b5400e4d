package compose

import "ionwright/chem"

// Candidate is a formula that fits an exact mass.
type Candidate struct {
	Formula chem.Formula
	Error   chem.Mass // mass of the formula less the given one, in Da
}

// PPM returns the error in millionths of the formula's mass; 0 for a formula
// without mass.
func (c Candidate) PPM() float64 {
	m := c.Formula.MonoisotopicMass()
	if m == 0 {
		return 0
	}
	return float64(c.Error) / float64(m) * 1e6
}
