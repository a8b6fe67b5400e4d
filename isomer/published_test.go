package isomer

import (
	"context"
	"fmt"
	"testing"

	"ionwright/chem"
	"ionwright/mol/smarts"
)

func countOf(t *testing.T, formula string, o Options) int {
	t.Helper()
	n, err := space(t, formula, o).Count(context.Background(), 2)
	if err != nil {
		t.Fatal(err)
	}
	return int(n)
}

func hydride(element string, n, h int) string {
	if h == 0 {
		return fmt.Sprintf("%s%d", element, n)
	}
	return fmt.Sprintf("%s%dH%d", element, n, h)
}

// made counts by making every structure, which counting may not do.
func made(t *testing.T, formula string, o Options) int {
	t.Helper()
	n := 0
	for _, err := range space(t, formula, o).All(context.Background()) {
		if err != nil {
			t.Fatal(err)
		}
		n++
	}
	return n
}

// TestAlkanes compares with the number of n-node unrooted quartic trees.
func TestAlkanes(t *testing.T) {
	published := []int{1, 1, 1, 2, 3, 5, 9, 18, 35, 75, 159, 355, 802, 1858, 4347, 10359, 24894, 60523, 148284, 366319} // OEIS A000602, n = 1 to 20
	for i, want := range published {
		formula := fmt.Sprintf("C%dH%d", i+1, 2*i+4)
		if got := countOf(t, formula, Options{}); got != want {
			t.Errorf("%s: counted %d, want %d", formula, got, want)
		}
		if testing.Short() && i > 14 {
			continue
		}
		if got := made(t, formula, Options{}); got != want {
			t.Errorf("%s: made %d, want %d", formula, got, want)
		}
	}
}

// TestAlcohols compares alkyl alcohols with the number of quartic rooted trees.
func TestAlcohols(t *testing.T) {
	published := []int{1, 1, 2, 4, 8, 17, 39, 89, 211, 507, 1238, 3057, 7639, 19241} // OEIS A000598, n = 1 to 14
	hydroxyl := Occurs{smarts.MustCompile("[OX2H1]"), Range{1, 1}}
	for i, want := range published {
		if testing.Short() && i > 9 {
			break
		}
		formula := fmt.Sprintf("C%dH%dO", i+1, 2*i+4)
		if got := made(t, formula, Options{Occurs: []Occurs{hydroxyl}}); got != want {
			t.Errorf("%s: %d alcohols, want %d", formula, got, want)
		}
	}
}

// TestHydrocarbons compares the isomers of all formulas of n carbon atoms,
// hydrogens from none to all, with the number of connected loopless
// multigraphs of degree 4 or less and at most triple edges.
func TestHydrocarbons(t *testing.T) {
	published := []int{1, 3, 9, 37, 146, 772, 4449, 30307} // OEIS A134818, n = 1 to 8
	for i, want := range published {
		n := i + 1
		if testing.Short() && n > 6 {
			break
		}
		counted, all := 0, 0
		for h := 0; h <= 2*n+2; h += 2 {
			formula := hydride("C", n, h)
			if n == 1 && h < 4 {
				continue // carbon and methylene: no closed shell at valence 4
			}
			counted += countOf(t, formula, Options{Kekule: true})
			all += made(t, formula, Options{Kekule: true})
		}
		if counted != want || all != want {
			t.Errorf("%d carbon atoms: counted %d, made %d, want %d", n, counted, all, want)
		}
	}
}

// TestHydronitrogens does the same for nitrogen.
func TestHydronitrogens(t *testing.T) {
	published := []int{4, 12, 22, 68, 166, 534, 1589, 5464} // OEIS A303030, n = 3 to 10; no triple bond fits there
	for i, want := range published {
		n := i + 3
		all := 0
		for h := n % 2; h <= n+2; h += 2 {
			all += made(t, hydride("N", n, h), Options{Kekule: true, LowestValences: true})
		}
		if all != want {
			t.Errorf("%d nitrogen atoms: %d, want %d", n, all, want)
		}
	}
}

