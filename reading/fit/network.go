package fit

import (
	"context"
	"math/rand/v2"

	"ionwright/reading/infer"
	"ionwright/reading/net"
)

// networkRows are the network's data: each sample once with the inferred
// candidates for the molecular ion or, as often, with the right one, so that
// the network serves both when the mass is given and when it isn't.
type networkRows struct {
	samples []Sample
	ions    [][]infer.Ion
	rows    [2][][]float32 // evidence with inferred and with right ions
	labels  [][]float32
}

func newNetworkRows(samples []Sample, ions [][]infer.Ion) *networkRows {
	r := &networkRows{samples: samples, ions: ions}
	for i, s := range samples {
		r.rows[0] = append(r.rows[0], infer.Evidence(s.View, ions[i]))
		r.rows[1] = append(r.rows[1], infer.Evidence(s.View, rightIon(s)))
		r.labels = append(r.labels, infer.Labels(s.Formula, s.Groups))
	}
	return r
}

func rightIon(s Sample) []infer.Ion { return []infer.Ion{{MZ: s.Mass, Probability: 1}} }

// subset returns the rows of the samples that pick accepts.
func (r *networkRows) subset(pick func(Sample) bool) *networkRows {
	out := &networkRows{}
	for i, s := range r.samples {
		if !pick(s) {
			continue
		}
		out.samples = append(out.samples, s)
		out.ions = append(out.ions, r.ions[i])
		out.rows[0] = append(out.rows[0], r.rows[0][i])
		out.rows[1] = append(out.rows[1], r.rows[1][i])
		out.labels = append(out.labels, r.labels[i])
	}
	return out
}

func (r *networkRows) Len() int { return len(r.samples) }

func (r *networkRows) Row(i int, random *rand.Rand) []net.Input {
	if random.IntN(2) == 0 {
		return infer.NetRow(r.samples[i].View, rightIon(r.samples[i]), r.rows[1][i], random)
	}
	return infer.NetRow(r.samples[i].View, r.ions[i], r.rows[0][i], random)
}

func (r *networkRows) Labels(i int) []float32 { return r.labels[i] }

func (r *networkRows) Weight(i int) float32 { return float32(r.samples[i].Weight) }

func networkSettings(seed uint64, epochs int) net.Settings {
	return net.Settings{
		Inputs: infer.NetInputs(), One: 192, Two: 96, Outputs: infer.Outputs(),
		Epochs: epochs, Batch: 32, Rate: 3e-3, Decay: 0.01, Drop: 0.25, Seed: seed,
	}
}

// network fits the network to the rows.
func network(ctx context.Context, rows *networkRows, seed uint64, epochs int) (*net.Net, error) {
	return net.Fit(ctx, rows, networkSettings(seed, epochs))
}
