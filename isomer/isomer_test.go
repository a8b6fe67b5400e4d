package isomer

import (
	"context"
	"math/rand/v2"
	"slices"
	"testing"

	"ionwright/chem"
	"ionwright/mol"
	"ionwright/mol/smarts"
	"ionwright/mol/smiles"
)

func space(t testing.TB, formula string, o Options) *Space {
	t.Helper()
	s, err := New(chem.MustFormula(formula), o)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func parse(t testing.TB, text string) *mol.Mol {
	t.Helper()
	m, err := smiles.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func canonical(t testing.TB, text string) string {
	t.Helper()
	return smiles.Canonical(parse(t, text))
}

// list returns the canonical SMILES of the space and fails on one that comes
// twice, has another formula, or isn't read back as itself.
func list(t testing.TB, s *Space) map[string]bool {
	t.Helper()
	found := map[string]bool{}
	for st, err := range s.All(context.Background()) {
		if err != nil {
			t.Fatal(err)
		}
		m := st.Mol()
		text := smiles.Canonical(m)
		if found[text] {
			t.Errorf("%s: %s comes twice", s.Formula(), text)
		}
		found[text] = true
		if m.Formula() != s.Formula() || m.NumParts() != 1 {
			t.Errorf("%s: %s has the formula %s", s.Formula(), text, m.Formula())
		}
		again, err := smiles.Parse(text)
		if err != nil {
			t.Fatalf("%s: %v", s.Formula(), err)
		}
		if back := smiles.Canonical(again); back != text {
			t.Errorf("%s: %s is read as %s", s.Formula(), text, back)
		}
	}
	return found
}

// TestBruteForce compares with a generator of another make: nothing may be
// missing and nothing come twice.
func TestBruteForce(t *testing.T) {
	for _, formula := range []string{
		"CH4", "C2H2", "C2H4O", "C3H6O", "C4H10O", "C3H8O2", "C4H6", "C5H8", "C6H14", "C6H12", // alkanes, alcohols, rings
		"C6H6", "C5H4", "C6H4", "C5H4O", "C4H4O2", "C4H4S", "C2H5NO2", "C3H7NO", "C3H3NO", "C3H4N2", // rings of all sorts
		"C4H5N", "C5H5N", "CHN5", "C2H6SiO", "C2H7P", "C3H5ClO", "C3H4BrF", "C2H4Cl2", "C2HBrClF3", "CH3I", // heteroatoms
		"N4O", "C6H2", "C4N2", "H2O2", "S4", "C2O3", "C3H6OS", "C6H8", "C5H10O",
	} {
		if testing.Short() && len(formula) > 5 {
			continue
		}
		want := bruteForce(t, formula)
		got := list(t, space(t, formula, Options{LowestValences: true}))
		for text := range want {
			if !got[text] {
				t.Errorf("%s: %s is missing", formula, text)
			}
		}
		for text := range got {
			if !want[text] {
				t.Errorf("%s: %s is too much", formula, text)
			}
		}
	}
}

// TestRules compares what the generator prunes with what a filter leaves of
// all.
func TestRules(t *testing.T) {
	hydroxyl := smarts.MustCompile("[OX2H1]")
	carbonyl := smarts.MustCompile("[CX3]=[OX1]")
	peroxide := smarts.MustCompile("[OX2][OX2]")
	ether := smarts.MustCompile("[OD2]([#6;!$(C=O)])[#6;!$(C=O)]")
	for _, tt := range []struct {
		name    string
		formula string
		options Options
		fits    func(m *mol.Mol) bool
	}{
		{"rings", "C6H10O", Options{Rings: &Range{1, 1}}, func(m *mol.Mol) bool { return m.NumRings() == 1 }},
		{"no rings", "C6H10O", Options{Rings: &Range{0, 0}}, func(m *mol.Mol) bool { return m.NumRings() == 0 }},
		{"sizes", "C6H8O", Options{RingSizes: &Range{5, 6}}, func(m *mol.Mol) bool {
			return !slices.ContainsFunc(m.SmallestRings(), func(r []int32) bool { return len(r) < 5 || len(r) > 6 })
		}},
		{"required", "C5H10O2", Options{Occurs: []Occurs{{hydroxyl, Range{1, -1}}, {carbonyl, Range{1, 1}}}}, func(m *mol.Mol) bool {
			return hydroxyl.Match(m) && carbonyl.Count(m) == 1
		}},
		{"forbidden", "C5H10O2", Options{Occurs: []Occurs{{peroxide, Range{0, 0}}, {ether, Range{0, 0}}, {hydroxyl, Range{0, 1}}}}, func(m *mol.Mol) bool {
			return !peroxide.Match(m) && !ether.Match(m) && hydroxyl.Count(m) <= 1
		}},
		{"all unstable ones", "C5H8O2", Options{Without: []string{"all"}}, stable},
		{"unstable nitrogen", "C4H9NO", Options{Without: []string{"all"}}, stable},
		{"unstable aromatics", "C7H6O", Options{Without: []string{"all"}}, nil},
	} {
		t.Run(tt.name, func(t *testing.T) {
			got := list(t, space(t, tt.formula, tt.options))
			n, err := space(t, tt.formula, tt.options).Count(context.Background(), 2)
			if err != nil || int(n) != len(got) {
				t.Errorf("counted %d (%v), made %d", n, err, len(got))
			}
			if tt.fits == nil {
				return
			}
			for st := range space(t, tt.formula, Options{}).All(context.Background()) {
				m := st.Mol()
				if text := smiles.Canonical(m); tt.fits(m) != got[text] {
					t.Errorf("%s: made %v, filter %v", text, got[text], !got[text])
				}
			}
		})
	}
}

// stable goes by the list on the complete molecule.
func stable(m *mol.Mol) bool {
	for _, i := range Instabilities() {
		if i.ring != nil && i.ring(m) || i.SMARTS != "" && smarts.MustCompile(i.SMARTS).Match(m) {
			return false
		}
	}
	return true
}

// TestInstabilities matches each pattern with its examples.
func TestInstabilities(t *testing.T) {
	for _, i := range Instabilities() {
		has := func(text string) bool {
			m := parse(t, text)
			if i.ring != nil {
				return i.ring(m)
			}
			return smarts.MustCompile(i.SMARTS).Match(m)
		}
		if !has(i.Example) {
			t.Errorf("%s: %s hasn't it", i.Name, i.Example)
		}
		if has(i.Spares) {
			t.Errorf("%s: %s has it", i.Name, i.Spares)
		}
	}
	// Compounds of a first course that are kept in bottles; common knowledge.
	for _, text := range []string{
		"CCO", "CC(C)=O", "CC=O", "C=O", "CC(=O)O", "CC(=O)OC", "CC(N)=O", "CC#N", "C[N+](=O)[O-]", "c1ccccc1", "Cc1ccccc1O", "Nc1ccccc1",
		"c1ccncc1", "c1ccoc1", "c1cc[nH]c1", "C1CO1", "C1CC1", "C1CCC=CC1", "CC#C", "C=CC=C", "C=C=C", "CS", "CSC", "CS(C)=O", "CS(C)(=O)=O",
		"CC(=O)Cl", "CC(=O)OC(C)=O", "CN=C=O", "CC(C)=NO", "O=C1CCCCC1", "CC(=O)CC(C)=O", "O=C1C=CC(=O)C=C1", "NC(N)=O", "CN(C)C=O", "COCOC",
		"C[Si](C)(C)C", "C[Si](C)(C)O", "COP(=O)(OC)OC", "CP(C)C", "NN", "CNN", "CN=NC", "C1CC2CCC1C2", "CC1=CCC2CC1C2(C)C", "c1ccc2ccccc2c1", "CON", "OCC1OC(O)C(O)C(O)C1O",
		"O=Cc1ccccc1", "Oc1ccccc1C(=O)O", "S=C=S", "CSSC", "ClC(Cl)Cl", "C=CCl", "C=COC", "C=COC(C)=O",
	} {
		if m := parse(t, text); !stable(m) {
			for _, i := range Instabilities() {
				if i.ring != nil && i.ring(m) || i.SMARTS != "" && smarts.MustCompile(i.SMARTS).Match(m) {
					t.Errorf("%s counts as unstable: %s", text, i.Name)
				}
			}
		}
	}
}

// TestRun compares several cores, and a run that goes on where another ended,
// with one core.
func TestRun(t *testing.T) {
	s := space(t, "C7H12O", Options{Occurs: []Occurs{{smarts.MustCompile("[OX2H1]"), Range{1, 1}}}})
	var want []string
	for st, err := range s.All(context.Background()) {
		if err != nil {
			t.Fatal(err)
		}
		want = append(want, st.SMILES())
	}
	newWork := func() func(*Structure) (string, bool) {
		return func(st *Structure) (string, bool) { return st.SMILES(), true }
	}
	random := rand.New(rand.NewPCG(1, 2))
	for _, workers := range []int{1, 3} {
		var got []string
		var at Position
		for len(got) < len(want) {
			ctx, cancel := context.WithCancel(context.Background())
			end := len(got) + 1 + random.IntN(len(want)/3)
			err := Run(ctx, s, Runner{Workers: workers, From: at}, newWork, func(text string, after Position) error {
				got = append(got, text)
				back, err := s.ParseToken(s.Token(after))
				at = back
				if len(got) == end {
					cancel()
				}
				return err
			})
			if len(got) < len(want) && err != context.Canceled && err != nil {
				t.Fatal(err)
			}
			cancel()
			if err == nil {
				break
			}
		}
		if !slices.Equal(got, want) {
			t.Errorf("%d workers: %d structures, want %d, or in another order", workers, len(got), len(want))
		}
	}
	if _, err := s.ParseToken("1-2-00000000"); err == nil {
		t.Error("a token of another space was taken")
	}
	if _, err := s.ParseToken("x"); err == nil {
		t.Error("\"x\" was taken for a token")
	}
}
