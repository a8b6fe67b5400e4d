package net

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// Both widths give the same bits, so that a fit doesn't depend on the
// processor.
func TestKernelWidths(t *testing.T) {
	if !wide {
		t.Skip("this processor has no registers of eight numbers")
	}
	random := rand.New(rand.NewPCG(5, 6))
	draw := func(n int) []float32 {
		out := make([]float32, n)
		for i := range out {
			out[i] = float32(random.ExpFloat64())
		}
		return out
	}
	for n := 4; n <= 100; n += 4 {
		x, y := draw(n), draw(n)
		narrow, wider := slices.Clone(y), slices.Clone(y)
		axpyNarrow(-1.7, &x[0], &narrow[0], n)
		axpyWide(-1.7, &x[0], &wider[0], n)
		if !slices.Equal(narrow, wider) {
			t.Errorf("%d numbers: a multiple added gives %v and %v", n, narrow, wider)
		}
		var sums, widerSums [16]float32
		dotNarrow(&x[0], &y[0], n, &sums)
		dotWide(&x[0], &y[0], n, &widerSums)
		if sums != widerSums {
			t.Errorf("%d numbers: sums of products %v and %v", n, sums, widerSums)
		}
		c := &adam{0.9, 0.1, 0.999, 0.001, 0.01, 3, 1e-7, 1e-4}
		state := [4][]float32{draw(n), draw(n), draw(n), draw(n)}
		var other [4][]float32
		for k := range state {
			other[k] = slices.Clone(state[k])
		}
		adamNarrow(&state[0][0], &state[1][0], &state[2][0], &state[3][0], n, c)
		adamWide(&other[0][0], &other[1][0], &other[2][0], &other[3][0], n, c)
		for k := range state {
			if !slices.Equal(state[k], other[k]) {
				t.Errorf("%d numbers: a step gives %v and %v", n, state[k], other[k])
			}
		}
	}
}
