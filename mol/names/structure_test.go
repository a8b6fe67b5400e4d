package names

import (
	"strings"
	"testing"

	"ionwright/mol/smiles"
)

func TestStructureTakesNamesAndSMILES(t *testing.T) {
	for text, want := range map[string]string{
		"butan-2-one": "CCC(C)=O",  // IUPAC 2013 name of C4H8O ketone
		"CCC(C)=O":    "CCC(C)=O",  // itself
		"benzene":     "c1ccccc1",  // common name
		"c1ccccc1":    "c1ccccc1",  // itself
		"CO":          "CO",        // methanol as SMILES: a text that could be both is SMILES
		"toluene":     "Cc1ccccc1", // common name
	} {
		m, err := Structure(text)
		if err != nil {
			t.Errorf("%q: %v", text, err)
			continue
		}
		w, err := smiles.Parse(want)
		if err != nil {
			t.Fatal(err)
		}
		if got := smiles.Canonical(m); got != smiles.Canonical(w) {
			t.Errorf("%q is %s, want %s", text, got, want)
		}
	}
	for text, want := range map[string]string{
		"C(":         "the branch is never closed",
		"butanonium": "butanon",
	} {
		if _, err := Structure(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v", text, err)
		}
	}
}
