package smiles

import (
	"strconv"

	"ionwright/chem"
	"ionwright/mol"
)

// bond writes the symbol of a bond where one is needed.
func (w *writer) bond(bond int32) {
	b := w.m.Bond(int(bond))
	if len(w.slants) > 0 && w.slants[bond] != level {
		w.slant(w.slants[bond])
		return
	}
	both := func() bool { return w.m.Atom(int(b.Begin)).Aromatic && w.m.Atom(int(b.End)).Aromatic }
	switch b.Order {
	case mol.Single:
		if both() {
			w.out = append(w.out, '-')
		}
	case mol.Double:
		w.out = append(w.out, '=')
	case mol.Triple:
		w.out = append(w.out, '#')
	case mol.Quadruple:
		w.out = append(w.out, '$')
	case mol.Aromatic:
		if !both() {
			w.out = append(w.out, ':')
		}
	}
}

// slant writes the mark of a direction.
func (w *writer) slant(direction slant) {
	if direction == above {
		w.out = append(w.out, '/')
	} else {
		w.out = append(w.out, '\\')
	}
}

// hydrogenSlant is the mark of the hydrogen of an atom that is written as an
// atom for its sake.
func (w *writer) hydrogenSlant(at int32) slant {
	if len(w.slants) == 0 {
		return level
	}
	return w.slants[w.m.NumBonds()+int(at)]
}

// atom writes an atom, without brackets where the specification fills in the
// same hydrogens.
func (w *writer) atom(at int32) {
	a := w.m.Atom(int(at))
	if a.Isotope == 0 && a.Charge == 0 && a.Class == 0 && a.Radical == 0 && a.Chirality == mol.NotChiral && w.bare(at, a) {
		w.symbol(a)
		return
	}
	w.out = append(w.out, '[')
	if a.Isotope != 0 {
		w.out = strconv.AppendInt(w.out, int64(a.Isotope), 10)
	}
	w.symbol(a)
	if a.Chirality != mol.NotChiral {
		w.chirality(at, a.Chirality)
	}
	hydrogens := int64(a.Hydrogens)
	if w.hydrogenSlant(at) != level {
		hydrogens-- // written as an atom
	}
	if hydrogens > 0 {
		w.out = append(w.out, 'H')
		if hydrogens > 1 {
			w.out = strconv.AppendInt(w.out, hydrogens, 10)
		}
	}
	if a.Charge != 0 {
		sign, n := byte('+'), int64(a.Charge)
		if n < 0 {
			sign, n = '-', -n
		}
		w.out = append(w.out, sign)
		if n > 1 {
			w.out = strconv.AppendInt(w.out, n, 10)
		}
	}
	if a.Class != 0 {
		w.out = append(w.out, ':')
		w.out = strconv.AppendInt(w.out, int64(a.Class), 10)
	}
	w.out = append(w.out, ']')
}

// bare tells whether the atom reads the same without brackets.
func (w *writer) bare(at int32, a mol.Atom) bool {
	sum := 0
	for _, nb := range w.m.Neighbors(int(at)) {
		if order := w.m.Bond(int(nb.Bond)).Order; order == mol.Aromatic {
			sum++
		} else {
			sum += int(order)
		}
	}
	if a.Element == chem.H {
		return false
	}
	h, ok := mol.ImplicitHydrogens(a.Element, sum, a.Aromatic)
	return ok && h == int(a.Hydrogens)
}

// symbol writes the element's symbol, in small letters where it is aromatic.
func (w *writer) symbol(a mol.Atom) {
	symbol := a.Element.Symbol()
	if !a.Aromatic {
		w.out = append(w.out, symbol...)
		return
	}
	for i := range len(symbol) {
		w.out = append(w.out, symbol[i]|0x20)
	}
}
