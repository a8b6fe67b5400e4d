package fit

import (
	"io"
	"math"
	"math/rand/v2"
	"slices"

	"ionwright/ionize"
)

// Model is the corrections' parameters while they are fitted.
type Model struct {
	Index map[uint32]int32 // code -> row
	Seen  []int32          // structures that each row's code occurs in
	Rows  []ionize.Row
	Dense [ionize.NumDense]ionize.Row
	Bias  ionize.Row
	Out   [ionize.Outputs][ionize.Hidden]float32

	Warmth  ionize.Warmth
	Staying ionize.Staying
}

// newModel starts with all rows at zero, the handbook values, so that a code
// without evidence stays there; the shared layers start at random to tell the
// hidden units apart.
func newModel(index map[uint32]int32, seen []int32, rng *rand.Rand) *Model {
	m := &Model{Index: index, Seen: seen, Rows: make([]ionize.Row, len(index))}
	for k := range m.Dense {
		spread := 0.3
		if k >= ionize.NumStepDense {
			spread = 0.05 // there are many
		}
		for h := range ionize.Hidden {
			m.Dense[k][h] = float32(rng.NormFloat64() * spread)
		}
	}
	for h := range ionize.Hidden {
		m.Bias[h] = float32(rng.NormFloat64() * 0.3)
	}
	for o := range m.Out {
		for h := range ionize.Hidden {
			m.Out[o][h] = float32(rng.NormFloat64() * 0.1)
		}
	}
	return m
}

// negligible is the effect below which a row isn't written. A step adds up some
// hundred rows, so that it has to be small.
const negligible = 0.003

// Write writes the fitted table in the form that ionize carries, without the
// rows of negligible effect.
func (m *Model) Write(w io.Writer, provenance string) (rows int, err error) {
	codes := make([]uint32, 0, len(m.Index))
	for code, r := range m.Index {
		if m.effect(&m.Rows[r]) >= negligible {
			codes = append(codes, code)
		}
	}
	slices.Sort(codes)
	kept := make([]ionize.Row, len(codes))
	for i, code := range codes {
		kept[i] = m.Rows[m.Index[code]]
	}
	c := &ionize.Corrections{Provenance: provenance, Dense: m.Dense, Bias: m.Bias, Out: m.Out, Warmth: m.Warmth, Staying: m.Staying}
	return len(codes), ionize.WriteCorrections(w, c, codes, kept)
}

// effect is the most that the row alone moves a step's corrections by, in
// either quantity.
func (m *Model) effect(row *ionize.Row) float32 {
	largest := float32(0)
	for h, v := range row {
		weight := float32(1)
		if h < ionize.Hidden {
			weight = 0
			for o := range m.Out {
				weight = max(weight, m.Out[o][h], -m.Out[o][h])
			}
		}
		largest = max(largest, weight*v, -weight*v)
	}
	return largest
}

// back turns the gradient with respect to the corrections into that with
// respect to the hidden units' input x, and adds to the gradient of Out.
func (m *Model) back(x *ionize.Row, g [ionize.Outputs]float32, dOut *[ionize.Outputs][ionize.Hidden]float32) (dx ionize.Row) {
	for o := range ionize.Outputs {
		dx[ionize.Hidden+o] = g[o]
	}
	for h := range ionize.Hidden {
		if x[h] <= 0 {
			continue
		}
		for o := range ionize.Outputs {
			dx[h] += m.Out[o][h] * g[o]
			dOut[o][h] += x[h] * g[o]
		}
	}
	return dx
}

// adagrad keeps the sum of squares of each parameter's gradient.
type adagrad struct {
	rows  []ionize.Row
	dense [ionize.NumDense]ionize.Row
	bias  ionize.Row
	out   [ionize.Outputs][ionize.Hidden]float32
	warm  ionize.Warmth
	rate  float32
	decay float32 // pull towards zero over one epoch, as a prior on each row
	start float32
}

// step moves a parameter against its gradient. The sum starts at start, so
// that the first gradients of a rare code don't move it by a whole rate.
func step(p *float32, g float32, sum *float32, rate, start float32) {
	*sum += float32(g * g) // rounded, so that no processor fuses the two
	*p -= float32(float32(rate*g) / float32(math.Sqrt(float64(*sum+start))))
}

// apply moves a row; decay is the pull towards zero at each visit.
func (a *adagrad) apply(p *ionize.Row, g *ionize.Row, sum *ionize.Row, rate, decay float32) {
	stepRow(p, g, sum, rate, decay, a.start)
}

// stepRowPlain moves the parameters of a row by step. Kernel_amd64.s has the
// same eight columns at a time.
func stepRowPlain(p, gradient, sum *ionize.Row, rate, decay, start float32) {
	for h := range p {
		step(&p[h], gradient[h]+float32(decay*p[h]), &sum[h], rate, start)
	}
}
