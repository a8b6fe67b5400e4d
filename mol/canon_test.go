package mol_test

import (
	"math/bits"
	"math/rand/v2"
	"os"
	"slices"
	"strings"
	"testing"

	"ionwright/chem"
	"ionwright/internal/witness"
	"ionwright/mol"
	"ionwright/mol/smiles"
)

// symmetric holds molecules of high symmetry and look-alikes that a
// refinement of atom classes alone can't tell apart.
var symmetric = []string{
	"C", "CC", "C1CC1", "c1ccccc1", "c1ccccc1-c1ccccc1",
	"C12C3C4C1C5C2C3C45",                         // cubane
	"C12C3C1C4C5C2C3C45",                         // cuneane
	"C12C3C1C1C2C31",                             // benzvalene's skeleton, saturated
	"C12C3C1C3C1C2C1",                            //
	"C1C2CC3CC1CC(C2)C3",                         // adamantane
	"C1C2CC3C4CC5CC(C14)C(C2)C3C5",               // diamantane
	"C12C3C4C5C1C6C7C2C8C3C9C4C1C5C6C2C7C8C9C12", // dodecahedrane
	"c12c3c4c5c1c1c6c7c2c2c8c3c3c9c4c4c%10c5c5c1c1c6c6c%11c7c2c2c7c8c3c3c8c9c4c4c9c%10c5c5c1c1c6c6c%11c2c2c7c3c3c8c4c4c9c5c1c1c6c2c3c41", // C60
	"C1CCC2CCCCC2C1", "C1CCCC1C1CCCC1", // decalin, bicyclopentyl
	"C1CCC2(CC1)CCCCC2", "C1CC11CC1", "C1CC2CCC1CC2",
	"c1ccc2ccc3cccc4ccc1c2c34",               // pyrene
	"c1cc2ccc3ccc4ccc5ccc6ccc1c7c2c3c4c5c67", // coronene
	"CC(C)(C)C(C(C)(C)C)C(C)(C)C",
	"C[Si](C)(C)O[Si](C)(C)O[Si](C)(C)O[Si](C)(C)C",
	"c1ccc(cc1)C(c1ccccc1)(c1ccccc1)c1ccccc1",
	"c1ccccc1-c1c(-c2ccccc2)c(-c2ccccc2)c(-c2ccccc2)c(-c2ccccc2)c1-c1ccccc1",
	"C1COCCOCCOCCOCCOCCO1", "C1CCCCCCCCCCCCCCCCCCCCCCCCCCCCC1",
	"O[C@H]1[C@H](O)[C@@H](O)[C@H](O)[C@H](O)[C@H]1O", // inositols
	"O[C@H]1[C@H](O)[C@@H](O)[C@H](O)[C@@H](O)[C@@H]1O",
	"C[C@H]1CC[C@@H](C)CC1", "C[C@H]1CC[C@H](C)CC1",
	"F/C=C/C=C/C=C/F", "F/C=C/C=C/C=C\\F",
	"C1=CC=CC=CC=C1", "C1=CC2=CC=CC2=C1",
	"[Na+].[Cl-].[Na+].[Cl-]", "O.O.O.CCO.OCC",
	"C12C3C4C5C6C7C8C1C1C2C3C4C5C6C7C81", // prismane of 8
	"C1CC2CCC1CC2.C1CC2CC1CC2",
}

// byRank lists the bonds of m with its atoms named by rank.
func byRank(m *mol.Mol) [][3]int32 {
	m, ranks := m.Canonical()
	bonds := make([][3]int32, m.NumBonds())
	for b := range bonds {
		bond := m.Bond(b)
		i, j := ranks[bond.Begin], ranks[bond.End]
		bonds[b] = [3]int32{min(i, j), max(i, j), int32(bond.Order)}
	}
	slices.SortFunc(bonds, func(a, b [3]int32) int { return slices.Compare(a[:], b[:]) })
	return bonds
}

