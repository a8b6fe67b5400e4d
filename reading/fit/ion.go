package fit

import (
	"math"

	"ionwright/reading/boost"
	"ionwright/reading/infer"
)

// Ion fits the model of the molecular ion: the table of losses is counted,
// the first look is fitted on all candidates and the full look on those that
// pass.
func Ion(samples []Sample, seed uint64) (infer.IonModel, error) {
	m := infer.IonModel{Temperature: 1}
	views := make([]*infer.View, len(samples))
	masses := make([]int, len(samples))
	weights := make([]float64, len(samples))
	for i, s := range samples {
		views[i], masses[i], weights[i] = s.View, s.Mass, s.Weight
	}
	m.Losses = *infer.FitIonTable(views, masses, weights)

	choice := func(list func(*infer.View) ([]int, [][]float32), set boost.Settings) (*boost.Ensemble, error) {
		var rows [][]float32
		var starts, chosen []int
		for i, v := range views {
			mz, features := list(v)
			starts = append(starts, len(rows))
			right := -1
			for k, x := range mz {
				if x == masses[i] {
					right = len(rows) + k
				}
			}
			chosen = append(chosen, right)
			rows = append(rows, features...)
		}
		starts = append(starts, len(rows))
		return boost.Fit(boost.NewTable(rows), boost.Choice(starts, chosen, weights), set)
	}
	var err error
	m.First, err = choice(func(v *infer.View) ([]int, [][]float32) {
		c := infer.Candidates(v)
		return c, infer.IonRows(v, c, &m.Losses)
	}, boost.Settings{Rounds: 30, Leaves: 12, MinWeight: 3, L2: 2, Rate: 0.25, RowShare: 1, FeatureShare: 0.3, Seed: seed})
	if err != nil {
		return m, err
	}
	m.Trees, err = choice(m.Shortlist, boost.Settings{Rounds: 400, Leaves: 12, MinWeight: 2, L2: 3, Rate: 0.06, RowShare: 0.8, FeatureShare: 0.25, Seed: seed + 1})
	return m, err
}

// Temperature returns the divisor of the scores that makes the probabilities
// of the true candidates most likely: the spectra must not be those of the
// fit.
func Temperature(m infer.IonModel, samples []Sample) float64 {
	best, at := math.Inf(-1), 1.0
	for t := 0.6; t < 2.5; t += 0.05 {
		m.Temperature = t
		sum := 0.0
		for _, s := range samples {
			p := 1e-4
			for _, ion := range m.Rank(s.View) {
				if ion.MZ == s.Mass {
					p = max(p, ion.Probability)
				}
			}
			sum += s.Weight * math.Log(p)
		}
		if sum > best {
			best, at = sum, t
		}
	}
	return at
}
