package isomer

import (
	"testing"

	"ionwright/chem"
	"ionwright/mol"
	"ionwright/mol/smiles"
)

// brute makes the isomers of a formula at lowest valences by the simplest way
// there is: every order of every bond between every two atoms, in turn, and a
// set of the canonical SMILES of what is connected. It shares nothing with the
// package but the meaning of a structure.
type brute struct {
	elements []chem.Element
	valence  []int // left, by atom
	order    [][]int
	hydrogen int
	found    map[string]bool
}

func bruteForce(t testing.TB, formula string) map[string]bool {
	t.Helper()
	f := chem.MustFormula(formula)
	b := &brute{hydrogen: f.Count(chem.H), found: map[string]bool{}}
	valences := []struct {
		element chem.Element
		valence int
	}{{chem.C, 4}, {chem.Si, 4}, {chem.N, 3}, {chem.P, 3}, {chem.O, 2}, {chem.S, 2}, {chem.F, 1}, {chem.Cl, 1}, {chem.Br, 1}, {chem.I, 1}}
	sum := 0
	for _, v := range valences {
		for range f.Count(v.element) {
			b.elements = append(b.elements, v.element)
			b.valence = append(b.valence, v.valence)
			sum += v.valence
		}
	}
	for range b.elements {
		b.order = append(b.order, make([]int, len(b.elements)))
	}
	if (sum-b.hydrogen)%2 == 0 {
		b.fill(0, 1, (sum-b.hydrogen)/2)
	}
	return b.found
}

// fill chooses the order of the bond between atoms i and j, and of those
// after, which sum up to left.
func (b *brute) fill(i, j, left int) {
	n := len(b.elements)
	if j >= n {
		if i+2 < n {
			b.fill(i+1, i+2, left)
			return
		}
		if left == 0 {
			b.add()
		}
		return
	}
	for order := 0; order <= min(3, left, b.valence[i], b.valence[j]); order++ {
		b.order[i][j] = order
		b.valence[i] -= order
		b.valence[j] -= order
		b.fill(i, j+1, left-order)
		b.valence[i] += order
		b.valence[j] += order
	}
	b.order[i][j] = 0
}

func (b *brute) add() {
	var atoms []mol.Atom
	var bonds []mol.Bond
	for i, e := range b.elements {
		atoms = append(atoms, mol.Atom{Element: e, Hydrogens: uint8(b.valence[i])})
		for j := i + 1; j < len(b.elements); j++ {
			if o := b.order[i][j]; o > 0 {
				bonds = append(bonds, mol.Bond{Begin: int32(i), End: int32(j), Order: mol.Order(o)})
			}
		}
	}
	if len(bonds) < len(atoms)-1 {
		return
	}
	m, err := mol.FromNotation(atoms, bonds, nil)
	if err == nil && m.NumParts() == 1 {
		b.found[smiles.Canonical(m)] = true
	}
}
