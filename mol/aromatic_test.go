package mol_test

import (
	"testing"

	"ionwright/mol"
	"ionwright/mol/smiles"
)

func parse(t *testing.T, text string) *mol.Mol {
	t.Helper()
	m, err := smiles.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	return m
}

func aromaticAtoms(m *mol.Mol) int {
	n := 0
	for i := range m.NumAtoms() {
		if m.Atom(i).Aromatic {
			n++
		}
	}
	return n
}

// One ring for each row of OpenSMILES' table of pi electrons, and the rings
// that count as fused. The number is that of aromatic atoms.
func TestAromatic(t *testing.T) {
	for _, c := range []struct {
		smiles string
		atoms  int
	}{
		{"B1NBNBN1", 6},                       // BX3v3: 0 electrons; borazine
		{"B1=CC=CC=C1", 6},                    // BX2v3: 1; borinine
		{"[CH-]1C=CC=C1", 5},                  // CX3v3-: 2
		{"O=C1C=CC=CC=C1", 7},                 // CX3v4, =O: 0; tropone
		{"[CH+]1C=CC=CC=C1", 7},               // CX3v3+: 0
		{"[C-]1=CC=CC=C1", 6},                 // CX2v3-: 1
		{"C1=CC=CC=C1", 6},                    // CX3v4: 1
		{"[C+]1=CC=CC=C1", 6},                 // CX2v3+: 1; phenyl cation
		{"[N-]1C=CC=C1", 5},                   // NX2v2-: 2
		{"N1C=CC=C1", 5},                      // NX3v3: 2
		{"N1=CC=CC=C1", 6},                    // NX2v3: 1
		{"C[N+]1=CC=CC=C1", 6},                // NX3v4+: 1
		{"O=N1=CC=CC=C1", 6},                  // NX3v5: 1, read as NX3v4+
		{"[P-]1C=CC=C1", 5},                   // PX2v2-: 2
		{"P1C=CC=C1", 5},                      // PX3v3: 2
		{"P1=CC=CC=C1", 6},                    // PX2v3: 1
		{"C[P+]1=CC=CC=C1", 6},                // PX3v4+: 1
		{"[AsH]1C=CC=C1", 5},                  // AsX3v3: 2
		{"[As]1=CC=CC=C1", 6},                 // AsX2v3: 1
		{"C[As+]1=CC=CC=C1", 6},               // AsX3v4+: 1
		{"O1C=CC=C1", 5},                      // OX2v2: 2
		{"[O+]1=CC=CC=C1", 6},                 // OX2v3+: 1
		{"S1C=CC=C1", 5},                      // SX2v2: 2
		{"[S+]1=CC=CC=C1", 6},                 // SX2v3+: 1
		{"O=S1C=CC=C1", 5},                    // SX3v4: 2
		{"C[S+]1C=CC=C1", 5},                  // SX3v3+: 2
		{"[Se]1C=CC=C1", 5},                   // SeX2v2: 2
		{"[Se+]1=CC=CC=C1", 6},                // SeX2v3+: 1
		{"O=[Se]1C=CC=C1", 5},                 // SeX3v4: 2
		{"C[Se+]1C=CC=C1", 5},                 // SeX3v3+: 2
		{"C1=CC=C1", 0},                       // 4 electrons
		{"C1=CC=CC=CC=C1", 0},                 // 8 electrons
		{"C1C=CC=C1", 0},                      // an sp3 atom
		{"C=C1C=CC=C1", 0},                    // 5 electrons; fulvene
		{"O=S1(=O)C=CC=C1", 0},                // four neighbors
		{"C1=CC=CC=CC=CC=CC=CC=CC=CC=C1", 18}, // 18 electrons; [18]annulene
		{"C1=CC2=CC=CC=CC2=C1", 10},           // azulene: 10 electrons round it
		{"C1=CC2=CC=CC=C2C=C1", 10},           // naphthalene
		{"C1=CC=C2C(=C1)C1=CC=CC=C12", 12},    // biphenylene: two benzene rings
		{"C1=CC2=CC=CC2=C1", 0},               // pentalene: 8 electrons
		{"C1=CC2=CC=CC3=C2C1=CC=C3", 10},      // acenaphthylene: the five-membered ring stays out
		{"C1=CC(=O)C=CC1=O", 0},               // quinone: 4 electrons
		{"O=C1C=CNC=C1", 6},                   // 4-pyridone
		{"O=C1NC=NC2=C1NC=N2", 9},             // hypoxanthine
		{"C1C2=CC=CC1=CC=CC=C2", 10},          // 1,6-methano[10]annulene: the bridge is no member
		{"C1#CC=CC=C1", 0},                    // benzyne: two atoms aren't sp2
		{"[SiH]1=CC=CC=C1", 0},                // OpenSMILES has no aromatic symbol for silicon
		{"[Te]1C=CC=C1", 0},                   // nor for tellurium
		{"C1=CC=CC=C1[CH2]", 6},
		{"[C]1=CC=CC=C1", 6}, // phenyl radical
	} {
		m := parse(t, c.smiles)
		if got := aromaticAtoms(m); got != c.atoms {
			t.Errorf("%s: %d aromatic atoms, want %d", c.smiles, got, c.atoms)
		}
		kekule, err := m.Kekulize()
		if err != nil {
			t.Fatal(err)
		}
		if n := aromaticAtoms(kekule); n != 0 {
			t.Errorf("%s: %d aromatic atoms in the Kekule form", c.smiles, n)
		}
		if got, want := smiles.Canonical(kekule.Aromatize()), smiles.Canonical(m); got != want {
			t.Errorf("%s: by the Kekule form %s, directly %s", c.smiles, got, want)
		}
		if again := parse(t, smiles.Write(kekule)); aromaticAtoms(again) != c.atoms {
			t.Errorf("%s: %d aromatic atoms in %s", c.smiles, aromaticAtoms(again), smiles.Write(kekule))
		}
		if again := parse(t, smiles.Write(m)); aromaticAtoms(again) != c.atoms {
			t.Errorf("%s: %d aromatic atoms in %s", c.smiles, aromaticAtoms(again), smiles.Write(m))
		}
	}
}

