package ionize

import (
	"strings"
	"testing"
)

// The sentences are read aloud: kinds, neutrals and what the nitrogen rule
// makes of the ion. Facts: common practice, no source.
func TestSentence(t *testing.T) {
	for _, row := range []struct {
		smiles string
		mz     int
		want   string
	}{
		{"CCCC(C)=O", 58, "m/z 58, C₃H₆O⁺•: hydrogen rearrangement through a six-membered ring, loss of ethene (C₂H₄); odd-electron, so even m/z without nitrogen."},
		{"CCCC(C)=O", 43, "m/z 43, C₂H₃O⁺: alpha-cleavage, loss of a radical C₃H₇; even-electron, so odd m/z without nitrogen."},
		{"CCN(CC)CC", 86, "m/z 86, C₅H₁₂N⁺: alpha-cleavage, loss of a methyl radical (CH₃); even-electron, so even m/z with an odd number of nitrogens."},
		{"CCN(CC)CC", 101, "m/z 101, C₆H₁₅N⁺•: the molecular ion, the molecule less one electron; odd-electron, so odd m/z with an odd number of nitrogens."},
	} {
		p := predict(t, row.smiles)
		ions := p.At(row.mz)
		if len(ions) == 0 {
			t.Errorf("%s: no ion at m/z %d", row.smiles, row.mz)
			continue
		}
		if got := p.Sentence(ions[0]); got != row.want {
			t.Errorf("%s:\n got %s\nwant %s", row.smiles, got, row.want)
		}
	}
	labelled := predict(t, "[2H]C([2H])([2H])C(=O)CC")
	if got := labelled.Sentence(labelled.At(46)[0]); strings.Contains(got, "m/z without nitrogen") {
		t.Errorf("the nitrogen rule is said of a labelled ion: %s", got)
	}
}
