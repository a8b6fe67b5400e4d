package reading

import (
	"cmp"
	"fmt"
	"math"
	"slices"
)

// exactSpread is the standard error that an exact mass is taken to have, in
// millionths of it: that of a well-calibrated instrument, widened.
const exactSpread = 8

// exactAgreement is the least agreement of the fractions of the m/z with one
// scale (see scale) of exact masses: those of compounds with bromine beside
// hydrocarbon parts lie furthest from one.
const exactAgreement = 0.9

// exactMass returns the m/z of the molecular ion's peak if the data carry exact
// masses: most peaks have decimals beyond the second, and the peak at mz
// is one centroid.
func (d *desk) exactMass(mz int) (float64, bool) {
	fine, found := 0, 0
	exact := 0.0
	for _, p := range d.spectrum.Peaks {
		if rest := math.Abs(p.MZ*100 - math.Round(p.MZ*100)); rest > 0.02 {
			fine++
		}
		if math.Abs(p.MZ-float64(mz)) < 0.5 {
			found++
			exact = p.MZ
		}
	}
	return exact, !d.inexact && found == 1 && 10*fine >= 6*len(d.spectrum.Peaks) && len(d.spectrum.Peaks) <= 2*d.view.Count
}

// weighByExactMass multiplies the formulas' probabilities by how well their
// exact mass, the electron's mass counted, fits the measured one.
func (d *desk) weighByExactMass() {
	exact, ok := d.exactMass(d.mol)
	if _, told := d.formula(); !ok || told {
		return
	}
	sum := 0.0
	weights := make([]float64, len(d.formulas))
	for i, f := range d.formulas {
		off := (exact/float64(f.Formula.WithCharge(1).MZ()) - 1) * 1e6
		weights[i] = f.Probability * math.Exp(-off*off/(2*exactSpread*exactSpread))
		sum += weights[i]
	}
	if sum < 1e-12 {
		d.doubts = append(d.doubts, fmt.Sprintf("No formula that was looked at has the exact mass %.4f of the molecular ion within %d millionths.", exact, 3*exactSpread))
		return
	}
	before := 0.0
	for _, f := range d.formulas {
		before += f.Probability
	}
	for i := range d.formulas {
		f := &d.formulas[i]
		f.Probability = before * weights[i] / sum
		off := (exact/float64(f.Formula.WithCharge(1).MZ()) - 1) * 1e6
		f.Reasons = append([]string{fmt.Sprintf("its exact mass is off by %.1f millionths", off)}, f.Reasons...)
	}
	slices.SortStableFunc(d.formulas, func(a, b FormulaCandidate) int { return cmp.Compare(b.Probability, a.Probability) })
	d.formulas = d.formulas[:min(len(d.formulas), mostFormulas)]
}
