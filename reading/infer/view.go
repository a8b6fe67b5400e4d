// Package infer turns the peaks of a spectrum into probabilities: which m/z is
// the molecular ion, which formula and which functional groups the compound
// has. Its models are sums of small trees and log-likelihood ratios over named
// features of the peaks, so that each answer can say what moved it. They are
// fitted to measured 70 eV spectra by the command that Provenance names.
//
// For most uses call Load once, then Model.Infer. The words an instructor
// would say about the result are made in package reading.
package infer

import (
	"math"

	"ionwright/spectrum"
)

// MaxMZ is the highest m/z that a View holds; peaks beyond it are counted in
// Beyond and otherwise left out.
const MaxMZ = 2000

// margin lets features look past both ends without a bounds check of their own.
const margin = 160

// View is a spectrum at unit resolution as a dense row.
type View struct {
	cells  []float32 // relative intensity in % of base at m/z index-margin
	Top    int       // highest m/z with intensity
	Low    int       // lowest m/z with intensity
	Base   int       // m/z of the base peak
	Total  float64   // sum of the relative intensities, %
	Count  int       // number of unit m/z with intensity
	Beyond int       // peaks above MaxMZ, left out
}

// NewView returns the view of a spectrum: centroids are rounded to whole m/z
// and summed, and the base peak becomes 100. It accepts peaks in any order and
// leaves out those that aren't positive finite numbers. A spectrum without
// usable peaks gives a View with Count 0.
func NewView(s spectrum.Spectrum) *View {
	v := &View{cells: make([]float32, MaxMZ+2*margin+1)}
	v.fill(s.Peaks)
	return v
}

func (v *View) fill(peaks []spectrum.Peak) {
	sums := make([]float64, MaxMZ+1)
	lo, hi := MaxMZ+1, -1
	for _, p := range peaks {
		if !(p.Intensity > 0) || p.Intensity > 1e300 || !(p.MZ > 0) {
			continue
		}
		if p.MZ >= MaxMZ+0.5 {
			v.Beyond++
			continue
		}
		mz := spectrum.UnitMZ(p.MZ)
		if mz < 1 || mz > MaxMZ {
			continue
		}
		sums[mz] += p.Intensity
		lo, hi = min(lo, mz), max(hi, mz)
	}
	base := 0.0
	for mz := lo; mz <= hi; mz++ {
		if sums[mz] > base {
			base, v.Base = sums[mz], mz
		}
	}
	for mz := lo; mz <= hi; mz++ {
		if r := sums[mz] / base * 100; r > 0.001 {
			v.cells[mz+margin] = float32(r)
			v.Total += r
			v.Count++
			v.Top = mz
			if v.Low == 0 {
				v.Low = mz
			}
		}
	}
}

// At returns the relative intensity at m/z in % of the base peak, 0 outside.
func (v *View) At(mz int) float64 { return float64(v.at(mz)) }

func (v *View) at(mz int) float32 {
	if uint(mz+margin) >= uint(len(v.cells)) {
		return 0
	}
	return v.cells[mz+margin]
}

// Peaks returns the m/z at which the relative intensity is at least percent,
// ascending.
func (v *View) Peaks(percent float64) []int {
	var out []int
	for mz := v.Low; mz <= v.Top && mz > 0; mz++ {
		if v.At(mz) >= percent {
			out = append(out, mz)
		}
	}
	return out
}

// LastPeak returns the highest m/z whose peak reaches percent and isn't an
// isotope satellite of a stronger peak one or two below; 0 if there is none.
// An isotope satellite is taken to be at most half its neighbor below, unless
// chlorine or bromine could explain more.
func (v *View) LastPeak(percent float64) int {
	for mz := v.Top; mz > 0; mz-- {
		r := v.At(mz)
		if r < percent {
			continue
		}
		if below := v.At(mz - 1); below > 0 && r < below*0.014*float64(mz)/14*1.5+0.2 {
			continue
		}
		if below := v.At(mz - 2); below > 0 && r < below*0.12 {
			continue
		}
		return mz
	}
	return 0
}

// line is a peak of a view with what is often asked of it.
type line struct {
	mz        int
	r, root   float32 // relative intensity in % of base, and its square root
	class     int     // of the loss table
	satellite bool    // weak beside the peak one below
}

// lines returns the peaks in ascending m/z.
func (v *View) lines() []line {
	out := make([]line, 0, v.Count)
	for mz := max(v.Low, 1); mz <= v.Top; mz++ {
		if r := v.at(mz); r > 0 {
			out = append(out, line{mz, r, float32(math.Sqrt(float64(r))), lossClass(r), r < 0.15*v.at(mz-1)})
		}
	}
	return out
}
