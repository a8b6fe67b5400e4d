package chem

// Element is an atomic number, 1 (hydrogen) to 118 (oganesson). Zero is no
// element.
type Element uint8

// Mass is a mass in Da (unified atomic mass units, 1/12 of a 12C atom).
type Mass float64

// MZ is a mass-to-charge ratio m/z: the mass of an ion in Da over its number
// of elementary charges, dimensionless.
type MZ float64

// ElectronMass is the mass of the electron in Da (CODATA 2018:
// 5.48579909065(16)e-4).
const ElectronMass Mass = 5.48579909065e-4

// Isotope is one nuclide of an element.
type Isotope struct {
	Element     Element
	MassNumber  int
	Mass        Mass    // of the neutral atom in its ground state
	Uncertainty Mass    // one standard deviation; 0 where the source gives none
	Abundance   float64 // representative mole fraction in nature, 0 to 1; 0 for what doesn't occur
}

// Elements is the number of elements known here; the atomic numbers are 1 to
// Elements.
const Elements = elementCount

// ElementBySymbol returns the element with that symbol, written as IUPAC
// writes it ("Cl"), and false where there is none.
func ElementBySymbol(symbol string) (Element, bool) {
	switch len(symbol) {
	case 1:
		e := bySymbol[symbolIndex(symbol[0], 0)]
		return e, e != 0
	case 2:
		if symbol[1] == 0 {
			return 0, false
		}
		e := bySymbol[symbolIndex(symbol[0], symbol[1])]
		return e, e != 0
	}
	return 0, false
}

// symbolIndex is where bySymbol keeps a symbol of a capital and, where second
// isn't 0, a small letter. What can't be a symbol maps to the empty place 0.
func symbolIndex(first, second byte) int {
	if first < 'A' || first > 'Z' {
		return 0
	}
	index := (int(first-'A') + 1) * 32
	if second == 0 {
		return index
	}
	if second < 'a' || second > 'z' {
		return 0
	}
	return index + int(second-'a') + 1
}

// bySymbol is filled from symbols and not changed afterwards.
var bySymbol = func() (index [27 * 32]Element) {
	for e := Element(1); e <= elementCount; e++ {
		symbol := symbols[e] + "\x00"
		index[symbolIndex(symbol[0], symbol[1])] = e
	}
	return index
}()

// valid tells whether e is an element of the table.
func (e Element) valid() bool { return e >= 1 && e <= elementCount }

// Symbol returns the element's symbol, "" for no element.
func (e Element) Symbol() string {
	if !e.valid() {
		return ""
	}
	return symbols[e]
}

// String returns the symbol.
func (e Element) String() string { return e.Symbol() }

// Name returns the element's IUPAC name in lower case, "" for no element.
func (e Element) Name() string {
	if !e.valid() {
		return ""
	}
	return names[e]
}

// Isotopes returns the naturally occurring isotopes (abundance above 0),
// ascending mass number; none for elements without natural composition. The
// slice is shared: don't change it.
func (e Element) Isotopes() []Isotope {
	if !e.valid() {
		return nil
	}
	begin, end := naturalIsotopesBegin[e], naturalIsotopesBegin[e+1]
	return naturalIsotopes[begin:end:end]
}

// AllIsotopes returns all isotopes of the table, natural and radioactive,
// ascending mass number. The slice is shared: don't change it.
func (e Element) AllIsotopes() []Isotope {
	if !e.valid() {
		return nil
	}
	begin, end := allIsotopesBegin[e], allIsotopesBegin[e+1]
	return allIsotopes[begin:end:end]
}

// Isotope returns the isotope with that mass number, natural or radioactive,
// and false where the table has none.
func (e Element) Isotope(massNumber int) (Isotope, bool) {
	rows := e.AllIsotopes()
	if len(rows) == 0 {
		return Isotope{}, false
	}
	// Almost every element's mass numbers have no gap, so the place is known
	// from the first; a gap only moves it down.
	for at := min(massNumber-rows[0].MassNumber, len(rows)-1); at >= 0; at-- {
		if rows[at].MassNumber == massNumber {
			return rows[at], true
		}
		if rows[at].MassNumber < massNumber {
			break
		}
	}
	return Isotope{}, false
}

// Principal returns the most abundant natural isotope. For an element without
// natural composition it is the isotope whose mass number IUPAC's periodic
// table prints in brackets, the longest-lived known then; its Abundance is 0.
// No element gives the zero value.
func (e Element) Principal() Isotope {
	if !e.valid() {
		return Isotope{}
	}
	return principals[e]
}

// AverageMass returns the mass of the natural mixture: the abundance-weighted
// mean of the isotopic masses, or the mass of [Element.Principal] where there
// is no natural composition; 0 for no element.
func (e Element) AverageMass() Mass {
	if !e.valid() {
		return 0
	}
	return averages[e]
}
