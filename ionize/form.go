package ionize

import (
	"ionwright/mol"
)

// Mol is the form as a graph with the form's atoms in their order; bonds of one
// electron are single bonds in it.
func (f Form) Mol() (*mol.Mol, error) {
	atoms := make([]mol.Atom, len(f.Atoms))
	for i, a := range f.Atoms {
		atoms[i] = mol.Atom{
			Element: a.Element, Isotope: uint16(a.Isotope), Charge: int8(a.Charge),
			Hydrogens: uint8(a.Hydrogens), Radical: uint8(a.Radical()),
		}
	}
	var bonds []mol.Bond
	for _, b := range f.Bonds {
		bonds = append(bonds, mol.Bond{Begin: int32(b.Begin), End: int32(b.End), Order: mol.Order((b.Electrons + 1) / 2)})
	}
	return mol.New(atoms, bonds)
}
