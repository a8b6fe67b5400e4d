package mol

import (
	"fmt"
	"math/bits"

	"ionwright/chem"
)

// Formula returns the molecular formula with isotope labels, hydrogens and
// charge, of all parts together.
func (m *Mol) Formula() chem.Formula {
	f, err := formulaOf(m.atoms)
	if err != nil {
		panic("mol: " + err.Error()) // assemble has checked it
	}
	return f
}

// formulaOf counts atoms and their hydrogens.
func formulaOf(atoms []Atom) (chem.Formula, error) {
	var counts [chem.MaxSpecies + 1]chem.Count
	counts[0].Species = chem.NaturalSpecies(chem.H)
	used, charge := 1, 0
	for i := range atoms {
		a := &atoms[i]
		counts[0].N += int(a.Hydrogens)
		charge += int(a.Charge)
		species := a.Species()
		at := 0
		for at < used && counts[at].Species != species {
			at++
		}
		if at == used {
			if used == len(counts) {
				return chem.Formula{}, fmt.Errorf("more than %d different elements and isotopes", chem.MaxSpecies)
			}
			counts[at].Species = species
			used++
		}
		counts[at].N++
	}
	f, err := chem.FormulaOf(counts[:used]...)
	return f.WithCharge(charge), err
}

// maxCharge bounds the charge of a graph, well inside what a formula holds.
const maxCharge = 9999

// checkAtoms fails where an atom has no known element or isotope, or where
// the formula wouldn't fit.
func checkAtoms(atoms []Atom) error {
	if len(atoms) > MaxAtoms {
		return fmt.Errorf("a graph of %d atoms is too large: the limit is %d", len(atoms), MaxAtoms)
	}
	var elements [2]uint64
	hydrogens, charge, labels := len(atoms), 0, false
	for i := range atoms {
		a := &atoms[i]
		if a.Element < 1 || a.Element > chem.Elements {
			return fmt.Errorf("atom %d has no element (atomic number %d)", i+1, a.Element)
		}
		if a.Isotope != 0 {
			if _, ok := a.Element.Isotope(int(a.Isotope)); !ok {
				return fmt.Errorf("atom %d: no nuclide %d%s is known, so it has no mass", i+1, a.Isotope, a.Element)
			}
			labels = true
		}
		elements[a.Element>>6] |= 1 << (a.Element & 63)
		hydrogens += int(a.Hydrogens)
		charge += int(a.Charge)
	}
	if charge > maxCharge || charge < -maxCharge {
		return fmt.Errorf("a graph of charge %+d is out of range: the limit is %d", charge, maxCharge)
	}
	// What can't exceed the limits of a formula needs no count.
	distinct := bits.OnesCount64(elements[0]) + bits.OnesCount64(elements[1])
	if !labels && hydrogens <= chem.MaxCount && distinct < chem.MaxSpecies {
		return nil
	}
	_, err := formulaOf(atoms)
	return err
}

// MaxAtoms is the largest number of atoms in a graph. The count of any
// element, hydrogens included, is bounded too, by what a [chem.Formula]
// holds.
const MaxAtoms = chem.MaxCount
