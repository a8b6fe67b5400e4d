package ionize

import (
	"fmt"
	"strings"

	"ionwright/chem"
)

// secondOrigin is the share of a peak from which its second ion is mentioned.
const secondOrigin = 0.2

// Sentence says of a measured peak which ion it is and how that comes about,
// in a form that can be read aloud; or that it isn't explained, and why.
func (a *Assignment) Sentence(peak AssignedPeak) string {
	head := fmt.Sprintf("m/z %d, %s of the base peak", peak.MZ, percentWords(peak.Relative))
	if peak.Relative == 100 {
		head = fmt.Sprintf("m/z %d, the base peak", peak.MZ)
	}
	if !peak.Explained {
		return head + ": not explained; " + a.reason(peak) + "."
	}
	first := peak.Origins[0]
	text := head + ": " + a.originWords(first) + "."
	for _, o := range peak.Origins[1:] {
		if o.Share < secondOrigin {
			break
		}
		if o.Ion.Formula == first.Ion.Formula {
			continue // isomeric ions are one to whoever looks at the spectrum
		}
		by := "another ion, "
		if o.Above != 0 {
			by = "the "
		}
		return text + fmt.Sprintf(" About %s of the peak is computed to be %s%s.", shareWords(o.Share), by, a.originWords(o))
	}
	return text
}

// originWords names an ion and its route, or what it is the isotope peak of.
func (a *Assignment) originWords(o Origin) string {
	if o.Above != 0 {
		return fmt.Sprintf("isotope peak of m/z %d, %s with %s", o.Ion.MZ, o.Ion.Notation(), heavierWords(o.Ion.Formula, o.Above))
	}
	return fmt.Sprintf("%s, %s; %s", o.Ion.Notation(), routeWords(o.Route), parity(o.Ion))
}

// reason says why a peak isn't explained.
func (a *Assignment) reason(peak AssignedPeak) string {
	if len(peak.Origins) == 0 {
		return fmt.Sprintf("the structure gives no ion of this mass in up to %d of the known steps", MostSteps)
	}
	o := peak.Origins[0]
	if o.Above != 0 {
		return fmt.Sprintf("the isotope peak of m/z %d is much too weak for it", o.Ion.MZ)
	}
	return fmt.Sprintf("a route to %s is known (%s), but hardly any ion is computed to take it", o.Ion.Notation(), routeWords(o.Route))
}

// routeWords says the steps of a route.
func routeWords(route []Step) string {
	if len(route) == 0 {
		return "the molecular ion, the molecule less one electron"
	}
	var steps []string
	for _, step := range route {
		name := step.Kind.String()
		if strings.HasPrefix(name, "loss of") {
			steps = append(steps, "loss of "+LossName(step.Loss))
		} else {
			steps = append(steps, name+", loss of "+LossName(step.Loss))
		}
	}
	return strings.Join(steps, ", then ")
}

// heavierWords says what makes ions of the formula heavier by above mass
// units, most often: "one carbon-13", "one chlorine-37", "two carbon-13".
func heavierWords(f chem.Formula, above int) string {
	type isotope struct {
		name string
		more int     // mass units above the principal isotope
		odds float64 // of one such atom in the ion, against none
	}
	var heavier []isotope
	for species, n := range f.All() {
		if species.MassNumber() != 0 {
			continue
		}
		principal := species.Element().Principal()
		for _, i := range species.Element().Isotopes() {
			heavier = append(heavier, isotope{
				fmt.Sprintf("%s-%d", species.Element().Name(), i.MassNumber),
				i.MassNumber - principal.MassNumber, float64(n) * i.Abundance / principal.Abundance,
			})
		}
	}
	words, best := "heavier isotopes", 0.0
	for k, i := range heavier {
		if i.more == above && i.odds > best {
			words, best = "one "+i.name, i.odds
		}
		if pair := i.odds * i.odds / 2; 2*i.more == above && pair > best {
			words, best = "two "+i.name, pair
		}
		for _, j := range heavier[:k] {
			if pair := i.odds * j.odds; i.more+j.more == above && pair > best && i.more > 0 && j.more > 0 {
				words, best = "one "+i.name+" and one "+j.name, pair
			}
		}
	}
	return words
}

// percentWords is a height in % as it is read: whole numbers from 1 on.
func percentWords(x float64) string {
	if x < 0.95 {
		return fmt.Sprintf("%.1f %%", x)
	}
	return fmt.Sprintf("%.0f %%", x)
}

// shareWords is a share of a peak in words that need no more accuracy than a
// computed spectrum has.
func shareWords(x float64) string {
	switch {
	case x > 0.42:
		return "half"
	case x > 0.29:
		return "a third"
	case x > 0.225:
		return "a quarter"
	}
	return "a fifth"
}

// Summary is one sentence on how much of the spectrum is explained.
func (a *Assignment) Summary() string {
	n, all := 0, 0
	for _, peak := range a.Peaks {
		if peak.MZ >= a.From {
			all++
			if peak.Explained {
				n++
			}
		}
	}
	from := ""
	if a.From > 0 {
		from = fmt.Sprintf(" from m/z %d on", a.From)
	}
	return fmt.Sprintf("%d of %d peaks with %.0f %% of the ion current%s are explained.", n, all, 100*a.Explained, from)
}

// Caution is what must be said beside an explanation.
const Caution = "that a structure explains a spectrum doesn't show that it is the compound: isomers often explain it as well, and a real unknown is identified with a reference standard"
