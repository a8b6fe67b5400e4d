package fit

import (
	"context"

	"ionwright/reading/infer"
)

const seed = 20260101

// Model fits all parts to the samples and says on progress what is done. It
// fails if ctx ends or there are no samples.
func Model(ctx context.Context, samples []Sample, progress func(format string, args ...any)) (*infer.Model, error) {
	m := &infer.Model{}
	structures := map[string]bool{}
	for _, s := range samples {
		structures[s.Key] = true
	}
	m.Provenance.Spectra, m.Provenance.Structures = len(samples), len(structures)
	ion, err := Ion(samples, seed)
	if err != nil {
		return nil, err
	}
	progress("molecular ion: %d trees", ion.Trees.Trees())
	m.Ion = ion
	return m, ctx.Err()
}
