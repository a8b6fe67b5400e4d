package fit

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
	"sync"
	"sync/atomic"

	"ionwright/ionize"
)

// worker is the scratch of one goroutine.
type worker struct {
	state
	rows    []*ionize.Row // the model's rows that the example uses; nil where left out
	grads   []ionize.Row  // of these rows, where touched
	touched []bool
	x       []ionize.Row // input of each step's hidden units
	pieces  []ionize.Row // sum of each piece's rows
	dPieces []ionize.Row
	terms   []ionize.Term
	dDense  [ionize.NumDense]ionize.Row
	dBias   ionize.Row
	dOut    [ionize.Outputs][ionize.Hidden]float32
	y, gy   []float64
	slope   []float64 // of the molecular ion's height, by m/z
	current []float64 // ions that stay, by nominal m/z
	loss    float64
	warmth  float64
	dWarmth ionize.Warmth
}

// Settings of the fit.
type Settings struct {
	Epochs  int
	Rate    float64
	Decay   float64
	Start   float64 // first value of the sums of squared gradients
	Drop    float64 // share of codes left out at each visit
	Seed    uint64
	Workers int
	Least   int     // structures a code must occur in to get a row
	Blend   float64 // share of figure A in the loss, the rest being figure B
	Staying StayingSettings
}

// add adds y.
func add(x, y *ionize.Row) { addTimes(x, 1, y) }

// addTimes adds v times y.
func addTimes(x *ionize.Row, v float32, y *ionize.Row) { x.Add(ionize.Term{Times: v, Row: y}) }

func scale(x *ionize.Row, by float32) {
	for h := range x {
		x[h] *= by
	}
}

// predict runs the chain with the model and fills w.y; a share of the rows is
// left out.
func (w *worker) predict(m *Model, e *example, drop float64, rng *rand.Rand) {
	w.reset(len(e.first), len(e.steps))
	w.rows = grow(w.rows, len(e.codes))
	for i, r := range e.codes {
		if drop > 0 && rng.Float64() < drop {
			w.rows[i] = nil
			continue
		}
		w.rows[i] = &m.Rows[r]
	}
	w.pieces = grow(w.pieces, len(e.begin)-1)
	for p := range w.pieces {
		x := &w.pieces[p]
		*x = ionize.Row{}
		w.addRows(x, w.terms[:0], e.made[e.begin[p]:e.begin[p+1]])
		scale(x, ionize.PieceScale)
		w.terms = w.terms[:0]
		for k, v := range e.properties[p] {
			if v != 0 {
				w.terms = append(w.terms, ionize.Term{Times: v, Row: &m.Dense[e.denseOf[p]+k]})
			}
		}
		x.Add(w.terms...)
	}
	w.warmth = m.Warmth.Of(&e.properties[0])
	e.arrive = e.deposited
	e.arrive.Warm(w.warmth)
	w.x = grow(w.x, len(e.steps))
	e.forward(&w.state, func(ion int) {
		from := m.Bias
		add(&from, &w.pieces[0])
		add(&from, &w.pieces[e.source[ion]])
		for k := e.first[ion]; k < e.last[ion]; k++ {
			x := &w.x[k]
			*x = from
			terms := append(w.terms[:0], ionize.Term{Times: 1, Row: &w.pieces[e.product[k]]}, ionize.Term{Times: 1, Row: &w.pieces[e.neutral[k]]})
			for d, v := range e.dense[k] {
				terms = append(terms, ionize.Term{Times: v, Row: &m.Dense[d]})
			}
			w.addRows(x, terms, e.uses[e.from[k]:e.from[k+1]])
			out := ionize.Activate(x, &m.Out)
			w.lnA[k] = float64(e.steps[k].logA + out[0])
			w.e0[k] = max(float64(e.steps[k].base+out[1]), leastStep)
		}
	})
	w.detect(e)
}

// addRows adds the terms and then the rows to x, in one pass.
func (w *worker) addRows(x *ionize.Row, terms []ionize.Term, rows []int32) {
	for _, u := range rows {
		if row := w.rows[u]; row != nil {
			terms = append(terms, ionize.Term{Times: 1, Row: row})
		}
	}
	x.Add(terms...)
	w.terms = terms
}

