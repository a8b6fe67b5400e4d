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
	m := &infer.FormulaModel{Temperature: 1}
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

// formulaTemperature returns the divisor of the scores that makes the right
// formulas most likely, on a fold that the trees had not seen; 1 at least.
func formulaTemperature(samples []Sample, scores [][]float32) (float64, error) {
	seen := func(s Sample) bool { return s.Fold != 0 }
	m, _, err := formulas(samples, scores, seen, seed+7)
	if err != nil {
		return 1, err
	}
	best, at := math.Inf(-1), 1.0
	for t := 1.0; t < 2; t += 0.1 {
		m.Temperature = t
		sum := 0.0
		for i, s := range samples {
			if seen(s) || s.Mass > formulaFitMass {
				continue
			}
			p := 1e-4
			for _, f := range m.Rank(s.View, s.Mass, scores[i], 0) {
				if f.Formula == s.Formula {
					p = max(p, f.Probability)
				}
			}
			sum += s.Weight * math.Log(p)
		}
		if sum > best {
			best, at = sum, t
		}
	}
	return at, nil
}
