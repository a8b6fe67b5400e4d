package sector

import (
	"fmt"
	"math"

	"ionwright/spectrum"
)

// MZTrace returns a trace against the field as one against m/z.
func (i Instrument) MZTrace(t spectrum.Trace) (spectrum.Trace, error) {
	if err := fieldTrace(t); err != nil {
		return spectrum.Trace{}, err
	}
	out := spectrum.Trace{X: make([]float64, len(t.X)), Y: append([]float64(nil), t.Y...), XUnit: "m/z"}
	for at, b := range t.X {
		mz, err := i.MZ(Tesla(b))
		if err != nil {
			return spectrum.Trace{}, err
		}
		out.X[at] = mz
	}
	return out, nil
}

// fieldTrace checks that a trace is one against positive fields.
func fieldTrace(t spectrum.Trace) error {
	if err := t.Check(); err != nil {
		return err
	}
	if t.XUnit != "T" {
		return fmt.Errorf("reading a recorded trace: its x is in %q; expected a trace against the field, in T", t.XUnit)
	}
	if len(t.X) > 0 {
		return check(field(Tesla(t.X[0])))
	}
	return nil
}

// valley is how deep the signal must fall between two maxima, as a part of the
// lower one, for them to be two peaks.
const valley = 0.9

// Centroids returns the peaks of a trace against the field as a spectrum: the
// m/z of the center of each, and the ion current that gives its area. Signal
// of threshold or less is no peak. Peaks between which the signal doesn't fall
// below nine tenths of the lower one are taken as one: the instrument doesn't
// tell them apart.
//
// The area under a peak, against the relative excess of momentum, is its ion
// current times collector slit over dispersion, whatever the shape, as long as
// the slits let the beam through and nothing else.
func (i Instrument) Centroids(t spectrum.Trace, threshold float64) (spectrum.Spectrum, error) {
	return i.centroids(t, threshold, 0)
}

// centroids is Centroids for a trace of counted ions too: grain is the signal
// that one ion gives, and valleys that chance makes part no peaks.
func (i Instrument) centroids(t spectrum.Trace, threshold, grain float64) (spectrum.Spectrum, error) {
	if err := i.Check(); err != nil {
		return spectrum.Spectrum{}, err
	}
	if err := fieldTrace(t); err != nil {
		return spectrum.Spectrum{}, err
	}
	if !(threshold >= 0) || math.IsInf(threshold, 0) {
		return spectrum.Spectrum{}, &SettingError{"threshold", threshold, "", "expected a signal of zero or more"}
	}
	o, err := i.optics()
	if err != nil {
		return spectrum.Spectrum{}, err
	}
	perArea := math.Abs(o.dispersion) / float64(i.CollectorSlit)
	var peaks []spectrum.Peak
	for _, hump := range humps(t.Y, threshold, grain) {
		center, area := center(t, hump[0], hump[1])
		if !(area > 0) {
			continue
		}
		mz, err := i.MZ(Tesla(center))
		if err != nil {
			return spectrum.Spectrum{}, err
		}
		peaks = append(peaks, spectrum.Peak{MZ: mz, Intensity: area * perArea})
	}
	s, err := spectrum.New(peaks)
	s.Info.Instrument, s.Info.Origin = i.Name, spectrum.Computed
	return s, err
}

// valleyDeviations is how many standard deviations of counting a valley must be
// deep.
const valleyDeviations = 5

// humps returns the ranges [from, to) of y that are one peak each.
func humps(y []float64, threshold, grain float64) [][2]int {
	// deep tells whether a valley is one between peaks of this height.
	deep := func(low, peak float64) bool {
		return low < valley*peak && peak-low >= valleyDeviations*math.Sqrt(peak*grain)
	}
	var out [][2]int
	for at := 0; at < len(y); {
		if y[at] <= threshold {
			at++
			continue
		}
		// One stretch above the threshold, cut at its valleys.
		from, top, low := at, at, -1
		for at < len(y) && y[at] > threshold {
			switch {
			case low < 0 && y[at] >= y[top]:
				top = at
			case low < 0 || y[at] < y[low]:
				if deep(y[at], y[top]) {
					low = at
				}
			case deep(y[low], y[at]) && at > low+1:
				out = append(out, [2]int{from, low})
				from, top, low = low, at, -1
			}
			at++
		}
		out = append(out, [2]int{from, at})
	}
	return out
}

// center returns the center of the points [from, to) of a trace against the
// field, and the area under them against the relative excess of momentum of the
// ion that belongs at the center. The half steps beside the range count too.
func center(t spectrum.Trace, from, to int) (b, area float64) {
	// Of an ion with central field C the excess is C/B - 1, so equal steps of
	// the excess are steps of dB/B^2. The centroid in 1/B is that in excess.
	var sum, moment float64
	for at := from; at < to; at++ {
		left, right := t.X[max(at-1, 0)], t.X[min(at+1, len(t.X)-1)]
		step := (1/left - 1/right) / 2
		sum += t.Y[at] * step
		moment += t.Y[at] * step / t.X[at]
	}
	if sum == 0 {
		return 0, 0
	}
	b = sum / moment
	return b, sum * b
}
