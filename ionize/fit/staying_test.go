package fit

import (
	"math"
	"math/rand/v2"
	"testing"
)

// TestStayingGradient compares the analytic gradient with respect to the
// correction of the molecular ion with central differences of the loss.
func TestStayingGradient(t *testing.T) {
	for _, peaks := range []map[int]float64{
		{65: 12, 91: 100, 92: 3},
		{65: 12, 91: 100, 92: 60}, // shaped like toluene, from memory
	} {
		sample := &Sample{Network: network(t, "Cc1ccccc1"), Spectra: []map[int]float64{peaks}}
		index, seen := vocabulary([]*Sample{sample}, 1)
		m := newModel(index, seen, rand.New(rand.NewPCG(5, 6)))
		e := newExample(sample, index)
		set := Settings{Blend: 0.6, Staying: StayingSettings{Cosines: 2}}
		spectrum := computed(m, e)
		loss := func(shift float32) float64 {
			m.Bias[len(m.Bias)-1] = shift
			var w worker
			w.remain(m, e, spectrum)
			a, b := w.cosines(e, set.Blend, false)
			off := e.smoothHeight(w.y, make([]float64, len(w.y))) - e.height
			return set.Staying.Cosines*(set.Blend*(1-a)+(1-set.Blend)*(1-b)) + math.Hypot(off, sharp)
		}
		for _, at := range []float32{-1.5, 0, 2} {
			const h = 1e-3
			want := (loss(at+h) - loss(at-h)) / (2 * h)
			m.Bias[len(m.Bias)-1] = at
			var w worker
			got := w.learnStaying(m, e, spectrum, set)
			if math.Abs(want) < 1e-3 {
				t.Errorf("correction %g: a gradient of %g says nothing", at, want)
			}
			if math.Abs(got-want) > 1e-4+0.01*math.Abs(want) {
				t.Errorf("molecular ion of %g %%, correction %g: gradient %.6f, by differences %.6f", 100*e.height, at, got, want)
			}
		}
	}
}

// TestStayingLearns: the layer alone brings the molecular ion to its height.
func TestStayingLearns(t *testing.T) {
	sample := &Sample{Network: network(t, "Cc1ccccc1"), Spectra: []map[int]float64{{65: 12, 91: 100, 92: 60}}} // shaped like toluene, from memory
	index, seen := vocabulary([]*Sample{sample}, 1)
	m := newModel(index, seen, rand.New(rand.NewPCG(5, 6)))
	e := newExample(sample, index)
	before, spectrum := m.Rows[0], computed(m, e)
	off := func() float64 {
		var w worker
		w.remain(m, e, spectrum)
		return 100 * e.heightError(w.y)
	}
	first := off()
	set := Settings{Blend: 0.6, Staying: StayingSettings{Epochs: 200, Rate: 0.1, Cosines: 0.1}}
	if err := m.fitStaying(t.Context(), []*example{e}, []unseen{spectrum}, set); err != nil {
		t.Fatal(err)
	}
	if last := off(); last > 2 || last > first/2 {
		t.Errorf("the height's error went from %.1f to %.1f %% of the base peak", first, last)
	}
	after := m.Rows[0]
	before[len(before)-1], after[len(after)-1] = 0, 0
	if before != after {
		t.Error("the fit of this layer moved another")
	}
}

// computed is the example's spectrum by the model.
func computed(m *Model, e *example) unseen {
	var w worker
	w.predict(m, e, 0, nil)
	return unseen{w.y, w.stayed[0]}
}
