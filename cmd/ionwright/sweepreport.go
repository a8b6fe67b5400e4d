package main

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"ionwright/sector"
	"ionwright/spectrum"
)

// sweepResult is what "sweep --json" writes.
type sweepResult struct {
	Instrument     string         `json:"instrument,omitempty"`
	Description    string         `json:"description"`
	Radius         float64        `json:"radius"`  // m
	Voltage        float64        `json:"voltage"` // V
	Slit           float64        `json:"slit"`    // m, of the collector
	ResolvingPower float64        `json:"resolvingPower"`
	Power          *power         `json:"power,omitempty"`
	Beam           string         `json:"beam,omitempty"`
	Note           string         `json:"note,omitempty"`
	Caution        string         `json:"caution"`
	Swept          string         `json:"swept"`           // field, voltage or switched
	Field          float64        `json:"field,omitempty"` // T, of a voltage sweep
	Ions           []sweptIon     `json:"ions"`            // in the order in which they arrive
	Switched       []switchedIon  `json:"switched,omitempty"`
	Spectrum       [][2]float64   `json:"spectrum,omitempty"` // m/z and current of the peaks found in the trace
	Counted        *countedResult `json:"counted,omitempty"`
	Flown          *flownResult   `json:"flown,omitempty"`
	Trace          *sweptTrace    `json:"trace,omitempty"`
	Files          []string       `json:"files,omitempty"`
}

// sweptIon is an ion with the field, or voltage, that brings it to the
// detector.
type sweptIon struct {
	MZ         float64 `json:"mz"`
	Intensity  float64 `json:"intensity"`
	Metastable bool    `json:"metastable,omitempty"`
	Field      float64 `json:"field,omitempty"`   // T, down the central path
	Voltage    float64 `json:"voltage,omitempty"` // V, down the central path
	From       float64 `json:"from"`              // T or V, from which it reaches the detector
	To         float64 `json:"to"`                // T or V
}

type switchedIon struct {
	MZ      float64 `json:"mz"`
	Field   float64 `json:"field"` // T
	Current float64 `json:"current"`
}

type countedResult struct {
	Seconds  float64 `json:"seconds"`
	Seed     uint64  `json:"seed"`
	Counts   float64 `json:"counts"`
	Expected float64 `json:"expected"`
	Across   float64 `json:"secondsAcrossAPeak"` // at half height, of the measured ion
}

type flownResult struct {
	Ions      int `json:"ions"`
	OnWalls   int `json:"onWalls"`
	Scattered int `json:"scattered"`
}

type sweptTrace struct {
	Field   []float64 `json:"field,omitempty"`   // T
	Voltage []float64 `json:"voltage,omitempty"` // V
	Signal  []float64 `json:"signal"`
}

// result gathers what was found.
func (s *swept) result() sweepResult {
	i := s.instrument
	r := sweepResult{Instrument: i.Name, Description: i.Description(), Radius: float64(i.Radius), Voltage: float64(i.Voltage), Slit: float64(i.CollectorSlit),
		Power: s.power, Beam: s.beam.name, Note: s.beam.note, Caution: sector.Caution, Swept: "field", Files: s.files}
	if power, err := i.ResolvingPower(); err == nil {
		r.ResolvingPower = power
	}
	trace := spectrum.Trace{}
	switch {
	case s.dwells != nil:
		r.Swept = "switched"
		for _, d := range s.dwells {
			r.Switched = append(r.Switched, switchedIon{d.MZ, float64(d.Field), d.Current})
		}
	case s.volts != nil:
		r.Swept, r.Field, trace = "voltage", float64(s.volts.Field), s.volts.Trace
		for _, w := range s.volts.Windows {
			mz, intensity := s.volts.Of(w)
			r.Ions = append(r.Ions, sweptIon{MZ: mz, Intensity: intensity, Metastable: w.Decay, Voltage: float64(w.Center), From: float64(w.From), To: float64(w.To)})
		}
	default:
		trace = s.recording.Trace
		for _, w := range s.recording.Windows {
			mz, intensity := s.recording.Of(w)
			r.Ions = append(r.Ions, sweptIon{MZ: mz, Intensity: intensity, Metastable: w.Decay, Field: float64(w.Center), From: float64(w.From), To: float64(w.To)})
		}
	}
	for _, p := range s.centroids.Peaks {
		r.Spectrum = append(r.Spectrum, [2]float64{p.MZ, p.Intensity})
	}
	if s.counted != nil {
		trace = s.counted.Trace
		r.Counted = &countedResult{*s.flags.duration, s.counting.Seed, s.counted.Ions, s.counted.Expect, s.across()}
	}
	if s.swarm != nil {
		r.Flown = &flownResult{s.swarm.Flown, s.swarm.OnWalls, s.swarm.Scattered}
	}
	if *s.flags.traced && len(trace.X) > 0 {
		r.Trace = &sweptTrace{Signal: trace.Y}
		if trace.XUnit == "V" {
			r.Trace.Voltage = trace.X
		} else {
			r.Trace.Field = trace.X
		}
	}
	return r
}

