package sector

import (
	"fmt"
	"math"
	"sort"

	"ionwright/spectrum"
)

// Ion is a kind of ions in the beam.
type Ion struct {
	MZ        float64 // m/z of the ion itself: its mass over its charge number
	Intensity float64 // its current, any non-negative unit
}

// Ions returns the peaks of a spectrum as ions.
func Ions(s spectrum.Spectrum) []Ion {
	ions := make([]Ion, len(s.Peaks))
	for i, p := range s.Peaks {
		ions[i] = Ion(p)
	}
	return ions
}

// SweepSettings say how the field is swept. The zero value sweeps over all ions
// in equal steps, of which ten fall into the narrowest peak.
type SweepSettings struct {
	From, To    Tesla // 0: a little below the lightest, above the heaviest ion
	Steps       int   // number of fields, 2 or more; 0: as many as the peaks need
	Exponential bool  // equal ratios instead of equal steps, so that all peaks are equally wide

	Decays []Decay // metastable ions in the beam
}

// Window is the range of fields in which an ion reaches the collector.
type Window struct {
	Ion      int  // index in the ions, or in the decays
	Decay    bool // it is a metastable ion
	From, To Tesla
	Center   Tesla // where it flies down the central path
}

// Recording is what a sweep gives.
type Recording struct {
	Instrument Instrument
	Ions       []Ion
	Decays     []Decay
	Trace      spectrum.Trace // ion current that reaches the collector against the field in T
	Windows    []Window       // in the order in which the sweep meets them: light ions first

	ready ready
}

// Arrival is an ion that reaches the collector at one field.
type Arrival struct {
	Ion   int     // index in the ions, or in the decays
	Decay bool    // it is a metastable ion
	Share float64 // of its current, over 0 to 1
}

// Sweep raises the field from one end to the other and records, at each field,
// what of the ions' currents gets through the collector slit. It fails for
// settings that can't be, for an ion with an m/z that isn't positive or with
// a negative intensity, and where the sweep meets no ion or is so coarse that
// it steps over one.
func Sweep(i Instrument, ions []Ion, set SweepSettings) (*Recording, error) {
	rec, err := newRecording(i, ions, set)
	if err != nil {
		return nil, err
	}
	t := rec.Trace
	met := 0
	for _, w := range rec.Windows {
		mz, intensity := rec.Of(w)
		seen := record(t.X, t.Y, float64(w.From), float64(w.To), func(b float64) float64 { return intensity * rec.share(w, b) })
		if inside := t.X[0] <= float64(w.Center) && float64(w.Center) <= t.X[len(t.X)-1]; inside && !seen && intensity > 0 {
			return nil, &SettingError{"number of steps", float64(len(t.X)), "", fmt.Sprintf("the sweep steps over m/z %v, which reaches the collector only between %.6g T and %.6g T; take more steps", mz, w.From, w.To)}
		}
		if seen {
			met++
		}
	}
	if met == 0 {
		return nil, &SettingError{"end of the sweep", t.X[len(t.X)-1], "T", fmt.Sprintf("between this and %.6g T no ion reaches the collector; the lightest needs %.6g T, the heaviest %.6g T", t.X[0], rec.Windows[0].Center, rec.Windows[len(rec.Windows)-1].Center)}
	}
	return rec, nil
}

// newRecording checks instrument, ions and settings of a field sweep and
// returns its windows and fields, with nothing recorded.
func newRecording(i Instrument, ions []Ion, set SweepSettings) (*Recording, error) {
	s, err := i.readyFor(ions, set.Decays)
	if err != nil {
		return nil, err
	}
	rec := &Recording{Instrument: i, Ions: ions, Decays: set.Decays, ready: s}
	if err := rec.windows(); err != nil {
		return nil, err
	}
	fields, err := rec.fields(set)
	if err != nil {
		return nil, err
	}
	rec.Trace = spectrum.Trace{X: fields, Y: make([]float64, len(fields)), XUnit: "T"}
	return rec, nil
}

