package net

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
)

// Settings say how a network is fitted.
type Settings struct {
	Inputs, One, Two, Outputs int
	Epochs                    int
	Batch                     int
	Rate                      float64 // at the start; it falls to a twentieth along a cosine
	Decay                     float64 // weight decay per step, times the rate
	Drop                      float64 // share of hidden units left out in each row of the fit
	Seed                      uint64
}

// Rows gives the fit its data: the inputs of a row (drawn anew each time, so
// that they may be varied at random), its labels (1, 0, or negative for
// unknown) and its weight.
type Rows interface {
	Len() int
	Row(i int, random *rand.Rand) []Input
	Labels(i int) []float32
	Weight(i int) float32
}

// layer is a weight matrix with what Adam remembers of it.
type layer struct {
	w, gradient, first, second []float32
}

func newLayer(in, out int, random *rand.Rand) layer {
	n := in * out
	room := func() []float32 { return make([]float32, n, (n+3)&^3) } // adamQuads takes four at a time
	l := layer{room(), room(), room(), room()}
	if random != nil {
		scale := math.Sqrt(2 / float64(min(in, 150)))
		for i := range l.w {
			l.w[i] = float32(random.NormFloat64() * scale)
		}
	}
	return l
}

// adam holds the constants of one step, in the order in which adamQuads reads
// them.
type adam struct {
	keepFirst, addFirst   float32
	keepSecond, addSecond float32
	rate                  float32 // with the correction of the first moment
	scaleSecond           float32 // the correction of the second
	least                 float32
	decay                 float32
}

// step moves the weights by Adam and clears the gradient.
func (l *layer) step(rate, decay float64, t int) {
	const b1, b2 = 0.9, 0.999
	c := adam{
		keepFirst: b1, addFirst: 1 - b1, keepSecond: b2, addSecond: 1 - b2,
		rate:        float32(rate / (1 - math.Pow(b1, float64(t)))),
		scaleSecond: float32(1 / (1 - math.Pow(b2, float64(t)))),
		least:       1e-7,
		decay:       float32(rate * decay),
	}
	adamQuads(&l.w[0], &l.gradient[0], &l.first[0], &l.second[0], cap(l.w), &c)
}

// Fit fits a network to the rows. It fails on settings that make no sense, on
// no rows, and when ctx ends.
func Fit(ctx context.Context, rows Rows, set Settings) (*Net, error) {
	if rows.Len() == 0 || set.Inputs < 1 || set.One < 1 || set.Two < 1 || set.Outputs < 1 || set.Batch < 1 || set.Epochs < 1 {
		return nil, fmt.Errorf("fitting a network: %d rows with settings %+v; all sizes must be positive", rows.Len(), set)
	}
	random := rand.New(rand.NewPCG(set.Seed, 0x2545f4914f6cdd1d))
	l1, l2, l3 := newLayer(set.Inputs, set.One, random), newLayer(set.One, set.Two, random), newLayer(set.Two, set.Outputs, random)
	for i := range l3.w {
		l3.w[i] *= 0.1
	}
	c1, c2, c3 := newLayer(1, set.One, nil), newLayer(1, set.Two, nil), newLayer(1, set.Outputs, nil)
	n := &Net{set.Inputs, set.One, set.Two, set.Outputs, l1.w, c1.w, l2.w, c2.w, l3.w, c3.w}
	a := n.room()
	d := n.room() // derivatives
	keep := float32(1 / (1 - set.Drop))
	order := random.Perm(rows.Len())
	steps := set.Epochs * ((rows.Len() + set.Batch - 1) / set.Batch)
	t := 0
	for range set.Epochs {
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		random.Shuffle(len(order), func(i, j int) { order[i], order[j] = order[j], order[i] })
		for from := 0; from < len(order); from += set.Batch {
			batch := order[from:min(from+set.Batch, len(order))]
			for _, i := range batch {
				row := rows.Row(i, random)
				n.check(row)
				n.forwardDropped(row, a, set.Drop, keep, random)
				weight := rows.Weight(i) / float32(len(batch))
				for k, y := range rows.Labels(i) {
					if y < 0 {
						d.out[k] = 0
						continue
					}
					d.out[k] = weight * (float32(1/(1+math.Exp(-float64(a.out[k])))) - y)
				}
				backward(n, row, a, d, keep, &l1, &l2, &l3, &c1, &c2, &c3)
			}
			t++
			rate := set.Rate * (0.05 + 0.95*0.5*(1+math.Cos(math.Pi*float64(t)/float64(steps))))
			for _, l := range []*layer{&l1, &l2, &l3} {
				l.step(rate, set.Decay, t)
			}
			for _, l := range []*layer{&c1, &c2, &c3} {
				l.step(rate, 0, t)
			}
		}
	}
	return n, nil
}

// forwardDropped is forward with hidden units left out at random.
func (n *Net) forwardDropped(row []Input, a activations, drop float64, keep float32, random *rand.Rand) {
	copy(a.one, n.b1)
	for _, x := range row {
		axpy(x.Value, n.w1[int(x.At)*n.one:(int(x.At)+1)*n.one], a.one)
	}
	dropout(a.one, drop, keep, random)
	copy(a.two, n.b2)
	for i, v := range a.one {
		if v > 0 {
			axpy(v, n.w2[i*n.two:(i+1)*n.two], a.two)
		}
	}
	dropout(a.two, drop, keep, random)
	copy(a.out, n.b3)
	for i, v := range a.two {
		if v > 0 {
			axpy(v, n.w3[i*n.out:(i+1)*n.out], a.out)
		}
	}
}

// dropout rectifies and leaves out.
func dropout(x []float32, drop float64, keep float32, random *rand.Rand) {
	for i, v := range x {
		if v <= 0 || drop > 0 && random.Float64() < drop {
			x[i] = 0
		} else {
			x[i] = v * keep
		}
	}
}

func backward(n *Net, row []Input, a, d activations, keep float32, l1, l2, l3, c1, c2, c3 *layer) {
	axpy(1, d.out, c3.gradient)
	for i, v := range a.two {
		d.two[i] = 0
		if v > 0 {
			axpy(v, d.out, l3.gradient[i*n.out:(i+1)*n.out])
			d.two[i] = keep * dot(n.w3[i*n.out:(i+1)*n.out], d.out)
		}
	}
	axpy(1, d.two, c2.gradient)
	for i, v := range a.one {
		d.one[i] = 0
		if v > 0 {
			axpy(v, d.two, l2.gradient[i*n.two:(i+1)*n.two])
			d.one[i] = keep * dot(n.w2[i*n.two:(i+1)*n.two], d.two)
		}
	}
	axpy(1, d.one, c1.gradient)
	for _, x := range row {
		axpy(x.Value, d.one, l1.gradient[int(x.At)*n.one:(int(x.At)+1)*n.one])
	}
}
