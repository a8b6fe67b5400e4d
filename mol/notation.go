package mol

import (
	"fmt"

	"ionwright/chem"
)

// FromNotation makes a graph as [New] does, for readers of notations that
// leave to the chemistry what they don't write: an aromatic bond whose order
// isn't written (implicit, by bond) and that is in no ring is single, and
// aromaticity is perceived ([Mol.Aromatize]). Unpaired electrons are set to
// [UnpairedElectrons] where Radical is 0. Five-valent nitrogen becomes
// charge-separated, so that a nitro group is one whichever way it is written.
//
// Besides New's errors it fails with an *[AromaticError] where an atom is
// marked aromatic outside of a ring of such atoms.
func FromNotation(atoms []Atom, bonds []Bond, implicit []bool) (*Mol, error) {
	m, err := assemble(append(make([]Atom, 0, len(atoms)), atoms...), append(make([]Bond, 0, len(bonds)), bonds...))
	if err != nil {
		return nil, err
	}
	for i := range m.bonds {
		if b := &m.bonds[i]; b.Order == Aromatic && !b.ring && implicit[i] {
			b.Order = Single
		}
	}
	for i := range m.atoms {
		if m.atoms[i].Aromatic && !m.inAromaticRing(i) {
			return nil, &AromaticError{Atom: i}
		}
	}
	if err := m.kekulize(); err != nil {
		return nil, err
	}
	for i := range m.atoms {
		if m.atoms[i].Element == chem.N {
			m.separate(i)
		}
		if a := &m.atoms[i]; a.Radical == 0 {
			a.Radical = uint8(UnpairedElectrons(a.Element, int(a.Charge), m.Valence(i)))
		}
	}
	s := acquire()
	defer s.release()
	m.apply(m.perceive(s))
	return m, nil
}

// AromaticError says which atom is marked aromatic though it isn't in a ring
// of aromatic atoms.
type AromaticError struct {
	Atom int // index
}

func (e *AromaticError) Error() string {
	return fmt.Sprintf("atom %d is marked aromatic, but it isn't in a ring of aromatic atoms", e.Atom+1)
}

// inAromaticRing tells whether two ring bonds lead from atom i to atoms that
// are marked aromatic.
func (m *Mol) inAromaticRing(i int) bool {
	count := 0
	for _, nb := range m.Neighbors(i) {
		if m.bonds[nb.Bond].ring && m.atoms[nb.Atom].Aromatic {
			count++
		}
	}
	return count >= 2
}

// separate turns a neutral nitrogen with bonds of order 5 into a cation: a
// double bond to oxygen becomes single, or else a triple bond to nitrogen
// double, and the other atom an anion.
func (m *Mol) separate(i int) {
	if m.atoms[i].Charge != 0 || m.Valence(i) != 5 {
		return
	}
	for _, target := range [...]struct {
		element chem.Element
		order   Order
	}{{chem.O, Double}, {chem.N, Triple}} {
		for _, nb := range m.Neighbors(i) {
			a, b := &m.atoms[nb.Atom], &m.bonds[nb.Bond]
			if a.Element == target.element && a.Charge == 0 && m.Degree(int(nb.Atom)) == 1 && b.Order == target.order {
				b.Order--
				b.kekule--
				a.Charge = -1
				m.atoms[i].Charge = 1
				return
			}
		}
	}
}
