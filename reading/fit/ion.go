package fit

import (
	"math/rand/v2"

	"ionwright/reading/boost"
	"ionwright/reading/infer"
)

// Ion fits the model of the molecular ion: the table of losses is counted, the
// first look is fitted on the right candidate and a share of the others, and
// the full look on those that pass.
func Ion(samples []Sample, trees int, seed uint64) (infer.IonModel, error) {
	m := infer.IonModel{}
	views := make([]*infer.View, len(samples))
	masses := make([]int, len(samples))
	weights := make([]float64, len(samples))
	for i, s := range samples {
		views[i], masses[i], weights[i] = s.View, s.Mass, s.Weight
	}
	m.Losses = *infer.FitIonTable(views, masses, weights)

	choice := func(list func(*infer.View) ([]int, [][]float32), share float64, set boost.Settings) (*boost.Ensemble, error) {
		random := rand.New(rand.NewPCG(seed, 11))
		var rows [][]float32
		var starts, chosen []int
		for i, v := range views {
			mz, features := list(v)
			starts = append(starts, len(rows))
			right := -1
			for k, x := range mz {
				switch {
				case x == masses[i]:
					right = len(rows)
				case random.Float64() > share:
					continue
				}
				rows = append(rows, features[k])
			}
			chosen = append(chosen, right)
		}
		starts = append(starts, len(rows))
		return boost.Fit(boost.NewTable(rows), boost.Choice(starts, chosen, weights), set)
	}
	var err error
	m.First, err = choice(func(v *infer.View) ([]int, [][]float32) {
		c := infer.Candidates(v)
		return c, infer.IonRows(v, c, &m.Losses)
	}, 0.35, boost.Settings{Rounds: 30, Leaves: 12, MinWeight: 3, L2: 2, Rate: 0.25, RowShare: 1, FeatureShare: 0.3, Seed: seed})
	if err != nil {
		return m, err
	}
	m.Trees, err = choice(m.Shortlist, 1, boost.Settings{Rounds: trees, Leaves: 10, MinWeight: 2, L2: 3, Rate: 30 / float64(trees), RowShare: 0.7, FeatureShare: 0.15, Seed: seed + 1})
	return m, err
}

// ionCurves makes the candidates' probabilities honest. The raw candidates of
// each sample must come from a model that hasn't seen it.
func ionCurves(samples []Sample, raw [][]infer.Ion) (curves [2]infer.Curve) {
	var statements [2][]infer.Statement
	for i, s := range samples {
		if s.Aside {
			continue
		}
		for _, ion := range raw[i] {
			k := infer.Seen(s.View, ion.MZ)
			statements[k] = append(statements[k], infer.Statement{Stated: ion.Probability, True: ion.MZ == s.Mass, Weight: s.Weight})
		}
	}
	for k := range curves {
		curves[k] = infer.FitCurve(statements[k])
	}
	return curves
}
