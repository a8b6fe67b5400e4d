package smiles

import "testing"

func TestCanonical(t *testing.T) {
	for _, s := range []string{"CCO", "c1ccccc1O", "C1=CC=CC=C1C(=O)OCC", "CN1C=NC2=C1C(=O)N(C(=O)N2C)C", "C12C3C4C1C5C2C3C45", "CC(C)(C)c1ccccc1", "c1ccc(cc1)-c1ccccc1", "C1CC2CCC1CC2",
		"[Na+].[Cl-]", "OCC.C", "C1=CCCCC1", "c1cc2cccc3c4cccc5cccc(c(c1)c23)c45", "c1ccc2cccc2cc1", "[13CH4]", "C[N+](=O)[O-]", "CN(=O)=O", "c1cc[nH]c1"} {
		m, err := Parse(s)
		if err != nil {
			t.Error(err)
			continue
		}
		t.Log(s, Write(m), Canonical(m))
	}
}
