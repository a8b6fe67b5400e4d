package fit

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"ionwright/ionize"
)

// TestStayingGradient compares the analytic gradients with respect to the
// correction of the molecular ion, and to the layer's parameters, with central
// differences of the loss.
func TestStayingGradient(t *testing.T) {
	set := Settings{Blend: 0.6, Staying: StayingSettings{Cosines: 2}}
	for _, peaks := range []map[int]float64{
		{65: 12, 91: 100, 92: 3},
		{65: 12, 91: 100, 92: 60}, // shaped like toluene, from memory
	} {
		m, e, spectrum := toluene(t, peaks)
		var w worker
		loss := func(lnOdds float64) float64 {
			w.remain(e, spectrum, lnOdds)
			a, b := w.cosines(e, set.Blend, false)
			off := e.smoothHeight(w.y, make([]float64, len(w.y))) - e.height
			return set.Staying.Cosines*(set.Blend*(1-a)+(1-set.Blend)*(1-b)) + math.Hypot(off, sharp)
		}
		same := func(what string, got, want float64) {
			if math.Abs(want) < 1e-3 {
				t.Errorf("%s: a gradient of %g says nothing", what, want)
			}
			if math.Abs(got-want) > 1e-4+0.01*math.Abs(want) {
				t.Errorf("molecular ion of %g %%, %s: gradient %.6f, by differences %.6f", 100*e.height, what, got, want)
			}
		}
		const h = 1e-3
		for _, at := range []float64{-1.5, 0, 2} {
			want := (loss(at+h) - loss(at-h)) / (2 * h)
			same(fmt.Sprintf("correction %g", at), w.learnStaying(e, spectrum, at, set), want)
		}
		layer, gradient := &m.Staying, &ionize.Staying{}
		rng := rand.New(rand.NewPCG(7, 8))
		for i := range layer.Center {
			layer.Center[i], layer.Spread[i] = e.properties[0][min(i, ionize.NumProperties-1)]-1, 1
		}
		values, slopes := parameters(layer), parameters(gradient)
		for _, p := range values {
			*p = float32(0.1 * rng.NormFloat64())
		}
		w.learnLayer(layer, gradient, e, spectrum, set, 1)
		whole := func() float64 {
			x := layer.Inputs(&e.properties[0], spectrum.whole, spectrum.strongest)
			return loss(layer.LnOdds(&x, nil))
		}
		checked := 0
		for k, p := range values {
			if math.Abs(float64(*slopes[k])) < 1e-2 {
				continue
			}
			checked++
			old := *p
			*p = old + h
			up := whole()
			*p = old - h
			down := whole()
			*p = old
			same(fmt.Sprintf("parameter %d", k), float64(*slopes[k]), (up-down)/(2*h))
		}
		if checked < 20 {
			t.Errorf("only %d parameters have a gradient", checked)
		}
	}
}

// toluene is an example with the measured peaks, and its spectrum by a model
// at the start of a fit.
func toluene(t *testing.T, measured map[int]float64) (*Model, *example, unseen) {
	t.Helper()
	sample := &Sample{Network: network(t, "Cc1ccccc1"), Spectra: []map[int]float64{measured}}
	index, seen := vocabulary([]*Sample{sample}, 1)
	m := newModel(index, seen, rand.New(rand.NewPCG(5, 6)))
	e := newExample(sample, index)
	var w worker
	w.predict(m, e, 0, nil)
	return m, e, w.unseen(e)
}

// TestStayingLearns: the layer alone brings the molecular ion to its height.
func TestStayingLearns(t *testing.T) {
	m, e, spectrum := toluene(t, map[int]float64{65: 12, 91: 100, 92: 60}) // shaped like toluene, from memory
	before := m.Rows[0]
	off := func() float64 {
		var w worker
		w.correct(m, e, spectrum)
		return 100 * e.heightError(w.y)
	}
	first := off()
	set := Settings{Blend: 0.6, Staying: StayingSettings{Epochs: 400, Rate: 0.02, Cosines: 0.1}}
	if err := m.fitStaying(t.Context(), []*example{e}, []unseen{spectrum}, set); err != nil {
		t.Fatal(err)
	}
	if last := off(); last > 2 || last > first/2 {
		t.Errorf("the height's error went from %.1f to %.1f %% of the base peak", first, last)
	}
	if before != m.Rows[0] {
		t.Error("the fit of this layer moved another")
	}
}
