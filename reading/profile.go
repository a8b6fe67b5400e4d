package reading

import (
	"cmp"
	"slices"

	"ionwright/spectrum"
)

// A profile has many points for each m/z, close together; peak lists haven't.
const (
	profilePoints  = 100  // at least so many
	profileSpacing = 0.26 // of the middle distance between neighbors
)

// isProfile tells whether ascending peaks are the points of a profile.
func isProfile(peaks []spectrum.Peak) bool {
	if len(peaks) < profilePoints {
		return false
	}
	close := 0
	for i := 1; i < len(peaks); i++ {
		if peaks[i].MZ-peaks[i-1].MZ < profileSpacing {
			close++
		}
	}
	return 2*close > len(peaks)
}

// centroids turns the points of a profile, in ascending m/z, into peaks: one
// for each hill between two valleys, with the area above the base line as
// intensity and the center of mass as m/z. The base line is the height under
// which a quarter of the points lie. Hills under a thousandth of the strongest
// are noise. Heights are first averaged over three points, so that noise on a
// slope makes no hill.
func centroids(points []spectrum.Peak) []spectrum.Peak {
	heights := make([]float64, len(points))
	for i, p := range points {
		heights[i] = p.Intensity
	}
	slices.Sort(heights)
	line := heights[len(heights)/4]
	smooth := func(i int) float64 {
		from, to := max(0, i-1), min(len(points)-1, i+1)
		sum := 0.0
		for k := from; k <= to; k++ {
			sum += points[k].Intensity
		}
		return sum / float64(to-from+1)
	}
	var out []spectrum.Peak
	var area, moment, strongest float64
	close := func() {
		if area > 0 {
			out = append(out, spectrum.Peak{MZ: moment / area, Intensity: area})
			strongest = max(strongest, area)
		}
		area, moment = 0, 0
	}
	for i := range points {
		if i > 0 && i < len(points)-1 && smooth(i) <= smooth(i-1) && smooth(i) < smooth(i+1) {
			close() // a valley
		}
		above := points[i].Intensity - line
		if above <= 0 || i == 0 {
			continue
		}
		width := min(points[i].MZ-points[i-1].MZ, 0.5)
		area += above * width
		moment += above * width * points[i].MZ
	}
	close()
	return slices.DeleteFunc(out, func(p spectrum.Peak) bool { return p.Intensity < strongest/1000 })
}

// ascending returns the usable peaks in ascending m/z, and how many were left
// out because m/z or intensity is no positive finite number.
func ascending(peaks []spectrum.Peak) (kept []spectrum.Peak, bad int) {
	kept = make([]spectrum.Peak, 0, len(peaks))
	for _, p := range peaks {
		if !(p.MZ > 0) || p.MZ > 1e9 || !(p.Intensity >= 0) || p.Intensity > 1e300 {
			bad++
			continue
		}
		kept = append(kept, p)
	}
	byMZ := func(a, b spectrum.Peak) int { return cmp.Compare(a.MZ, b.MZ) }
	if !slices.IsSortedFunc(kept, byMZ) {
		slices.SortStableFunc(kept, byMZ)
	}
	return kept, bad
}
