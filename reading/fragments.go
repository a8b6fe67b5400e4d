package reading

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"ionwright/chem"
)

// ionGroups are the fragment ions that point to a group. Other ions speak only
// of their formula.
var ionGroups = map[int]pointer{
	30: {"aliphatic amine", "CH4N+"}, 31: {"alcohol", "CH3O+"}, 39: {"arene", "C3H3+"},
	43: {"acetyl", "C2H3O+"}, 47: {"sulfide or thiol", "CH3S+"},
	51: {"arene", "C4H3+"}, 58: {"aliphatic amine", "C3H8N+"},
	60: {"carboxylic acid", "C2H4O2+"}, 73: {"alkylsilyl", "C3H9Si+"}, 74: {"methyl ester", "C3H6O2+"}, 75: {"alkylsilyl", "C2H7OSi+"},
	77: {"phenyl", "C6H5+"}, 78: {"phenyl", "C6H6+"}, 86: {"aliphatic amine", "C5H12N+"}, 87: {"methyl ester", "C4H7O2+"}, 88: {"ethyl ester", "C4H8O2+"},
	91: {"benzyl", "C7H7+"}, 94: {"arene", "C6H6O+"},
	105: {"benzoyl", "C7H5O+"}, 106: {"aromatic amine", "C7H8N+"},
	107: {"arene", "C7H7O+"}, 115: {"arene", "C9H7+"}, 117: {"alkylsilyl", "C5H13OSi+"}, 119: {"arene", "C9H11+"},
	120: {"arene", "C8H8O+"}, 121: {"arene", "C8H9O+"}, 127: {"arene", "C10H7+"},
	128: {"arene", "C10H8+"}, 129: {"alkylsilyl", "C6H13OSi+"}, 131: {"arene", "C9H7O+"},
	147: {"alkylsilyl", "C5H15OSi2+"}, 149: {"phthalate", "C8H5O3+"},
}

// mostFragments is how many fragment ions are spoken of.
const mostFragments = 12

// readFragments reads the strongest peaks other than the molecular ion and
// isotope peaks.
func readFragments(d *desk) []Clue {
	var peaks []int
	for mz := d.view.Low; mz <= d.view.Top; mz++ {
		least := 5.0
		if _, points := ionGroups[mz]; points || mz > d.mol/2 {
			least = 2
		}
		if d.rel(mz) >= least && mz != d.mol && (d.mol == 0 || mz < d.mol) && !d.satellite(mz) {
			peaks = append(peaks, mz)
		}
	}
	slices.SortStableFunc(peaks, func(a, b int) int { return cmp.Compare(d.rel(b), d.rel(a)) })
	peaks = peaks[:min(mostFragments, len(peaks))]
	slices.Sort(peaks)
	var out []Clue
	for _, mz := range peaks {
		if c, ok := fragmentClue(d, mz); ok {
			out = append(out, c)
		}
	}
	return out
}

func fragmentClue(d *desk, mz int) (Clue, bool) {
	c := Clue{
		Key:   fmt.Sprintf("ion %d %s", mz, strength(d.rel(mz))),
		Title: fmt.Sprintf("Fragment ion m/z %d", mz),
		Peaks: []int{mz},
	}
	options := d.within(Common(mz))
	_, told := d.formula()
	// The shares were counted for the first, or for what points to a group.
	usual := len(options) > 0 && d.likely(options[0].Formula)
	if p, ok := ionGroups[mz]; ok && !told {
		usual = d.likely(chem.MustFormula(p.formula))
	}
	options = d.likelyIons(options)
	named := len(options) > 0
	if !named {
		options = d.likelyIons(d.within(Compositions(mz)))
		if len(options) == 0 {
			return c, false
		}
	}
	var s strings.Builder
	fmt.Fprintf(&s, "m/z %d (%s) ", mz, percent(d.rel(mz)))
	switch {
	case !named:
		c.Key = fmt.Sprintf("composition %s", strength(d.rel(mz)))
		var words []string
		for _, o := range options[:min(8, len(options))] {
			words = append(words, ionText(o.Formula))
		}
		s.WriteString("is none of the usual ions; its composition may be " + list(words, "or"))
		if more := len(options) - 8; more > 0 {
			fmt.Fprintf(&s, ", or one of %d more", more)
		}
		s.WriteString(".")
	case !usual:
		var words []string
		for _, o := range options {
			words = append(words, fmt.Sprintf("%s (%s)", describeIon(o), o.Context))
		}
		s.WriteString("would with these elements be " + list(words, "or") + ".")
	case len(options) == 1:
		fmt.Fprintf(&s, "is commonly %s (%s).", describeIon(options[0]), options[0].Context)
	default:
		fmt.Fprintf(&s, "is most often %s (%s). The same m/z has", describeIon(options[0]), options[0].Context)
		var words []string
		for _, o := range options[1:] {
			words = append(words, fmt.Sprintf("%s (%s)", describeIon(o), o.Context))
		}
		s.WriteString(" " + strings.Join(words, "; also ") + ".")
	}
	c.Sentence = s.String()
	speaks := options[0].Formula
	if named && !usual {
		for _, o := range options {
			c.Alternatives = append(c.Alternatives, describeIon(o))
		}
		return c, true
	}
	c.holds = func(t Truth) bool { return t.Formula.Contains(speaks.WithCharge(0)) }
	c.OnlyAtoms = true
	p, points := ionGroups[mz]
	if points && named && !told {
		c.OnlyAtoms = false
		c.Suggests = []string{groupText(p.group)}
		speaks = chem.MustFormula(p.formula)
		c.holds = func(t Truth) bool { return t.Groups[p.group] }
	} else {
		if named {
			c.Key = "composition of " + c.Key
		}
	}
	for _, o := range options[:min(10, len(options))] {
		if o.Formula == speaks {
			c.Suggests = append(c.Suggests, describeIon(o))
		} else {
			c.Alternatives = append(c.Alternatives, describeIon(o))
		}
	}
	if len(c.Alternatives) == 0 {
		c.Alternatives = []string{"a less common ion of the same mass"}
	}
	return c, true
}
