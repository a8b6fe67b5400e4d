package answer

import (
	"fmt"
	"strings"

	"ionwright/mol"
	"ionwright/mol/molfile"
	"ionwright/mol/smiles"
)

// MaxAtoms is the size of the largest structure that is read, in atoms other
// than hydrogens in a SMILES.
const MaxAtoms = 200

// ReadStructure reads a structure: a SMILES, or the text of a MOL file as a
// drawing program writes it. It fails like the readers of these, and for more
// than MaxAtoms atoms.
func ReadStructure(text string) (*mol.Mol, error) {
	if len(text) > MaxText {
		return nil, fmt.Errorf("reading the structure: it has %d bytes, and %d are read at most", len(text), MaxText)
	}
	m, err := readStructure(text)
	switch {
	case err != nil:
		return nil, err
	case m.NumAtoms() == 0:
		return nil, fmt.Errorf("reading the structure: it has no atoms")
	case m.NumAtoms() > MaxAtoms:
		return nil, fmt.Errorf("reading the structure: it has %d atoms, and %d are read at most", m.NumAtoms(), MaxAtoms)
	}
	return m, nil
}

func readStructure(text string) (*mol.Mol, error) {
	if strings.Contains(text, "V2000") || strings.Contains(text, "V3000") {
		record, err := molfile.Read(strings.NewReader(text))
		return record.Mol, err
	}
	return smiles.Parse(strings.TrimSpace(text))
}

// SameIon tells whether two structures are one molecule or ion apart from
// their arrangement in space: the same atoms joined in the same way with the
// same hydrogens on each, the same charge and number of electrons. So
// resonance forms are the same, wherever they put charge, dot and double
// bonds. Electron ionization doesn't tell arrangements in space apart.
func SameIon(a, b *mol.Mol) bool {
	if charge(a) != charge(b) || a.Formula() != b.Formula() {
		return false
	}
	return Skeleton(a, true) == Skeleton(b, true)
}

// Skeleton is a text that two structures share exactly if the same atoms are
// joined in the same way, whatever the orders of the bonds, charges and
// unpaired electrons; with hydrogens, if each atom has the same number of
// hydrogens too.
func Skeleton(m *mol.Mol, hydrogens bool) string {
	b := mol.NewBuilder()
	for i := range m.NumAtoms() {
		a := m.Atom(i)
		bare := mol.Atom{Element: a.Element, Isotope: a.Isotope}
		if hydrogens {
			bare.Hydrogens = a.Hydrogens
		}
		b.AddAtom(bare)
	}
	for i := range m.NumBonds() {
		bond := m.Bond(i)
		b.AddBond(int(bond.Begin), int(bond.End), mol.Single)
	}
	bare, err := b.Mol()
	if err != nil { // a graph without orders can't be worse than the one it came from
		return smiles.Canonical(m)
	}
	return smiles.Canonical(bare)
}

func charge(m *mol.Mol) int {
	z := 0
	for i := range m.NumAtoms() {
		z += int(m.Atom(i).Charge)
	}
	return z
}
