package compose

import (
	"fmt"
	"math"

	"ionwright/chem"
)

// Range says how many atoms of a species a formula may have.
type Range struct {
	Species  chem.Species
	Min, Max int // both inclusive
}

// Electrons says which numbers of electrons are looked at.
type Electrons uint8

// The choices of Electrons.
const (
	AnyElectrons  Electrons = iota
	EvenElectrons           // closed-shell molecules and even-electron ions
	OddElectrons            // radicals and odd-electron ions such as molecular ions
)

// Interval is a closed interval of double bond equivalents, as
// [chem.Formula.DBE] counts them.
type Interval struct{ Min, Max float64 }

// Space is the set of formulas that a search looks at. The zero value holds
// only the empty formula.
type Space struct {
	Elements  []Range   // each species once
	Charge    int       // of every formula, in elementary charges
	DBE       *Interval // nil: any
	Electrons Electrons
	Rules     []Rule // all must hold
}

// Elements returns the ranges 0 to max for elements given as "C" to count, in
// no particular order, and an error for what is no element symbol or label
// ("[13C]", "D").
func Elements(max map[string]int) ([]Range, error) {
	ranges := make([]Range, 0, len(max))
	for symbol, n := range max {
		f, err := chem.ParseFormula(symbol)
		if err != nil || f.Atoms() != 1 || f.Charge() != 0 {
			return nil, fmt.Errorf("listing elements: %q is not an element or label", symbol)
		}
		for s := range f.All() {
			ranges = append(ranges, Range{s, 0, n})
		}
	}
	return ranges, nil
}

// Tolerance is how far a formula's mass may be from the given one, to either
// side, inclusive.
type Tolerance struct {
	Value float64
	Unit  Unit
}

// Unit is the unit of a tolerance.
type Unit uint8

// The units.
const (
	Da  Unit = iota
	PPM      // millionths of the given mass
)

// Of returns the tolerance in Da at mass m.
func (t Tolerance) Of(m chem.Mass) chem.Mass {
	if t.Unit == PPM {
		return chem.Mass(math.Abs(float64(m)) * t.Value * 1e-6)
	}
	return chem.Mass(t.Value)
}

// String is for example "5 ppm".
func (t Tolerance) String() string {
	if t.Unit == PPM {
		return fmt.Sprintf("%g ppm", t.Value)
	}
	return fmt.Sprintf("%g Da", t.Value)
}

// validate says what is wrong with the space.
func (s Space) validate() error {
	if len(s.Elements) > chem.MaxSpecies {
		return fmt.Errorf("%d elements are too many; a formula holds %d", len(s.Elements), chem.MaxSpecies)
	}
	seen := map[chem.Species]bool{}
	for _, r := range s.Elements {
		switch {
		case !known(r.Species):
			return fmt.Errorf("species %d is not in the table of elements", r.Species)
		case seen[r.Species]:
			return fmt.Errorf("%v is listed twice", r.Species)
		case r.Min < 0 || r.Min > r.Max || r.Max > chem.MaxCount:
			return fmt.Errorf("the range %d to %d of %v is not within 0 to %d", r.Min, r.Max, r.Species, chem.MaxCount)
		}
		seen[r.Species] = true
	}
	if s.Charge < -100 || s.Charge > 100 {
		return fmt.Errorf("the charge %d is not within -100 to 100", s.Charge)
	}
	if s.DBE != nil && !(s.DBE.Min <= s.DBE.Max) {
		return fmt.Errorf("the double bond equivalents %g to %g are no interval", s.DBE.Min, s.DBE.Max)
	}
	if s.Electrons > OddElectrons {
		return fmt.Errorf("unknown choice of electrons %d", s.Electrons)
	}
	return nil
}

// known tells whether s is a species that a formula can have.
func known(s chem.Species) bool {
	_, err := chem.FormulaOf(chem.Count{Species: s, N: 1})
	return err == nil
}

// filters tells whether the space has any filter but the ranges.
func (s *Space) filters() bool {
	return s.DBE != nil || s.Electrons != AnyElectrons || len(s.Rules) > 0
}

// admits tells whether f passes all filters of the space but the ranges.
func (s *Space) admits(f *chem.Formula) bool {
	if s.Electrons != AnyElectrons && f.OddElectron() != (s.Electrons == OddElectrons) {
		return false
	}
	if s.DBE != nil {
		if dbe := f.DBE(); dbe < s.DBE.Min || dbe > s.DBE.Max {
			return false
		}
	}
	for i := range s.Rules {
		if !s.Rules[i].Holds(*f) {
			return false
		}
	}
	return true
}