// detect adds up the ions that stay, with their isotopes.
func (w *worker) detect(e *example) {
	w.y = grow(w.y, e.top+1)
	clear(w.y)
	for i, n := range w.stayed[:len(e.first)] {
		if n < 1e-7 {
			continue
		}
		at := int(e.mz[i]) - e.pattern[i].before
		for k, share := range e.pattern[i].share {
			w.y[at+k] += n * share
		}
	}
}

const floor = 2e-4 // added to intensities so that their square root has a slope at zero

// cosines returns the loss and, when gradients are wanted, fills w.gy.
func (w *worker) cosines(e *example, blend float64, wantGradient bool) (a, b float64) {
	w.gy = grow(w.gy, e.top+1)
	clear(w.gy)
	var cos [2]float64
	for k := range cos {
		dot, norm := 0.0, 0.0
		for mz := lowest; mz <= e.top; mz++ {
			v := (math.Sqrt(w.y[mz]+floor) - math.Sqrt(floor)) * weight(k, mz)
			dot += v * e.target[k][mz]
			norm += v * v
		}
		norm = math.Sqrt(norm) + 1e-12
		cos[k] = dot / norm
		if !wantGradient {
			continue
		}
		share := blend
		if k == 1 {
			share = 1 - blend
		}
		for mz := lowest; mz <= e.top; mz++ {
			root := math.Sqrt(w.y[mz] + floor)
			v := (root - math.Sqrt(floor)) * weight(k, mz)
			dv := e.target[k][mz]/norm - cos[k]*v/(norm*norm)
			w.gy[mz] -= share * dv * weight(k, mz) / (2 * root)
		}
	}
	return cos[0], cos[1]
}

// learn adds the example's gradient to w's sums.
func (w *worker) learn(m *Model, e *example, set Settings, rng *rand.Rand) {
	w.predict(m, e, set.Drop, rng)
	a, b := w.cosines(e, set.Blend, true)
	w.loss = set.Blend*(1-a) + (1-set.Blend)*(1-b)
	for i := range e.first {
		g := 0.0
		at := int(e.mz[i]) - e.pattern[i].before
		for k, share := range e.pattern[i].share {
			g += w.gy[at+k] * share
		}
		w.gStayed[i] = g
	}
	e.backward(&w.state)
	w.backWarmth(e)
	w.grads = grow(w.grads, len(e.codes))
	w.touched = grow(w.touched, len(e.codes))
	clear(w.touched)
	w.dDense, w.dBias, w.dOut = [ionize.NumDense]ionize.Row{}, ionize.Row{}, [ionize.Outputs][ionize.Hidden]float32{}
	w.dPieces = grow(w.dPieces, len(w.pieces))
	clear(w.dPieces)
	ion := 0
	for k := range e.steps {
		for e.last[ion] <= int32(k) {
			ion++
		}
		g := [ionize.Outputs]float32{float32(w.gLnA[k]), float32(w.gE0[k])}
		if math.Abs(w.gLnA[k])+math.Abs(w.gE0[k]) < 1e-5 {
			continue
		}
		if w.e0[k] <= leastStep && g[1] > 0 {
			g[1] = 0
		}
		dx := m.back(&w.x[k], g, &w.dOut)
		add(&w.dBias, &dx)
		for d, v := range e.dense[k] {
			addTimes(&w.dDense[d], v, &dx)
		}
		for _, u := range e.uses[e.from[k]:e.from[k+1]] {
			w.touch(u, &dx)
		}
		add(&w.dPieces[e.product[k]], &dx)
		add(&w.dPieces[e.neutral[k]], &dx)
		add(&w.dPieces[e.source[ion]], &dx)
		add(&w.dPieces[0], &dx)
	}
	for p := range w.dPieces {
		d := &w.dPieces[p]
		if *d == (ionize.Row{}) {
			continue
		}
		for k, v := range e.properties[p] {
			if v != 0 {
				addTimes(&w.dDense[e.denseOf[p]+k], v, d)
			}
		}
		scale(d, ionize.PieceScale)
		for _, u := range e.made[e.begin[p]:e.begin[p+1]] {
			w.touch(u, d)
		}
	}
}

