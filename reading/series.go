package reading

import (
	"fmt"
	"slices"

	"ionwright/chem"
)

func hasNitrogen(t Truth) bool { return t.Formula.Count(chem.N) > 0 }

// ionSeries is a row of ions 14 apart.
type ionSeries struct {
	name    string
	members []int // m/z
	needed  int   // how many must be there
	least   float64
	suggest string
	other   []string
	group   string // of infer.Groups that is claimed, or
	holds   func(Truth) bool
}

// seriesRows is the table of low-mass ion series: common practice, no source,
// but for the alkyl series (Glagovich, Central Connecticut State University).
var seriesRows = []ionSeries{
	{"alkyl", []int{29, 43, 57, 71, 85, 99, 113}, 4, 5, "an alkyl chain", []string{"acyl ions CₙH₂ₙ₋₁CO⁺ of ketones and esters stand at the same m/z"}, "", chain},
	{"alkenyl and cycloalkyl", []int{27, 41, 55, 69, 83, 97, 111}, 4, 8, "a double bond, a ring, or a long chain that lost hydrogen", []string{"cyclic ketones"}, "", func(t Truth) bool { return t.Formula.DBE() >= 1 }},
	{"oxygen", []int{31, 45, 59, 73, 87, 101}, 3, 5, "an alcohol, ether or ester (CₙH₂ₙ₊₁O⁺)", []string{"esters and acids give 59, 73 and 87 too", "trimethylsilyl groups give 73"}, "", func(t Truth) bool { return t.Formula.Count(chem.O) > 0 }},
	{"amine", []int{30, 44, 58, 72, 86, 100, 114}, 3, 5, "an aliphatic amine (CₙH₂ₙ₊₂N⁺)", []string{"enol ions of aldehydes and ketones stand at 44, 58, 72 and 86", "amides"}, "", hasNitrogen},
	{"aromatic", []int{39, 51, 65, 77, 91}, 4, 4, "a benzene ring", []string{"polyunsaturated rings and terpenes give the same ions weakly"}, "arene", nil},
	{"condensed aromatic", []int{50, 63, 75, 76, 87, 101, 113}, 4, 3, "an aromatic ring system with few hydrogens", []string{"several strongly electron-withdrawing substituents on one ring"}, "arene", nil},
	{"acid and ester rearrangement", []int{60, 74, 88, 102}, 2, 8, "an acid or ester with a gamma hydrogen", []string{"sugars and amides give 60 too"}, "", func(t Truth) bool { return t.Formula.Count(chem.O) >= 2 }},
	{"silicone", []int{73, 147, 207, 221, 281}, 3, 3, "several silicon-oxygen bonds", []string{"column bleed or silicone grease"}, "alkylsilyl", nil},
}

// chain asks for four sp3 carbons at least: hydrogens in plenty.
func chain(t Truth) bool {
	return t.Formula.Count(chem.C) >= 4 && t.Formula.Count(chem.H) >= 8
}

// readSeries reports each series of which enough members are there.
func readSeries(d *desk) []Clue {
	var out []Clue
	for _, row := range seriesRows {
		var seen []int
		for _, mz := range row.members {
			if d.rel(mz) >= row.least && (d.mol == 0 || mz < d.mol) {
				seen = append(seen, mz)
			}
		}
		if len(seen) < row.needed {
			continue
		}
		holds := row.holds
		if holds == nil {
			group := row.group
			holds = func(t Truth) bool { return t.Groups[group] }
		}
		out = append(out, Clue{
			Key:          "series " + row.name,
			Title:        "Ion series: " + row.name,
			Sentence:     fmt.Sprintf("The ions at %s form the %s series, as from %s.", d.peakList(seen), row.name, row.suggest),
			Peaks:        seen,
			Suggests:     []string{row.suggest},
			Alternatives: slices.Clone(row.other),
			holds:        holds,
		})
	}
	return out
}