// Both Kekule forms of a molecule are one.
func TestKekuleFormsAgree(t *testing.T) {
	for _, pair := range [][2]string{
		{"CC1=CC=CC=C1C", "CC1=C(C)C=CC=C1"},           // o-xylene
		{"C1=CC2=CC=CC=C2C=C1", "C1=CC=CC2=CC=CC=C12"}, // naphthalene
		{"C1=CC2=CC=CC=CC2=C1", "C1C=C2C=CC=CC=C2C=1"}, // azulene
		{"CC1=CC=CN=C1O", "CC1C=CC=NC=1O"},             //
		{"C1=CC2=C1C=C2", "C12=C(C=C1)C=C2"},           // butalene
	} {
		a, b := smiles.Canonical(parse(t, pair[0])), smiles.Canonical(parse(t, pair[1]))
		if a != b {
			t.Errorf("%s is %s, %s is %s", pair[0], a, pair[1], b)
		}
	}
}

// Azulene's cross bond is single in every Kekule form; naphthalene's isn't.
func TestCrossBond(t *testing.T) {
	for _, c := range []struct {
		smiles string
		order  mol.Order
	}{{"c1ccc2cccc2cc1", mol.Single}, {"c1ccc2ccccc2c1", mol.Aromatic}} {
		m := parse(t, c.smiles)
		for i := range m.NumBonds() {
			b := m.Bond(i)
			if m.Degree(int(b.Begin)) == 3 && m.Degree(int(b.End)) == 3 && b.Order != c.order {
				t.Errorf("%s: the cross bond is %s, want %s", c.smiles, b.Order, c.order)
			}
		}
	}
}

// A Kekule form exists exactly where all atoms that need a double bond can be
// paired, odd rings included.
func TestKekule(t *testing.T) {
	ring := func(bonds ...[2]int32) ([]mol.Atom, []mol.Bond) {
		n := int32(0)
		var list []mol.Bond
		for _, b := range bonds {
			list = append(list, mol.Bond{Begin: b[0], End: b[1], Order: mol.Aromatic})
			n = max(n, b[0]+1, b[1]+1)
		}
		atoms := make([]mol.Atom, n)
		degree := make([]uint8, n)
		for _, b := range bonds {
			degree[b[0]]++
			degree[b[1]]++
		}
		for i := range atoms {
			atoms[i] = mol.Atom{Element: 6, Aromatic: true, Hydrogens: 3 - degree[i]}
		}
		return atoms, list
	}
	for _, c := range []struct {
		name    string
		bonds   [][2]int32
		doubles int // -1 = no Kekule form
	}{
		{"benzene", [][2]int32{{0, 1}, {1, 2}, {2, 3}, {3, 4}, {4, 5}, {5, 0}}, 3},
		{"five-membered ring", [][2]int32{{0, 1}, {1, 2}, {2, 3}, {3, 4}, {4, 0}}, -1},
		{"azulene", [][2]int32{{0, 1}, {1, 2}, {2, 3}, {3, 4}, {4, 0}, {4, 5}, {5, 6}, {6, 7}, {7, 8}, {8, 9}, {9, 3}}, 5},
		{"two five-membered rings, joined", [][2]int32{{0, 1}, {1, 2}, {2, 3}, {3, 4}, {4, 0}, {4, 5}, {5, 6}, {6, 7}, {7, 8}, {8, 9}, {9, 5}}, 5},
		{"phenalene's skeleton", [][2]int32{{0, 1}, {1, 2}, {2, 3}, {3, 4}, {4, 5}, {5, 6}, {6, 7}, {7, 8}, {8, 9}, {9, 10}, {10, 11}, {11, 0}, {0, 12}, {4, 12}, {8, 12}}, -1},
		{"triangle on a path", [][2]int32{{0, 1}, {1, 2}, {2, 0}, {2, 3}}, 2},
	} {
		m, err := mol.New(ring(c.bonds...))
		if (err == nil) != (c.doubles >= 0) {
			t.Errorf("%s: error %v", c.name, err)
			continue
		}
		if err != nil {
			if _, ok := err.(*mol.KekuleError); !ok {
				t.Errorf("%s: error of type %T", c.name, err)
			}
			continue
		}
		doubles := 0
		for i := range m.NumBonds() {
			if m.KekuleOrder(i) == mol.Double {
				doubles++
			}
		}
		if doubles != c.doubles {
			t.Errorf("%s: %d double bonds, want %d", c.name, doubles, c.doubles)
		}
		for i := range m.NumAtoms() {
			if m.Valence(i) != 4 {
				t.Errorf("%s: atom %d has valence %d", c.name, i+1, m.Valence(i))
			}
		}
	}
}