// backWarmth sets the gradient with respect to the warmth: none where no ion
// has energy to break.
func (w *worker) backWarmth(e *example) {
	w.dWarmth = ionize.Warmth{}
	if e.cold == 1 {
		return
	}
	all, mean := 0.0, 0.0
	for l, n := range e.arrive {
		all += n
		mean += n * energy(l)
	}
	mean /= all
	g := 0.0
	for l, n := range e.arrive {
		g += w.adjoint[0][l] * n * (energy(l) - mean)
	}
	if w.warmth >= ionize.MostWarmth && g < 0 || w.warmth <= -ionize.MostWarmth && g > 0 {
		g = 0
	}
	w.dWarmth[0] = float32(g)
	for k, v := range e.properties[0] {
		w.dWarmth[k+1] = float32(g) * v
	}
}

// touch adds d to the gradient of a row.
func (w *worker) touch(row int32, d *ionize.Row) {
	if w.touched[row] {
		add(&w.grads[row], d)
		return
	}
	w.touched[row], w.grads[row] = true, *d
}

// Report is the state after an epoch.
type Report struct {
	Part          string // what is fitted
	Epoch, Epochs int
	Rows          int
	Loss          float64 // mean over the samples fitted to
	A, B          float64 // mean cosines over the samples held back; 0 where they weren't computed
	E             float64 // mean error of the molecular ion's height over these, % of the base peak
}

// scored is after how many epochs the samples held back are looked at.
const scored = 4

// Fit fits the corrections to the samples, reporting after each epoch; valid
// are samples it is scored on but never fitted to. The networks of the samples
// are let go. The same seed gives the same model, whatever the number of
// workers. When ctx is cancelled it returns the model as far as it got, with
// the context's error.
func Fit(ctx context.Context, samples, valid []*Sample, set Settings, report func(Report)) (*Model, error) {
	index, seen := vocabulary(samples, set.Least)
	m := newModel(index, seen, rand.New(rand.NewPCG(set.Seed, 1)))
	examples := layOut(samples, index, set.Workers)
	held := layOut(valid, index, set.Workers)
	workers := make([]*worker, set.Workers)
	for i := range workers {
		workers[i] = &worker{}
	}
	state := Report{Part: "kinetics", Epochs: set.Epochs, Rows: len(m.Rows)}
	score := func() {
		state.A, state.B, state.E = evaluate(m, held, workers, set.Workers)
		report(state)
	}
	if err := m.fitKinetics(ctx, examples, set, func(epoch int, loss float64) {
		state.Epoch, state.Loss, state.A, state.B, state.E = epoch, loss, 0, 0, 0
		if epoch%scored == 0 || epoch == set.Epochs {
			score()
		} else {
			report(state)
		}
	}); err != nil || set.Staying.Epochs == 0 {
		return m, err
	}
	state.Epochs, state.A, state.B, state.E = set.Staying.HalfEpochs, 0, 0, 0
	usual, spectra, err := computeUnseen(ctx, m, examples, set, func(half, epoch int, loss float64) {
		state.Part = [2]string{"kinetics of one half", "kinetics of the other half"}[half]
		state.Epoch, state.Loss = epoch, loss
		report(state)
	})
	if err != nil {
		return m, err
	}
	err = m.fitStaying(ctx, usual, spectra, set)
	state.Part, state.Epoch, state.Epochs = "molecular ions that stay whole", set.Staying.Epochs, set.Staying.Epochs
	score()
	return m, err
}

// fitKinetics fits all but the layer for the molecular ion. It stops with the
// context's error when that is cancelled.
func (m *Model) fitKinetics(ctx context.Context, examples []*example, set Settings, report func(epoch int, loss float64)) error {
	rng := rand.New(rand.NewPCG(set.Seed, 5))
	opt := &adagrad{rows: make([]ionize.Row, len(m.Rows)), rate: float32(set.Rate), decay: float32(set.Decay), start: float32(set.Start)}
	workers := make([]*worker, batch)
	for i := range workers {
		workers[i] = &worker{}
	}
	for epoch := range set.Epochs {
		order := rng.Perm(len(examples))
		rate := opt.rate * float32(1-float64(epoch)/float64(set.Epochs))
		if epoch == 0 {
			rate = opt.rate * 0.3
		}
		loss := 0.0
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
				workers[i].learn(m, examples[ids[i]], set, rand.New(rand.NewPCG(seeds[i], 2)))
			})
			inParallel(set.Workers, shards, func(shard int) {
				for i, id := range ids {
					opt.take(m, workers[i], examples[id], rate, shard)
				}
			})
			for i := range ids {
				loss += workers[i].loss
			}
		}
		report(epoch+1, loss/float64(len(order)))
	}
	return nil
}

