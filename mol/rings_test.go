package mol_test

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"ionwright/mol"
	"ionwright/mol/smiles"
)

// sizes writes the sizes of rings.
func sizes(rings [][]int32) string {
	var list []int
	for _, ring := range rings {
		list = append(list, len(ring))
	}
	return fmt.Sprint(list)
}

func TestRings(t *testing.T) {
	for _, c := range []struct{ smiles, smallest, all string }{
		{"CCO", "[]", "[]"},
		{"C1CC1", "[3]", "[3]"},
		{"c1ccc2ccccc2c1", "[6 6]", "[6 6]"},                                 // naphthalene
		{"C1CC2CCC1CC2", "[6 6]", "[6 6 6]"},                                 // bicyclo[2.2.2]octane: two of three
		{"C1CC2CCC1C2", "[5 5]", "[5 5]"},                                    // norbornane
		{"C1C2CC3CC1CC(C2)C3", "[6 6 6]", "[6 6 6 6]"},                       // adamantane: three of four
		{"C12C3C4C1C5C2C3C45", "[4 4 4 4 4]", "[4 4 4 4 4 4]"},               // cubane: five of six
		{"C12C3C1C4C5C2C3C45", "[3 3 4 4 5]", "[3 3 4 4 5 5]"},               // cuneane
		{"C1CCC2(CC1)CCCCC2", "[6 6]", "[6 6]"},                              // spiro
		{"C1CCCCC1C1CCCC1", "[5 6]", "[5 6]"},                                // linked
		{"C1CC1.C1CCC1", "[3 4]", "[3 4]"},                                   // parts
		{"C1CC2CC12", "[3 4]", "[3 4]"},                                      // bicyclo[2.1.0]pentane
		{"C123CC1(C2)C3", "[3 3 3]", "[3 3 3]"},                              // [1.1.1]propellane
		{"c1cc2cccc3c4cccc5cccc(c(c1)c23)c45", "[6 6 6 6 6]", "[6 6 6 6 6]"}, // perylene
		{"C1COCCOCCOCCOCCOCCO1", "[18]", "[18]"},                             // crown ether
		{"c1cc2ccc1CCc1ccc(cc1)CC2", "[6 6 12]", "[6 6 12 12 12 12]"},        // paracyclophane
		{"C12C3C4C5C1C6C7C2C8C3C9C4C1C5C6C2C7C8C9C12", "[5 5 5 5 5 5 5 5 5 5 5]", "[5 5 5 5 5 5 5 5 5 5 5 5]"}, // dodecahedrane: eleven of twelve
	} {
		m := parse(t, c.smiles)
		if got := sizes(m.SmallestRings()); got != c.smallest {
			t.Errorf("%s: sizes of the smallest set %s, want %s", c.smiles, got, c.smallest)
		}
		if got := sizes(m.Rings()); got != c.all {
			t.Errorf("%s: sizes of the rings %s, want %s", c.smiles, got, c.all)
		}
		checkRings(t, m)
	}
}

// checkRings checks that each ring is one and that their number is right.
func checkRings(t *testing.T, m *mol.Mol) {
	t.Helper()
	rings := m.SmallestRings()
	if want := m.NumRings(); len(rings) != want {
		t.Errorf("%s: %d rings, want %d", smiles.Write(m), len(rings), want)
	}
	for _, ring := range rings {
		for k, at := range ring {
			bond, ok := m.BondBetween(int(at), int(ring[(k+1)%len(ring)]))
			if !ok || !m.RingBond(bond) {
				t.Errorf("%s: %v is no ring", smiles.Write(m), ring)
			}
		}
		if sorted := slices.Sorted(slices.Values(ring)); len(slices.Compact(sorted)) != len(ring) {
			t.Errorf("%s: %v visits an atom twice", smiles.Write(m), ring)
		}
	}
}

// What is in how many rings of which size doesn't depend on the numbering:
// the rings are compared by the canonical ranks of their atoms, in molecules
// without symmetry.
func TestRingsAreInvariant(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for _, text := range []string{
		"FC12C3C4(Cl)C1C5(Br)C2C3C45I", // cubane with four marks
		"FC1CC2CCC1C(Cl)C2Br", "C1C2CC3(F)CC1(Cl)CC(C2Br)C3",
	} {
		m := parse(t, text)
		rings := func(m *mol.Mol) []string {
			ranks := m.CanonicalRanks()
			var list []string
			for _, ring := range m.SmallestRings() {
				var key []int32
				for _, at := range ring {
					key = append(key, ranks[at])
				}
				slices.Sort(key)
				list = append(list, fmt.Sprint(key))
			}
			slices.Sort(list)
			return list
		}
		want := rings(m)
		for range 20 {
			if got := rings(m.Shuffled(r)); !slices.Equal(got, want) {
				t.Errorf("%s: rings %v, renumbered %v", text, want, got)
				break
			}
		}
	}
}
