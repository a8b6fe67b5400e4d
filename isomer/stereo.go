package isomer

import (
	"fmt"

	"ionwright/chem"
	"ionwright/mol"
	"ionwright/mol/smiles"
)

// mostPlaces is the largest number of places for an arrangement whose
// combinations are gone through.
const mostPlaces = 12

// Stereoisomers returns how many stereoisomers the constitution of m has, one
// where it has no place for an arrangement; enantiomers count as two. It puts
// both arrangements at each tetrahedral atom of carbon, silicon, phosphorus
// and sulfur and at each double bond that may have them, in all combinations,
// and counts the different canonical SMILES. So what no one could build, such
// as a small bicycle joined on opposite sides, counts as well; rotation about
// single bonds doesn't. It fails for more than 12 such places.
func Stereoisomers(m *mol.Mol) (int, error) {
	var centers, bonds []int
	for v := range m.NumAtoms() {
		if tetrahedral(m, v) {
			centers = append(centers, v)
		}
	}
	for i := range m.NumBonds() {
		if m.CanBeCisTrans(i) {
			bonds = append(bonds, i)
		}
	}
	places := len(centers) + len(bonds)
	if places > mostPlaces {
		return 0, fmt.Errorf("counting the stereoisomers of %q: %d places for an arrangement are more than %d", smiles.Canonical(m), places, mostPlaces)
	}
	found := map[string]bool{}
	for choice := range 1 << places {
		b := m.Edit()
		for i, v := range centers {
			a := b.Atom(v)
			a.Chirality = mol.TH1 + mol.Chirality(choice>>i&1)
			b.SetAtom(v, a)
		}
		for i, bond := range bonds {
			b.SetStereo(bond, mol.Cis+mol.BondStereo(choice>>(len(centers)+i)&1))
		}
		arranged, err := b.Mol()
		if err != nil {
			return 0, fmt.Errorf("counting the stereoisomers of %q: %w", smiles.Canonical(m), err)
		}
		found[smiles.Canonical(arranged)] = true
	}
	return len(found), nil
}

// tetrahedral tells whether atom v has four substituents, or three and a lone
// pair that stays, that aren't plainly two alike.
func tetrahedral(m *mol.Mol, v int) bool {
	a := m.Atom(v)
	if a.Hydrogens > 1 || a.Aromatic {
		return false
	}
	ligands := m.Degree(v) + int(a.Hydrogens)
	switch a.Element {
	case chem.C, chem.Si:
		if ligands != 4 {
			return false
		}
	case chem.S, chem.P:
		if ligands != 3 && ligands != 4 {
			return false
		}
	default:
		return false
	}
	classes := m.Classes()
	leaves := map[int32]bool{}
	for _, nb := range m.Neighbors(v) {
		if m.Degree(int(nb.Atom)) == 1 {
			if leaves[classes[nb.Atom]] {
				return false
			}
			leaves[classes[nb.Atom]] = true
		}
	}
	return true
}
