package foreign

import (
	"strings"
	"testing"

	"ionwright/chem"
	"ionwright/lesson/diag"
	"ionwright/mol/smiles"
	"ionwright/spectrum"
)

// bottles are two compounds with measured spectra. Butan-2-one: MassBank
// JP001803, its strongest peaks.
func bottles(t *testing.T, computed bool) []Subject {
	butanone, err := smiles.Parse("CCC(C)=O")
	if err != nil {
		t.Fatal(err)
	}
	return []Subject{
		{Names: []string{"bottle 3"}, SMILES: smiles.Canonical(butanone), Formula: chem.MustFormula("C4H8O"), Spectrum: spectrum.MustParse("29:17 43:100 57:8 72:28"), Computed: computed, Origin: "measured"},
		{Names: []string{"the solvent"}, SMILES: "CCCCCC", Formula: chem.MustFormula("C6H14")},
	}
}

// TestJudge judges sentences about compounds whose names and spectra are known;
// the words after the bar are in the one finding, and "" means that there is
// none.
func TestJudge(t *testing.T) {
	for _, row := range []struct {
		words, finding string
		computed       bool
	}{
		{"Bottle 3 weighs 72 Da.", "", false},
		{"Bottle 3 weighs 74 Da.", "computed: 72", false},
		{"The molecular ion of bottle 3 is at m/z 70.", "computed: 72", false},
		{"The base peak of bottle 3 stands at m/z 57.", "computed: 43", false},
		{"The base peak of bottle 3 stands at m/z 43.", "", false},
		{"The base peak of butan-2-one stands at m/z 57.", "computed: 43", false}, // by its structure
		{"The base peak of bottle 30 stands at m/z 57.", "", false},               // another bottle
		{"The base peak of the solvent stands at m/z 57.", "", false},             // no spectrum
		{"The base peak of bottle 3 stands at m/z 72.", "computed: 43", false},
		{"The base peak of bottle 3 stands at m/z 72.", "", true}, // computed heights are rough
		{"The base peak of bottle 3 stands at m/z 57.", "computed: 43", true},
		{"Bottle 3 has a strong peak at m/z 58.", "no strong peak", false},
		{"Bottle 3 has a strong peak at m/z 29.", "", false},
		{"In bottle 3 the peak at m/z 72 has 28 % of the base peak.", "", false},
		{"In bottle 3 the peak at m/z 72 has 60 % of the base peak.", "computed: 28 %", false},
		{"Suppose that bottle 3 had a strong peak at m/z 58.", "", false},
		{"The base peak of bottle 3 isn't at m/z 57.", "", false},
		{"Bottle 3 weighs 74 Da, and the solvent weighs 86 Da.", "computed: 72", false},
		{"Bottle 3 (M = 72) and the solvent (M = 86) are alike.", "", false},
		{"Bottle 3 is an example, and chlorobenzene shows M and M+2 in the ratio 1:1.", "computed: 100:32", false},
		{"The solvent loses an ethyl radical and gives m/z 55.", "computed: 57", false},
	} {
		found := Judge([]Passage{{Words: row.words, Span: func(from, to int) diag.Span {
			return diag.Span{File: "lesson.md", Line: 1, Col: from + 1, EndCol: to + 1}
		}}}, bottles(t, row.computed))
		switch {
		case row.finding == "" && len(found) > 0:
			t.Errorf("false alarm: %s", found[0])
		case row.finding != "" && (len(found) != 1 || !strings.Contains(found[0].String(), row.finding)):
			t.Errorf("%q: %v, want one finding with %q", row.words, found, row.finding)
		case row.finding != "" && !strings.Contains(found[0].String(), "in the sentence: "+row.words):
			t.Errorf("%q: the finding doesn't quote it: %s", row.words, found[0])
		}
	}
}
