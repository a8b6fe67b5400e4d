package fit

import (
	"context"
	"math"

	"ionwright/reading/boost"
	"ionwright/reading/infer"
	"ionwright/reading/net"
)

const seed = 20260101

// Effort says how long the fit is. Default is what the checked-in parameters
// were fitted with: about nine minutes on one core.
type Effort struct {
	Epochs     int // of the networks that leave a fold out
	LastEpochs int // of the networks that stay
	GroupTrees int // per group
	IonTrees   int
	// MixtureTrees are those that tell a mixture.
	MixtureTrees int
}

// Default is the effort of the checked-in parameters.
func Default() Effort {
	return Effort{Epochs: 70, LastEpochs: 90, GroupTrees: 320, IonTrees: 600, MixtureTrees: 150}
}

// Model fits all parts to the samples and says on progress what is done. It
// fails if ctx ends or there are no samples.
//
// The order: the molecular ion first without each fold, so that what builds on
// it sees it as it will be met; then networks and the trees of the groups
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

	folds, err := ionsByFold(ctx, samples, effort)
	if err != nil {
		return nil, err
	}
	ions := make([][]infer.Ion, len(samples))
	for i, s := range samples {
		ions[i] = folds[s.Fold].Raw(s.View)
	}
	progress("molecular ion, without each fold")
	usual := standard(samples)
	if m.Ion, err = Ion(usual, effort.IonTrees, seed); err != nil {
		return nil, err
	}
	m.Ion.Honest = ionCurves(samples, ions)
	progress("molecular ion: %d trees", m.Ion.Trees.Trees())

	mixed, err := newMixtureRows(ctx, usual, func(fold int, v *infer.View) []infer.Ion { return folds[fold].Raw(v) })
	if err != nil {
		return nil, err
	}
	var told float64
	if m.Mixture, told, err = mixture(mixed, effort.MixtureTrees); err != nil {
		return nil, err
	}
	progress("mixtures: %.2f of them are told where %.2f of pure spectra are, too", told, infer.PureAlarms)

	rows := newNetworkRows(samples, ions)
	unseen, err := unseenScores(ctx, rows, effort)
	if err != nil {
		return nil, err
	}
	progress("groups, without each fold")
	m.Groups.Blend = blends(samples, unseen)
	everything := func(Sample) bool { return true }
	if m.Groups.Trees, err = groupTrees(rows, everything, effort.GroupTrees, seed); err != nil {
		return nil, err
	}
	progress("groups: %d trees each", effort.GroupTrees)

	candidates := newFormulaRows(samples, unseen.right)
	if m.Formula, err = formulas(candidates); err != nil {
		return nil, err
	}
	progress("formulas: the right one is among those kept in %.3f", candidates.kept())
	m.Networks = make([]*net.Net, infer.NetworkCount)
	err = parallel(infer.NetworkCount, func(k int) error {
		last, err := network(ctx, rows, seed+50+uint64(k), effort.LastEpochs)
		m.Networks[k] = last
		return err
	})
	if err != nil {
		return nil, err
	}
	progress("%d networks", len(m.Networks))
	return m, ctx.Err()
}

// blends fits the blend of each group's two scores.
func blends(samples []Sample, unseen *unseenOutputs) [][3]float64 {
	var out [][3]float64
	for k, g := range infer.Groups {
		var labels []bool
		var weights, trees, network []float64
		for i, s := range samples {
			if s.Aside {
				continue
			}
			labels, weights = append(labels, s.Groups[g.Name()]), append(weights, s.Weight)
			trees, network = append(trees, unseen.trees[i][k]), append(network, float64(unseen.network[i][k]))
		}
		out = append(out, blend(trees, network, labels, weights))
	}
	return out
}

// ionsByFold fits a model of the molecular ion without each fold.
func ionsByFold(ctx context.Context, samples []Sample, effort Effort) ([]infer.IonModel, error) {
	out := make([]infer.IonModel, Folds)
	return out, parallel(Folds, func(fold int) error {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		var others []Sample
		for _, s := range standard(samples) {
			if s.Fold != fold {
				others = append(others, s)
			}
		}
		var err error
		out[fold], err = Ion(others, effort.IonTrees, seed+10+uint64(fold))
		return err
	})
}

// unseenOutputs are scores of each sample by models that haven't seen its fold.
type unseenOutputs struct {
	trees   [][]float64 // by sample, group
	network [][]float32 // with the inferred ions
	right   [][]float32 // with the right ion
}

// unseenNetworks is how many networks are averaged without each fold: so many
// that their mean is about as good as that of the networks that stay, or the
// blend would trust the latter too little.
const unseenNetworks = 3

func unseenScores(ctx context.Context, rows *networkRows, effort Effort) (*unseenOutputs, error) {
	n := rows.Len()
	out := &unseenOutputs{trees: make([][]float64, n), network: make([][]float32, n), right: make([][]float32, n)}
	networks := make([]*net.Net, Folds*unseenNetworks)
	err := parallel(len(networks), func(k int) error {
		var err error
		networks[k], err = network(ctx, rows.subset(without(k%Folds)), seed+uint64(k)+1, effort.Epochs)
		return err
	})
	if err != nil {
		return nil, err
	}
	for i, s := range rows.samples {
		var ofFold []*net.Net
		for k := s.Fold; k < len(networks); k += Folds {
			ofFold = append(ofFold, networks[k])
		}
		out.network[i] = infer.Scores(ofFold, infer.NetRow(s.View, rows.ions[i], rows.rows[0][i], nil))
		out.right[i] = infer.Scores(ofFold, infer.NetRow(s.View, rightIon(s), rows.rows[1][i], nil))
	}
	for fold := range Folds {
		trees, err := groupTrees(rows, without(fold), effort.GroupTrees, seed+100*uint64(fold+1))
		if err != nil {
			return nil, err
		}
		for i, s := range rows.samples {
			if s.Fold == fold {
				out.trees[i] = scoreAll(trees, rows.rows[0][i])
			}
		}
	}
	return out, ctx.Err()
}

// without accepts the samples of the other folds.
func without(fold int) func(Sample) bool { return func(s Sample) bool { return s.Fold != fold } }

func scoreAll(trees []*boost.Ensemble, row []float32) []float64 {
	out := make([]float64, len(trees))
	for k, t := range trees {
		out[k] = math.Max(-12, math.Min(12, t.Score(row)))
	}
	return out
}
