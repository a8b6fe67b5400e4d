package chem

import (
	"fmt"
	"iter"
)

// MaxSpecies is how many different species one Formula can hold.
const MaxSpecies = 16

// MaxCount is the highest count of one species in a Formula.
const MaxCount = 65535

// Formula is a molecular formula with its charge. It is a small value:
// compare with ==, use as map key, copy freely; no method but the text ones
// allocates. The zero value is the empty formula.
//
// A Formula counts species (elements in natural mixture and labelled
// isotopes, at most MaxSpecies of them, each at most MaxCount times) and
// elementary charges (-32768 to 32767).
type Formula struct {
	species [MaxSpecies]Species // ascending; unused places are zero
	counts  [MaxSpecies]uint16  // of the species at the same place; zero where unused
	charge  int16               // elementary charges
}

// Count is a species and how often a formula has it.
type Count struct {
	Species Species
	N       int
}

// FormulaOf returns the formula with those counts and charge 0. Counts of one
// species add up; a count of 0 is left out. An unknown species, a negative
// count or one above MaxCount, or more than MaxSpecies species is an error.
func FormulaOf(counts ...Count) (Formula, error) {
	var f Formula
	for _, c := range counts {
		if err := f.add(c.Species, c.N); err != nil {
			return Formula{}, fmt.Errorf("making a formula: %w", err)
		}
	}
	return f, nil
}

// add adds n of s to f in place.
func (f *Formula) add(s Species, n int) error {
	if !s.known() {
		return fmt.Errorf("species %d (atomic number %d, mass number %d) is not in the table", s, s.Element(), s.MassNumber())
	}
	if n < 0 {
		return fmt.Errorf("negative count %d of %s", n, s)
	}
	if n == 0 {
		return nil
	}
	at, found := f.place(s)
	if found {
		n += int(f.counts[at])
	}
	if n > MaxCount {
		return fmt.Errorf("%d atoms of %s; at most %d are possible", n, s, MaxCount)
	}
	if !found {
		if f.species[MaxSpecies-1] != 0 {
			return fmt.Errorf("more than %d different species", MaxSpecies)
		}
		copy(f.species[at+1:], f.species[at:MaxSpecies-1])
		copy(f.counts[at+1:], f.counts[at:MaxSpecies-1])
		f.species[at] = s
	}
	f.counts[at] = uint16(n)
	return nil
}

// place returns where s is in f, or where it would have to be inserted.
func (f *Formula) place(s Species) (int, bool) {
	for at, have := range f.species {
		if have == s {
			return at, true
		}
		if have == 0 || have > s {
			return at, false
		}
	}
	return MaxSpecies, false
}

// IsEmpty tells whether f has no atoms; it may still have a charge.
func (f Formula) IsEmpty() bool { return f.species[0] == 0 }

// Count returns how many atoms of e are in f, labelled ones included.
func (f Formula) Count(e Element) int {
	n := 0
	for at, s := range f.species {
		if s == 0 {
			break
		}
		if s.Element() == e {
			n += int(f.counts[at])
		}
	}
	return n
}

// CountSpecies returns how many of exactly that species are in f.
func (f Formula) CountSpecies(s Species) int {
	if s == 0 {
		return 0
	}
	at, found := f.place(s)
	if !found {
		return 0
	}
	return int(f.counts[at])
}

// Atoms returns the number of atoms in f.
func (f Formula) Atoms() int {
	n := 0
	for _, c := range f.counts {
		n += int(c)
	}
	return n
}

// All iterates over the species of f and their counts, ascending species.
func (f Formula) All() iter.Seq2[Species, int] {
	return func(yield func(Species, int) bool) {
		for at, s := range f.species {
			if s == 0 || !yield(s, int(f.counts[at])) {
				return
			}
		}
	}
}

// Charge returns the charge in elementary charges.
func (f Formula) Charge() int { return int(f.charge) }

// WithCharge returns f with charge z instead of its own. It panics unless
// -32768 <= z <= 32767.
func (f Formula) WithCharge(z int) Formula {
	f.charge = chargeOf(z)
	return f
}

func chargeOf(z int) int16 {
	if z < -32768 || z > 32767 {
		panic(fmt.Sprintf("chem: charge %d is out of range", z))
	}
	return int16(z)
}

// SetCount makes n the count of s in f, in place: the quick way to make many
// formulas that differ in a few counts. It panics where s is unknown, n is
// outside 0 to MaxCount, or a species more than MaxSpecies would be needed.
func (f *Formula) SetCount(s Species, n int) {
	at, found := f.place(s)
	if found && uint(n-1) < MaxCount {
		f.counts[at] = uint16(n)
		return
	}
	f.setCount(s, n, at, found)
}

func (f *Formula) setCount(s Species, n, at int, found bool) {
	switch {
	case n == 0 && found:
		copy(f.species[at:], f.species[at+1:])
		copy(f.counts[at:], f.counts[at+1:])
		f.species[MaxSpecies-1], f.counts[MaxSpecies-1] = 0, 0
	case n == 0:
	default:
		if err := f.add(s, n); err != nil {
			panic("chem: " + err.Error())
		}
	}
}
