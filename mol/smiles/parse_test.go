package smiles

import "testing"

func TestParseFormula(t *testing.T) {
	for _, c := range []struct{ smiles, formula string }{
		{"", ""},
		{"C", "CH4"},
		{"CCO", "C2H6O"},
		{"c1ccccc1", "C6H6"},
		{"C1=CC=CC=C1", "C6H6"},
		{"[2H]C([2H])([2H])O", "CH[2H]3O"},
		{"[H]O[H]", "H2O"},
		{"[NH4+].[Cl-]", "ClH4N"},
		{"c1ccc2ccccc2c1", "C10H8"},
		{"c1cc[nH]c1", "C4H5N"},
		{"CN1C=NC2=C1C(=O)N(C(=O)N2C)C", "C8H10N4O2"},
		{"c1ccccc1c1ccccc1", "C12H10"},
		{"C%12CCCCC%12", "C6H12"},
		{"C%(123)CCCCC%(123)", "C6H12"},
	} {
		m, err := Parse(c.smiles)
		if err != nil {
			t.Errorf("Parse(%q): %v", c.smiles, err)
			continue
		}
		if got := m.Formula().String(); got != c.formula {
			t.Errorf("Parse(%q).Formula() = %s, want %s", c.smiles, got, c.formula)
		}
	}
}
