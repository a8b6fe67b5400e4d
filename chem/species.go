package chem

import "strconv"

// Species is what a formula counts: an element in its natural mixture, or one
// labelled isotope of it. The values order by element, then mass number, the
// natural mixture before the labels. Zero is no species.
type Species uint16

// massNumberBits is how many low bits of a Species hold the mass number; the
// heaviest known nuclide has 295.
const massNumberBits = 9

// NaturalSpecies returns the natural mixture of e; no element gives no species
// (0).
func NaturalSpecies(e Element) Species {
	if !e.valid() {
		return 0
	}
	return Species(e) << massNumberBits
}

// LabelledSpecies returns the isotope of e with that mass number. No element,
// or a mass number outside 1 to 511, gives no species (0); whether the isotope is known
// is the caller's to check, with [Element.Isotope].
func LabelledSpecies(e Element, massNumber int) Species {
	if !e.valid() || massNumber < 1 || massNumber >= 1<<massNumberBits {
		return 0
	}
	return Species(e)<<massNumberBits | Species(massNumber)
}

// Element returns the element of s.
func (s Species) Element() Element { return Element(s >> massNumberBits) }

// MassNumber returns the mass number of a label, 0 for the natural mixture.
func (s Species) MassNumber() int { return int(s & (1<<massNumberBits - 1)) }

// String is the species as a formula shows it: "C", "[13C]"; "" for none.
func (s Species) String() string {
	symbol := s.Element().Symbol()
	if a := s.MassNumber(); a != 0 && symbol != "" {
		return "[" + strconv.Itoa(a) + symbol + "]"
	}
	return symbol
}

// known tells whether s is a natural mixture or a label of the table.
func (s Species) known() bool {
	if !s.Element().valid() {
		return false
	}
	if s.MassNumber() == 0 {
		return true
	}
	_, ok := s.Element().Isotope(s.MassNumber())
	return ok
}

// mass returns the mass of the isotope that stands for s in nominal and
// monoisotopic masses: the label itself, or the element's principal isotope.
func (s Species) mass() Mass {
	if a := s.MassNumber(); a != 0 {
		isotope, _ := s.Element().Isotope(a)
		return isotope.Mass
	}
	return principals[s.Element()].Mass
}

// averageMass returns the mass of the label, or of the natural mixture.
func (s Species) averageMass() Mass {
	if s.MassNumber() != 0 {
		return s.mass()
	}
	return averages[s.Element()]
}
