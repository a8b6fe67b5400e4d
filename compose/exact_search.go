package compose

import (
	"context"
	"math"

	"ionwright/chem"
)

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
	ctx       context.Context
	space     *Space
	target    float64 // Da, of the neutral atoms
	tolerance float64 // Da
	outer     []dimension
	heavy     dimension // of the pair that is solved, say C
	light     dimension // say H
	perHeavy  float64   // 1 / heavy.mass
	perLight  float64   // 1 / light.mass
	fraction  float64   // fractional part of heavy.mass / light.mass
	// 1 / the smaller of fraction and 1 - fraction
	perFraction float64
	filtered    bool  // the space has filters
	pairs       pairs // of heavy and light, where any dimension has a sieve
	work        int   // calls of descend
	template    chem.Template
	counts      [chem.MaxSpecies]uint16 // of the outer dimensions, and 1 for heavy and light
	candidate   Candidate               // the last one found; both species of the pair are in it
	yield       func(Candidate, error) bool
	err         error
}

// run searches and keeps the error, if any.
func (x *exact) run() {
	if x.ctx.Err() != nil {
		x.err = x.ctx.Err()
		return
	}
	x.descend(0, x.target)
}

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
	if len(d.sieve.bits) > 0 {
		return x.sift(k, rest, least, most)
	}
	for n := least; n <= most; n++ {
		x.counts[k] = uint16(n)
		if !x.descend(k+1, rest-float64(n)*d.mass) {
			return false
		}
	}
	return true
}

// sift is the loop of descend for a dimension with a sieve.
func (x *exact) sift(k int, rest float64, least, most int) bool {
	d := &x.outer[k]
	last := k+1 == len(x.outer)
	low := int((rest - x.tolerance) * d.sieve.perStep)
	for n := least; n <= most; n++ {
		if d.sieve.next64(low-d.sieve.shifts[n-d.min])&d.sieve.window == 0 {
			continue
		}
		x.counts[k] = uint16(n)
		left := rest - float64(n)*d.mass
		if last && !x.listedPair(left) || !last && !x.descend(k+1, left) {
			return false
		}
	}
	return true
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
				x.candidate.Formula = x.template.Formula(&x.counts)
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

// listedPair is pair for a search with a list of pairs.
func (x *exact) listedPair(rest float64) bool {
	low, high := rest-x.tolerance, rest+x.tolerance
	ready := false
	for _, e := range x.pairs.within(low, high) {
		if e.mass < low || e.mass > high {
			continue
		}
		if !ready {
			x.candidate.Formula = x.template.Formula(&x.counts)
			ready = true
		}
		x.candidate.Error = chem.Mass(e.mass - rest)
		if !x.found(int(e.n), int(e.m)) {
			return false
		}
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
		return x.foundWithout(n, m)
	}
	x.candidate.Formula.SetCount(x.heavy.species, n)
	x.candidate.Formula.SetCount(x.light.species, m)
	if x.filtered && !x.space.admits(&x.candidate.Formula) {
		return x.rejected()
	}
	return x.yield(x.candidate, nil)
}

// rejected counts as work, so that a search whose filters reject everything
// ends with its context.
func (x *exact) rejected() bool {
	if x.work++; x.work&0xfff == 0 && x.ctx.Err() != nil {
		x.err = x.ctx.Err()
		return false
	}
	return true
}

// foundWithout is found where a species of the pair is missing.
func (x *exact) foundWithout(n, m int) bool {
	c := x.candidate
	if x.heavy.species != 0 {
		c.Formula.SetCount(x.heavy.species, n)
	}
	if x.light.species != 0 {
		c.Formula.SetCount(x.light.species, m)
	}
	if x.filtered && !x.space.admits(&c.Formula) {
		return x.rejected()
	}
	return x.yield(c, nil)
}
