package reading

import (
	"cmp"
	"math"
	"slices"

	"ionwright/chem"
	"ionwright/reading/infer"
)

// Most pieces of evidence for and against that a call lists.
const (
	mostFor     = 4
	mostAgainst = 3
)

// groupAtoms are the atoms besides carbon and hydrogen that a group needs.
var groupAtoms = map[string]string{
	"alcohol": "O", "phenol": "C3O", "ether": "C2O", "aldehyde": "CO", "ketone": "C3O", "carboxylic acid": "CO2", "ester": "C2O2",
	"amide": "C2NO", "primary amine": "CN", "aliphatic amine": "CN", "aromatic amine": "CN", "nitrile": "CN", "nitro": "NO2",
	"phenyl": "C6", "benzyl": "C7", "benzoyl": "C7O", "methyl ketone": "C3O", "acetyl": "C2O", "sulfide or thiol": "S",
	"chlorine": "Cl", "bromine": "Br", "alkylsilyl": "C3Si", "saturated hydrocarbon chain": "C6", "alkene": "C2", "arene": "C4",
	"lactone": "C3O2", "acetal": "CO2", "phthalate": "C8O4", "methyl ester": "C2O2", "ethyl ester": "C3O2", "acetate": "C3O2",
	"silyl ether": "C4OSi", "methoxy": "C2O", "tert-butyl": "C4", "fluorine": "F", "iodine": "I",
}

// impossible tells whether the given formula, if there is one, lacks atoms of a
// group.
func (d *desk) impossible(group string) bool {
	f, told := d.formula()
	needs, ok := groupAtoms[group]
	return told && ok && !f.Contains(chem.MustFormula(needs))
}

// keepGroups puts the groups' probabilities and their evidence into words.
func (d *desk) keepGroups(calls []infer.GroupCall) {
	for _, call := range calls {
		g := GroupCall{Name: infer.Groups[call.Group].Name(), Probability: call.Probability}
		if slices.Contains(d.given.Groups, g.Name) {
			g.Probability = 1
			g.For = []Evidence{{Sentence: isGiven}}
			d.groups = append(d.groups, g)
			continue
		}
		if d.impossible(g.Name) {
			g.Probability = 0
			g.Against = []Evidence{{Sentence: "the given formula lacks the atoms"}}
			d.groups = append(d.groups, g)
			continue
		}
		for _, r := range call.Reasons {
			if !d.tellable(r) {
				continue
			}
			e := Evidence{Sentence: r.Feature, Peaks: r.Peaks, Weight: r.Weight}
			switch {
			case r.Weight > 0 && len(g.For) < mostFor:
				g.For = append(g.For, e)
			case r.Weight < 0 && len(g.Against) < mostAgainst:
				g.Against = append(g.Against, e)
			}
		}
		d.groups = append(d.groups, g)
	}
	slices.SortStableFunc(d.groups, func(a, b GroupCall) int { return cmp.Compare(b.Probability, a.Probability) })
}

// What a reason must weigh to be told, and how strong its peak must be if it
// weighs little.
const (
	leastWeight = 0.15
	heavyWeight = 0.6
	weakPeak    = 2 // %
)

// tellable tells whether a reason means something to a person: one about peaks
// that are worth looking at, or about a row or pattern of peaks.
func (d *desk) tellable(r infer.Reason) bool {
	if math.Abs(r.Weight) < leastWeight || !r.Readable {
		return false
	}
	for _, mz := range r.Peaks {
		if d.rel(mz) < weakPeak && math.Abs(r.Weight) < heavyWeight {
			return false
		}
	}
	return true
}
