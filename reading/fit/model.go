package fit

import (
	"context"
	"math"

	"ionwright/reading/boost"
	"ionwright/reading/infer"
)

const seed = 20260101

// Effort says how long the fit is. Default is what the checked-in parameters
// were fitted with: about ten minutes on one core.
type Effort struct {
	Epochs     int // of the networks that leave a fold out
	LastEpochs int // of the networks that stay
	GroupTrees int // per group
	IonTrees   int
}

// Default is the effort of the checked-in parameters.
func Default() Effort { return Effort{Epochs: 110, LastEpochs: 160, GroupTrees: 400, IonTrees: 600} }

// Model fits all parts to the samples and says on progress what is done. It
// fails if ctx ends or there are no samples.
//
// The order: the molecular ion first without each fold, so that what builds on
// it sees it as it will be met; then a network and the trees of the groups
// without each fold, from which their blend and the ranking of formulas are
// fitted; then all of them on everything, the network several times from
// different starts, over which the model averages.
func Model(ctx context.Context, samples []Sample, effort Effort, progress func(format string, args ...any)) (*infer.Model, error) {
	m := &infer.Model{}
	structures := map[string]bool{}
	for _, s := range samples {
		structures[s.Key] = true
	}
	m.Provenance.Spectra, m.Provenance.Structures = len(samples), len(structures)

	ions, err := unseenIons(ctx, samples, effort)
	if err != nil {
		return nil, err
	}
	progress("molecular ion, without each fold")
	if m.Ion, err = Ion(samples, effort.IonTrees, seed); err != nil {
		return nil, err
	}
	m.Ion.Honest = ionCurves(samples, ions)
	progress("molecular ion: %d trees", m.Ion.Trees.Trees())

	rows := newNetworkRows(samples, ions)
	unseen, err := unseenScores(ctx, rows, effort, progress)
	if err != nil {
		return nil, err
	}
	for k, g := range infer.Groups {
		labels := make([]bool, len(samples))
		weights := make([]float64, len(samples))
		trees, network := make([]float64, len(samples)), make([]float64, len(samples))
		for i, s := range samples {
			labels[i], weights[i] = s.Groups[g.Name()], s.Weight
			trees[i], network[i] = unseen.trees[i][k], float64(unseen.network[i][k])
		}
		m.Groups.Blend = append(m.Groups.Blend, blend(trees, network, labels, weights))
	}
	everything := func(Sample) bool { return true }
	if m.Groups.Trees, err = groupTrees(rows, everything, effort.GroupTrees, seed); err != nil {
		return nil, err
	}
	progress("groups: %d trees each", effort.GroupTrees)

	formula, kept, err := formulas(samples, unseen.right, everything, seed)
	if err != nil {
		return nil, err
	}
	m.Formula.Trees = formula.Trees
	if m.Formula.Honest, err = formulaCurve(samples, unseen.right); err != nil {
		return nil, err
	}
	progress("formulas: the right one is among those kept in %.3f", kept)
	for k := range infer.NetworkCount {
		last, err := network(ctx, rows, seed+50+uint64(k), effort.LastEpochs)
		if err != nil {
			return nil, err
		}
		m.Networks = append(m.Networks, last)
		progress("network %d", k+1)
	}
	return m, ctx.Err()
}

// unseenIons ranks the candidates of each sample with a model that hasn't seen
// its fold.
func unseenIons(ctx context.Context, samples []Sample, effort Effort) ([][]infer.Ion, error) {
	out := make([][]infer.Ion, len(samples))
	for fold := range Folds {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		var others []Sample
		for _, s := range samples {
			if s.Fold != fold {
				others = append(others, s)
			}
		}
		m, err := Ion(others, effort.IonTrees, seed+10+uint64(fold))
		if err != nil {
			return nil, err
		}
		for i, s := range samples {
			if s.Fold == fold {
				out[i] = m.Raw(s.View)
			}
		}
	}
	return out, nil
}

// unseenOutputs are scores of each sample by models that haven't seen its fold.
type unseenOutputs struct {
	trees   [][]float64 // by sample, group
	network [][]float32 // with the inferred ions
	right   [][]float32 // with the right ion
}

func unseenScores(ctx context.Context, rows *networkRows, effort Effort, progress func(string, ...any)) (*unseenOutputs, error) {
	n := rows.Len()
	out := &unseenOutputs{trees: make([][]float64, n), network: make([][]float32, n), right: make([][]float32, n)}
	for fold := range Folds {
		others := func(s Sample) bool { return s.Fold != fold }
		trees, err := groupTrees(rows, others, effort.GroupTrees, seed+100*uint64(fold+1))
		if err != nil {
			return nil, err
		}
		progress("groups without fold %d", fold)
		network, err := network(ctx, rows.subset(others), seed+uint64(fold)+1, effort.Epochs)
		if err != nil {
			return nil, err
		}
		progress("network without fold %d", fold)
		for i, s := range rows.samples {
			if s.Fold != fold {
				continue
			}
			out.network[i] = network.Scores(infer.NetRow(s.View, rows.ions[i], rows.rows[0][i], nil))
			out.right[i] = network.Scores(infer.NetRow(s.View, rightIon(s), rows.rows[1][i], nil))
			out.trees[i] = scoreAll(trees, rows.rows[0][i])
		}
	}
	return out, nil
}

func scoreAll(trees []*boost.Ensemble, row []float32) []float64 {
	out := make([]float64, len(trees))
	for k, t := range trees {
		out[k] = math.Max(-12, math.Min(12, t.Score(row)))
	}
	return out
}
