package fit

import (
	"math/rand/v2"
	"testing"

	"ionwright/ionize"
)

// The instructions for eight columns at a time give the bits of the plain loop,
// so that a fit doesn't depend on the processor.
func TestKernelWidths(t *testing.T) {
	if !wide {
		t.Skip("this processor has no registers of eight numbers")
	}
	random := rand.New(rand.NewPCG(11, 12))
	for range 20 {
		var p, g, sum ionize.Row
		for h := range p {
			p[h], g[h], sum[h] = float32(random.NormFloat64()), float32(random.NormFloat64()), float32(random.ExpFloat64())
		}
		q, sumEight := p, sum
		stepRowPlain(&p, &g, &sum, 0.1, 0.03, 0.01)
		stepRowWide(&q, &g, &sumEight, 0.1, 0.03, 0.01)
		if p != q || sum != sumEight {
			t.Fatalf("a step leads to %v and %v", p, q)
		}
	}
}
