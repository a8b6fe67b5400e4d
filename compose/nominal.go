package compose

import (
	"cmp"
	"context"
	"fmt"
	"iter"
	"slices"

	"ionwright/chem"
)

// mostNominal is the highest nominal mass that is searched, in Da.
const mostNominal = 100_000

// FindNominal returns all formulas of the space with that nominal mass in Da
// (the sum of mass numbers: [chem.Formula.NominalMass]), those with few heavy
// atoms first. It fails like [Space.EachNominal], and with more than 2,000,000
// results.
func (s Space) FindNominal(ctx context.Context, mass int) ([]chem.Formula, error) {
	var found []chem.Formula
	for f, err := range s.EachNominal(ctx, mass) {
		if err != nil {
			return nil, err
		}
		if len(found) == mostResults {
			return nil, fmt.Errorf("finding formulas of nominal mass %d: more than %d\nnarrow the elements", mass, mostResults)
		}
		found = append(found, f)
	}
	return found, nil
}

// EachNominal iterates over what [Space.FindNominal] returns, in the order of
// the search, as long as the caller wants. A space that isn't valid, a mass
// outside 0 to 100,000 Da or the end of ctx is the last pair's error.
//
// Method: the elements are enumerated one after the other, heaviest first; a
// table says for each element and each rest of mass whether the elements after
// it can fill the rest within their ranges, so that no branch is entered in
// vain (a residue table as in Böcker and Lipták, Algorithmica 48 (2007) 413,
// for bounded counts).
func (s Space) EachNominal(ctx context.Context, mass int) iter.Seq2[chem.Formula, error] {
	return func(yield func(chem.Formula, error) bool) {
		search, err := newNominal(ctx, s, mass)
		if err == nil {
			search.yield = yield
			search.run(mass)
			err = search.err
		}
		if err != nil {
			yield(chem.Formula{}, fmt.Errorf("finding formulas of nominal mass %d: %w", mass, err))
		}
	}
}

// nominalDimension is one species of a search for a nominal mass.
type nominalDimension struct {
	species    chem.Species
	massNumber int
	min, max   int
	fillable   []bool // by rest of mass: whether this and all later dimensions can fill it
}

type nominal struct {
	ctx      context.Context
	space    *Space
	dims     []nominalDimension
	filtered bool
	steps    int
	yield    func(chem.Formula, error) bool
	err      error
}

func newNominal(ctx context.Context, s Space, mass int) (*nominal, error) {
	if err := s.validate(); err != nil {
		return nil, err
	}
	if mass < 0 || mass > mostNominal {
		return nil, fmt.Errorf("the mass is not within 0 to %d", mostNominal)
	}
	x := &nominal{ctx: ctx, space: &s, filtered: s.filters()}
	for _, r := range s.Elements {
		a := massNumberOf(r.Species)
		x.dims = append(x.dims, nominalDimension{species: r.Species, massNumber: a, min: r.Min, max: min(r.Max, mass/a)})
	}
	slices.SortFunc(x.dims, func(a, b nominalDimension) int {
		return cmp.Or(cmp.Compare(b.massNumber, a.massNumber), cmp.Compare(a.species, b.species))
	})
	after := make([]bool, mass+1)
	after[0] = true
	for k := len(x.dims) - 1; k >= 0; k-- {
		after = x.dims[k].fill(after)
	}
	return x, nil
}

// fill sets and returns d.fillable, given the same of the dimensions after d:
// rest is fillable if rest - n x mass number is, for some n from min to max.
func (d *nominalDimension) fill(after []bool) []bool {
	d.fillable = make([]bool, len(after))
	// since[r] of each residue: how many steps ago the last fillable rest was.
	for residue := range min(d.massNumber, len(after)) {
		last := -1
		for rest, n := residue, 0; rest < len(after); rest, n = rest+d.massNumber, n+1 {
			// The newest rest that min atoms of d leave.
			if n >= d.min && after[rest-d.min*d.massNumber] {
				last = n
			}
			d.fillable[rest] = last >= 0 && n-last <= d.max-d.min
		}
	}
	return d.fillable
}

func massNumberOf(s chem.Species) int {
	if a := s.MassNumber(); a != 0 {
		return a
	}
	return s.Element().Principal().MassNumber
}

// run searches and keeps the error, if any.
func (x *nominal) run(mass int) {
	if x.ctx.Err() != nil {
		x.err = x.ctx.Err()
		return
	}
	f := chem.Formula{}.WithCharge(x.space.Charge)
	if len(x.dims) == 0 {
		if mass == 0 {
			x.found(&f)
		}
		return
	}
	if x.dims[0].fillable[mass] {
		x.descend(0, mass, &f)
	}
}

// descend enumerates the dimensions from k on; they can fill the rest. It
// returns false where the search is to end.
func (x *nominal) descend(k, rest int, before *chem.Formula) bool {
	d := &x.dims[k]
	if k == len(x.dims)-1 {
		f := *before
		f.SetCount(d.species, rest/d.massNumber)
		return x.found(&f)
	}
	if x.steps++; x.steps&0xfff == 0 && x.ctx.Err() != nil {
		x.err = x.ctx.Err()
		return false
	}
	next := &x.dims[k+1]
	f := *before
	for n := d.min; n <= d.max && n*d.massNumber <= rest; n++ {
		left := rest - n*d.massNumber
		if !next.fillable[left] {
			continue
		}
		f.SetCount(d.species, n)
		if !x.descend(k+1, left, &f) {
			return false
		}
	}
	return true
}

// found yields the formula, unless a filter rejects it.
func (x *nominal) found(f *chem.Formula) bool {
	if x.filtered && !x.space.admits(f) {
		return true
	}
	return x.yield(*f, nil)
}