func TestPublishedFormulas(t *testing.T) {
	for _, tt := range []struct {
		formula string
		want    int
	}{
		{"C6H6", 217},       // the count usually given for valence-bond isomers of benzene
		{"C10H16", 24938},   // from memory
		{"C10H16O", 452458}, // from memory
		{"C2H5NO2", 84},     // glycine's isomers, from memory
		{"C4H10O", 7},       // common knowledge: 4 alcohols, 3 ethers
		{"C5H12O", 14},      // common knowledge: 8 alcohols, 6 ethers
		{"C3H6O", 9},        // common practice, no source
		{"C4H9Cl", 4},       // common knowledge
		{"C4H11N", 8},       // common knowledge
	} {
		if got := countOf(t, tt.formula, Options{LowestValences: true, Kekule: true}); got != tt.want {
			t.Errorf("%s: counted %d, want %d", tt.formula, got, tt.want)
		}
		if got := made(t, tt.formula, Options{LowestValences: true, Kekule: true}); got != tt.want {
			t.Errorf("%s: made %d, want %d", tt.formula, got, tt.want)
		}
	}
}

// TestForms asks for the known compounds that need more than the lowest
// valences, each once.
func TestForms(t *testing.T) {
	for _, f := range Forms() {
		m := parse(t, f.Example)
		if !list(t, space(t, m.Formula().String(), Options{}))[canonical(t, f.Example)] {
			t.Errorf("%s: %s isn't among the isomers of %s", f.Name, f.Example, m.Formula())
		}
	}
	for _, text := range []string{
		"CN=[N+]=[N-]", "CC#[N+][O-]", "CO[N+](=O)[O-]", "C[N+](C)(C)[O-]", "CS(=O)O", "CS(=O)(=O)O", "COP(=O)(O)O", "CP(=O)(O)C",
		"O=S=O", "[O-][n+]1ccccc1", "CC(C)=[N+](C)[O-]", "[N-]=[N+]=O", "C1=NN=NN1",
	} {
		m := parse(t, text)
		if m.NumAtoms() > 6 && testing.Short() {
			continue
		}
		found := list(t, space(t, m.Formula().String(), Options{}))
		if !found[canonical(t, text)] {
			t.Errorf("%s isn't among the %d isomers of %s", text, len(found), m.Formula())
		}
	}
}

// TestKekule counts the structures that tables count twice.
func TestKekule(t *testing.T) {
	for _, tt := range []struct {
		formula string
		more    int
	}{
		{"C6H6", 0},  // one form of benzene up to isomorphism
		{"C8H10", 1}, // 1,2-dimethylbenzene has two; common knowledge
		{"C9H12", 3}, // 1-ethyl-2-methyl-, 1-ethyl-3-methyl- and 1,2,4-trimethylbenzene; by drawing all eight
	} {
		with := made(t, tt.formula, Options{Kekule: true})
		without := len(list(t, space(t, tt.formula, Options{})))
		if with-without != tt.more {
			t.Errorf("%s: %d with and %d without Kekule forms, want a difference of %d", tt.formula, with, without, tt.more)
		}
	}
}

func TestElementsRefused(t *testing.T) {
	for _, formula := range []string{"C2H5Na", "C2H6+", "C2[2H]6", "C60H122", "C12H20N4O4S2Cl2Br2F2P2"} {
		if _, err := New(chem.MustFormula(formula), Options{}); err == nil {
			t.Errorf("%s: no error", formula)
		}
	}
	for _, formula := range []string{"CH3", "C", "H", "H3", "CH6", "O2H6"} {
		if got := made(t, formula, Options{}); got != 0 {
			t.Errorf("%s: %d isomers, want none", formula, got)
		}
	}
	if got := made(t, "H2", Options{}); got != 1 {
		t.Errorf("H2: %d isomers, want 1", got)
	}
}