func checkIons(ions []Ion) error {
	if len(ions) == 0 {
		return &SettingError{"number of ions", 0, "", "there is nothing to sweep over"}
	}
	for _, ion := range ions {
		if err := check(massToCharge(ion.MZ)); err != nil {
			return err
		}
		if !(ion.Intensity >= 0) || math.IsInf(ion.Intensity, 0) {
			return &SettingError{"intensity", ion.Intensity, "", fmt.Sprintf("the current of m/z %v is a finite number of zero or more", ion.MZ)}
		}
	}
	return nil
}

// windows finds where each ion reaches the collector, by ascending field.
//
// At field B, an ion whose central field is C has C/B - 1 more momentum than
// the one on the central path, so it lies at dispersion (C/B - 1), and gets
// through while that is within the bounds of the response.
func (r *Recording) windows() error {
	low, high, err := r.ready.bounds()
	if err != nil {
		return err
	}
	window := func(at int, decay bool, mz, wider float64) error {
		center, err := Field(mz, r.Instrument.Voltage, r.Instrument.Radius)
		if !(low-wider > -1) {
			return r.Decays[at].tooMuch()
		}
		r.Windows = append(r.Windows, Window{at, decay, Tesla(float64(center) / (1 + high + wider)), Tesla(float64(center) / (1 + low - wider)), center})
		return err
	}
	for at, ion := range r.Ions {
		if err := window(at, false, ion.MZ, 0); err != nil {
			return err
		}
	}
	for at, d := range r.Decays {
		if err := window(at, true, d.apparent(), d.spread(r.Instrument.Voltage)); err != nil {
			return err
		}
	}
	sort.SliceStable(r.Windows, func(a, b int) bool { return r.Windows[a].Center < r.Windows[b].Center })
	return nil
}

// Of returns the m/z and the current that a window is for: of a metastable
// ion the apparent m/z.
func (r *Recording) Of(w Window) (mz, intensity float64) {
	if w.Decay {
		d := r.Decays[w.Ion]
		return d.apparent(), d.Intensity
	}
	return r.Ions[w.Ion].MZ, r.Ions[w.Ion].Intensity
}

// share returns the share of a window's ions that get through at field b.
func (r *Recording) share(w Window, b float64) float64 {
	wide := 0.0
	if w.Decay {
		wide = r.Decays[w.Ion].spread(r.Instrument.Voltage)
	}
	return r.ready.shareAround(float64(w.Center)/b-1, wide)
}

// fields returns the fields of a sweep.
func (r *Recording) fields(set SweepSettings) ([]float64, error) {
	from, to := set.From, set.To
	const margin = 0.01 // of the field, beyond the outermost windows
	// A wide peak of a metastable ion can reach beyond that of a later one.
	lowest, highest := r.Windows[0].From, r.Windows[0].To
	for _, w := range r.Windows {
		lowest, highest = min(lowest, w.From), max(highest, w.To)
	}
	if from == 0 {
		from = lowest * (1 - margin)
	}
	if to == 0 {
		to = highest * (1 + margin)
	}
	if most := r.Instrument.MaxField; most > 0 && to > most {
		return nil, &SettingError{"end of the sweep", float64(to), "T", fmt.Sprintf("the magnet reaches %.6g T; lower the voltage, or end the sweep there", most)}
	}
	return ramp{"field", "T", float64(from), float64(to), set.Steps, r.ready.narrowest(), set.Exponential}.points()
}

// At returns the ions that reach the collector at the field b, light ones
// first; none is no error.
func (r *Recording) At(b Tesla) []Arrival {
	if !(b > 0) {
		return nil
	}
	var out []Arrival
	for _, w := range r.Windows {
		if w.From > b || w.To < b {
			continue
		}
		if share := r.share(w, float64(b)); share > 0 {
			out = append(out, Arrival{w.Ion, w.Decay, share})
		}
	}
	return out
}
