package fit

import (
	"context"
	"maps"
	"math/rand/v2"
	"slices"

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
	parts := commonSubstructures(samples)
	for i, s := range samples {
		r.rows[0] = append(r.rows[0], infer.Evidence(s.View, ions[i]))
		r.rows[1] = append(r.rows[1], infer.Evidence(s.View, rightIon(s)))
		labels := infer.Labels(s.Formula, s.Groups)
		for _, name := range parts {
			y := float32(0)
			if slices.Contains(s.Substructures, name) {
				y = 1
			}
			labels = append(labels, y)
		}
		r.labels = append(r.labels, labels)
	}
	return r
}

// How many structures must have a substructure, and which share may, for the
// networks to learn it.
const (
	leastWithPart = 20
	mostWithPart  = 0.9
)

// commonSubstructures lists the substructures worth learning, by name.
func commonSubstructures(samples []Sample) []string {
	with, all := map[string]float64{}, 0.0
	for _, s := range samples {
		if s.Aside {
			continue
		}
		all += s.Weight
		for _, name := range s.Substructures {
			with[name] += s.Weight
		}
	}
	var out []string
	for _, name := range slices.Sorted(maps.Keys(with)) {
		if with[name] >= leastWithPart && with[name] <= mostWithPart*all {
			out = append(out, name)
		}
	}
	return out
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
		Inputs: infer.NetInputs(), One: 192, Two: 96,
		Epochs: epochs, Batch: 32, Rate: 3e-3, Decay: 0.01, Drop: 0.25, Seed: seed,
	}
}

// network fits the network to the rows.
func network(ctx context.Context, rows *networkRows, seed uint64, epochs int) (*net.Net, error) {
	settings := networkSettings(seed, epochs)
	if rows.Len() > 0 {
		settings.Outputs = len(rows.labels[0])
	}
	n, err := net.Fit(ctx, rows, settings)
	if err != nil {
		return nil, err
	}
	return n.First(infer.Outputs()), nil
}
