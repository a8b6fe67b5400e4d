package reading

import (
	"fmt"
	"math"
)

// readChargeTwo looks for peaks at half units among whole ones.
func readChargeTwo(d *desk) []Clue {
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
		return readHalfMass(d)
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

// readHalfMass looks for a peak at half of an even mass, where the doubly
// charged molecular ion of an aromatic compound would be.
func readHalfMass(d *desk) []Clue {
	half := d.mol / 2
	if d.mol%2 == 1 || d.rel(d.mol) < 20 || half < 45 || d.rel(half) < 2 || d.rel(half) < 1.2*d.rel(half-1) || d.rel(half) < 1.2*d.rel(half+1) {
		return nil
	}
	return []Clue{{
		Key:          "charge two at half the mass",
		Title:        "A peak at half the mass",
		Sentence:     fmt.Sprintf("m/z %d (%s) is half of %d: it may be the molecular ion with two charges, as fused aromatic rings give it.", half, percent(d.rel(half)), d.mol),
		Peaks:        []int{half, d.mol},
		Suggests:     []string{"an aromatic system that can carry two charges"},
		Alternatives: []string{"a fragment of half the mass; without peaks at half units beside it that can't be told"},
		conditional:  true,
		holds:        func(t Truth) bool { return t.Groups["arene"] },
	}}
}

// readMetastable looks for weak peaks at broken m/z that fit m* = m2²/m1 of
// two strong peaks.
func readMetastable(d *desk) []Clue {
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
	pairs := oneStepPairs(strong)
	var out []Clue
	for _, p := range d.spectrum.Peaks {
		if math.Abs(p.MZ-math.Round(p.MZ)) <= 0.15 || p.Intensity <= 0 {
			continue
		}
		bestError, best, near := metastableWindow, pair{}, 0.0
		for _, q := range pairs {
			e := math.Abs(q.at - p.MZ)
			if e < bestError && float64(q.to) >= p.MZ {
				bestError, best = e, q
			}
			if e < metastableReach {
				near++
			}
		}
		if best.from == 0 {
			continue
		}
		// How many other pairs would fall into the window by chance.
		chance := (near - 1) * metastableWindow / metastableReach
		out = append(out, Clue{
			Key:          "metastable",
			Title:        "Metastable ion",
			Sentence:     fmt.Sprintf("The broad peak at m/z %.1f fits %d²/%d = %.1f: ions of m/z %d lose %d (%s) on the way and become %d in one step.", p.MZ, best.to, best.from, best.at, best.from, best.from-best.to, lossNames(d, best.from-best.to), best.to),
			Peaks:        []int{best.to, best.from},
			Suggests:     []string{fmt.Sprintf("m/z %d comes from m/z %d in one step", best.to, best.from)},
			Alternatives: []string{"another pair of ions with the same m*", "a doubly charged ion"},
			Probability:  0.95 / (1 + chance),
		})
	}
	return out
}

// A metastable peak is read to metastableWindow; how many pairs lie within
// metastableReach tells how easily one fits by chance.
const (
	metastableWindow = 0.12
	metastableReach  = 5.0
)

// pair is two ions of which the upper may lose a common neutral and become the
// lower, with the m/z at which that shows.
type pair struct {
	from, to int
	at       float64
}

// oneStepPairs lists the pairs among ascending m/z.
func oneStepPairs(mz []int) []pair {
	var out []pair
	for i, to := range mz {
		for _, from := range mz[i+1:] {
			if len(Losses(from-to)) > 0 {
				out = append(out, pair{from, to, float64(to) * float64(to) / float64(from)})
			}
		}
	}
	return out
}
