package sector

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"ionwright/spectrum"
)

// VoltageSettings say how the accelerating voltage is swept. The zero value
// sweeps over all ions in equal steps, of which ten fall into the narrowest
// peak.
type VoltageSettings struct {
	From, To    Volt // 0: a little below what the heaviest ion needs, above the lightest
	Steps       int  // number of voltages, 2 or more; 0: as many as the peaks need
	Exponential bool // equal ratios instead of equal steps

	Decays []Decay // metastable ions in the beam
}

// VoltageWindow is the range of voltages in which an ion reaches the collector.
type VoltageWindow struct {
	Ion      int  // index in the ions, or in the decays
	Decay    bool // it is a metastable ion
	From, To Volt
	Center   Volt // at which it flies down the central path
}

// VoltageRecording is what a sweep of the voltage gives.
type VoltageRecording struct {
	Instrument Instrument
	Field      Tesla
	Ions       []Ion
	Decays     []Decay
	Trace      spectrum.Trace  // ion current that reaches the collector against the voltage in V
	Windows    []VoltageWindow // by ascending voltage: heavy ions first
}

// SweepVoltage changes the accelerating voltage at the field b and records, at
// each voltage, what of the ions' currents gets through the collector slit. The
// instrument's own Voltage isn't used; an electric sector is taken to follow.
// The trace is against the voltage in V, ascending, so the heaviest ions, which
// need the lowest voltage, come first in it. It fails like Sweep.
func SweepVoltage(i Instrument, b Tesla, ions []Ion, set VoltageSettings) (*VoltageRecording, error) {
	if i.Voltage == 0 {
		i.Voltage = 1000 // only so that Check has one
	}
	if _, err := i.readyFor(ions, set.Decays); err != nil {
		return nil, err
	}
	if err := check(field(b)); err != nil {
		return nil, err
	}
	if i.MaxField > 0 && b > i.MaxField {
		return nil, beyond(b, i.MaxField)
	}
	rec := &VoltageRecording{Instrument: i, Field: b, Ions: ions, Decays: set.Decays}
	// Energies weigh more at a low voltage, so each ion has its own response.
	var at []ready
	narrowest := 1.0
	add := func(k int, decay bool, mz float64) error {
		w, s, err := rec.window(k, decay, mz)
		if err != nil {
			return err
		}
		rec.Windows, at = append(rec.Windows, w), append(at, s)
		narrowest = min(narrowest, 2*s.narrowest()) // the voltage goes with the square of the momentum
		return nil
	}
	for k, ion := range ions {
		if err := add(k, false, ion.MZ); err != nil {
			return nil, err
		}
	}
	for k, d := range set.Decays {
		if err := add(k, true, d.apparent()); err != nil {
			return nil, err
		}
	}
	r := ramp{"voltage", "V", float64(set.From), float64(set.To), set.Steps, narrowest, set.Exponential}
	byCenter := func(a, b VoltageWindow) int { return cmp.Compare(a.Center, b.Center) }
	lowest, highest := slices.MinFunc(rec.Windows, byCenter), slices.MaxFunc(rec.Windows, byCenter)
	const margin = 0.02
	if r.from == 0 {
		r.from = float64(lowest.From) * (1 - margin)
	}
	if r.to == 0 {
		r.to = float64(highest.To) * (1 + margin)
	}
	points, err := r.points()
	if err != nil {
		return nil, err
	}
	t := spectrum.Trace{X: points, Y: make([]float64, len(points)), XUnit: "V"}
	met := false
	for k, w := range rec.Windows {
		wide := 0.0
		if w.Decay {
			wide = set.Decays[w.Ion].spread(w.Center)
		}
		mz, intensity := rec.Of(w)
		// At the voltage V the momentum is sqrt(V / center), the field the same.
		seen := record(t.X, t.Y, float64(w.From), float64(w.To), func(v float64) float64 {
			return intensity * at[k].shareAround(math.Sqrt(v/float64(w.Center))-1, wide)
		})
		if !seen && intensity > 0 && float64(w.Center) > t.X[0] && float64(w.Center) < t.X[len(t.X)-1] {
			return nil, &SettingError{"number of steps", float64(len(t.X)), "", fmt.Sprintf("the sweep steps over m/z %v, which arrives at %.6g V; take more steps", mz, w.Center)}
		}
		met = met || seen
	}
	if !met {
		return nil, &SettingError{"end of the sweep", r.to, "V", fmt.Sprintf("between this and %.6g V no ion reaches the collector; the heaviest needs %.6g V, the lightest %.6g V", r.from, lowest.Center, highest.Center)}
	}
	rec.Trace = t
	slices.SortStableFunc(rec.Windows, byCenter)
	return rec, nil
}

