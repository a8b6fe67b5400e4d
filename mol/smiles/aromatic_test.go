package smiles

import "testing"

func TestAromaticCount(t *testing.T) {
	for _, c := range []struct {
		smiles string
		atoms  int
	}{
		{"C1=CC=CC=C1", 6},
		{"C1=CC2=CC=CC=C2C=C1", 10},
		{"c1ccc2cccc2cc1", 10},
		{"C1=CC=C1", 0},
		{"O=C1C=CC=CC=C1", 7},
		{"C1CC1", 0},
		{"c1ccc2c(c1)ccc1ccccc12", 14},
		{"C1=COC=C1", 5},
		{"O=C1C=CC(=O)C=C1", 0},
		{"c1cc2cccc3c4cccc5cccc(c(c1)c23)c45", 20},
	} {
		m, err := Parse(c.smiles)
		if err != nil {
			t.Error(err)
			continue
		}
		n := 0
		for i := range m.NumAtoms() {
			if m.Atom(i).Aromatic {
				n++
			}
		}
		if n != c.atoms {
			t.Errorf("%s: %d aromatic atoms, want %d", c.smiles, n, c.atoms)
		}
	}
}
