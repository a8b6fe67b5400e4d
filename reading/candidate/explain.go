package candidate

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"ionwright/ionize"
	"ionwright/spectrum"
)

// Explained tells peak by peak what a structure's ions explain.
type Explained struct {
	Share float64 // of the ion current
	Peaks []ExplainedPeak
}

// ExplainedPeak is a measured peak and the ion that explains it.
type ExplainedPeak struct {
	MZ        int
	Intensity float64 // % of the base peak
	Ion       int     // index into the prediction's ions; -1: none explains it
	Isotope   int     // how far the peak is above that ion: 0, or 1 or 2 for an isotope peak
}

// An ion explains a peak if it takes at most mostSteps steps and at least
// leastIons of all molecular ions get there: rarer ones would be found for any
// structure.
const (
	mostSteps = 4
	leastIons = 2e-4
)

// explain finds for each measured peak the most abundant ion there, or else
// the ion one or two below whose isotope peak it may be.
func explain(measured spectrum.Spectrum, p *ionize.Prediction) Explained {
	at := map[int]int{}
	for id, ion := range p.Ions { // by falling abundance
		if ion.Abundance < leastIons || len(p.Route(id)) > mostSteps {
			continue
		}
		if _, taken := at[ion.MZ]; !taken {
			at[ion.MZ] = id
		}
	}
	computed := p.Spectrum()
	var out Explained
	all, found := 0.0, 0.0
	for _, peak := range measured.Peaks {
		mz := spectrum.UnitMZ(peak.MZ)
		e := ExplainedPeak{MZ: mz, Intensity: peak.Intensity, Ion: -1}
		all += peak.Intensity
		for k := range 3 {
			id, ok := at[mz-k]
			// An isotope peak must be one: as computed, within a factor of two.
			if !ok || k > 0 && peak.Intensity*computed.At(mz-k) > 2*computed.At(mz)*measured.At(mz-k) {
				continue
			}
			e.Ion, e.Isotope = id, k
			found += peak.Intensity
			break
		}
		out.Peaks = append(out.Peaks, e)
	}
	if all > 0 {
		out.Share = found / all
	}
	return out
}

// Open returns the m/z of the strongest peaks of 5 % or more that nothing
// explains, at most n, ascending.
func (e Explained) Open(n int) []int {
	var open []ExplainedPeak
	for _, p := range e.Peaks {
		if p.Ion < 0 && p.Intensity >= 5 {
			open = append(open, p)
		}
	}
	slices.SortStableFunc(open, func(a, b ExplainedPeak) int { return cmp.Compare(b.Intensity, a.Intensity) })
	var mz []int
	for _, p := range open[:min(n, len(open))] {
		mz = append(mz, p.MZ)
	}
	slices.Sort(mz)
	return mz
}

// peakList words "m/z 43 (100 %), 57 (45 %) and 71 (20 %)".
func peakList(s spectrum.Spectrum, mz []int) string {
	words := make([]string, len(mz))
	for i, m := range mz {
		words[i] = fmt.Sprintf("%d (%.0f %%)", m, s.At(m))
	}
	if n := len(words); n > 1 {
		return "m/z " + strings.Join(words[:n-1], ", ") + " and " + words[n-1]
	}
	return "m/z " + words[0]
}