// window returns between which voltages an ion gets through, and the
// instrument ready at the voltage in their middle.
func (r *VoltageRecording) window(k int, decay bool, mz float64) (VoltageWindow, ready, error) {
	i := r.Instrument
	center, err := Voltage(mz, r.Field, i.Radius)
	if err != nil {
		return VoltageWindow{}, ready{}, err
	}
	i.Voltage = center
	if i.EnergySpread >= i.Voltage {
		return VoltageWindow{}, ready{}, &SettingError{"accelerating voltage", float64(center), "V", fmt.Sprintf("which m/z %v needs is no more than the energy spread of %v V; take a stronger field", mz, float64(i.EnergySpread))}
	}
	s, err := i.ready()
	if err != nil {
		return VoltageWindow{}, ready{}, err
	}
	low, high, err := s.bounds()
	if err != nil {
		return VoltageWindow{}, ready{}, err
	}
	if decay {
		wide := r.Decays[k].spread(center)
		if low, high = low-wide, high+wide; !(low > -1) {
			return VoltageWindow{}, ready{}, r.Decays[k].tooMuch()
		}
	}
	at := func(excess float64) Volt { return center * Volt((1+excess)*(1+excess)) }
	return VoltageWindow{k, decay, at(low), at(high), center}, s, nil
}

// Of returns the m/z and the current that a window is for: of a metastable ion
// the apparent m/z.
func (r *VoltageRecording) Of(w VoltageWindow) (mz, intensity float64) {
	if w.Decay {
		d := r.Decays[w.Ion]
		return d.apparent(), d.Intensity
	}
	return r.Ions[w.Ion].MZ, r.Ions[w.Ion].Intensity
}

// FieldTrace returns the trace of a voltage sweep as that of a field sweep at
// the voltage v with the same m/z: an ion lies at the same place in both.
//
//	B(m/z) at v = B sqrt(v / V)
//
// So what works on field sweeps, Centroids, Resolution and MZTrace, works on it
// too, for an instrument with Voltage v.
func (r *VoltageRecording) FieldTrace(t spectrum.Trace, v Volt) (spectrum.Trace, error) {
	if err := t.Check(); err != nil {
		return spectrum.Trace{}, err
	}
	if t.XUnit != "V" || len(t.X) > 0 && !(t.X[0] > 0) {
		return spectrum.Trace{}, fmt.Errorf("reading a recorded trace: its x is in %q; expected a trace against a positive voltage, in V", t.XUnit)
	}
	if err := check(voltage(v)); err != nil {
		return spectrum.Trace{}, err
	}
	out := spectrum.Trace{X: make([]float64, len(t.X)), Y: make([]float64, len(t.X)), XUnit: "T"}
	for at, x := range t.X {
		last := len(t.X) - 1 - at
		out.X[last], out.Y[last] = float64(r.Field)*math.Sqrt(float64(v)/x), t.Y[at]
	}
	return out, nil
}

// beyond is the error for a field that the magnet doesn't reach.
func beyond(b, most Tesla) error {
	return &SettingError{"magnetic field", float64(b), "T", fmt.Sprintf("the magnet reaches %.6g T", most)}
}
