package fit

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"

	"ionwright/ionize"
)

// After the kinetics, the layer that says how many molecular ions stay whole
// is fitted on its own: to the height of the molecular ion (figure E), which
// the cosines alone don't settle, and a little to these, so that they stay what
// they are. The kinetics know the structures they were fitted to too well to
// show how far off they are elsewhere; so the layer is fitted to spectra that
// two further models compute, each fitted to one half of the structures, for
// the other half.

// StayingSettings of the fit of this layer.
type StayingSettings struct {
	HalfEpochs int // of the kinetics of the two further models
	Epochs     int
	Rate       float64
	Decay      float64 // pull towards zero over one epoch, as a prior on the weights
	Cosines    float64 // weight of the loss of the cosines beside the height's error
}

// unseen is the spectrum of an example, before this layer, as computed by a
// model that wasn't fitted to it.
type unseen struct {
	y         []float64
	whole     float64 // share of the molecular ions that stay
	strongest float64 // share that the most frequent m/z of the fragments has
}

// unseen is the example's spectrum as last predicted; it is valid until the
// next.
func (w *worker) unseen(e *example) unseen {
	w.current = grow(w.current, e.molecular+1)
	clear(w.current)
	for i, n := range w.stayed[:len(e.first)] {
		w.current[e.mz[i]] += n
	}
	return unseen{w.y, w.stayed[0], ionize.Strongest(w.current, e.molecular)}
}

// computeUnseen fits the two further models, and returns the examples at 70 eV
// with their spectra.
func computeUnseen(ctx context.Context, m *Model, examples []*example, set Settings, report func(half, epoch int, loss float64)) (usual []*example, spectra []unseen, err error) {
	set.Epochs = set.Staying.HalfEpochs
	halves := byStructure(examples)
	for half := range halves {
		other := newModel(m.Index, m.Seen, rand.New(rand.NewPCG(set.Seed, uint64(10+half))))
		if err := other.fitKinetics(ctx, halves[1-half], set, func(epoch int, loss float64) { report(half, epoch, loss) }); err != nil {
			return nil, nil, err
		}
		var ask []*example
		for _, e := range halves[half] {
			if e.sample.energy() == ionize.UsualEnergy {
				ask = append(ask, e)
			}
		}
		answers := make([]unseen, len(ask))
		workers := make([]worker, set.Workers)
		inParallel(set.Workers, set.Workers, func(k int) {
			w := &workers[k]
			for i := k; i < len(ask); i += set.Workers {
				w.predict(other, ask[i], 0, nil)
				answers[i] = w.unseen(ask[i])
				answers[i].y = slices.Clone(answers[i].y)
			}
		})
		usual, spectra = append(usual, ask...), append(spectra, answers...)
	}
	return usual, spectra, nil
}

// byStructure parts the examples so that those of one structure stay together.
func byStructure(examples []*example) (halves [2][]*example) {
	half := map[string]int{}
	for _, e := range examples {
		h, ok := half[e.sample.SMILES]
		if !ok {
			h = len(half) % 2
			half[e.sample.SMILES] = h
		}
		halves[h] = append(halves[h], e)
	}
	return halves
}

// correct puts the spectrum of u into w.y as the layer corrects it.
func (w *worker) correct(m *Model, e *example, u unseen) {
	x := m.Staying.Inputs(&e.properties[0], u.whole, u.strongest)
	w.remain(e, u, m.Staying.LnOdds(&x, nil))
}

// remain puts the spectrum of u into w.y, with the natural logarithm of the
// odds that a molecular ion stays whole raised by lnOdds, and returns the share
// of those that do.
func (w *worker) remain(e *example, u unseen, lnOdds float64) (whole float64) {
	w.y = append(w.y[:0], u.y...)
	if u.whole <= 0 || u.whole >= 1 {
		return u.whole
	}
	whole = ionize.Remain(u.whole, lnOdds)
	broken := (1 - whole) / (1 - u.whole)
	for mz := range w.y {
		w.y[mz] *= broken
	}
	at := int(e.mz[0]) - e.pattern[0].before
	for k, share := range e.pattern[0].share {
		w.y[at+k] += (whole - u.whole*broken) * share
	}
	return whole
}

// smoothHeight is the molecular ion's height relative to the base peak, made
// smooth by taking a high norm of the spectrum for the latter; slope is its
// gradient with respect to each peak.
func (e *example) smoothHeight(y, slope []float64) float64 {
	const power = 12
	sum := 0.0
	for _, v := range y[lowest:] {
		sum += math.Pow(v, power)
	}
	base := math.Pow(sum, 1.0/power)
	clear(slope)
	if base == 0 || e.molecular < lowest {
		return 0
	}
	height := y[e.molecular] / base
	for mz := lowest; mz < len(y); mz++ {
		slope[mz] = -height / base * math.Pow(y[mz]/base, power-1)
	}
	slope[e.molecular] += 1 / base
	return height
}

// sharp is over how much, of the base peak, the absolute value of the height's
// error is rounded off.
const sharp = 0.02

