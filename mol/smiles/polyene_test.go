package smiles

import (
	"testing"

	"ionwright/mol"
)

// Every combination of cis, trans and unknown at the double bonds of polyenes
// is written and read again: as many SMILES as molecules.
func TestPolyenes(t *testing.T) {
	for _, c := range []struct {
		smiles   string
		distinct int
	}{
		{"FC=CF", 3}, // counted: E, Z, unknown
		{"FC=CC=CC=CCl", 27},
		{"FC=CC(C)=CC=CCl", 27},
		{"FC=CC=CC=CC=CCl", 81},
		{"FC=CC=CC=CF", 18},    // 27 with the mirror-symmetric ones counted once: (27 + 9) / 2
		{"C1=CC=CC=CC=C1", 21}, // bracelets of 4 beads in 3 colors
		{"FC=C=C=CCl", 3},
		{"FN=NCl", 3},
		{"FC(=CCl)C(C=CBr)=CI", 27},
	} {
		m, err := Parse(c.smiles)
		if err != nil {
			t.Fatal(err)
		}
		var doubles []int
		for i := range m.NumBonds() {
			if m.CanBeCisTrans(i) {
				doubles = append(doubles, i)
			}
		}
		total := 1
		for range doubles {
			total *= 3
		}
		seen := map[string]bool{}
		for code := range total {
			b := m.Edit()
			for k, rest := 0, code; k < len(doubles); k, rest = k+1, rest/3 {
				b.SetStereo(doubles[k], mol.BondStereo(rest%3))
			}
			marked, err := b.Mol()
			if err != nil {
				t.Fatal(err)
			}
			want := Canonical(marked)
			seen[want] = true
			for _, text := range []string{Write(marked), want} {
				again, err := Parse(text)
				if err != nil {
					t.Errorf("%s, code %d: %v", c.smiles, code, err)
				} else if got := Canonical(again); got != want {
					t.Errorf("%s, code %d: %s written %s, read %s", c.smiles, code, want, text, got)
				}
			}
		}
		if len(seen) != c.distinct {
			t.Errorf("%s: %d different SMILES, want %d", c.smiles, len(seen), c.distinct)
		}
	}
}
