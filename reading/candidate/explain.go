package candidate

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"ionwright/ionize"
	"ionwright/spectrum"
)

// What a structure leaves open is said for peaks of leastOpen % or more.
const (
	leastOpen = 5
	mostOpen  = 3
)

// unexplained returns the m/z of the strongest peaks that the structure
// doesn't explain, ascending.
func unexplained(a *ionize.Assignment) []int {
	var open []ionize.AssignedPeak
	for _, p := range a.Peaks {
		if !p.Explained && p.Relative >= leastOpen {
			open = append(open, p)
		}
	}
	slices.SortStableFunc(open, func(a, b ionize.AssignedPeak) int { return cmp.Compare(b.Relative, a.Relative) })
	var mz []int
	for _, p := range open[:min(mostOpen, len(open))] {
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
