package isotope

import "ionwright/chem"

// UnitPattern is the isotope pattern of a formula by mass number: what an
// instrument of unit resolution sees of an ion with one charge.
type UnitPattern struct {
	First     int       // mass number of Abundance[0]
	Abundance []float64 // mole fraction of each mass number from First on; they add up to 1 within Loss
}

// Loss bounds what pruning takes from a pattern: each abundance is exact, or
// too small by at most Loss, and their sum is at least 1 - Loss.
const Loss = 1e-9

// Unit returns the isotope pattern of f by mass number. Mass numbers whose
// share together is below Loss are left out at both ends. The charge doesn't
// matter: divide by it for m/z. The empty formula gives mass number 0 with
// abundance 1.
//
// The polynomial of each element is raised to its count and the powers are
// multiplied, the tails pruned after each product (Yergey, Int. J. Mass
// Spectrom. Ion Phys. 52 (1983) 337, by polynomials instead of permutations).
func Unit(f chem.Formula) UnitPattern {
	first, abundance := AppendUnit(nil, f)
	return UnitPattern{first, abundance}
}

// AppendUnit appends the abundances of [Unit] to dst and returns the mass
// number of the first of them and the extended slice. It allocates nothing
// where dst has room and the pattern is shorter than 256 mass numbers.
func AppendUnit(dst []float64, f chem.Formula) (first int, abundances []float64) {
	var a, b, c [scratch]float64
	product, spare := a[:0], b[:0]
	for s, n := range f.All() {
		if label := s.MassNumber(); label != 0 {
			first += label * n
			continue
		}
		m := &mixtures[s.Element()]
		first += m.first * n
		if len(m.terms) == 1 {
			continue
		}
		if len(product) == 0 {
			var skipped int
			product, skipped = appendPower(product, m.terms, n)
			first += skipped
			continue
		}
		power, skipped := appendPower(c[:0], m.terms, n)
		first += skipped
		spare = multiply(spare[:0], product, power)
		product, spare = spare, product
		product, skipped = prune(product, tail)
		first += skipped
	}
	if len(product) == 0 {
		return first, append(dst, 1)
	}
	return first, append(dst, product...)
}

// At returns the abundance of a mass number, 0 outside the pattern.
func (p UnitPattern) At(massNumber int) float64 {
	i := massNumber - p.First
	if i < 0 || i >= len(p.Abundance) {
		return 0
	}
	return p.Abundance[i]
}

// Base returns the most abundant mass number and its abundance; the lighter
// one of two equal. An empty pattern gives 0 and 0.
func (p UnitPattern) Base() (massNumber int, abundance float64) {
	for i, a := range p.Abundance {
		if a > abundance {
			massNumber, abundance = p.First+i, a
		}
	}
	return massNumber, abundance
}
