package fit

import (
	"math"

	"ionwright/reading/boost"
	"ionwright/reading/infer"
)

// formulaFitMass is the highest nominal mass that the formula model is fitted
// on.
const formulaFitMass = 320

// formulas fits the ranking of formulas: scores are the network's with the
// right mass, of networks that hadn't seen the sample.
func formulas(samples []Sample, scores [][]float32, pick func(Sample) bool, seed uint64) (*infer.FormulaModel, float64, error) {
	m := &infer.FormulaModel{}
	var rows [][]float32
	var starts, chosen []int
	var weights []float64
	kept, all := 0.0, 0.0
	for i, s := range samples {
		if s.Mass > formulaFitMass || !pick(s) {
			continue
		}
		all += s.Weight
		list, features := m.FormulaRows(s.View, s.Mass, scores[i])
		right := -1
		for k, f := range list {
			if f == s.Formula {
				right = len(rows) + k
			}
		}
		if right >= 0 {
			kept += s.Weight
		}
		starts = append(starts, len(rows))
		chosen = append(chosen, right)
		weights = append(weights, s.Weight)
		rows = append(rows, features...)
	}
	starts = append(starts, len(rows))
	var err error
	m.Trees, err = boost.Fit(boost.NewTable(rows), boost.Choice(starts, chosen, weights), boost.Settings{
		Rounds: 300, Leaves: 10, MinWeight: 2, L2: 3, Rate: 0.05, RowShare: 0.7, FeatureShare: 0.35, Seed: seed,
	})
	return m, kept / math.Max(all, 1), err
}

// formulaCurve makes the formulas' probabilities honest, on a fold that the
// trees had not seen.
func formulaCurve(samples []Sample, scores [][]float32) (infer.Curve, error) {
	seen := func(s Sample) bool { return s.Fold != 0 }
	m, _, err := formulas(samples, scores, seen, seed+7)
	if err != nil {
		return infer.Curve{}, err
	}
	var statements []infer.Statement
	for i, s := range samples {
		if seen(s) || s.Mass > formulaFitMass {
			continue
		}
		for _, f := range m.Rank(s.View, s.Mass, scores[i], 0) {
			statements = append(statements, infer.Statement{Stated: f.Probability, True: f.Formula == s.Formula, Weight: s.Weight})
		}
	}
	return infer.FitCurve(statements), nil
}
