package sector

import (
	"fmt"
	"math"
	"math/rand/v2"

	"ionwright/spectrum"
)

// Detector is what counts the ions.
type Detector struct {
	DarkRate  float64 // counts per second without ions
	Gain      float64 // signal for each count; 0 is 1
	TimeConst Second  // of the amplifier, which smears the signal over so much time; 0 is none
}

// gain is Gain with its default.
func (d Detector) gain() float64 {
	if d.Gain == 0 {
		return 1
	}
	return d.Gain
}

// check returns an error that names the first setting that can't be.
func (d Detector) check() error {
	for _, q := range []quantity{
		{"dark rate", d.DarkRate, "1/s", "expected zero or more"},
		{"gain", d.Gain, "", "expected a positive number, or 0 for 1"},
		{"time constant", float64(d.TimeConst), "s", "expected zero or more"},
	} {
		if err := q.orZero(); err != nil {
			return err
		}
	}
	return nil
}

// Counting says how a recorded sweep is counted.
type Counting struct {
	Duration Second  // of the whole sweep
	IonRate  float64 // ions per second that arrive where the trace is 1
	Seed     uint64  // the same seed gives the same counts
}

// Counted is a sweep as the detector counts it.
type Counted struct {
	Trace  spectrum.Trace // signal against field or voltage
	Ions   float64        // counted ions and dark counts
	Dwell  Second         // time at each field
	Expect float64        // ions that were to be expected, without dark counts
}

// Count lets the instrument's detector count the ions of the recording.
func (r *Recording) Count(c Counting) (*Counted, error) {
	return r.Instrument.Detector.Count(r.Trace, c)
}

// Count counts the ions of a trace, with the scatter of counting (Poisson). It
// fails for settings that can't be, and for a sweep so fast that not one ion is
// to be expected.
func (d Detector) Count(t spectrum.Trace, c Counting) (*Counted, error) {
	if err := t.Check(); err != nil {
		return nil, err
	}
	if err := d.check(); err != nil {
		return nil, err
	}
	if err := check(
		quantity{"duration of the sweep", float64(c.Duration), "s", "a sweep takes time"},
		quantity{"ion rate", c.IonRate, "1/s", "without ions there is nothing to count"}); err != nil {
		return nil, err
	}
	n := len(t.X)
	out := &Counted{
		Trace: spectrum.Trace{X: append([]float64(nil), t.X...), Y: make([]float64, n), XUnit: t.XUnit},
		Dwell: c.Duration / Second(n),
	}
	for _, y := range t.Y {
		out.Expect += y * c.IonRate * float64(out.Dwell)
	}
	if !(out.Expect >= 1) {
		return nil, &SettingError{"duration of the sweep", float64(c.Duration), "s", fmt.Sprintf("so fast that only %.2g ions are to be expected in all; sweep more slowly, or make more ions", out.Expect)}
	}
	random := rand.New(rand.NewPCG(c.Seed, 0))
	for at, y := range t.Y {
		mean := (y*c.IonRate + d.DarkRate) * float64(out.Dwell)
		if mean > 1e15 {
			return nil, &SettingError{"ion rate", c.IonRate, "1/s", "more ions than can be counted one by one"}
		}
		counts := poisson(random, mean)
		out.Ions += counts
		out.Trace.Y[at] = counts * d.gain()
	}
	if d.TimeConst > 0 {
		smear(out.Trace.Y, float64(out.Dwell/d.TimeConst))
	}
	return out, nil
}

// smear lets a signal follow with a lag, as an amplifier does; steps is the
// length of a step in time constants.
func smear(y []float64, step float64) {
	keep := math.Exp(-step)
	value := 0.0
	for at := range y {
		value = keep*value + (1-keep)*y[at]
		y[at] = value
	}
}

// Spectrum returns what the detector counted as a spectrum, as
// Instrument.Counted does.
func (r *Recording) Spectrum(c *Counted, set Counting) (spectrum.Spectrum, error) {
	return r.Instrument.Counted(c, set)
}

// Counted returns a counted sweep of the field as a spectrum, by Centroids, in
// the unit of Ion.Intensity. Peaks of fewer than three standard deviations of
// what dark counts and chance give don't count, and valleys of less than five
// part none. The trace is smoothed over a fifth of a peak first.
func (i Instrument) Counted(c *Counted, set Counting) (spectrum.Spectrum, error) {
	s, err := i.ready()
	if err != nil {
		return spectrum.Spectrum{}, err
	}
	if err := fieldTrace(c.Trace); err != nil {
		return spectrum.Spectrum{}, err
	}
	if len(c.Trace.X) < 2 {
		return spectrum.Spectrum{}, fmt.Errorf("reading a recorded trace: it has %d points; expected 2 or more", len(c.Trace.X))
	}
	gain := i.Detector.gain()
	low, high, err := s.bounds()
	if err != nil {
		return spectrum.Spectrum{}, err
	}
	width := (high - low) / 5 // relative, of the field
	smooth := spectrum.Trace{X: c.Trace.X, Y: make([]float64, len(c.Trace.Y)), XUnit: c.Trace.XUnit}
	perIon := set.IonRate * float64(c.Dwell) * gain
	dark := i.Detector.DarkRate * float64(c.Dwell) * gain
	// A running mean over the points within width.
	from, to, sum := 0, 0, 0.0
	for at, x := range c.Trace.X {
		for to < len(c.Trace.X) && c.Trace.X[to] <= x*(1+width/2) {
			sum += c.Trace.Y[to]
			to++
		}
		for c.Trace.X[from] < x*(1-width/2) {
			sum -= c.Trace.Y[from]
			from++
		}
		smooth.Y[at] = max(sum/float64(to-from)-dark, 0) / perIon
	}
	points := float64(len(c.Trace.X)) * width / math.Log(c.Trace.X[len(c.Trace.X)-1]/c.Trace.X[0])
	chance := math.Sqrt(max(dark*gain, gain*gain)/max(points, 1)) * 3 / perIon
	return i.centroids(smooth, chance, 1/(set.IonRate*float64(c.Dwell)*max(points, 1)))
}
