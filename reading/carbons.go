package reading

import (
	"fmt"
	"math"

	"ionwright/chem"
)

// The measured ratio (M+1)/M over the true one: a sixth of the measured
// spectra lie below the first, a sixth above the second, where the molecular
// ion has 20 % or more (1,884 spectra of the set that the model is fitted to).
const (
	ratioLow  = 0.89
	ratioHigh = 1.35
)

// readCarbonCount counts the carbons from the peak one above the molecular
// ion.
func readCarbonCount(d *desk) []Clue {
	r := d.rel(d.mol)
	next := d.rel(d.mol + 1)
	if d.mol == 0 || r < 10 || next <= 0 || d.isSaturated(d.mol) {
		return nil
	}
	ratio := next / r
	// What the other elements that are known or seen add to M+1.
	other, saying := 0.0, ""
	if matches := d.readCluster(d.mol, true); len(matches) > 0 {
		best := matches[0]
		s33, _ := chem.S.Isotope(33)
		s32, _ := chem.S.Isotope(32)
		si29, _ := chem.Si.Isotope(29)
		si28, _ := chem.Si.Isotope(28)
		other = float64(best.s)*s33.Abundance/s32.Abundance + float64(best.si)*si29.Abundance/si28.Abundance
		if other > 0 {
			saying = fmt.Sprintf(" after %.1f %% for %s", other*100, (marker{s: best.s, si: best.si}).String())
		}
	}
	if d.mol%2 == 1 {
		n15, _ := chem.N.Isotope(15)
		n14, _ := chem.N.Isotope(14)
		other += n15.Abundance / n14.Abundance
	}
	left := ratio - other
	n := left / carbonRatio()
	most := d.mol / 12
	if left <= 0 {
		return nil
	}
	if (max(next-0.7, 0)/r-other)/carbonRatio()/1.35 > float64(most) {
		return []Clue{{
			Key:          "carbons too many",
			Title:        "M+1 too strong",
			Sentence:     fmt.Sprintf("The peak one above m/z %d is %.0f %% of it, which would need %.0f carbons; a mass of %d holds at most %d. So it is not only carbon-13.", d.mol, ratio*100, n, d.mol, most),
			Peaks:        []int{d.mol, d.mol + 1},
			Suggests:     []string{"an ion one above the molecular ion besides its isotope peak, such as the protonated molecule (amines, ethers, esters, nitriles)"},
			Alternatives: []string{fmt.Sprintf("the molecular ion is m/z %d, and %d is M-1", d.mol+1, d.mol), "an impurity"},
			holds: func(t Truth) bool {
				return t.Formula.NominalMass() == d.mol && t.Formula.Count(chem.N)+t.Formula.Count(chem.O) > 0
			},
		}}
	}
	low := max(1, int(math.Ceil(n/ratioHigh-0.5)))
	high := min(most, int(math.Floor(n/ratioLow+0.5)))
	likely := min(most, max(1, int(math.Round(n)))) // what a student gets by hand
	low, high = min(low, likely), max(high, likely)
	c := Clue{
		Key:   "carbons " + strength(r),
		Title: "Number of carbons",
		Sentence: fmt.Sprintf("The peak one above m/z %d is %.1f %% of it%s. At 1.1 %% a carbon that is about %s; measured ratios scatter and are rather too high than too low, so %d to %d.",
			d.mol, ratio*100, saying, plural(likely, "carbon", "carbons"), low, high),
		Peaks:        []int{d.mol, d.mol + 1},
		Suggests:     []string{fmt.Sprintf("%d to %d carbons", low, high)},
		Alternatives: []string{"fewer carbons, if the ion gains a hydrogen in the source", "other elements with an isotope one above (silicon, sulfur, many nitrogens)"},
		conditional:  true,
		holds: func(t Truth) bool {
			n := t.Formula.Count(chem.C)
			return n >= low && n <= high
		},
	}
	return []Clue{c}
}
