package chem

import "fmt"

// Template makes many formulas over the same species: for searches that hold
// counts in an array and need a Formula for the few that matter.
type Template struct {
	species [MaxSpecies]Species // ascending
	places  [MaxSpecies]uint8   // where the caller's counts of these species are
	n       int
	charge  int16
}

// NewTemplate returns the template of species in the caller's order, all
// different and known, at most MaxSpecies of them, for formulas with that
// charge.
func NewTemplate(charge int, species ...Species) (Template, error) {
	t := Template{charge: chargeOf(charge)}
	var f Formula
	for _, s := range species {
		if f.CountSpecies(s) > 0 {
			return t, fmt.Errorf("making a template: %s is there twice", s)
		}
		if err := f.add(s, 1); err != nil {
			return t, fmt.Errorf("making a template: %w", err)
		}
	}
	t.n = len(species)
	t.species = f.species
	for i, s := range species {
		at, _ := f.place(s)
		t.places[at] = uint8(i)
	}
	return t, nil
}

// Formula returns the formula with these counts, in the order of the species
// given to [NewTemplate]; counts of more species are ignored.
func (t *Template) Formula(counts *[MaxSpecies]uint16) Formula {
	f := Formula{charge: t.charge}
	at := 0
	for i := range t.n {
		if n := counts[t.places[i]%MaxSpecies]; n > 0 {
			f.species[at%MaxSpecies], f.counts[at%MaxSpecies] = t.species[i], n
			at++
		}
	}
	return f
}
