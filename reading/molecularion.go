package reading

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
)

// readMolecularIon puts the ranked candidates into words.
func readMolecularIon(d *desk) []Clue {
	if len(d.candidates) == 0 {
		return nil
	}
	best := d.candidates[0]
	c := Clue{Key: "molecular ion", Title: "Molecular ion", Peaks: []int{best.MZ}, Probability: best.Probability}
	c.Suggests = []string{fmt.Sprintf("nominal mass %d", best.MZ)}
	mass := best.MZ
	c.holds = func(t Truth) bool { return t.Formula.NominalMass() == mass }
	var s strings.Builder
	switch {
	case d.given.mass() > 0 && best.Intensity > 0:
		fmt.Fprintf(&s, "The nominal mass is given, so the molecular ion is at m/z %d; its peak has %s of the base peak.", best.MZ, percent(best.Intensity))
	case d.given.mass() > 0:
		fmt.Fprintf(&s, "The nominal mass is given, so the molecular ion would be at m/z %d, but no peak is there: all of it breaks up.", best.MZ)
	case best.Intensity > 0:
		fmt.Fprintf(&s, "The molecular ion is %s m/z %d (%s of the base peak)", sure(best.Probability), best.MZ, percent(best.Intensity))
		since(&s, d, best.MZ)
	default:
		c.Peaks = ionWitnesses(d, best.MZ)
		fmt.Fprintf(&s, "No peak looks like the molecular ion; it would %s be at m/z %d, too weak to see", sure(best.Probability), best.MZ)
		since(&s, d, best.MZ)
	}
	for _, other := range d.candidates[1:min(len(d.candidates), 5)] {
		if other.Probability < 0.03 {
			break
		}
		where := "not seen"
		if other.Intensity > 0 {
			where = percent(other.Intensity)
		}
		c.Alternatives = append(c.Alternatives, fmt.Sprintf("nominal mass %d (%s): %s", other.MZ, where, list(other.Reasons[:min(2, len(other.Reasons))], "and")))
	}
	if best.MZ == d.view.Base && best.Intensity > 0 {
		s.WriteString(" Here it is also the base peak, which is not the rule.")
	}
	c.Sentence = s.String()
	return []Clue{c}
}

// since appends the reasons to a sentence and ends it.
func since(s *strings.Builder, d *desk, mz int) {
	pro, con := ionReasons(d, mz)
	if len(pro) > 0 {
		s.WriteString(": " + strings.Join(pro, "; "))
	}
	s.WriteString(".")
	if len(con) > 0 && (d.rel(mz) > 0 || len(con) > 1) {
		s.WriteString(" Against it: " + strings.Join(con, "; ") + ".")
	}
}

// reasons is ionReasons as one list.
func reasons(d *desk, mz int) []string {
	pro, con := ionReasons(d, mz)
	for _, c := range con {
		pro = append(pro, "but "+c)
	}
	return pro
}

// ionWitnesses are the strongest peaks a common loss below an unseen ion.
func ionWitnesses(d *desk, mz int) []int {
	var out []int
	for _, l := range supportingLosses(d, mz) {
		out = append(out, mz-l)
	}
	slices.Sort(out)
	return out
}

// supportingLosses are up to three distances below mz at which a peak speaks
// for mz as the molecular ion, the strongest evidence first.
func supportingLosses(d *desk, mz int) []int {
	type loss struct {
		by       int
		evidence float64
	}
	var found []loss
	for by := 1; by <= reach(mz); by++ {
		if d.rel(mz-by) < 0.6 || len(Losses(by)) == 0 || d.satellite(mz-by) {
			continue
		}
		if mz == d.mol && len(d.likelyLosses(Losses(by))) == 0 {
			continue
		}
		if e := d.model.Ion.LossEvidence(d.view, mz, by); e > -0.5 {
			found = append(found, loss{by, e + 0.4*math.Log(d.rel(mz-by))})
		}
	}
	slices.SortStableFunc(found, func(a, b loss) int { return cmp.Compare(b.evidence, a.evidence) })
	var out []int
	for _, l := range found[:min(3, len(found))] {
		out = append(out, l.by)
	}
	return out
}

// forbiddenPeaks are the peaks of 2 % or more 4 to 14 and 21 to 25 below mz.
func forbiddenPeaks(d *desk, mz int) []int {
	var out []int
	for by := 4; by <= 25; by++ {
		if by > 14 && by < 21 {
			continue
		}
		if d.rel(mz-by) >= 2 && !d.satellite(mz-by) {
			out = append(out, mz-by)
		}
	}
	return out
}

// ionReasons says what speaks for mz as the molecular ion and what against.
func ionReasons(d *desk, mz int) (pro, con []string) {
	r := d.rel(mz)
	above := 0
	strongest := 0
	for m := mz + 1; m <= d.view.Top; m++ {
		if d.rel(m) < 1 {
			continue
		}
		if m > mz+8 || !d.satellite(m) {
			above++
		}
		if strongest == 0 || d.rel(m) > d.rel(strongest) {
			strongest = m
		}
	}
	switch {
	case r > 0 && above == 0 && strongest == 0:
		pro = append(pro, "no peak of 1 % stands to its right")
	case r > 0 && above == 0:
		pro = append(pro, "only peaks that can be its isotope peaks stand to its right")
	case above > 0:
		con = append(con, fmt.Sprintf("%s to its right, up to %s at m/z %d", standing(above), percent(d.rel(strongest)), strongest))
	}
	if r == 0 {
		con = append(con, "there is no peak at it")
	}
	losses := supportingLosses(d, mz)
	var words []string
	for _, by := range losses {
		words = append(words, fmt.Sprintf("m/z %d is %s below (%s)", mz-by, fmt.Sprint(by), lossNames(d, by)))
	}
	if len(words) > 0 {
		pro = append(pro, list(words, "and"))
	} else {
		con = append(con, "no common loss leads to the peaks below it")
	}
	if bad := forbiddenPeaks(d, mz); len(bad) > 0 {
		by := mz - bad[0]
		strongestBad := bad[0]
		for _, b := range bad {
			if d.rel(b) > d.rel(strongestBad) {
				strongestBad, by = b, mz-b
			}
		}
		con = append(con, fmt.Sprintf("m/z %d would be a loss of %d, which hardly occurs", strongestBad, by))
	} else if r > 0 || len(words) > 0 {
		pro = append(pro, "no peak stands 4 to 14 or 21 to 25 below it, where no common loss leads")
	}
	if r >= 5 {
		ratio := d.rel(mz+1) / r
		if most := float64(mz)/12*0.0108*1.5 + 0.03; ratio > most {
			con = append(con, fmt.Sprintf("the peak one above is %.0f %% of it, more than carbon-13 can give", ratio*100))
		}
	}
	return pro, con
}

func standing(n int) string {
	if n == 1 {
		return "a peak stands"
	}
	return fmt.Sprintf("%d peaks stand", n)
}

// lossNames words the common neutrals of a mass: "CO or C₂H₄".
func lossNames(d *desk, by int) string {
	losses := d.lossesWithin(Losses(by))
	if likely := d.likelyLosses(losses); len(likely) > 0 {
		losses = likely
	}
	var words []string
	for _, l := range losses {
		words = append(words, l.text())
	}
	if len(words) == 0 {
		return "no common neutral"
	}
	return list(words[:min(3, len(words))], "or")
}
