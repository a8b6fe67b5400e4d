package fit

import (
	"context"
	"math"
	"math/rand/v2"
	"testing"

	"ionwright/ionize"
	"ionwright/mol/smiles"
)

func network(t *testing.T, s string) *ionize.Network {
	t.Helper()
	m, err := smiles.Parse(s)
	if err != nil {
		t.Fatal(err)
	}
	n, err := ionize.Record(context.Background(), m, ionize.Settings{EnergyEV: 70}, nil)
	if err != nil {
		t.Fatal(err)
	}
	return n
}

// TestGradient compares the analytic gradient of a sum over the detected ions
// with central differences, step by step.
func TestGradient(t *testing.T) {
	sample := &Sample{Network: network(t, "CCCC(C)=O"), Spectra: []map[int]float64{{43: 100, 58: 20, 71: 10, 86: 25}}}
	index, _ := vocabulary([]*Sample{sample}, 1)
	e := newExample(sample, index)
	rng := rand.New(rand.NewPCG(3, 4))
	lnA, e0 := make([]float64, len(e.steps)), make([]float64, len(e.steps))
	for k, step := range e.steps {
		lnA[k] = float64(step.logA) + rng.NormFloat64()
		e0[k] = max(float64(step.base)+0.3*rng.NormFloat64(), 0.2)
	}
	weights := make([]float64, len(e.first))
	for i := range weights {
		weights[i] = rng.NormFloat64()
	}
	var s state
	value := func() float64 {
		s.reset(len(e.first), len(e.steps))
		e.forward(&s, func(ion int) {
			for k := e.first[ion]; k < e.last[ion]; k++ {
				s.lnA[k], s.e0[k] = lnA[k], e0[k]
			}
		})
		sum := 0.0
		for i, n := range s.stayed[:len(e.first)] {
			sum += weights[i] * n
		}
		return sum
	}
	value()
	copy(s.gStayed, weights)
	e.backward(&s)
	gLnA := append([]float64(nil), s.gLnA...)
	gE0 := append([]float64(nil), s.gE0...)
	checked := 0
	for k := range e.steps {
		if math.Abs(gLnA[k])+math.Abs(gE0[k]) < 1e-3 {
			continue
		}
		checked++
		difference := func(p *float64, h float64) float64 {
			old := *p
			*p = old + h
			up := value()
			*p = old - h
			down := value()
			*p = old
			return (up - down) / (2 * h)
		}
		if d := difference(&lnA[k], 1e-4); math.Abs(d-gLnA[k]) > 1e-4+0.01*math.Abs(d) {
			t.Errorf("step %d: gradient to the frequency factor %.6f, by differences %.6f", k, gLnA[k], d)
		}
		// The energy grid makes the value piecewise smooth in the critical energy:
		// a kink inside the difference shows as a larger error.
		if d := difference(&e0[k], 1e-5); math.Abs(d-gE0[k]) > 1e-3+0.05*math.Abs(d) {
			t.Errorf("step %d: gradient to the critical energy %.6f, by differences %.6f", k, gE0[k], d)
		}
	}
	if checked < 10 {
		t.Errorf("only %d steps have a gradient to check", checked)
	}
}

// TestFitLearns: on two structures the loss falls, and the same seed gives the
// same parameters.
func TestFitLearns(t *testing.T) {
	run := func() (*Model, []float64) {
		samples := []*Sample{
			{SMILES: "CCCC(C)=O", Network: network(t, "CCCC(C)=O"), Spectra: []map[int]float64{{43: 1000, 58: 110, 71: 90, 86: 180, 41: 120}}}, // shaped like 2-pentanone, from memory
			{SMILES: "CCC(=O)CC", Network: network(t, "CCC(=O)CC"), Spectra: []map[int]float64{{57: 1000, 29: 900, 86: 200}}},                  // shaped like 3-pentanone, from memory
		}
		var losses []float64
		m, err := Fit(context.Background(), samples, nil, Settings{
			Epochs: 30, Rate: 0.05, Decay: 0.01, Start: 1e-3, Seed: 1, Workers: 2, Least: 1, Blend: 0.6,
		}, func(r Report) { losses = append(losses, r.Loss) })
		if err != nil {
			t.Fatal(err)
		}
		return m, losses
	}
	m, losses := run()
	first, last := losses[0], losses[len(losses)-1]
	if last > 0.5*first {
		t.Errorf("the loss went from %.3f to %.3f", first, last)
	}
	again, _ := run()
	if m.Bias != again.Bias || m.Dense != again.Dense {
		t.Error("two fits with one seed differ")
	}
}

// TestWarmthGradient compares the gradient with respect to the warmth with
// central differences of the loss, at the usual energy and at a low one.
func TestWarmthGradient(t *testing.T) {
	for _, eV := range []float64{70, 14} {
		sample := &Sample{EnergyEV: eV, Network: network(t, "CCCC(C)=O"), Spectra: []map[int]float64{{43: 100, 58: 20, 71: 10, 86: 25}}}
		index, seen := vocabulary([]*Sample{sample}, 1)
		m := newModel(index, seen, rand.New(rand.NewPCG(5, 6)))
		e := newExample(sample, index)
		rng := rand.New(rand.NewPCG(7, 8))
		for k := range m.Warmth {
			m.Warmth[k] = float32(0.02 * rng.NormFloat64())
		}
		set := Settings{Blend: 0.6}
		var w worker
		w.learn(m, e, set, rng)
		total := 0.0
		for _, n := range w.stayed[:len(e.first)] {
			total += n
		}
		if math.Abs(total-1) > 1e-6 {
			t.Errorf("%g eV: of one molecular ion %.7f are found again", eV, total)
		}
		slopes, checked := w.dWarmth, 0
		for k := range m.Warmth {
			if math.Abs(float64(slopes[k])) < 1e-3 {
				continue
			}
			checked++
			const h = 1e-3
			loss := func(by float32) float64 {
				old := m.Warmth[k]
				defer func() { m.Warmth[k] = old }()
				m.Warmth[k] += by
				w.predict(m, e, 0, nil)
				a, b := w.cosines(e, set.Blend, false)
				return set.Blend*(1-a) + (1-set.Blend)*(1-b)
			}
			if d := (loss(h) - loss(-h)) / (2 * h); math.Abs(d-float64(slopes[k])) > 2e-4+0.02*math.Abs(d) {
				t.Errorf("%g eV, property %d: gradient %.5f, by differences %.5f", eV, k, slopes[k], d)
			}
		}
		if checked < 3 {
			t.Errorf("%g eV: only %d properties have a gradient to check", eV, checked)
		}
	}
}