// The ranks are a canonical labelling: whatever the numbering, the same ranks
// are bound. Trees on a symmetric core must follow the core's order.
func TestRanksLabelCanonically(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	crowded := []string{
		"Cc1c(C)c(C)c(C)c(C)c1C", "CCC1C(CC)C(CC)C(CC)C(CC)C1CC", "FC1C(Cl)C(F)C(Cl)C(F)C1Cl",
		"CC(=O)Oc1c(OC(C)=O)c(OC(C)=O)c(OC(C)=O)c(OC(C)=O)c1OC(C)=O",
	}
	for _, text := range append(crowded, symmetric...) {
		m, err := smiles.Parse(text)
		if err != nil {
			t.Errorf("%v", err)
			continue
		}
		want := byRank(m)
		for range 20 {
			renumbered, err := m.Renumbered(r.Perm(m.NumAtoms()))
			if err != nil {
				t.Fatal(err)
			}
			if !slices.Equal(byRank(renumbered), want) {
				t.Errorf("%s: renumbered, other ranks are bound", text)
				break
			}
		}
	}
}

// Any numbering gives one canonical SMILES.
func TestRenumbering(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	seen := map[string]string{}
	for _, text := range symmetric {
		m, err := smiles.Parse(text)
		if err != nil {
			t.Errorf("%v", err)
			continue
		}
		want := smiles.Canonical(m)
		if other, ok := seen[want]; ok {
			t.Errorf("%s and %s are both %s", other, text, want)
		}
		seen[want] = text
		for range 20 {
			shuffled := m.Shuffled(r)
			if got := smiles.Canonical(shuffled); got != want {
				t.Errorf("%s: renumbered %s, before %s", text, got, want)
				break
			}
			if got := shuffled.Formula(); got != m.Formula() {
				t.Errorf("%s: renumbered formula %s", text, got)
			}
		}
		again, err := smiles.Parse(want)
		if err != nil {
			t.Errorf("%s: %v", text, err)
		} else if got := smiles.Canonical(again); got != want {
			t.Errorf("%s: %s read again is %s", text, want, got)
		}
	}
}

// unchanging checks that 20 renumberings of each structure give one canonical
// SMILES, that no other structure has it, and that it reads as the same.
func unchanging(t *testing.T, list []string) {
	t.Helper()
	r := rand.New(rand.NewPCG(11, 12))
	for _, text := range list {
		m, err := smiles.Parse(text)
		if err != nil {
			t.Errorf("%v", err)
			continue
		}
		want := smiles.Canonical(m)
		for range 20 {
			if got := smiles.Canonical(m.Shuffled(r)); got != want {
				t.Errorf("%s: renumbered %s, before %s", text, got, want)
				break
			}
		}
		if again, err := smiles.Parse(want); err != nil {
			t.Errorf("%s: %v", text, err)
		} else if got := smiles.Canonical(again); got != want {
			t.Errorf("%s: %s read again is %s", text, want, got)
		} else if again.Formula() != m.Formula() {
			t.Errorf("%s: %s has another formula", text, want)
		}
	}
}

func TestRenumberingOdd(t *testing.T) {
	data, err := os.ReadFile("smiles/testdata/odd.smi")
	if err != nil {
		t.Fatal(err)
	}
	var list []string
	for line := range strings.Lines(string(data)) {
		if !strings.HasPrefix(line, "#") {
			list = append(list, strings.TrimSpace(line))
		}
	}
	unchanging(t, list)
}

func TestRenumberingShared(t *testing.T) {
	var list []string
	for _, file := range []string{"train", "low_train", "labelled_train"} {
		for _, record := range witness.Records(t, file) {
			list = append(list, record.SMILES)
		}
	}
	slices.Sort(list)
	unchanging(t, slices.Compact(list))
}