// learnStaying returns the gradient of the loss with respect to the correction
// of the example's molecular ion, at lnOdds.
func (w *worker) learnStaying(e *example, u unseen, lnOdds float64, set Settings) float64 {
	whole := w.remain(e, u, lnOdds)
	if e.molecular < lowest || whole <= 0 || whole >= 1 {
		return 0
	}
	w.cosines(e, set.Blend, true)
	w.slope = grow(w.slope, len(w.y))
	off := e.smoothHeight(w.y, w.slope) - e.height
	sign := off / math.Hypot(off, sharp)
	at := int(e.mz[0]) - e.pattern[0].before
	gradient := 0.0
	for mz := lowest; mz < len(w.y); mz++ {
		own := 0.0
		if k := mz - at; k >= 0 && k < len(e.pattern[0].share) {
			own = e.pattern[0].share[k]
		}
		rest := (w.y[mz] - whole*own) / (1 - whole)
		gradient += (set.Staying.Cosines*w.gy[mz] + sign*w.slope[mz]) * whole * (1 - whole) * (own - rest)
	}
	return gradient
}

// fitStaying fits the layer to the spectra, by the method of Adam (Kingma, Ba,
// arXiv:1412.6980, from memory). It stops with the context's error when that is
// cancelled.
func (m *Model) fitStaying(ctx context.Context, examples []*example, spectra []unseen, set Settings) error {
	rng := rand.New(rand.NewPCG(set.Seed, 3))
	layer := &m.Staying
	standardize(layer, examples, spectra)
	for h := range layer.In {
		for i := range layer.In[h] {
			layer.In[h][i] = float32(rng.NormFloat64() / math.Sqrt(ionize.StayingInputs))
		}
		layer.Out[h] = float32(rng.NormFloat64() * 0.1)
	}
	var (
		gradient ionize.Staying
		weights  = parameters(layer)
		slopes   = parameters(&gradient)
		opt      = newAdam(len(weights))
		decay    = float32(set.Staying.Decay / float64(len(examples)))
		w        worker
	)
	for epoch := range set.Staying.Epochs {
		if err := ctx.Err(); err != nil {
			return err
		}
		rate := set.Staying.Rate * (1 - float64(epoch)/float64(set.Staying.Epochs))
		order := rng.Perm(len(examples))
		for at := 0; at < len(order); at += stayingBatch {
			ids := order[at:min(at+stayingBatch, len(order))]
			gradient = ionize.Staying{}
			for _, i := range ids {
				w.learnLayer(layer, &gradient, examples[i], spectra[i], set, float32(1/float64(len(ids))))
			}
			for k, p := range weights {
				*slopes[k] += decay * *p
			}
			opt.step(weights, slopes, rate)
		}
	}
	return nil
}

// stayingBatch is how many structures each step is for.
const stayingBatch = 32

// learnLayer adds to gradient that of the example's loss, times share.
func (w *worker) learnLayer(layer, gradient *ionize.Staying, e *example, u unseen, set Settings, share float32) {
	var hidden [ionize.StayingUnits]float32
	x := layer.Inputs(&e.properties[0], u.whole, u.strongest)
	g := share * float32(w.learnStaying(e, u, layer.LnOdds(&x, &hidden), set))
	gradient.All += g
	for i, v := range x {
		gradient.Straight[i] += g * v
	}
	for h, at := range hidden {
		if at <= 0 {
			continue
		}
		gradient.Out[h] += g * at
		gradient.Bias[h] += g * layer.Out[h]
		for i, v := range x {
			gradient.In[h][i] += g * layer.Out[h] * v
		}
	}
}

// standardize sets the center and the spread of the layer's inputs.
func standardize(layer *ionize.Staying, examples []*example, spectra []unseen) {
	*layer = ionize.Staying{}
	var sum, squares [ionize.StayingInputs]float64
	for i, e := range examples {
		for k, v := range ionize.StayingQuantities(&e.properties[0], spectra[i].whole, spectra[i].strongest) {
			sum[k] += float64(v)
			squares[k] += float64(v) * float64(v)
		}
	}
	n := float64(len(examples))
	for k := range sum {
		mean := sum[k] / n
		layer.Center[k] = float32(mean)
		layer.Spread[k] = float32(math.Sqrt(max(squares[k]/n-mean*mean, 0)))
	}
}

// parameters of the layer that are fitted.
func parameters(layer *ionize.Staying) []*float32 {
	var all []*float32
	add := func(values []float32) {
		for i := range values {
			all = append(all, &values[i])
		}
	}
	for h := range layer.In {
		add(layer.In[h][:])
	}
	add(layer.Bias[:])
	add(layer.Out[:])
	add(layer.Straight[:])
	return append(all, &layer.All)
}

// adam keeps the running means of each parameter's gradient and of its square.
type adam struct {
	mean, square []float64
	steps        int
}

func newAdam(n int) *adam { return &adam{mean: make([]float64, n), square: make([]float64, n)} }

// step moves the parameters against their gradients.
func (a *adam) step(parameters, gradients []*float32, rate float64) {
	const keepMean, keepSquare = 0.9, 0.999
	a.steps++
	mean, square := 1-math.Pow(keepMean, float64(a.steps)), 1-math.Pow(keepSquare, float64(a.steps))
	for k, p := range parameters {
		g := float64(*gradients[k])
		a.mean[k] = keepMean*a.mean[k] + (1-keepMean)*g
		a.square[k] = keepSquare*a.square[k] + (1-keepSquare)*g*g
		*p -= float32(rate * a.mean[k] / mean / (math.Sqrt(a.square[k]/square) + 1e-8))
	}
}
