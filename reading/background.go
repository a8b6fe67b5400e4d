package reading

import (
	"fmt"
)

// backgroundRow is a contamination and the peaks it gives.
type backgroundRow struct {
	key    string
	name   string
	peaks  []int // all must be there
	least  float64
	advice string
}

// backgroundRows: common practice, no source.
var backgroundRows = []backgroundRow{
	{"air", "air (nitrogen 28, oxygen 32)", []int{28, 32}, 3, "28 is then not CO or C₂H₄"},
	{"water", "water (18, 17)", []int{17, 18}, 3, "18 is then no fragment of the compound"},
	{"carbon dioxide", "carbon dioxide (44) with air", []int{28, 32, 44}, 2, "44 may be partly background"},
	{"phthalate", "a phthalate plasticizer (149, 167)", []int{149, 167}, 3, "149 is then protonated phthalic anhydride of the plasticizer"},
	{"column bleed", "column bleed or silicone grease (207, 281)", []int{207, 281}, 1, "207 and 281 are then siloxane ions"},
	{"calibration gas", "perfluorinated calibration gas (69, 131, 219)", []int{69, 131, 219}, 1, "69, 131 and 219 are then CF₃⁺, C₃F₅⁺ and C₄F₉⁺"},
}

// readBackground sets apart peaks that air, water and other contaminations
// give.
func readBackground(d *desk) []Clue {
	var out []Clue
	for _, row := range backgroundRows {
		all := true
		for _, mz := range row.peaks {
			if d.rel(mz) < row.least || mz == d.mol {
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
			Sentence:     fmt.Sprintf("%s could come from %s; %s.", capital(d.peakList(row.peaks)), row.name, row.advice),
			Peaks:        row.peaks,
			Suggests:     []string{"background from " + row.name},
			Alternatives: []string{"fragments of the compound itself"},
		}
		switch key {
		case "phthalate":
			c.holds = func(t Truth) bool { return !t.Groups["phthalate"] }
		case "column bleed":
			c.holds = func(t Truth) bool { return !t.Groups["alkylsilyl"] }
		case "calibration gas":
			c.holds = func(t Truth) bool { return !t.Groups["fluorine"] }
		default:
			c.Probability = 0.5
		}
		out = append(out, c)
	}
	return out
}