// Structures whose gradients are taken from the same parameters, and parts of
// the parameters that are moved side by side: constants, so that the number of
// goroutines doesn't change the result.
const (
	batch  = 8
	shards = 4
)

// inParallel calls do for 0 to n-1 from so many goroutines.
func inParallel(goroutines, n int, do func(i int)) {
	var next atomic.Int64
	var group sync.WaitGroup
	for range min(goroutines, n) {
		group.Go(func() {
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				do(i)
			}
		})
	}
	group.Wait()
}

// take moves one shard of the parameters against the example's gradient; the
// layers that all steps share are in the first.
func (a *adagrad) take(m *Model, w *worker, e *example, rate float32, shard int) {
	for i, r := range e.codes {
		if w.touched[i] && r%shards == int32(shard) {
			a.apply(&m.Rows[r], &w.grads[i], &a.rows[r], rate, a.decay/float32(m.Seen[r]))
		}
	}
	if shard != 0 {
		return
	}
	for d := range m.Dense {
		a.apply(&m.Dense[d], &w.dDense[d], &a.dense[d], rate*0.3, 0)
	}
	a.apply(&m.Bias, &w.dBias, &a.bias, rate*0.3, 0)
	for k := range m.Warmth {
		step(&m.Warmth[k], w.dWarmth[k], &a.warm[k], rate*0.1, a.start)
	}
	for o := range m.Out {
		for h := range m.Out[o] {
			step(&m.Out[o][h], w.dOut[o][h], &a.out[o][h], rate*0.3, a.start)
		}
	}
}

// evaluate returns the mean of the two cosines, under the metrics' view, and
// the mean error of the molecular ion's height in % of the base peak.
func evaluate(m *Model, examples []*example, workers []*worker, goroutines int) (a, b, height float64) {
	sums := make([][3]float64, len(workers))
	inParallel(goroutines, len(workers), func(i int) {
		w := workers[i]
		for k := i; k < len(examples); k += len(workers) {
			w.predict(m, examples[k], 0, nil)
			u := w.unseen(examples[k])
			u.y = slices.Clone(u.y)
			w.correct(m, examples[k], u)
			x, y := examples[k].score(w.y)
			sums[i][0] += x
			sums[i][1] += y
			sums[i][2] += examples[k].heightError(w.y)
		}
	})
	for _, s := range sums {
		a += s[0]
		b += s[1]
		height += s[2]
	}
	n := float64(max(len(examples), 1))
	return a / n, b / n, 100 * height / n
}

// score is the two cosines of a computed spectrum under the metrics' view.
func (e *example) score(y []float64) (a, b float64) {
	s := map[int]float64{}
	for mz, v := range y {
		if v > 0 {
			s[mz] = v
		}
	}
	v := View(s)
	var cos [2]float64
	for k := range cos {
		dot, norm := 0.0, 0.0
		for mz, y := range v {
			x := math.Sqrt(y) * weight(k, mz)
			norm += x * x
			dot += x * e.target[k][mz]
		}
		if norm > 0 {
			cos[k] = dot / math.Sqrt(norm)
		}
	}
	return cos[0], cos[1]
}

// heightError is how far the molecular ion's height is off, relative to the
// base peak.
func (e *example) heightError(y []float64) float64 {
	base := 0.0
	for _, v := range y[lowest:] {
		base = max(base, v)
	}
	if base == 0 || e.molecular < lowest {
		return e.height
	}
	height := y[e.molecular] / base
	if height < 0.01 {
		height = 0
	}
	return math.Abs(height - e.height)
}

func layOut(samples []*Sample, index map[uint32]int32, workers int) []*example {
	out := make([]*example, len(samples))
	inParallel(workers, len(samples), func(k int) {
		out[k] = newExample(samples[k], index)
		samples[k].Network = nil
	})
	return out
}
