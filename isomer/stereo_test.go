package isomer

import "testing"

func TestStereoisomers(t *testing.T) {
	for _, tt := range []struct {
		smiles string
		want   int
	}{ // common knowledge
		{"CCO", 1},
		{"CC(O)CC", 2},
		{"CC=CC", 2},
		{"C=CC", 1},
		{"CC(O)C(O)C", 3},           // a pair and the meso form
		{"OC(=O)C(O)C(O)C(=O)O", 3}, // tartaric acid
		{"OCC(O)C(O)C(O)C=O", 8},    // aldopentoses
		{"OCC(O)C(O)C(O)CO", 4},     // ribitol, xylitol, the pair of arabinitol
		{"CC1CC1C", 3},              // cis, and the pair of trans
		{"CC1CCC(C)CC1", 2},         // cis and trans
		{"CC=CC=CC", 3},             // E,E E,Z Z,Z
		{"CC=CC(O)C", 4},
		{"CS(=O)CC", 2},
		{"C1CCCCC1", 1},
		{"C1CC=CCC1", 1},
	} {
		got, err := Stereoisomers(parse(t, tt.smiles))
		if err != nil || got != tt.want {
			t.Errorf("%s: %d stereoisomers (%v), want %d", tt.smiles, got, err, tt.want)
		}
	}
	if _, err := Stereoisomers(parse(t, "CC(O)C(O)C(O)C(O)C(O)C(O)C(O)C(O)C(O)C(O)C(O)C(O)C(O)C(O)C")); err == nil {
		t.Error("no error for 14 places")
	}
}
