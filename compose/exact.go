package compose

import (
	"cmp"
	"context"
	"fmt"
	"iter"
	"math"
	"slices"

	"ionwright/chem"
)

// Find returns all formulas of the space whose monoisotopic mass (electrons
// counted: [chem.Formula.MonoisotopicMass]) is within tolerance of mass, best
// fit first. For a measured m/z of an ion, mass is m/z times the number of
// charges. It fails like [Space.Each], and with more than 2,000,000 results:
// take them one by one with Each, or narrow the search.
func (s Space) Find(ctx context.Context, mass chem.Mass, tolerance Tolerance) ([]Candidate, error) {
	var found []Candidate
	for c, err := range s.Each(ctx, mass, tolerance) {
		if err != nil {
			return nil, err
		}
		if len(found) == mostResults {
			return nil, fmt.Errorf("finding formulas for %.5f Da within %v: more than %d\nnarrow the tolerance or the elements", float64(mass), tolerance, mostResults)
		}
		found = append(found, c)
	}
	return bestFirst(found), nil
}

// bestFirst returns the candidates sorted by absolute error; equal ones stay
// in order. Keys are sorted instead of the large candidates.
func bestFirst(found []Candidate) []Candidate {
	type key struct {
		error float64
		at    int
	}
	keys := make([]key, len(found))
	for i := range found {
		keys[i] = key{math.Abs(float64(found[i].Error)), i}
	}
	slices.SortFunc(keys, func(a, b key) int {
		switch {
		case a.error < b.error:
			return -1
		case a.error > b.error:
			return 1
		}
		return a.at - b.at
	})
	sorted := make([]Candidate, len(found))
	for i, k := range keys {
		sorted[i] = found[k.at]
	}
	return sorted
}

// mostResults is how many formulas Find and FindNominal collect.
const mostResults = 2_000_000

// Each iterates over what [Space.Find] returns, in the order of the search,
// as long as the caller wants. A space that isn't valid, a mass that isn't a
// number between 0 and 1,000,000 Da, a tolerance that isn't a number from 0
// on, a search too large to end, or the end of ctx is the last pair's error.
//
// Method: all elements but the most frequent one and the lightest are
// enumerated, heaviest first, as far as the rest of the mass allows; tables of
// the masses that the elements still to come can have, in steps of about the
// tolerance, keep the search out of branches without a solution (the residue
// tables of Böcker and Lipták, Algorithmica 48 (2007) 413, for bounded counts
// and real masses). Of the last two, say C and H, the solutions of
// |a x + b y - rest| <= tolerance are found by arithmetic on the fractional
// part of (rest - a x)/b, which moves by a constant with x, so that x jumps
// from solution to solution.
func (s Space) Each(ctx context.Context, mass chem.Mass, tolerance Tolerance) iter.Seq2[Candidate, error] {
	return func(yield func(Candidate, error) bool) {
		search, err := newExact(ctx, s, mass, tolerance)
		if err == nil {
			search.yield = yield
			search.run()
			err = search.err
		}
		if err != nil {
			yield(Candidate{}, fmt.Errorf("finding formulas for %.5f Da within %v: %w", float64(mass), tolerance, err))
		}
	}
}

// mostWork is how many combinations of the outer dimensions a search may
// have: minutes.
const mostWork = 1e11

func newExact(ctx context.Context, s Space, mass chem.Mass, tolerance Tolerance) (*exact, error) {
	if err := s.validate(); err != nil {
		return nil, err
	}
	if !(mass >= 0 && mass <= 1e6) {
		return nil, fmt.Errorf("the mass is not within 0 to 1,000,000 Da")
	}
	if !(tolerance.Value >= 0 && tolerance.Value <= 1e6) {
		return nil, fmt.Errorf("the tolerance is not within 0 to 1,000,000")
	}
	x := &exact{
		ctx: ctx, space: &s,
		target:    float64(mass + chem.Mass(s.Charge)*chem.ElectronMass),
		tolerance: float64(tolerance.Of(mass)),
		filtered:  s.filters(),
	}
	if err := x.split(s.Elements, s.Charge); err != nil {
		return nil, err
	}
	if x.size() < smallSearch {
		return x, nil
	}
	size := x.combinations()
	if size > mostWork {
		return nil, fmt.Errorf("about %.0g combinations of elements are too many to look at\nnarrow the ranges of the elements", size)
	}
	if x.tolerance <= wideTolerance {
		x.tabulate(size)
	}
	return x, nil
}

const (
	smallSearch   = 5000 // combinations below which tables don't pay
	wideTolerance = 0.05 // Da, from which on tables exclude nothing
)

