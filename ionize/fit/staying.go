package fit

import (
	"context"
	"math"
	"math/rand/v2"

	"ionwright/ionize"
)

// After the kinetics, the layer that says how many molecular ions stay whole
// is fitted on its own, all other parameters held fast: to the height of the
// molecular ion (figure E), which the cosines alone don't settle, and a little
// to these, so that they stay what they are.

// StayingSettings of the fit of this layer.
type StayingSettings struct {
	Epochs  int
	Rate    float64
	Decay   float64
	Drop    float64 // share of codes left out at each visit
	Cosines float64 // weight of the loss of the cosines beside the height's error
}

// stayingSums are the sums of squared gradients of the layer's parameters, and
// stayingStep one example's gradient.
type (
	stayingSums struct {
		rows       []float32
		units      [ionize.Hidden]float32
		slope, all float32
	}
	stayingStep struct {
		lnOdds   float64 // of the kinetics
		x        ionize.Row
		gradient float64 // of the loss with respect to the correction
	}
)

// remain corrects the computed spectrum in w.y for the molecular ions that
// stay whole.
func (w *worker) remain(m *Model, e *example) (step stayingStep, whole float64) {
	step.x = m.Bias
	add(&step.x, &w.pieces[0])
	before := w.stayed[0]
	step.lnOdds = ionize.LnOdds(before)
	whole = ionize.Remain(before, m.Staying.LnOdds(&step.x, before))
	if before <= 0 || before >= 1 {
		return step, before
	}
	broken := (1 - whole) / (1 - before)
	for mz := range w.y {
		w.y[mz] *= broken
	}
	at := int(e.mz[0]) - e.pattern[0].before
	for k, share := range e.pattern[0].share {
		w.y[at+k] += (whole - before*broken) * share
	}
	return step, whole
}

// smoothHeight is the molecular ion's height relative to the base peak, made smooth
// by taking a high norm of the spectrum for the latter; slope is its gradient
// with respect to each peak.
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

// learnStaying works out the gradient of the loss with respect to the
// correction of the example's molecular ion.
func (w *worker) learnStaying(m *Model, e *example, set Settings, rng *rand.Rand) (step stayingStep) {
	w.predict(m, e, set.Staying.Drop, rng)
	step, whole := w.remain(m, e)
	if e.molecular < lowest || whole >= 1 {
		return step
	}
	w.cosines(e, set.Blend, true)
	w.slope = grow(w.slope, len(w.y))
	off := e.smoothHeight(w.y, w.slope) - e.height
	sign := off / math.Hypot(off, sharp)
	at := int(e.mz[0]) - e.pattern[0].before
	for mz := lowest; mz < len(w.y); mz++ {
		own := 0.0
		if k := mz - at; k >= 0 && k < len(e.pattern[0].share) {
			own = e.pattern[0].share[k]
		}
		rest := (w.y[mz] - whole*own) / (1 - whole)
		step.gradient += (set.Staying.Cosines*w.gy[mz] + sign*w.slope[mz]) * whole * (1 - whole) * (own - rest)
	}
	return step
}

// fitStaying fits the layer; report is called after each epoch. It stops with
// the context's error when that is cancelled.
func (m *Model) fitStaying(ctx context.Context, samples, held []*example, set Settings, report func(epoch int, a, b, e float64)) error {
	rng := rand.New(rand.NewPCG(set.Seed, 3))
	sums := stayingSums{rows: make([]float32, len(m.Rows))}
	opt := &adagrad{start: 1e-3}
	workers := make([]*worker, batch)
	for i := range workers {
		workers[i] = &worker{}
	}
	steps := make([]stayingStep, batch)
	for epoch := range set.Staying.Epochs {
		order := rng.Perm(len(samples))
		rate := float32(set.Staying.Rate * (1 - float64(epoch)/float64(set.Staying.Epochs)))
		for at := 0; at < len(order); at += batch {
			if err := ctx.Err(); err != nil {
				return err
			}
			ids := order[at:min(at+batch, len(order))]
			seeds := make([]uint64, len(ids))
			for i := range seeds {
				seeds[i] = rng.Uint64()
			}
			inParallel(set.Workers, len(ids), func(i int) {
				steps[i] = workers[i].learnStaying(m, samples[ids[i]], set, rand.New(rand.NewPCG(seeds[i], 4)))
			})
			for i, id := range ids {
				m.takeStaying(opt, &sums, &steps[i], workers[i], samples[id], rate, float32(set.Staying.Decay))
			}
		}
		a, b, height := evaluate(m, held, workers, set.Workers)
		report(epoch+1, a, b, height)
	}
	return nil
}

// takeStaying moves the layer's parameters against one example's gradient.
func (m *Model) takeStaying(opt *adagrad, sums *stayingSums, step *stayingStep, w *worker, e *example, rate, decay float32) {
	const last = ionize.Width - 1
	g := float32(step.gradient)
	for h, x := range step.x[:ionize.Hidden] {
		if x > 0 {
			opt.step(&m.Staying.Units[h], g*x, &sums.units[h], rate*0.3)
		}
	}
	opt.step(&m.Staying.Slope, g*float32(step.lnOdds), &sums.slope, rate*0.3)
	opt.step(&m.Bias[last], g, &sums.all, rate)
	for _, u := range e.made[e.begin[0]:e.begin[1]] {
		if w.left[u] {
			continue
		}
		r := e.codes[u]
		opt.step(&m.Rows[r][last], g*ionize.PieceScale+decay/float32(m.Seen[r])*m.Rows[r][last], &sums.rows[r], rate)
	}
}
