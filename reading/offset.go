package reading

import (
	"math"

	"ionwright/spectrum"
)

// scale is how the fractions of the m/z lie: m/z is a whole number plus
// zero plus slope times m/z. Right ones have zero 0 and a slope of the mass
// defect, 0.0002 (many oxygens, chlorine) to 0.0012 (hydrocarbons).
type scale struct {
	zero, slope float64
	agreement   float64 // 0 to 1: how well the peaks lie on it
}

// What is taken for a scale that is off.
const (
	leastAgreement = 0.75
	mostZero       = 0.12
	scalePeaks     = 8 // at least so many peaks with fractions
)

// scaleOf fits the scale to peaks: at each slope the mean of the fractions as
// angles, weighted by the square root of intensity. It tells false for whole
// m/z and for too few peaks, of which nothing can be said.
func scaleOf(peaks []spectrum.Peak) (scale, bool) {
	base := 0.0
	for _, p := range peaks {
		base = max(base, p.Intensity)
	}
	var used []spectrum.Peak
	fractional := 0
	for _, p := range peaks {
		if p.Intensity < base/100 || p.MZ > 1000 {
			continue
		}
		used = append(used, spectrum.Peak{MZ: p.MZ, Intensity: math.Sqrt(p.Intensity)})
		if math.Abs(p.MZ-math.Round(p.MZ)) > 1e-9 {
			fractional++
		}
		if len(used) == 400 {
			break
		}
	}
	if fractional < scalePeaks || 2*fractional < len(used) {
		return scale{}, false
	}
	best, bestScore := scale{}, -1.0
	for slope := -0.001; slope < 0.0025; slope += 0.0001 {
		var x, y, all float64
		for _, p := range used {
			sin, cos := math.Sincos(2 * math.Pi * (p.MZ - slope*p.MZ))
			x += p.Intensity * cos
			y += p.Intensity * sin
			all += p.Intensity
		}
		s := scale{math.Atan2(y, x) / (2 * math.Pi), slope, math.Hypot(x, y) / all}
		// Many scales fit a few peaks: prefer the usual one.
		score := s.agreement - 0.1*math.Abs(s.zero) - 40*math.Abs(slope-0.0006)
		if score > bestScore {
			best, bestScore = s, score
		}
	}
	return best, true
}

// off tells whether the peaks lie on a scale by which rounding would tell whole
// m/z wrongly.
func (s scale) off(top float64) bool {
	return s.agreement >= leastAgreement && (math.Abs(s.zero) > mostZero || math.Abs(s.zero+s.slope*top) > 0.45)
}

// whole moves the peaks by what the scale says, so that they lie near whole
// m/z.
func (s scale) whole(peaks []spectrum.Peak) []spectrum.Peak {
	out := make([]spectrum.Peak, 0, len(peaks))
	for _, p := range peaks {
		if p.MZ -= s.zero + s.slope*p.MZ; p.MZ > 0 {
			out = append(out, p)
		}
	}
	return out
}