// split sorts the ranges into outer dimensions, heaviest first, and the pair.
func (x *exact) split(ranges []Range, charge int) error {
	dims := make([]dimension, 0, len(ranges))
	for _, r := range ranges {
		m := massOf(r.Species)
		most := min(r.Max, int((x.target+x.tolerance)/m+1))
		dims = append(dims, dimension{species: r.Species, mass: m, min: r.Min, max: max(r.Min, most)})
	}
	slices.SortFunc(dims, func(a, b dimension) int {
		return cmp.Or(cmp.Compare(b.mass, a.mass), cmp.Compare(a.species, b.species))
	})
	x.light, x.heavy = dimension{mass: 1}, dimension{mass: 1}
	if n := len(dims); n > 0 {
		x.light, dims = dims[n-1], dims[:n-1]
	}
	if len(dims) > 0 {
		widest := 0
		for i, d := range dims {
			if d.max-d.min >= dims[widest].max-dims[widest].min {
				widest = i
			}
		}
		x.heavy = dims[widest]
		dims = slices.Delete(dims, widest, widest+1)
	}
	x.outer = dims
	x.perHeavy, x.perLight = 1/x.heavy.mass, 1/x.light.mass
	_, x.fraction = math.Modf(x.heavy.mass / x.light.mass)
	x.perFraction = 1 / max(1e-9, min(x.fraction, 1-x.fraction))
	least := float64(x.heavy.min)*x.heavy.mass + float64(x.light.min)*x.light.mass
	most := float64(x.heavy.max)*x.heavy.mass + float64(x.light.max)*x.light.mass
	for i := len(dims) - 1; i >= 0; i-- {
		d := &dims[i]
		d.restMin, d.restMax = least, most
		least += float64(d.min) * d.mass
		most += float64(d.max) * d.mass
	}
	return x.prepareFormulas(charge)
}

// prepareFormulas makes the template of all species: the outer ones, then
// heavy and light, as far as there are any.
func (x *exact) prepareFormulas(charge int) error {
	var species []chem.Species
	for _, d := range x.outer {
		species = append(species, d.species)
	}
	for _, d := range []dimension{x.heavy, x.light} {
		if d.species != 0 {
			x.counts[len(species)] = 1 // a placeholder
			species = append(species, d.species)
		}
	}
	var err error
	x.template, err = chem.NewTemplate(charge, species...)
	return err
}

func massOf(s chem.Species) float64 {
	f, err := chem.FormulaOf(chem.Count{Species: s, N: 1})
	if err != nil {
		return math.NaN() // not after Space.validate
	}
	return float64(f.MonoisotopicMass())
}

// size is an upper bound of the combinations of the outer dimensions.
func (x *exact) size() float64 {
	box := 1.0
	for _, d := range x.outer {
		box *= float64(d.max - d.min + 1)
	}
	return box
}

// combinations estimates the combinations of the outer dimensions that the
// mass allows, by counting them on a coarse grid of masses.
func (x *exact) combinations() float64 {
	const cells = 128
	var counts [cells]float64
	counts[0] = 1
	perCell := (cells - 1) / (x.target + x.tolerance)
	for _, d := range x.outer {
		var next [cells]float64
		for n := d.min; n <= d.max; n++ {
			shift := int(float64(n)*d.mass*perCell + 0.5)
			for i := shift; i < cells; i++ {
				next[i] += counts[i-shift]
			}
		}
		counts = next
	}
	sum := 0.0
	for _, c := range counts {
		sum += c
	}
	return sum
}

// Limits of the tables.
const (
	mostSteps = 1 << 19 // bits of a reach
	mostPairs = 1 << 20 // entries of pairs
)

// tabulate fills the sieves from the pair outwards, as long as they still
// exclude something. The tables are larger where there is more to exclude.
func (x *exact) tabulate(combinations float64) {
	most := x.target + x.tolerance
	perStep := min(4/x.tolerance, min(max(8*combinations, 1<<14), mostSteps)/most)
	if x.tolerance*perStep > 20 || (x.heavy.max-x.heavy.min+1)*(x.light.max-x.light.min+1) > mostPairs {
		return
	}
	x.pairs = newPairs(&x.heavy, &x.light, most)
	r := newReach(most, perStep)
	for i := range x.pairs.entries {
		r.set(x.pairs.entries[i].mass)
	}
	for k := len(x.outer) - 1; k >= 0; k-- {
		d := &x.outer[k]
		d.sieve = newSieve(r, d.mass, d.min, d.max, x.tolerance)
		if r.occupancy()*float64(d.max-d.min+1) > 0.5 {
			return // the next table would say yes to almost everything
		}
		r = r.with(d.mass, d.min, d.max)
	}
}
