package main

import (
	"ionwright/chem"
	"ionwright/mol"
	"ionwright/mol/smiles"
)

// grown adds molecules grown at random: a tree of atoms within their
// valences, ring bonds, double and triple bonds, charges, isotopes, unpaired
// electrons, arrangements in space, and now and then a second part.
func (l *list) grown() {
	l.section("molecules grown at random")
	for found := 0; found < 600; {
		b := mol.NewBuilder()
		var free []int // open valences by atom
		parts := 1
		if l.random.IntN(12) == 0 {
			parts = 2
		}
		for range parts {
			free = l.growPart(b, free)
		}
		m, err := b.Mol()
		if err != nil {
			continue
		}
		if l.fresh(smiles.Write(l.arranged(m))) {
			found++
		}
	}
}

// kinds are the atoms to grow with: element, charge, valence.
var kinds = []struct {
	element         chem.Element
	charge, valence int
}{
	{chem.C, 0, 4}, {chem.C, 0, 4}, {chem.C, 0, 4}, {chem.C, 0, 4}, {chem.C, 0, 4}, {chem.C, 0, 4}, {chem.C, 0, 4},
	{chem.N, 0, 3}, {chem.N, 0, 3}, {chem.O, 0, 2}, {chem.O, 0, 2}, {chem.S, 0, 2}, {chem.F, 0, 1}, {chem.Cl, 0, 1}, {chem.Br, 0, 1},
	{chem.Si, 0, 4}, {chem.P, 0, 3}, {chem.P, 0, 5}, {chem.S, 0, 6}, {chem.S, 0, 4}, {chem.B, 0, 3}, {chem.I, 0, 1}, {chem.Se, 0, 2},
	{chem.N, 1, 4}, {chem.O, -1, 1}, {chem.C, -1, 3}, {chem.C, 1, 3}, {chem.S, -1, 1}, {chem.N, -1, 2}, {chem.B, -1, 4}, {chem.O, 1, 3},
}

func (l *list) growPart(b *mol.Builder, free []int) []int {
	begin := len(free)
	for size := 3 + l.random.IntN(14); size > 0; size-- {
		kind := kinds[l.random.IntN(len(kinds))]
		a := mol.Atom{Element: kind.element, Charge: int8(kind.charge)}
		if l.random.IntN(25) == 0 {
			a.Isotope = uint16(kind.element.Principal().MassNumber + 1)
			if _, ok := kind.element.Isotope(int(a.Isotope)); !ok {
				a.Isotope = 0
			}
		}
		open := []int{}
		for i := begin; i < len(free); i++ {
			if free[i] > 0 {
				open = append(open, i)
			}
		}
		if len(free) > begin && len(open) == 0 {
			break
		}
		at := b.AddAtom(a)
		free = append(free, kind.valence)
		if len(open) > 0 {
			l.join(b, free, open[l.random.IntN(len(open))], at)
		}
	}
	for range l.random.IntN(5) {
		i, j := begin+l.random.IntN(len(free)-begin), begin+l.random.IntN(len(free)-begin)
		if _, joined := b.BondBetween(i, j); i != j && !joined && free[i] > 0 && free[j] > 0 {
			l.join(b, free, i, j)
		}
	}
	for i := begin; i < len(free); i++ {
		a := b.Atom(i)
		if free[i] > 0 && l.random.IntN(40) == 0 {
			a.Radical = 1
			free[i]--
		}
		a.Hydrogens = uint8(free[i])
		b.SetAtom(i, a)
	}
	return free
}

// join adds a bond of a random order within the valences.
func (l *list) join(b *mol.Builder, free []int, i, j int) {
	order := 1
	for order < 3 && order < free[i] && order < free[j] && l.random.IntN(4) == 0 {
		order++
	}
	b.AddBond(i, j, mol.Order(order))
	free[i] -= order
	free[j] -= order
}

// arranged marks some centers and double bonds at random.
func (l *list) arranged(m *mol.Mol) *mol.Mol {
	b := m.Edit()
	for i := range m.NumAtoms() {
		a := m.Atom(i)
		ligands := m.Degree(i) + int(a.Hydrogens)
		if a.Element == chem.C && ligands == 4 && a.Hydrogens < 2 && l.random.IntN(3) == 0 {
			a.Chirality = mol.TH1 + mol.Chirality(l.random.IntN(2))
			b.SetAtom(i, a)
		}
	}
	for i := range m.NumBonds() {
		if m.CanBeCisTrans(i) && l.random.IntN(2) == 0 {
			b.SetStereo(i, mol.Cis+mol.BondStereo(l.random.IntN(2)))
		}
	}
	marked, err := b.Mol()
	if err != nil {
		return m
	}
	return marked
}
