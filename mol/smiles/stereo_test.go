package smiles

import "testing"

// The SMILES of each group are equivalent.
var equivalents = [][]string{
	{ // OpenSMILES, "Tetrahedral Centers"
		"N[C@](Br)(O)C", "Br[C@](O)(N)C", "O[C@](Br)(C)N", "Br[C@](C)(O)N", "C[C@](Br)(N)O",
		"Br[C@](N)(C)O", "C[C@@](Br)(O)N", "Br[C@@](N)(O)C", "[C@@](C)(Br)(O)N", "[C@@](Br)(N)(O)C",
		"N[C@TH1](Br)(O)C",
	},
	{"FC1C[C@](Br)(Cl)CCC1", "[C@]1(Br)(Cl)CCCC(F)C1"}, // OpenSMILES, ring bonds
	{"F/C=C/F", `F\C=C\F`, `C(\F)=C/F`},                // OpenSMILES, trans
	{`F\C=C/F`, `F/C=C\F`, "C(/F)=C/F"},                // OpenSMILES, cis
	{"F/C(CC)=C/F", "F/C(/CC)=C/F"},                    // OpenSMILES, the position of the other substituent is implied
	{"F/C=C=C=C/F", `F\C=C=C=C\F`},
	{ // OpenSMILES, "Tetrahedral Allene-like Systems", and its ligands in other orders
		"NC(Br)=[C@]=C(O)C", "BrC(N)=[C@@]=C(O)C", "NC(Br)=[C@@]=C(C)O", "OC(C)=[C@]=C(N)Br", "NC(Br)=[C@AL1]=C(O)C",
		"[C@](=C(N)Br)=C(O)C",
	},
	{ // OpenSMILES, "Trigonal Bipyramidal Centers"
		"S[As@TB1](F)(Cl)(Br)N", "S[As@TB2](Br)(Cl)(F)N", "S[As@TB5](F)(N)(Cl)Br", "F[As@TB10](S)(Cl)(N)Br",
		"F[As@TB15](Cl)(S)(Br)N", "Br[As@TB20](Cl)(S)(F)N", "S[As@](F)(Cl)(Br)N",
	},
	{ // OpenSMILES, "Octahedral Centers"
		"C[Co@](F)(Cl)(Br)(I)S", "F[Co@@](S)(I)(C)(Cl)Br", "S[Co@OH5](F)(I)(Cl)(C)Br", "Br[Co@OH9](C)(S)(Cl)(F)I",
		"Br[Co@OH12](Cl)(I)(F)(S)C", "Cl[Co@OH15](C)(Br)(F)(I)S", "Cl[Co@OH19](C)(I)(F)(S)Br", "I[Co@OH27](Cl)(Br)(F)(S)C",
	},
	{"F[Pt@SP1](Cl)(Br)I", "F[Pt@SP2](Br)(Cl)I", "F[Pt@SP3](Cl)(I)Br", "Cl[Pt@SP1](F)(I)Br"}, // opposite to F is Br
	{"N[C@H](O)C", "N[C@]([H])(O)C", "[H][C@@](O)(C)N", "[C@@H](N)(O)C"},
	{`[H]/N=C/C`, `C(/C)=N\[H]`},
	{"C[S@](=O)CC", "O=[S@](CC)C"},
}

func TestEquivalents(t *testing.T) {
	for _, group := range equivalents {
		want := ""
		for _, text := range group {
			m, err := Parse(text)
			if err != nil {
				t.Errorf("Parse(%q): %v", text, err)
				continue
			}
			got := Canonical(m)
			if want == "" {
				want = got
				t.Log(text, got)
			}
			if got != want {
				t.Errorf("%s is %s, but %s is %s", group[0], want, text, got)
			}
			if again, err := Parse(Write(m)); err != nil {
				t.Errorf("Parse(Write(%q)): %v", text, err)
			} else if back := Canonical(again); back != want {
				t.Errorf("%s written as %s is %s, want %s", text, Write(m), back, want)
			}
		}
	}
}
