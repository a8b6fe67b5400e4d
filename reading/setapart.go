package reading

import (
	"math"

	"ionwright/reading/infer"
	"ionwright/spectrum"
)

// contamination is a background that is told apart by the heights of its own
// peaks and left out before anything is inferred.
type contamination struct {
	name    string // of the row in backgroundRows
	peaks   []int  // left out
	present func(v *infer.View) bool
}

// contaminations: heights in air by its composition, the isotope clusters of
// the siloxanes by their formulas, the rest common practice, no source.
var contaminations = [...]contamination{
	{"air", []int{14, 16, 28, 32, 40}, func(v *infer.View) bool {
		return near(v, 32, 28, 0.26, 0.1) && v.At(31) < v.At(32) && v.At(33) < 0.3*v.At(32) && v.At(29) < 0.3*v.At(28)
	}},
	{"water", []int{16, 17, 18}, func(v *infer.View) bool { return near(v, 17, 18, 0.22, 0.08) && v.At(19) < 0.3*v.At(18) }},
	{"column bleed", []int{133, 147, 148, 149, 191, 193, 207, 208, 209, 210, 281, 282, 283, 355, 356, 357, 429, 430, 431}, func(v *infer.View) bool {
		return v.At(207) < 60 && near(v, 208, 207, 0.2, 0.06) && near(v, 209, 207, 0.14, 0.05) && v.At(281) > 0.1*v.At(207) && near(v, 282, 281, 0.29, 0.08) && v.At(222) < 0.1*v.At(207) && v.At(147) < v.At(207)
	}},
	{"calibration gas", []int{100, 119, 131, 132, 169, 219, 220, 264, 414, 502}, func(v *infer.View) bool {
		return near(v, 131, 219, 0.85, 0.35) && near(v, 264, 219, 0.25, 0.15) && v.At(220) < 0.08*v.At(219) && v.At(132) < 0.15*v.At(131) && v.At(265) < 0.2*v.At(264)
	}},
}

// near tells whether the peak at mz has the given share of the one at of,
// within a tolerance.
func near(v *infer.View, mz, of int, share, within float64) bool {
	return v.At(of) > 0.5 && math.Abs(v.At(mz)/v.At(of)-share) <= within
}

// setApart returns the peaks without those of the contaminations found, the
// m/z left out, and the contaminations' names. It leaves out nothing if
// nothing would be left.
func setApart(v *infer.View, peaks []spectrum.Peak) (kept []spectrum.Peak, left []int, names []string) {
	out := map[int]bool{}
	for _, c := range contaminations {
		if !c.present(v) {
			continue
		}
		names = append(names, c.name)
		for _, mz := range c.peaks {
			if v.At(mz) > 0 && !out[mz] {
				out[mz] = true
				left = append(left, mz)
			}
		}
	}
	if len(left) == 0 {
		return peaks, nil, nil
	}
	rest := 0.0
	for _, p := range peaks {
		if !out[spectrum.UnitMZ(p.MZ)] {
			kept = append(kept, p)
			rest += p.Intensity
		}
	}
	if rest <= 0 {
		return peaks, nil, nil
	}
	return kept, left, names
}
