// Package arrow knows what electron arrows on a drawn structure lead to, which
// arrows a step of the engine needs, and which sets of arrows say the same. For
// most uses make a key with [Key] and compare an answer with [Same].
//
// Arrows are read as textbooks draw them: a half arrow moves one electron, a
// full one a pair, from a bond, a lone pair or an unpaired electron to a bond,
// to an atom, or between two atoms where a bond forms. All move at once.
package arrow

import (
	"errors"
	"fmt"

	"ionwright/ionize"
	"ionwright/mol"
	"ionwright/practice"
	"ionwright/practice/answer"
)

// Key is the key of a question that has the arrows of one movement drawn: the
// form before it, its atoms numbered in their order, and the arrows of the
// engine with all sets that symmetry makes equal. It fails for a movement
// without arrows, and for a form that can't be drawn with whole bonds, as
// after the loss of an electron from a single bond.
func Key(panel ionize.Panel) (practice.Arrows, error) {
	if len(panel.Arrows) == 0 {
		return practice.Arrows{}, errors.New("asking for electron arrows: the movement has none")
	}
	drawn, err := draw(panel.Before)
	if err != nil {
		return practice.Arrows{}, fmt.Errorf("asking for electron arrows: %w", err)
	}
	var way []answer.Arrow
	for _, a := range panel.Arrows {
		way = append(way, answer.Arrow{Half: a.Electrons == 1, From: place(a.From), To: place(a.To)})
	}
	if _, err := Lead(drawn, way); err != nil {
		return practice.Arrows{}, fmt.Errorf("asking for electron arrows: %w", err)
	}
	return practice.Arrows{Drawn: drawn, Ways: Equal(drawn, way)}, nil
}

// place is a site as answers number it, from 1, the smaller number first.
func place(s ionize.Site) answer.Place {
	if !s.Bond {
		return answer.Place{A: s.Begin + 1}
	}
	return answer.Place{A: min(s.Begin, s.End) + 1, B: max(s.Begin, s.End) + 1}
}

// draw is the graph of a form, its atoms in the form's order.
func draw(f ionize.Form) (*mol.Mol, error) {
	b := mol.NewBuilder()
	for i, a := range f.Atoms {
		if a.Deuterium > 0 {
			return nil, fmt.Errorf("atom %d bears deuterium, which isn't drawn", i+1)
		}
		b.AddAtom(mol.Atom{Element: a.Element, Isotope: uint16(a.Isotope), Charge: int8(a.Charge), Hydrogens: uint8(a.Hydrogens), Radical: uint8(a.Radical())})
	}
	for _, bond := range f.Bonds {
		if bond.Electrons%2 != 0 || bond.Electrons < 2 || bond.Electrons > 6 {
			return nil, fmt.Errorf("the bond of atoms %d and %d has %d electrons, and can't be drawn as a whole bond", bond.Begin+1, bond.End+1, bond.Electrons)
		}
		b.AddBond(bond.Begin, bond.End, mol.Order(bond.Electrons/2))
	}
	return b.Mol()
}

// Numbered is a copy of a structure with its atoms numbered from 1 in their
// order, as marks of their classes: in a SMILES they are written ([CH3:1]).
func Numbered(m *mol.Mol) *mol.Mol {
	b := m.Edit()
	for i := range m.NumAtoms() {
		a := b.Atom(i)
		a.Class = uint32(i + 1)
		b.SetAtom(i, a)
	}
	numbered, err := b.Mol()
	if err != nil {
		return m // marks don't change what a graph is
	}
	return numbered
}
