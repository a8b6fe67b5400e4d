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
// charges. It fails like [Space.Each], and with more than 10,000,000 results:
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
	slices.SortFunc(found, func(a, b Candidate) int {
		if order := cmp.Compare(math.Abs(float64(a.Error)), math.Abs(float64(b.Error))); order != 0 {
			return order
		}
		return cmp.Compare(a.Formula.String(), b.Formula.String())
	})
	return found, nil
}

// mostResults is how many formulas Find and FindNominal collect.
const mostResults = 10_000_000

// Each iterates over what [Space.Find] returns, in the order of the search,
// as long as the caller wants. A space that isn't valid, a mass that isn't a
// number between 0 and 1,000,000 Da, a tolerance that isn't a number from 0
// on, a search too large to end, or the end of ctx is the last pair's error.
//
// Method: all elements but the most frequent light one and the lightest are
// enumerated, heaviest first, as far as the rest of the mass allows; of these
// two, say C and H, the solutions of |a x + b y - rest| <= tolerance are found
// by arithmetic on the fractional part of (rest - a x)/b, which moves by a
// constant with x, so that x jumps from solution to solution.
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

// dimension is one species of a search.
type dimension struct {
	species  chem.Species
	mass     float64 // Da
	min, max int
	restMin  float64 // least and most mass of all dimensions after this one, Da
	restMax  float64
	sieve    sieve // of the masses of all dimensions after this one; without bits: not known
}

// exact is one search for an exact mass.
type exact struct {
	ctx                             context.Context
	space                           *Space
	target                          float64 // Da, of the neutral atoms
	tolerance                       float64 // Da
	outer                           []dimension
	counts                          [chem.MaxSpecies]int              // of the outer dimensions, as far as chosen
	heavy                           dimension                         // of the pair that is solved, say C
	light                           dimension                         // say H
	fraction                        float64                           // fractional part of heavy.mass / light.mass
	perHeavy, perLight, perFraction float64                           // 1 / heavy.mass, 1 / light.mass, 1 / the smaller of fraction and 1 - fraction
	candidate                       Candidate                         // of the last pair found; both species of the pair are in it
	filtered                        bool                              // the space has filters
	work                            int                               // combinations of outer looked at
	bases                           [chem.MaxSpecies + 1]chem.Formula // with the first so many outer dimensions
	built                           int                               // how many of bases[1:] fit counts
	yield                           func(Candidate, error) bool
	err                             error
}

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
	x.bases[0] = x.bases[0].WithCharge(s.Charge)
	x.split(s.Elements)
	if size := x.size(); size > mostWork {
		return nil, fmt.Errorf("about %.0g combinations of elements are too many to look at\nnarrow the ranges of the elements", size)
	} else if size > 2000 {
		x.tabulate(size)
	}
	return x, nil
}

// mostWork is how many combinations of the outer dimensions a search may
// have: minutes.
const mostWork = 1e11

// split sorts the ranges into outer dimensions, heaviest first, and the pair.
func (x *exact) split(ranges []Range) {
	dims := make([]dimension, 0, len(ranges))
	for _, r := range ranges {
		m := massOf(r.Species)
		most := min(r.Max, int((x.target+x.tolerance)/m+1))
		dims = append(dims, dimension{species: r.Species, mass: m, min: r.Min, max: max(r.Min, most)})
	}
	slices.SortFunc(dims, func(a, b dimension) int {
		return cmp.Or(cmp.Compare(b.mass, a.mass), cmp.Compare(a.species, b.species))
	})
	none := dimension{mass: 1}
	x.light, x.heavy = none, none
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
	for _, d := range []dimension{x.heavy, x.light} {
		if d.species != 0 {
			x.bases[0].SetCount(d.species, 1)
		}
	}
	least := float64(x.heavy.min)*x.heavy.mass + float64(x.light.min)*x.light.mass
	most := float64(x.heavy.max)*x.heavy.mass + float64(x.light.max)*x.light.mass
	for i := len(dims) - 1; i >= 0; i-- {
		d := &dims[i]
		d.restMin, d.restMax = least, most
		least += float64(d.min) * d.mass
		most += float64(d.max) * d.mass
	}
}

func massOf(s chem.Species) float64 {
	f, err := chem.FormulaOf(chem.Count{Species: s, N: 1})
	if err != nil {
		return math.NaN() // not after Space.validate
	}
	return float64(f.MonoisotopicMass())
}

// size estimates the combinations of the outer dimensions: the corner of the
// box of ranges that the mass cuts off, or the box where it is smaller.
func (x *exact) size() float64 {
	box, simplex := 1.0, 1.0
	for i, d := range x.outer {
		box *= float64(d.max - d.min + 1)
		simplex *= ((x.target+x.tolerance)/d.mass + float64(len(x.outer))) / float64(i+1)
	}
	return min(box, simplex)
}

// run searches and keeps the error, if any.
func (x *exact) run() {
	if x.ctx.Err() != nil {
		x.err = x.ctx.Err()
		return
	}
	x.descend(0, x.target)
}

