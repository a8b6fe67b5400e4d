package reading

import (
	"cmp"
	"fmt"
	"slices"
)

// readParity looks for fragments that have lost a whole molecule: of even m/z
// if the molecular ion is even (no nitrogen lost).
func readParity(d *desk) []Clue {
	if d.mol == 0 || d.mol%2 == 1 {
		return nil
	}
	var peaks []int
	for mz := max(40, d.view.Low); mz <= d.mol-15; mz++ {
		if mz%2 == 0 && d.rel(mz) >= 5 && !d.satellite(mz) && d.rel(mz) > d.rel(mz-1)*0.3 && d.rel(mz) > d.rel(mz+1)*0.3 {
			peaks = append(peaks, mz)
		}
	}
	slices.SortStableFunc(peaks, func(a, b int) int { return cmp.Compare(d.rel(b), d.rel(a)) })
	peaks = peaks[:min(4, len(peaks))]
	slices.Sort(peaks)
	if len(peaks) == 0 {
		return nil
	}
	return []Clue{{
		Key:          "even fragment",
		Title:        "Odd-electron fragments",
		Sentence:     fmt.Sprintf("The molecular ion has an even mass. Without nitrogen, simple cleavages give fragments of odd m/z; the even ones, %s, must have lost a whole molecule by a rearrangement (a hydrogen moves, or a ring breaks in two places).", d.peakList(peaks)),
		Peaks:        peaks,
		Suggests:     []string{"a rearrangement, and no nitrogen in the compound"},
		Alternatives: []string{"even-electron fragments that hold one nitrogen atom"},
		conditional:  true,
		holds:        func(t Truth) bool { return !hasNitrogen(t) },
	}}
}
