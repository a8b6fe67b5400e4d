package reading

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"ionwright/chem"
)

// pointer is the group that a peak or a loss is asked about first, and the
// assignment that speaks for it.
type pointer struct {
	group   string // a name of infer.Groups
	formula string // of the assignment
}

// lossGroups are the losses from the molecular ion that point to a group.
// Other losses speak only of the neutral's formula.
var lossGroups = map[int]pointer{
	17: {"carboxylic acid", "OH"}, 18: {"alcohol", "H2O"}, 31: {"methyl ester", "CH3O"}, 35: {"chlorine", "Cl"}, 36: {"chlorine", "HCl"},
	42: {"acetyl", "C2H2O"}, 46: {"nitro", "NO2"},
	59: {"methyl ester", "C2H3O2"}, 60: {"acetate", "CH3COOH"},
	73: {"ester", "C3H5O2"}, 79: {"bromine", "Br"}, 80: {"bromine", "HBr"}, 89: {"silyl ether", "OSi(CH3)3"},
	90: {"silyl ether", "HOSi(CH3)3"}, 91: {"benzyl", "C7H7"}, 105: {"benzoyl", "COC6H5"}, 127: {"iodine", "I"},
}

// mostLosses is how many losses are spoken of.
const mostLosses = 8

// readLosses reads the differences between the molecular ion and the peaks
// below it, those with the strongest peaks.
func readLosses(d *desk) []Clue {
	if d.mol == 0 {
		return nil
	}
	type loss struct{ by, mz int }
	var found []loss
	for by := 1; by <= 130 && by < d.mol; by++ {
		mz := d.mol - by
		if by > reach(d.mol) && !heavyAtom(by) {
			continue
		}
		if d.rel(mz) >= leastLost(by, mz) && len(d.likelyLosses(d.lossesWithin(Losses(by)))) > 0 && !d.satellite(mz) {
			found = append(found, loss{by, mz})
		}
	}
	slices.SortStableFunc(found, func(a, b loss) int { return cmp.Compare(d.rel(b.mz), d.rel(a.mz)) })
	found = found[:min(mostLosses, len(found))]
	slices.SortFunc(found, func(a, b loss) int { return cmp.Compare(a.by, b.by) })
	var out []Clue
	for _, l := range found {
		out = append(out, lossClue(d, l.by, l.mz))
	}
	if len(out) > 0 && d.rel(d.mol) == 0 && d.given.mass() == 0 {
		out[0].Sentence += " These losses hang on where the unseen molecular ion is."
	}
	return out
}

// leastLost is how strong a peak must be for the loss that leads to it to be
// read, in %: what lies far below the molecular ion, or is a small ion that
// everything gives, is seldom formed from it in one step.
func leastLost(by, mz int) float64 {
	switch {
	case mz <= 45 && by > 20:
		return 20
	case by > 46:
		return 5
	case by > 36:
		return 3
	}
	return 1
}

// reach is the largest loss that is read: beyond six tenths of the molecule, a
// fragment is better read by itself.
func reach(mol int) int { return min(130, max(18, mol*6/10), mol-1) }

// heavyAtom tells whether a loss is that of one heavy halogen, which may be
// most of a small molecule.
func heavyAtom(by int) bool { return by == 79 || by == 80 || by == 127 || by == 128 }

func lossClue(d *desk, by, mz int) Clue {
	options := d.lossesWithin(Losses(by))
	c := Clue{
		Key:         fmt.Sprintf("loss %d %s", by, strength(d.rel(mz))),
		Title:       fmt.Sprintf("Loss of %d", by),
		Peaks:       []int{mz, d.mol},
		conditional: true,
	}
	// The shares were counted for the first, or for what points to a group.
	usual := d.likely(options[0].Formula)
	if p, ok := lossGroups[by]; ok {
		usual = d.likely(chem.MustFormula(p.formula))
	}
	options = d.likelyLosses(options)
	first := options[0]
	var s strings.Builder
	fmt.Fprintf(&s, "From m/z %d to %d (%s) is a loss of %d: ", d.mol, mz, percent(d.rel(mz)), by)
	if len(options) == 1 {
		fmt.Fprintf(&s, "%s (%s).", first.describe(), first.Context)
	} else {
		var words []string
		for _, o := range options {
			words = append(words, fmt.Sprintf("%s (%s)", o.describe(), o.Context))
		}
		fmt.Fprintf(&s, "%s.", strings.Join(words, "; or "))
	}
	c.Sentence = s.String()
	if !usual {
		c.Alternatives = []string{fmt.Sprintf("m/z %d comes from another fragment and not in one step from the molecular ion", mz)}
		return c
	}
	speaks := first.Formula
	c.holds = func(t Truth) bool { return t.Formula.Contains(speaks) }
	c.OnlyAtoms = true
	if p, ok := lossGroups[by]; ok {
		c.OnlyAtoms = false
		c.Suggests = []string{groupText(p.group)}
		speaks = chem.MustFormula(p.formula)
		c.holds = func(t Truth) bool { return t.Groups[p.group] }
	}
	for _, o := range options {
		if o.Formula == speaks {
			c.Suggests = append(c.Suggests, "loss of "+o.describe())
		} else {
			c.Alternatives = append(c.Alternatives, "loss of "+o.describe())
		}
	}
	if len(c.Alternatives) == 0 {
		c.Alternatives = []string{fmt.Sprintf("m/z %d comes from another fragment and not in one step from the molecular ion", mz)}
	}
	return c
}

// strength words a relative intensity in three classes, for the keys of clues.
func strength(r float64) string {
	switch {
	case r >= 60:
		return "strong"
	case r >= 20:
		return "medium"
	}
	return "weak"
}

// groupText words a group: "a phenyl group".
func groupText(name string) string {
	switch name {
	case "chlorine", "bromine", "iodine", "fluorine":
		return name
	case "alcohol", "ether", "aldehyde", "ester", "amide", "acetal", "alkene", "arene", "aliphatic amine", "aromatic amine", "aromatic heterocycle", "ethyl ester", "acetate":
		return "an " + name
	case "phenyl", "benzyl", "benzoyl", "acetyl", "nitro", "alkyl", "alkylsilyl", "tert-butyl", "methoxy":
		if name[0] == 'a' {
			return "an " + name + " group"
		}
		return "a " + name + " group"
	case "saturated hydrocarbon chain":
		return "a long hydrocarbon chain"
	}
	return "a " + name
}
