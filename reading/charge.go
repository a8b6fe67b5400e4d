package reading

import (
	"fmt"
	"math"
)

// readChargeTwo looks for peaks at half units among whole ones.
func readChargeTwo(d *desk) []Clue {
	if len(d.spectrum.Peaks) > 4*d.view.Count {
		return nil // a profile: every half unit has a point
	}
	var peaks []int
	var words []string
	for _, p := range d.spectrum.Peaks {
		if frac := p.MZ - math.Floor(p.MZ); math.Abs(frac-0.5) < 0.08 && p.MZ < float64(d.view.Top) && p.Intensity > 0 {
			twice := int(math.Round(2 * p.MZ))
			words = append(words, fmt.Sprintf("%.1f (mass %d)", p.MZ, twice))
			peaks = append(peaks, int(math.Floor(p.MZ)))
		}
		if len(peaks) == 6 {
			break
		}
	}
	if len(peaks) == 0 {
		return nil
	}
	return []Clue{{
		Key:          "charge two",
		Title:        "Doubly charged ions",
		Sentence:     fmt.Sprintf("Peaks at half units, m/z %s, belong to ions with two charges and odd mass: m/z is the mass divided by two.", list(words, "and")),
		Peaks:        peaks,
		Suggests:     []string{"an aromatic system that can carry two charges"},
		Alternatives: []string{"metastable ions", "centroids that are off by half a unit"},
		holds:        func(t Truth) bool { return t.Groups["arene"] },
	}}
}

// readMetastable looks for weak peaks at broken m/z that fit m* = m2²/m1 of
// two strong peaks.
func readMetastable(d *desk) []Clue {
	if len(d.spectrum.Peaks) > 4*d.view.Count {
		return nil
	}
	strong := d.view.Peaks(10)
	if len(strong) > 60 {
		return nil
	}
	broken := 0
	for _, p := range d.spectrum.Peaks {
		if frac := math.Abs(p.MZ - math.Round(p.MZ)); frac > 0.15 {
			broken++
		}
	}
	if broken == 0 || broken > 8 {
		return nil // none, or the data are exact masses or off as a whole
	}
	var out []Clue
	for _, p := range d.spectrum.Peaks {
		if math.Abs(p.MZ-math.Round(p.MZ)) <= 0.15 || p.Intensity <= 0 {
			continue
		}
		bestError, from, to := 0.12, 0, 0
		for _, m1 := range strong {
			for _, m2 := range strong {
				if m2 >= m1 || float64(m2) < p.MZ {
					continue
				}
				if e := math.Abs(float64(m2)*float64(m2)/float64(m1) - p.MZ); e < bestError && len(Losses(m1-m2)) > 0 {
					bestError, from, to = e, m1, m2
				}
			}
		}
		if from == 0 {
			continue
		}
		out = append(out, Clue{
			Key:          "metastable",
			Title:        "Metastable ion",
			Sentence:     fmt.Sprintf("The broad peak at m/z %.1f fits %d²/%d = %.1f: ions of m/z %d lose %d (%s) on the way and become %d in one step.", p.MZ, to, from, float64(to*to)/float64(from), from, from-to, lossNames(d, from-to), to),
			Peaks:        []int{to, from},
			Suggests:     []string{fmt.Sprintf("m/z %d comes from m/z %d in one step", to, from)},
			Alternatives: []string{"another pair of ions with the same m*", "a doubly charged ion"},
			Probability:  0.8,
		})
	}
	return out
}
