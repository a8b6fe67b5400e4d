package fit

import (
	"cmp"
	"context"
	"math"
	"math/rand/v2"
	"slices"

	"ionwright/reading/boost"
	"ionwright/reading/infer"
	"ionwright/spectrum"
)

// mixtureRows are pure spectra and, for each, mixtures with another compound
// of the same fold: with the inferred molecular ion and with the right one of
// the stronger compound.
type mixtureRows struct {
	rows    [][]float32
	mixed   []bool
	weights []float64
	folds   []int
}

// The other compound's base peak has this share of the first one's, in %, and
// all shares between are as likely on a scale of ratios.
const (
	leastMixed = 10.0
	mostMixed  = 100.0
)

// newMixtureRows mixes the samples; rank gives the candidates for the molecular
// ion of a view by a model that hasn't seen the fold.
func newMixtureRows(ctx context.Context, samples []Sample, rank func(fold int, v *infer.View) []infer.Ion) (*mixtureRows, error) {
	byFold := make([][]Sample, Folds)
	for _, s := range samples {
		byFold[s.Fold] = append(byFold[s.Fold], s)
	}
	random := rand.New(rand.NewPCG(seed, 31))
	out := &mixtureRows{}
	add := func(s Sample, v *infer.View, mixed bool) {
		ions := rank(s.Fold, v)
		for _, ions := range [...][]infer.Ion{ions, rightIon(s)} {
			if len(ions) == 0 {
				continue
			}
			out.rows = append(out.rows, infer.MixtureRow(v, ions))
			out.mixed = append(out.mixed, mixed)
			out.weights = append(out.weights, s.Weight)
			out.folds = append(out.folds, s.Fold)
		}
	}
	for _, s := range samples {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		add(s, s.View, false)
		other := byFold[s.Fold][random.IntN(len(byFold[s.Fold]))]
		if other.Key == s.Key {
			continue
		}
		percent := leastMixed * math.Pow(mostMixed/leastMixed, random.Float64())
		add(s, mix(s.Spectrum, other.Spectrum, percent), true)
	}
	return out, nil
}

// mix is the view of a spectrum and another whose base peak has percent of the
// first one's.
func mix(s, other spectrum.Spectrum, percent float64) *infer.View {
	base, _ := s.Base()
	peaks := slices.Clone(s.Peaks)
	for _, p := range other.Scaled(100).Peaks {
		peaks = append(peaks, spectrum.Peak{MZ: p.MZ, Intensity: p.Intensity * percent / 1e4 * base.Intensity})
	}
	return infer.NewView(spectrum.Spectrum{Peaks: peaks})
}

// trees fits the model on the rows whose fold isn't the one left out.
func (r *mixtureRows) trees(without int, rounds int) (*boost.Ensemble, error) {
	var rows [][]float32
	var mixed []bool
	var weights []float64
	for i := range r.rows {
		if r.folds[i] != without {
			rows, mixed, weights = append(rows, r.rows[i]), append(mixed, r.mixed[i]), append(weights, r.weights[i])
		}
	}
	return boost.Fit(boost.NewTable(rows), boost.Logistic(mixed, weights), boost.Settings{
		Rounds: rounds, Leaves: 16, MinWeight: 2, L2: 2, Rate: 20 / float64(rounds), RowShare: 0.6, FeatureShare: 0.15, MinGain: 0.02, Seed: seed + 61,
	})
}

// mixture fits the model and the score from which it speaks, which
// infer.PureAlarms of the pure spectra reach whose fold was left out. It also
// returns the share of the mixtures that reach it.
func mixture(r *mixtureRows, rounds int) (m infer.MixtureModel, found float64, err error) {
	type scored struct{ score, weight float64 }
	var pure, mixed []scored
	trees := make([]*boost.Ensemble, Folds+1) // the last is fitted on all
	err = parallel(len(trees), func(k int) error {
		var err error
		trees[k], err = r.trees(k, rounds)
		return err
	})
	if err != nil {
		return m, 0, err
	}
	m.Trees = trees[Folds]
	for i, row := range r.rows {
		s := scored{trees[r.folds[i]].Score(row), r.weights[i]}
		if r.mixed[i] {
			mixed = append(mixed, s)
		} else {
			pure = append(pure, s)
		}
	}
	slices.SortFunc(pure, func(a, b scored) int { return cmp.Compare(b.score, a.score) })
	all, above := 0.0, 0.0
	for _, s := range pure {
		all += s.weight
	}
	for _, s := range pure {
		if above += s.weight; above > infer.PureAlarms*all {
			m.Alarm = s.score
			break
		}
	}
	over, whole := 0.0, 0.0
	for _, s := range mixed {
		whole += s.weight
		if s.score >= m.Alarm {
			over += s.weight
		}
	}
	return m, over / math.Max(whole, 1e-9), nil
}
