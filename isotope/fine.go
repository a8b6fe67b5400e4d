package isotope

import (
	"cmp"
	"fmt"
	"slices"

	"ionwright/chem"
)

// Isotopologue is a molecule or ion with each atom's isotope chosen; its
// probability is that of all arrangements of these isotopes together.
type Isotopologue struct {
	Mass        chem.Mass // Da, less the missing electrons
	MassNumber  int
	Probability float64      // mole fraction
	Composition []chem.Count // labelled species with counts above 0, ascending species
}

// mostIsotopologues is how many isotopologues [Fine] returns.
const mostIsotopologues = 500_000

// Fine returns all isotopologues of f with a probability of at least minimum,
// the most probable first. What is missing from a sum of 1 is the probability
// of all rarer ones. It fails where minimum isn't between 0 (excluded) and 1,
// and where there are more than 500,000 or so many atoms of elements
// with many isotopes that looking for them would take seconds.
//
// Each element's isotopologues are enumerated by conditional binomials and
// combined in descending order, so that no combination below minimum is
// formed.
func Fine(f chem.Formula, minimum float64) ([]Isotopologue, error) {
	var found []Isotopologue
	var arena []chem.Count
	err := enumerate(f, minimum, mostIsotopologues, func(i Isotopologue, parts []*partial) {
		begin := len(arena)
		for _, p := range parts {
			arena = append(arena, p.counts...)
		}
		i.Composition = arena[begin:len(arena):len(arena)]
		found = append(found, i)
	})
	if err != nil {
		return nil, fmt.Errorf("listing the isotopologues of %s: %w", f, err)
	}
	slices.SortStableFunc(found, func(a, b Isotopologue) int {
		return cmp.Or(cmp.Compare(b.Probability, a.Probability), cmp.Compare(a.Mass, b.Mass))
	})
	for _, i := range found {
		slices.SortFunc(i.Composition, func(a, b chem.Count) int { return cmp.Compare(a.Species, b.Species) })
	}
	return found, nil
}

// enumerate calls emit for each isotopologue of f with a probability of at
// least minimum, with its part of each species; emit must not keep parts. It
// fails where there are more than most.
func enumerate(f chem.Formula, minimum float64, most int, emit func(Isotopologue, []*partial)) error {
	if !(minimum > 0 && minimum <= 1) {
		return fmt.Errorf("the least probability %g is not above 0 and at most 1", minimum)
	}
	var lists [][]partial
	for s, n := range f.All() {
		list, ok := partials(s, n, minimum, most)
		if !ok {
			return tooMany(most, minimum)
		}
		if len(list) == 0 {
			return nil // not even the most probable one of this element is probable enough
		}
		lists = append(lists, list)
	}
	c := combination{lists: lists, minimum: minimum, most: most, emit: emit, parts: make([]*partial, len(lists))}
	// after[k] is the highest probability that the lists from k on can give.
	c.after = make([]float64, len(lists)+1)
	c.after[len(lists)] = 1
	for k := len(lists) - 1; k >= 0; k-- {
		c.after[k] = c.after[k+1] * lists[k][0].probability
	}
	electrons := -chem.Mass(f.Charge()) * chem.ElectronMass
	if !c.descend(0, Isotopologue{Mass: electrons, Probability: 1}) {
		return tooMany(most, minimum)
	}
	return nil
}

func tooMany(most int, minimum float64) error {
	return fmt.Errorf("there are too many (%d and more) with a probability of at least %g\nraise the least probability, or use the pattern by mass number", most, minimum)
}

// combination combines one partial of each list.
type combination struct {
	lists   [][]partial
	after   []float64
	minimum float64
	most    int
	found   int
	parts   []*partial
	emit    func(Isotopologue, []*partial)
}

// descend combines from the k-th list on; false means that there are too many.
func (c *combination) descend(k int, sum Isotopologue) bool {
	if k == len(c.lists) {
		if c.found++; c.found > c.most {
			return false
		}
		c.emit(sum, c.parts)
		return true
	}
	for i := range c.lists[k] {
		p := &c.lists[k][i]
		if sum.Probability*p.probability*c.after[k+1] < c.minimum {
			return true
		}
		c.parts[k] = p
		next := Isotopologue{Mass: sum.Mass + p.mass, MassNumber: sum.MassNumber + p.massNumber, Probability: sum.Probability * p.probability}
		if !c.descend(k+1, next) {
			return false
		}
	}
	return true
}
