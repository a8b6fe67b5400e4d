package reading

import (
	"fmt"

	"ionwright/chem"
)

// backgroundRow is a contamination and the peaks it gives. The compound itself
// can give them only if it holds atoms for one of its own ions there, or has a
// group: if it has neither, they are background.
type backgroundRow struct {
	key    string
	name   string
	peaks  []int // all must be there
	least  float64
	advice string
	own    []string // formulas of which the compound would need one
	group  string   // or a group of infer.Groups
}

// backgroundRows: common practice, no source.
var backgroundRows = []backgroundRow{
	{"air", "air (nitrogen 28, oxygen 32)", []int{28, 32}, 3, "28 is then not CO or C₂H₄", []string{"CH4O", "S", "O2", "N2H4"}, ""},
	{"water", "water (18, 17)", []int{17, 18}, 3, "18 is then no fragment of the compound", []string{"H2O", "NH4"}, ""},
	{"carbon dioxide", "carbon dioxide (44) with air", []int{28, 32, 44}, 2, "44 may be partly background", []string{"CH4O", "S", "O2", "N2H4"}, ""},
	{"phthalate", "a phthalate plasticizer (149, 167)", []int{149, 167}, 3, "149 is then protonated phthalic anhydride of the plasticizer", nil, "phthalate"},
	{"column bleed", "column bleed or silicone grease (207, 281)", []int{207, 281}, 1, "207 and 281 are then siloxane ions", nil, "alkylsilyl"},
	{"calibration gas", "perfluorinated calibration gas (69, 131, 219)", []int{69, 131, 219}, 1, "69, 131 and 219 are then CF₃⁺, C₃F₅⁺ and C₄F₉⁺", nil, "fluorine"},
}

// readBackground sets apart peaks that air, water and other contaminations
// give.
func readBackground(d *desk) []Clue {
	var out []Clue
	for _, row := range backgroundRows {
		all := true
		for _, mz := range row.peaks {
			if d.whole.At(mz) < row.least || mz == d.mol {
				all = false
			}
		}
		if !all {
			continue
		}
		key := row.key
		c := Clue{
			Key:          "background " + key,
			Title:        "Background",
			Sentence:     fmt.Sprintf("%s could come from %s; %s.", capital(peakList(d.whole, row.peaks)), row.name, row.advice),
			Peaks:        row.peaks,
			Suggests:     []string{"background from " + row.name},
			Alternatives: []string{"fragments of the compound itself"},
		}
		c.holds = func(t Truth) bool { return !row.givenBy(t) }
		out = append(out, c)
	}
	return out
}

// givenBy tells whether the compound itself may give the peaks.
func (row backgroundRow) givenBy(t Truth) bool {
	for _, f := range row.own {
		if t.Formula.Contains(chem.MustFormula(f)) {
			return true
		}
	}
	return row.group != "" && t.Groups[row.group]
}
