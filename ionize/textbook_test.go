package ionize

import (
	"context"
	"slices"
	"testing"

	"ionwright/chem"
	"ionwright/mol/smiles"
)

// textbook are fragmentations that textbooks agree on: the ion at m/z and the
// kinds that the last step to it may have. Sources: OSX = J. McMurry, Organic
// Chemistry 10e, OpenStax, ch. 12; BRUICE = Bruice, Organic Chemistry, sec.
// 13.5; MUNI = Masaryk University E5020 exercises, MS 3; CCSU = Glagovich,
// Central Connecticut State University, summary of fragmentations; META = T. S.
// Lakshmi, lecture on metastable ions; LANGE = Lange's Handbook 15e, 7.8.2.
var textbook = []struct {
	compound, smiles string
	mz               int
	ion              string
	kinds            []Kind
	source           string
}{
	{"2-pentanone", "CCCC(C)=O", 43, "C2H3O+", []Kind{AlphaCleavage}, "BRUICE"},
	{"2-pentanone", "CCCC(C)=O", 58, "C3H6O+", []Kind{GammaHydrogenRearrangement}, "BRUICE"},
	{"2-pentanone", "CCCC(C)=O", 71, "C4H7O+", []Kind{AlphaCleavage}, "BRUICE"},
	{"3-pentanone", "CCC(=O)CC", 57, "C3H5O+", []Kind{AlphaCleavage}, "BRUICE"},
	{"butanone", "CCC(C)=O", 43, "C2H3O+", []Kind{AlphaCleavage}, "common practice, no source"},
	{"5-methyl-2-hexanone", "CC(C)CCC(C)=O", 58, "C3H6O+", []Kind{GammaHydrogenRearrangement}, "OSX"},
	{"5-methyl-2-hexanone", "CC(C)CCC(C)=O", 43, "C2H3O+", []Kind{AlphaCleavage}, "OSX"},
	{"butyrophenone", "CCCC(=O)c1ccccc1", 105, "C7H5O+", []Kind{AlphaCleavage}, "OSX"},
	{"butyrophenone", "CCCC(=O)c1ccccc1", 120, "C8H8O+", []Kind{GammaHydrogenRearrangement}, "OSX"},
	{"acetophenone", "CC(=O)c1ccccc1", 105, "C7H5O+", []Kind{AlphaCleavage}, "common practice, no source"},
	{"acetophenone", "CC(=O)c1ccccc1", 77, "C6H5+", []Kind{CarbonMonoxideLoss}, "common practice, no source"},
	{"methyl benzoate", "COC(=O)c1ccccc1", 105, "C7H5O+", []Kind{InductiveCleavage, AlphaCleavage}, "common practice, no source"},
	{"methyl butanoate", "CCCC(=O)OC", 74, "C3H6O2+", []Kind{GammaHydrogenRearrangement}, "OSX"},
	{"butanoic acid", "CCCC(=O)O", 60, "C2H4O2+", []Kind{GammaHydrogenRearrangement}, "CCSU"},
	{"butanal", "CCCC=O", 44, "C2H4O+", []Kind{GammaHydrogenRearrangement}, "CCSU"},
	{"ethyl acetate", "CCOC(C)=O", 43, "C2H3O+", []Kind{InductiveCleavage, AlphaCleavage}, "common practice, no source"},
	{"triethylamine", "CCN(CC)CC", 86, "C5H12N+", []Kind{AlphaCleavage}, "OSX"},
	{"N-ethylpropylamine", "CCCNCC", 58, "C3H8N+", []Kind{AlphaCleavage}, "OSX"},
	{"N-ethylpropylamine", "CCCNCC", 72, "C4H10N+", []Kind{AlphaCleavage}, "OSX"},
	{"butylamine", "CCCCN", 30, "CH4N+", []Kind{AlphaCleavage}, "CCSU"},
	{"diethylamine", "CCNCC", 58, "C3H8N+", []Kind{AlphaCleavage}, "common practice, no source"},
	{"ethanol", "CCO", 31, "CH3O+", []Kind{AlphaCleavage}, "MUNI"},
	{"1-butanol", "CCCCO", 56, "C4H8+", []Kind{WaterElimination}, "OSX"},
	{"1-butanol", "CCCCO", 31, "CH3O+", []Kind{AlphaCleavage}, "OSX"},
	{"2-pentanol", "CCCC(C)O", 45, "C2H5O+", []Kind{AlphaCleavage}, "OSX"},
	{"2-methyl-3-pentanol", "CCC(O)C(C)C", 59, "C3H7O+", []Kind{AlphaCleavage}, "OSX"},
	{"2-methyl-3-pentanol", "CCC(O)C(C)C", 73, "C4H9O+", []Kind{AlphaCleavage}, "OSX"},
	{"diethyl ether", "CCOCC", 59, "C3H7O+", []Kind{AlphaCleavage}, "common practice, no source"},
	{"hexane", "CCCCCC", 57, "C4H9+", []Kind{SigmaCleavage}, "OSX"},
	{"2,2-dimethylpropane", "CC(C)(C)C", 57, "C4H9+", []Kind{SigmaCleavage}, "OSX"},
	{"methylcyclohexane", "CC1CCCCC1", 83, "C6H11+", []Kind{SigmaCleavage}, "OSX"},
	{"ethylcyclopentane", "CCC1CCCC1", 69, "C5H9+", []Kind{SigmaCleavage}, "OSX"},
	{"toluene", "Cc1ccccc1", 91, "C7H7+", []Kind{HydrogenAtomLoss}, "common practice, no source"},
	{"toluene", "Cc1ccccc1", 65, "C5H5+", []Kind{EthyneLoss}, "META"},
	{"ethylbenzene", "CCc1ccccc1", 91, "C7H7+", []Kind{BenzylicCleavage}, "common practice, no source"},
	{"cumene", "CC(C)c1ccccc1", 105, "C8H9+", []Kind{BenzylicCleavage}, "common practice, no source"},
	{"butylbenzene", "CCCCc1ccccc1", 92, "C7H8+", []Kind{GammaHydrogenRearrangement}, "common practice, no source"},
	{"phenol", "Oc1ccccc1", 66, "C5H6+", []Kind{CarbonMonoxideLoss}, "common practice, no source"},
	{"aniline", "Nc1ccccc1", 66, "C5H6+", []Kind{HydrogenCyanideLoss}, "common practice, no source"},
	{"nitrobenzene", "O=[N+]([O-])c1ccccc1", 77, "C6H5+", []Kind{InductiveCleavage}, "common practice, no source"},
	{"nitrobenzene", "O=[N+]([O-])c1ccccc1", 93, "C6H5O+", []Kind{NitroRearrangement}, "common practice, no source"},
	{"chlorobenzene", "Clc1ccccc1", 77, "C6H5+", []Kind{InductiveCleavage}, "common practice, no source"},
	{"benzaldehyde", "O=Cc1ccccc1", 105, "C7H5O+", []Kind{HydrogenAtomLoss}, "common practice, no source"},
	{"benzonitrile", "N#Cc1ccccc1", 76, "C6H4+", []Kind{HydrogenCyanideLoss}, "common practice, no source"},
	{"pyridine", "c1ccncc1", 52, "C4H4+", []Kind{HydrogenCyanideLoss}, "common practice, no source"},
	{"1-bromohexane", "CCCCCCBr", 85, "C6H13+", []Kind{InductiveCleavage}, "OSX"},
	{"2-bromopropane", "CC(C)Br", 43, "C3H7+", []Kind{InductiveCleavage}, "common practice, no source"},
	{"iodoethane", "CCI", 29, "C2H5+", []Kind{InductiveCleavage}, "common practice, no source"},
	{"1-chlorobutane", "CCCCCl", 56, "C4H8+", []Kind{HydrogenHalideElimination}, "common practice, no source"},
	{"cyclohexene", "C1CCC=CC1", 54, "C4H6+", []Kind{RetroDielsAlder}, "common practice, no source"},
	{"4-vinylcyclohexene", "C=CC1CCC=CC1", 54, "C4H6+", []Kind{RetroDielsAlder}, "common practice, no source"},
	{"anthraquinone", "O=C1c2ccccc2C(=O)c2ccccc12", 180, "C13H8O+", []Kind{CarbonMonoxideLoss}, "common practice, no source"},
	{"trimethylsilyl butyl ether", "CCCCO[Si](C)(C)C", 131, "C6H15OSi+", []Kind{SigmaCleavage}, "common practice, no source"},
}

