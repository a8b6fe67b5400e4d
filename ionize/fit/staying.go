package fit

import (
	"context"
	"math"
	"math/rand/v2"

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
	Decay      float64
	Cosines    float64 // weight of the loss of the cosines beside the height's error
}

// unseen is the spectrum of an example, before this layer, as computed by a
// model that wasn't fitted to it.
type unseen struct {
	y     []float64
	whole float64 // share of the molecular ions that stay
}

// computeUnseen fits the two further models.
func computeUnseen(ctx context.Context, m *Model, examples []*example, set Settings, report func(half, epoch int, loss float64)) ([]unseen, error) {
	out := make([]unseen, len(examples))
	for half := range 2 {
		var fitted []*example
		for i, e := range examples {
			if i%2 != half {
				fitted = append(fitted, e)
			}
		}
		other := newModel(m.Index, m.Seen, rand.New(rand.NewPCG(set.Seed, uint64(10+half))))
		set.Epochs = set.Staying.HalfEpochs
		if err := other.fitKinetics(ctx, fitted, set, func(epoch int, loss float64) { report(half, epoch, loss) }); err != nil {
			return nil, err
		}
		workers := make([]worker, set.Workers)
		inParallel(set.Workers, set.Workers, func(k int) {
			w := &workers[k]
			for i := half + 2*k; i < len(examples); i += 2 * set.Workers {
				w.predict(other, examples[i], 0, nil)
				out[i] = unseen{append([]float64(nil), w.y...), w.stayed[0]}
			}
		})
	}
	return out, nil
}

// lnOdds is the layer's correction for an example of which the kinetics let so
// many molecular ions stay.
func (m *Model) lnOdds(e *example, whole float64) float64 {
	x := ionize.Row{}
	for _, u := range e.made[e.begin[0]:e.begin[1]] {
		x[stayingPlace] += m.Rows[e.codes[u]][stayingPlace]
	}
	x[stayingPlace] = x[stayingPlace]*ionize.PieceScale + m.Bias[stayingPlace]
	return m.Staying.LnOdds(&x, whole)
}

// stayingPlace is the layer's place in a row.
const stayingPlace = ionize.Width - 1

// remain puts the spectrum of u into w.y, corrected for the molecular ions that
// stay whole, and returns their share.
func (w *worker) remain(m *Model, e *example, u unseen) (whole float64) {
	w.y = append(w.y[:0], u.y...)
	if u.whole <= 0 || u.whole >= 1 {
		return u.whole
	}
	whole = ionize.Remain(u.whole, m.lnOdds(e, u.whole))
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
// of the example's molecular ion.
func (w *worker) learnStaying(m *Model, e *example, u unseen, set Settings) float64 {
	whole := w.remain(m, e, u)
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

// stayingSums are the sums of squared gradients of the layer's parameters.
type stayingSums struct {
	rows       []float32
	slope, all float32
}

// fitStaying fits the layer to the spectra. It stops with the context's error
// when that is cancelled.
func (m *Model) fitStaying(ctx context.Context, examples []*example, spectra []unseen, set Settings) error {
	rng := rand.New(rand.NewPCG(set.Seed, 3))
	sums := stayingSums{rows: make([]float32, len(m.Rows))}
	opt := &adagrad{start: 1e-3}
	var w worker
	for epoch := range set.Staying.Epochs {
		if err := ctx.Err(); err != nil {
			return err
		}
		rate := float32(set.Staying.Rate * (1 - float64(epoch)/float64(set.Staying.Epochs)))
		for _, i := range rng.Perm(len(examples)) {
			e := examples[i]
			g := float32(w.learnStaying(m, e, spectra[i], set))
			opt.step(&m.Staying.Slope, g*float32(ionize.LnOdds(spectra[i].whole)), &sums.slope, rate*0.3)
			opt.step(&m.Bias[stayingPlace], g, &sums.all, rate)
			for _, u := range e.made[e.begin[0]:e.begin[1]] {
				r := e.codes[u]
				p := &m.Rows[r][stayingPlace]
				opt.step(p, g*ionize.PieceScale+float32(set.Staying.Decay)/float32(m.Seen[r])*(*p), &sums.rows[r], rate)
			}
		}
	}
	return nil
}
