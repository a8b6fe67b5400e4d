package sector

import (
	"fmt"
	"math"
	"sort"

	"ionwright/spectrum"
)

// VoltageSweep is a sweep of the accelerating voltage at a fixed field.
type VoltageSweep struct {
	From, To Volt // 0: a little below what the heaviest ion needs, above the lightest
	Steps    int  // number of voltages, 2 or more; 0: 4000
}

// SweepVoltage lowers the accelerating voltage at the field b and records, at
// each voltage, what of the ions' currents gets through the collector slit. The
// instrument's own Voltage isn't used; an electric sector is taken to follow.
// The trace is against the voltage in V, ascending, so the heaviest ions, which
// need the lowest voltage, come first in it. It fails like Sweep.
func SweepVoltage(i Instrument, b Tesla, ions []Ion, set VoltageSweep) (spectrum.Trace, error) {
	if i.Voltage == 0 {
		i.Voltage = 1000 // only so that Check has one
	}
	if err := i.Check(); err != nil {
		return spectrum.Trace{}, err
	}
	if err := check(field(b)); err != nil {
		return spectrum.Trace{}, err
	}
	if err := checkIons(ions); err != nil {
		return spectrum.Trace{}, err
	}
	centers := make([]float64, len(ions))
	lowest, highest := math.Inf(1), 0.0
	for at, ion := range ions {
		v, err := Voltage(ion.MZ, b, i.Radius)
		if err != nil {
			return spectrum.Trace{}, err
		}
		centers[at] = float64(v)
		lowest, highest = min(lowest, float64(v)), max(highest, float64(v))
	}
	const margin = 0.02
	from, to := float64(set.From), float64(set.To)
	if from == 0 {
		from = lowest * (1 - margin)
	}
	if to == 0 {
		to = highest * (1 + margin)
	}
	n := set.Steps
	if n == 0 {
		n = defaultSteps
	}
	if err := check(quantity{"start of the sweep", from, "V", "a sweep starts at a positive voltage"}); err != nil {
		return spectrum.Trace{}, err
	}
	switch {
	case n < 2 || n > mostSteps:
		return spectrum.Trace{}, &SettingError{"number of steps", float64(n), "", fmt.Sprintf("expected 2 to %d", mostSteps)}
	case !(to > from) || math.IsInf(to, 0):
		return spectrum.Trace{}, &SettingError{"end of the sweep", to, "V", fmt.Sprintf("not above its start of %.6g V", from)}
	}
	t := spectrum.Trace{X: make([]float64, n), Y: make([]float64, n), XUnit: "V"}
	for at := range t.X {
		t.X[at] = from + (to-from)*float64(at)/float64(n-1)
	}
	met := false
	for at, ion := range ions {
		// Energies weigh more at a low voltage, so each ion has its own response.
		i.Voltage = Volt(centers[at])
		if i.EnergySpread >= i.Voltage {
			return spectrum.Trace{}, &SettingError{"accelerating voltage", centers[at], "V", fmt.Sprintf("which m/z %v needs is no more than the energy spread of %v V", ion.MZ, float64(i.EnergySpread))}
		}
		o, err := i.optics()
		if err != nil {
			return spectrum.Trace{}, err
		}
		s, err := i.response(o)
		if err != nil {
			return spectrum.Trace{}, err
		}
		low, high := s.bounds()
		// At the voltage V the momentum is sqrt(V / center), the field the same.
		beside := func(v float64) float64 { return o.dispersion * (math.Sqrt(v/centers[at]) - 1) }
		first := sort.Search(n, func(k int) bool { return beside(t.X[k]) >= low })
		seen := false
		for k := first; k < n && beside(t.X[k]) <= high; k++ {
			share := s.share(beside(t.X[k]))
			t.Y[k] += ion.Intensity * share * i.survival(o)
			seen = seen || share > 0
		}
		if !seen && centers[at] > from && centers[at] < to {
			return spectrum.Trace{}, &SettingError{"number of steps", float64(n), "", fmt.Sprintf("the sweep steps over m/z %v, which arrives at %.6g V; take more steps", ion.MZ, centers[at])}
		}
		met = met || seen
	}
	if !met {
		return spectrum.Trace{}, &SettingError{"end of the sweep", to, "V", fmt.Sprintf("between this and %.6g V no ion reaches the collector; the heaviest needs %.6g V, the lightest %.6g V", from, lowest, highest)}
	}
	return t, nil
}

// Switch returns, for each selected m/z, the ion current that reaches the
// collector when the field is set for it: peak switching, or selected-ion
// monitoring. Ions that the slits let in beside it count too.
func Switch(i Instrument, ions []Ion, selected []float64) ([]float64, error) {
	if err := i.Check(); err != nil {
		return nil, err
	}
	if err := checkIons(ions); err != nil {
		return nil, err
	}
	o, err := i.optics()
	if err != nil {
		return nil, err
	}
	s, err := i.response(o)
	if err != nil {
		return nil, err
	}
	out := make([]float64, len(selected))
	for at, mz := range selected {
		if _, err := i.Field(mz); err != nil {
			return nil, err
		}
		for _, ion := range ions {
			out[at] += ion.Intensity * s.share(o.dispersion*deviation(ion.MZ, mz)) * i.survival(o)
		}
	}
	return out, nil
}