func predict(t *testing.T, s string) *Prediction {
	t.Helper()
	m, err := smiles.Parse(s)
	if err != nil {
		t.Fatal(err)
	}
	p, err := Predict(context.Background(), m, Settings{})
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// missed are the rows, by compound and m/z, in which the engine still takes
// another way than textbooks do. A row that comes right must leave the list.
var missed = map[string]int{
	"aniline":        66, // it loses C2H3 from the ring rather than HCN
	"1-chlorobutane": 56, // it loses Cl and H in two steps rather than HCl in one
}

// TestTextbookFragmentations asks that the engine's dominant route to the most
// abundant ion at the m/z is the accepted one: the right composition, and a
// last step of an accepted kind.
func TestTextbookFragmentations(t *testing.T) {
	for _, row := range textbook {
		p := predict(t, row.smiles)
		said, right := "no ion", false
		if ions := p.At(row.mz); len(ions) > 0 {
			said = p.Sentence(ions[0])
			route := p.Route(ions[0].ID)
			right = ions[0].Formula == chem.MustFormula(row.ion) && slices.Contains(row.kinds, route[len(route)-1].Kind)
		}
		if known := missed[row.compound] == row.mz; known && right {
			t.Errorf("%s, m/z %d comes right now: take it off the list of misses", row.compound, row.mz)
		} else if !known && !right {
			t.Errorf("%s, m/z %d: want %s by %v (%s), got\n\t%s", row.compound, row.mz, row.ion, row.kinds, row.source, said)
		}
	}
}
