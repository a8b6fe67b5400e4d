package main

import (
	"hash/fnv"
	"math/rand/v2"

	"ionwright/mol"
	"ionwright/mol/smiles"
)

// rewired returns up to n constitutional isomers of a structure, each made by
// letting two bonds of equal order swap partners: a-b and c-d become a-c and
// b-d. They serve as wrong structures where too few of the formula were
// measured. The choice depends on the structure alone.
func rewired(m *mol.Mol, n int) []*mol.Mol {
	own := smiles.Canonical(m)
	sum := fnv.New64a()
	sum.Write([]byte(own))
	random := rand.New(rand.NewPCG(sum.Sum64(), 1))
	known := map[string]bool{own: true}
	var out []*mol.Mol
	for tries := 0; tries < 200 && len(out) < n && m.NumBonds() > 1; tries++ {
		other, ok := swapBonds(m, random.IntN(m.NumBonds()), random.IntN(m.NumBonds()), random.IntN(2) == 0)
		if !ok {
			continue
		}
		if text := smiles.Canonical(other); !known[text] {
			known[text] = true
			out = append(out, other)
		}
	}
	return out
}

// swapBonds lets the bonds x and y swap partners; false where that isn't
// another connected graph.
func swapBonds(m *mol.Mol, x, y int, turned bool) (*mol.Mol, bool) {
	if x == y || m.KekuleOrder(x) != m.KekuleOrder(y) {
		return nil, false
	}
	a, b := m.Bond(x).Begin, m.Bond(x).End
	c, d := m.Bond(y).Begin, m.Bond(y).End
	if turned {
		c, d = d, c
	}
	if a == c || a == d || b == c || b == d {
		return nil, false
	}
	var atoms []mol.Atom
	for i := range m.NumAtoms() {
		at := m.Atom(i)
		at.Aromatic, at.Chirality = false, mol.NotChiral
		atoms = append(atoms, at)
	}
	var bonds []mol.Bond
	for i := range m.NumBonds() {
		bond := mol.Bond{Begin: m.Bond(i).Begin, End: m.Bond(i).End, Order: m.KekuleOrder(i)}
		switch i {
		case x:
			bond.Begin, bond.End = a, c
		case y:
			bond.Begin, bond.End = b, d
		}
		bonds = append(bonds, bond)
	}
	other, err := mol.New(atoms, bonds) // refuses a bond made twice
	if err != nil || len(other.Components()) != 1 {
		return nil, false
	}
	return other, true
}