// graph makes a molecule of uranium atoms, whose valence nobody counts.
func graph(t *testing.T, n int, joined func(i, j int) mol.Order) *mol.Mol {
	t.Helper()
	atoms := make([]mol.Atom, n)
	var bonds []mol.Bond
	for i := range atoms {
		atoms[i].Element = chem.U
		for j := range i {
			if order := joined(i, j); order != 0 {
				bonds = append(bonds, mol.Bond{Begin: int32(i), End: int32(j), Order: order})
			}
		}
	}
	m, err := mol.New(atoms, bonds)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

// Graphs of a regularity that no molecule has: refinement finds one cell.
func TestRegularGraphs(t *testing.T) {
	bond := func(b bool) mol.Order {
		if b {
			return mol.Single
		}
		return 0
	}
	abs := func(x int) int { return max(x, -x) }
	rook := graph(t, 16, func(i, j int) mol.Order { return bond(i/4 == j/4 || i%4 == j%4) })
	shrikhande := graph(t, 16, func(i, j int) mol.Order {
		dx, dy := (i/4-j/4+4)%4, (i%4-j%4+4)%4
		return bond(dx == 0 && dy&1 == 1 || dy == 0 && dx&1 == 1 || dx == dy && dx&1 == 1)
	})
	hypercube := graph(t, 64, func(i, j int) mol.Order { return bond(bits.OnesCount(uint(i^j)) == 1) })
	complete := graph(t, 24, func(i, j int) mol.Order { return mol.Single })
	bipartite := graph(t, 24, func(i, j int) mol.Order { return bond(i%2 != j%2) })
	paley := graph(t, 29, func(i, j int) mol.Order {
		for k := 1; k < 29; k++ {
			if k*k%29 == abs(i-j) {
				return mol.Single
			}
		}
		return 0
	})
	torus := graph(t, 100, func(i, j int) mol.Order {
		dx, dy := (i/10-j/10+10)%10, (i%10-j%10+10)%10
		return bond(dx == 0 && (dy == 1 || dy == 9) || dy == 0 && (dx == 1 || dx == 9))
	})
	r := rand.New(rand.NewPCG(3, 4))
	seen := map[string]bool{}
	for k, m := range []*mol.Mol{rook, shrikhande, hypercube, complete, bipartite, paley, torus} {
		want := smiles.Canonical(m)
		if seen[want] {
			t.Errorf("graph %d has the code of another", k)
		}
		seen[want] = true
		for range 3 {
			if smiles.Canonical(m.Shuffled(r)) != want {
				t.Errorf("graph %d: renumbering changes the code", k)
			}
		}
	}
}

// Small graphs of all kinds: the canonical code is the same exactly for
// graphs that some permutation of the atoms makes equal.
func TestCanonicalIsComplete(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	const n = 6
	permutations := permutationsOf(n)
	byCode, byLowest := map[string]string{}, map[string]string{}
	for range 1500 {
		kinds, density := 1+r.IntN(2), 2+r.IntN(6)
		var matrix [n][n]byte
		for i := range n {
			for j := range i {
				if r.IntN(10) < density {
					matrix[i][j] = byte(1 + r.IntN(kinds))
					matrix[j][i] = matrix[i][j]
				}
			}
		}
		m := graph(t, n, func(i, j int) mol.Order { return mol.Order(matrix[i][j]) })
		if m.NumParts() > 1 {
			continue
		}
		lowest := ""
		for _, p := range permutations {
			var code [n * n]byte
			for i := range n {
				for j := range n {
					code[i*n+j] = matrix[p[i]][p[j]]
				}
			}
			if s := string(code[:]); lowest == "" || s < lowest {
				lowest = s
			}
		}
		code := smiles.Canonical(m)
		if other, ok := byCode[code]; ok && other != lowest {
			t.Fatalf("two graphs share %s", code)
		}
		if other, ok := byLowest[lowest]; ok && other != code {
			t.Fatalf("one graph has %s and %s", code, other)
		}
		byCode[code], byLowest[lowest] = lowest, code
	}
	if len(byCode) < 100 {
		t.Errorf("only %d graphs compared", len(byCode))
	}
}

func permutationsOf(n int) [][]int {
	if n == 0 {
		return [][]int{nil}
	}
	var all [][]int
	for _, shorter := range permutationsOf(n - 1) {
		for at := range n {
			p := append(append(append([]int(nil), shorter[:at]...), n-1), shorter[at:]...)
			all = append(all, p)
		}
	}
	return all
}