// tabulate fills the sieves from the pair outwards, as long as they still
// exclude something. The tables are larger where there is more to exclude.
func (x *exact) tabulate(size float64) {
	most := x.target + x.tolerance
	perStep := min(4/x.tolerance, min(8*size, mostSteps)/most)
	if x.tolerance*perStep < 0.25 || x.tolerance*perStep > 20 {
		return
	}
	r := newReach(most, perStep)
	for n := x.heavy.min; n <= x.heavy.max; n++ {
		for m := x.light.min; m <= x.light.max; m++ {
			if mass := float64(n)*x.heavy.mass + float64(m)*x.light.mass; mass <= most {
				r.set(mass)
			}
		}
	}
	for k := len(x.outer) - 1; k >= 0 && r.occupancy() < 0.3; k-- {
		d := &x.outer[k]
		d.sieve = newSieve(r, d.mass, d.min, d.max, x.tolerance)
		r = r.with(d.mass, d.min, d.max)
	}
}

// mostSteps is the size of a table of reach in bits.
const mostSteps = 1 << 19

// descend enumerates the outer dimensions from k on, rest being the mass
// still to be found. It returns false where the search is to end.
func (x *exact) descend(k int, rest float64) bool {
	if x.work++; x.work&0xfff == 0 && x.ctx.Err() != nil {
		x.err = x.ctx.Err()
		return false
	}
	if k == len(x.outer) {
		return x.pair(rest)
	}
	d := &x.outer[k]
	// The counts whose remainder the later dimensions can fill.
	least, most := d.min, d.max
	if over := rest - x.tolerance - d.restMax; over > float64(least)*d.mass {
		least = int(math.Ceil(over / d.mass))
	}
	if room := rest + x.tolerance - d.restMin; room < float64(most)*d.mass {
		most = int(math.Floor(room / d.mass))
	}
	sieved := len(d.sieve.bits) > 0
	low := 0
	if sieved {
		low = int((rest - x.tolerance) * d.sieve.perStep)
	}
	for n := least; n <= most; n++ {
		if sieved && d.sieve.next64(low-d.sieve.shifts[n-d.min])&d.sieve.window == 0 {
			continue
		}
		x.counts[k] = n
		x.built = min(x.built, k)
		if !x.descend(k+1, rest-float64(n)*d.mass) {
			return false
		}
	}
	return true
}

// base returns the formula of the outer dimensions' counts.
func (x *exact) base() *chem.Formula {
	for ; x.built < len(x.outer); x.built++ {
		f := &x.bases[x.built+1]
		*f = x.bases[x.built]
		if n := x.counts[x.built]; n > 0 {
			f.SetCount(x.outer[x.built].species, n)
		}
	}
	return &x.bases[x.built]
}

// pair yields all combinations of the pair that fill the rest.
func (x *exact) pair(rest float64) bool {
	a, b := x.heavy.mass, x.light.mass
	low, high := rest-x.tolerance, rest+x.tolerance
	// first may be one too small, which only costs a look.
	first, last := x.heavy.min, x.heavy.max
	if v := (low - float64(x.light.max)*b) * x.perHeavy; v > float64(first) {
		first = int(v)
	}
	if v := (high - float64(x.light.min)*b) * x.perHeavy; v < float64(last) {
		last = int(math.Floor(v))
	}
	ready := false
	window := (high - low) * x.perLight
	for n := first; n <= last; {
		// Up to last, most isn't negative.
		most := (high - float64(n)*a) * x.perLight
		m := int(most)
		over := most - float64(m)
		if over > window {
			// No solution at n. The fractional part falls by fraction with
			// each step; skip what can't bring it into the window.
			n += max(1, x.steps(over, window))
			continue
		}
		for m = min(m, x.light.max); m >= x.light.min; m-- {
			mass := float64(n)*a + float64(m)*b
			if mass < low {
				break
			}
			if !ready {
				x.candidate.Formula = *x.base()
				ready = true
			}
			x.candidate.Error = chem.Mass(mass - rest)
			if !x.found(n, m) {
				return false
			}
		}
		n++
	}
	return true
}

// steps is how often x.heavy can be taken once more before the fractional
// part, now over, can be in [0, window]; rounded down against rounding errors.
func (x *exact) steps(over, window float64) int {
	if x.fraction <= 0.5 { // over falls by fraction
		return int((over-window)*x.perFraction - 1e-6)
	}
	return int((1-over)*x.perFraction - 1e-6) // over rises by 1-fraction, then begins again
}

// found yields the candidate with n of the heavy and m of the light species of
// the pair, unless a filter rejects it.
func (x *exact) found(n, m int) bool {
	if n == 0 || m == 0 {
		c := x.candidate
		for _, s := range [...]chem.Count{{Species: x.heavy.species, N: n}, {Species: x.light.species, N: m}} {
			if s.Species != 0 {
				c.Formula.SetCount(s.Species, s.N)
			}
		}
		return x.filtered && !x.space.admits(&c.Formula) || x.yield(c, nil)
	}
	x.candidate.Formula.SetCount(x.heavy.species, n)
	x.candidate.Formula.SetCount(x.light.species, m)
	if x.filtered && !x.space.admits(&x.candidate.Formula) {
		return true
	}
	return x.yield(x.candidate, nil)
}
