package isomer

import (
	"ionwright/chem"
	"ionwright/mol"
	"ionwright/mol/smiles"
)

// MaxAtoms is the largest number of atoms other than hydrogen; a [Form] counts
// as one.
const MaxAtoms = 40

// maxBonds is the largest number of bonds between MaxAtoms atoms of at most
// four bonds each.
const maxBonds = 2 * MaxAtoms

// bond joins vertices a and b.
type bond struct{ a, b, order uint8 }

// Structure is one isomer, in one Kekule form, hydrogens implicit. The
// generator overwrites it when it goes on; Mol and Clone give what stays.
type Structure struct {
	n, bonds    int
	kinds       [MaxAtoms]uint8 // by vertex, index into table
	bond        [maxBonds]bond
	table       []kind
	hydrogen    bool // H2, which has no other atom
	alternating bool // a ring of the core alternates between single and double bonds
}

// Clone returns a copy that stays.
func (s *Structure) Clone() *Structure {
	c := *s
	return &c
}

// Rings returns the number of independent rings.
func (s *Structure) Rings() int { return s.bonds - s.n + 1 }

// expanded returns the structure's atoms and bonds, those of forms included.
// The first atom of vertex v has the index v.
func (s *Structure) expanded() ([]mol.Atom, []mol.Bond) {
	atoms := make([]mol.Atom, s.n, s.n+8)
	bonds := make([]mol.Bond, 0, s.bonds+8)
	var order [MaxAtoms]int
	for _, b := range s.bond[:s.bonds] {
		bonds = append(bonds, mol.Bond{Begin: int32(b.a), End: int32(b.b), Order: orders[b.order]})
		order[b.a] += int(b.order)
		order[b.b] += int(b.order)
	}
	for v := range s.n {
		k := &s.table[s.kinds[v]]
		first := k.atoms[0]
		atoms[v] = mol.Atom{Element: first.element, Charge: first.charge, Hydrogens: uint8(k.valence - order[v])}
		for _, p := range k.atoms[1:] {
			bonds = append(bonds, mol.Bond{Begin: int32(v), End: int32(len(atoms)), Order: orders[p.order]})
			atoms = append(atoms, mol.Atom{Element: p.element, Charge: p.charge})
		}
	}
	return atoms, bonds
}

var orders = [4]mol.Order{1: mol.Single, 2: mol.Double, 3: mol.Triple}

// Mol returns the structure as a molecule, aromaticity perceived.
func (s *Structure) Mol() *mol.Mol {
	atoms, bonds := s.expanded()
	if s.hydrogen {
		atoms = []mol.Atom{{Element: chem.H}, {Element: chem.H}}
		bonds = []mol.Bond{{Begin: 0, End: 1, Order: mol.Single}}
	}
	m, err := mol.FromNotation(atoms, bonds, nil)
	if err != nil {
		panic("isomer: a structure that is no molecule: " + err.Error()) // a mistake in this package
	}
	return m
}

// SMILES returns the canonical SMILES of the structure.
func (s *Structure) SMILES() string { return smiles.Canonical(s.Mol()) }
