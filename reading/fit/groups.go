package fit

import (
	"math"

	"ionwright/reading/boost"
	"ionwright/reading/infer"
)

// groupTrees fits one tree ensemble per group on the rows that pick accepts.
func groupTrees(rows *networkRows, pick func(Sample) bool, rounds int, seed uint64) ([]*boost.Ensemble, error) {
	var features [][]float32
	var weights []float64
	var samples []Sample
	for i, s := range rows.samples {
		if pick(s) {
			features = append(features, rows.rows[0][i])
			weights = append(weights, s.Weight)
			samples = append(samples, s)
		}
	}
	table := boost.NewTable(features)
	out := make([]*boost.Ensemble, len(infer.Groups))
	return out, parallel(len(infer.Groups), func(k int) error {
		labels := make([]bool, len(samples))
		with, all := 0.5, 1.0
		for i, s := range samples {
			labels[i] = s.Groups[infer.Groups[k].Name()]
			all += weights[i]
			if labels[i] {
				with += weights[i]
			}
		}
		var err error
		rounds := rounds
		if k >= infer.ScoredGroups {
			rounds = (rounds + 1) / 2 // the families are said in passing only
		}
		out[k], err = boost.Fit(table, boost.Logistic(labels, weights), boost.Settings{
			Rounds: rounds, Leaves: 12, MinWeight: 0.5, L2: 1, Rate: 20 / float64(rounds), RowShare: 0.6, FeatureShare: 0.2,
			MinGain: 0.02, Seed: seed + uint64(k), Base: math.Log(with / (all - with)),
		})
		return err
	})
}

// blend returns the weights of trees and network and the offset that make the
// labels most likely, by gradient descent on scores of samples that neither
// had seen. Weights stay positive and near each other's mean of all groups:
// rare groups have few samples.
func blend(trees, network []float64, labels []bool, weights []float64) [3]float64 {
	b := [3]float64{0.6, 0.35, 0}
	for range 600 {
		var g [3]float64
		all := 0.0
		for i, y := range labels {
			p := 1 / (1 + math.Exp(-(b[0]*trees[i] + b[1]*network[i] + b[2])))
			d := p
			if y {
				d--
			}
			d *= weights[i]
			g[0] += d * trees[i]
			g[1] += d * network[i]
			g[2] += d
			all += weights[i]
		}
		const pull = 0.002 // towards where it starts
		b[0] = max(0, b[0]-0.15*(g[0]/all+pull*(b[0]-0.6)))
		b[1] = max(0, b[1]-0.15*(g[1]/all+pull*(b[1]-0.35)))
		b[2] -= 0.3 * (g[2]/all + pull*b[2])
	}
	return b
}