// across is how long the sweep takes over the width at half height of the peak
// that the resolving power was measured at, in s; 0 where it wasn't.
func (s *swept) across() float64 {
	if s.power.HalfHeight == 0 {
		return 0
	}
	x := s.trace().X
	first, last := x[0], x[len(x)-1]
	// The field goes with the root of m/z, the voltage with its inverse.
	relative, center := 1/s.power.HalfHeight/2, 0.0
	if b, err := s.instrument.Field(s.power.MZ); err == nil {
		center = float64(b)
	}
	if s.volts != nil {
		relative *= 2
		if v, err := sector.Voltage(s.power.MZ, s.volts.Field, s.instrument.Radius); err == nil {
			center = float64(v)
		}
	}
	if *s.flags.exponential {
		return *s.flags.duration * relative / math.Log(last/first)
	}
	return *s.flags.duration * relative * center / (last - first)
}

// trace is what was recorded, before counting.
func (s *swept) trace() spectrum.Trace {
	if s.volts != nil {
		return s.volts.Trace
	}
	return s.recording.Trace
}

// leastSwept is the part of the strongest ion's current under which the text
// leaves an ion out.
const leastSwept = 0.005

// print writes the result as text.
func (s *swept) print(c *call) {
	r := s.result()
	i := s.instrument
	name := i.Name
	if name == "" {
		name = "half circle with slits only"
	}
	voltage := fmt.Sprintf("accelerating voltage %g V", r.Voltage)
	if s.volts != nil {
		voltage = fmt.Sprintf("magnetic field %g T", r.Field)
	}
	slits := fmt.Sprintf("slits %g mm", millimetres(i.CollectorSlit))
	if i.SourceSlit != i.CollectorSlit {
		slits = fmt.Sprintf("source slit %g mm, collector slit %g mm", millimetres(i.SourceSlit), millimetres(i.CollectorSlit))
	}
	c.print("instrument: %s, path radius %g m, %s, %s", name, r.Radius, voltage, slits)
	if r.Beam != "" {
		c.print("ions: %s", r.Beam)
	}
	if r.Note != "" {
		c.print("%s", r.Note)
	}
	switch {
	case s.dwells != nil:
		c.print("%10s %10s %12s", "m/z", "field (T)", "current")
		for _, d := range r.Switched {
			c.print("%10g %10.5f %12.4g", d.MZ, d.Field, d.Current)
		}
	default:
		s.printIons(c, r)
		s.power.print(c)
		s.printCounts(c, r)
	}
	for _, file := range r.Files {
		c.print("wrote %s", file)
	}
	c.print("caution: %s", r.Caution)
}

// printIons writes which ion arrives when.
func (s *swept) printIons(c *call, r sweepResult) {
	unit, digits := "field (T)", 5
	if s.volts != nil {
		unit, digits = "voltage (V)", 1
	}
	strongest := 0.0
	for _, ion := range r.Ions {
		strongest = max(strongest, ion.Intensity)
	}
	c.print("%9s %10s %11s %22s", "m/z", "intensity", unit, "reaches the detector")
	left := 0
	for _, ion := range r.Ions {
		if ion.Intensity < leastSwept*strongest {
			left++
			continue
		}
		mz := strings.TrimSuffix(fmt.Sprintf("%.4f", ion.MZ), ".0000")
		if ion.Metastable {
			mz = fmt.Sprintf("%.1f*", ion.MZ)
		}
		c.print("%9s %10.4g %11.*f  from %.*f to %.*f", mz, ion.Intensity, digits, ion.Field+ion.Voltage, digits, ion.From, digits, ion.To)
	}
	c.printLeft(left)
	if slices.ContainsFunc(r.Ions, func(i sweptIon) bool { return i.Metastable }) {
		c.print("* metastable: decayed before the magnet, recorded at m/z of the product squared over that of the precursor, and diffuse")
	}
}

// printLeft says how many rows were left out.
func (c *call) printLeft(left int) {
	if left > 0 {
		c.print("not listed, under %g %% of the strongest: %d", 100*leastSwept, left)
	}
}

// millimetres of a length, without what rounding adds.
func millimetres(m sector.Metre) float64 { return math.Round(float64(m)*1e9) / 1e6 }

// printCounts writes what was counted and lost, and the peaks found.
func (s *swept) printCounts(c *call, r sweepResult) {
	if n := r.Counted; n != nil {
		c.print("counted in %g s: %.0f counts, %.0f ions expected (seed %d)", n.Seconds, n.Counts, n.Expected, n.Seed)
		if n.Across > 0 {
			c.print("the peak at m/z %.2f takes %.3g s at half height", s.power.MZ, n.Across)
			if lag := float64(s.instrument.Detector.TimeConst); lag > n.Across/3 {
				c.print("the amplifier's time constant of %g s is too long for that: the peaks smear; sweep more slowly", lag)
			}
		}
	}
	if n := r.Flown; n != nil {
		c.print("flown one by one: %d ions, of which %d hit walls and %d hit molecules of the residual gas", n.Ions, n.OnWalls, n.Scattered)
	}
	base, ok := s.centroids.Base()
	if !ok {
		return
	}
	c.print("peaks found in the trace")
	c.print("%9s %10s", "m/z", "relative")
	left := 0
	for _, p := range s.centroids.Peaks {
		if p.Intensity < leastSwept*base.Intensity {
			left++
			continue
		}
		c.print("%9.2f %10.1f", p.MZ, 100*p.Intensity/base.Intensity)
	}
	c.printLeft(left)
}
