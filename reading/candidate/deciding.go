package candidate

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"ionwright/ionize"
	"ionwright/spectrum"
)

// Deciding is a peak that speaks for one of the first two structures.
type Deciding struct {
	MZ            int
	Measured      float64 // % of the base peak; 0 if there is none
	First, Second float64 // computed for the first and the second structure, % of base
	ForFirst      bool
	Weight        float64 // share of all that differs between the two, 0 to 1
	Sentence      string
}

// mostDeciding is how many peaks are named.
const mostDeciding = 4

// deciding finds the peaks at which one computed spectrum lies nearer to the
// measured one than the other, by square roots of intensities as the match
// compares them, strongest first.
func deciding(measured spectrum.Spectrum, first, second Ranked) []Deciding {
	m, a, b := unit(measured), unit(first.computed), unit(second.computed)
	places := map[int]bool{}
	for _, m := range []map[int]float64{m, a, b} {
		for mz := range m {
			places[mz] = true
		}
	}
	var out []Deciding
	all := 0.0
	for mz := range places {
		gain := square(b[mz]-m[mz]) - square(a[mz]-m[mz])
		all += math.Abs(gain)
		out = append(out, Deciding{MZ: mz, ForFirst: gain > 0, Weight: math.Abs(gain),
			Measured: measured.At(mz), First: first.computed.At(mz), Second: second.computed.At(mz)})
	}
	slices.SortFunc(out, func(x, y Deciding) int { return cmp.Or(cmp.Compare(y.Weight, x.Weight), cmp.Compare(x.MZ, y.MZ)) })
	out = slices.DeleteFunc(out, func(d Deciding) bool { return d.Weight < 0.04*all })
	out = out[:min(mostDeciding, len(out))]
	for i := range out {
		out[i].Weight /= all
		out[i].Sentence = out[i].words(first, second)
	}
	return out
}

func square(x float64) float64 { return x * x }

// unit is a spectrum as a vector of length one, by square roots.
func unit(s spectrum.Spectrum) map[int]float64 {
	out := map[int]float64{}
	sum := 0.0
	for _, p := range s.Peaks {
		out[spectrum.UnitMZ(p.MZ)] = math.Sqrt(p.Intensity)
		sum += p.Intensity
	}
	for mz := range out {
		out[mz] /= math.Sqrt(sum)
	}
	return out
}

// words says what the peak shows: "m/z 58 (9 %) speaks for ...".
func (d Deciding) words(first, second Ranked) string {
	near, far := first, second
	nearHeight, farHeight := d.First, d.Second
	if !d.ForFirst {
		near, far = second, first
		nearHeight, farHeight = d.Second, d.First
	}
	there := "There is no peak at"
	if d.Measured > 0 {
		there = "The peak at"
	}
	text := fmt.Sprintf("%s m/z %d", there, d.MZ)
	if d.Measured > 0 {
		text += fmt.Sprintf(" (%.0f %%)", d.Measured)
		if nearHeight > farHeight {
			return fmt.Sprintf("%s speaks for %s, for which %s is computed there%s; for %s %s.", text, near.Name, height(nearHeight), route(near.Prediction, d.MZ), far.Name, height(farHeight))
		}
		return fmt.Sprintf("%s is too weak for %s, for which %s is computed%s; for %s %s.", text, far.Name, height(farHeight), route(far.Prediction, d.MZ), near.Name, height(nearHeight))
	}
	return fmt.Sprintf("%s, where %s should give %s%s; for %s %s is computed.", text, far.Name, height(farHeight), route(far.Prediction, d.MZ), near.Name, height(nearHeight))
}

// height words a computed intensity.
func height(percent float64) string {
	if percent < 1 {
		return "less than 1 %"
	}
	return fmt.Sprintf("%.0f %%", percent)
}

// route says in brackets how the ion at m/z comes about, or nothing.
func route(p *ionize.Prediction, mz int) string {
	ions := p.At(mz)
	if len(ions) == 0 {
		return ""
	}
	steps := p.Route(ions[0].ID)
	if len(steps) == 0 {
		return " (the molecular ion)"
	}
	text := " (" + ions[0].Notation() + " by "
	for i, s := range steps {
		if i > 0 {
			text += ", then "
		}
		text += s.Kind.String()
	}
	return text + ")"
}

// outcome words the ranking as a whole.
func (r *Ranking) outcome() string {
	first := r.Ranked[0]
	if len(r.Ranked) == 1 {
		return fmt.Sprintf("Only %s could be judged: its ions explain %.0f %% of the ion current, and the computed spectrum agrees with a cosine of %.2f.", first.Name, 100*first.Explained, first.Match)
	}
	second := r.Ranked[1]
	switch p := first.Probability; {
	case p >= 0.9:
		return fmt.Sprintf("Of these %d structures %s fits clearly best (probability %.0f %%, if one of them is the compound).", len(r.Ranked), first.Name, min(99, 100*p))
	case p >= 0.6:
		return fmt.Sprintf("Of these %d structures %s fits best (probability %.0f %%, if one of them is the compound); %s comes next (%.0f %%).", len(r.Ranked), first.Name, 100*p, second.Name, 100*second.Probability)
	}
	return fmt.Sprintf("These peaks don't decide: %s (%.0f %%) and %s (%.0f %%) fit about equally well.", first.Name, 100*first.Probability, second.Name, 100*second.Probability)
}
