package smiles

import "testing"

// What is read is written, and what is written reads as the same: the same
// graph from Write, the same text from Canonical.
func FuzzParse(f *testing.F) {
	for i, s := range odd(f) {
		if i%10 == 0 && len(s) <= 60 {
			f.Add(s)
		}
	}
	for _, s := range []string{
		"", "C(", "C1CC", "[", "[13C@@H+:1]", "C%(12345)C", "F/C=C\\F", "N[C@TB3](F)(Cl)Br", "*", "[*]", "C\u00e4", "[Cl--", "C$C", "c1ccnc1", "[H][H]", "C=C=C=C/F", "[2H]",
		"C12C3C4C1C5C2C3C45", "C.C.C", "[C@@](F)(Cl)(Br)I", "O=S1(=O)C=CC=C1", "B1[H]B[H]1", "[U](F)(F)(F)(F)(F)F", "N(=O)=O", "[nH]1cccc1",
	} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, s string) {
		m, err := Parse(s)
		if err != nil {
			if _, ok := err.(*Error); !ok {
				t.Errorf("error of type %T: %v", err, err)
			}
			return
		}
		formula, canonical := m.Formula(), Canonical(m)
		for _, text := range []string{Write(m), canonical} {
			again, err := Parse(text)
			if err != nil {
				t.Fatalf("%q written as %q: %v", s, text, err)
			}
			if again.Formula() != formula {
				t.Errorf("%q has formula %s, written as %q it has %s", s, formula, text, again.Formula())
			}
			if got := Canonical(again); got != canonical {
				t.Errorf("%q is %q, written as %q it is %q", s, canonical, text, got)
			}
		}
		m.Rings()
		if m.NumBonds() <= 2048 && len(m.SmallestRings()) != m.NumRings() {
			t.Errorf("%q: %d smallest rings, want %d", s, len(m.SmallestRings()), m.NumRings())
		}
	})
}
