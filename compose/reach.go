package compose

import "math/bits"

// reach tells which masses a group of species can have: a bit for each small
// step of mass, set if some combination may be there. It can say yes where
// there is none, never no where there is one.
type reach struct {
	bits    []uint64 // the first bit is for mass 0; two words of margin at the end
	perStep float64  // steps per Da
}

// newReach returns an empty table up to most Da.
func newReach(most, perStep float64) reach {
	return reach{make([]uint64, int(most*perStep)>>6+3), perStep}
}

// set sets the bit of a mass, which must not be above the table's most.
func (r *reach) set(mass float64) {
	at := int(mass * r.perStep)
	r.bits[at>>6] |= 1 << (at & 63)
}

// next64 returns the bits from a step on; steps below 0 are not set.
func (r *reach) next64(from int) uint64 {
	if from < 0 {
		if from <= -64 {
			return 0
		}
		return r.bits[0] << uint(-from)
	}
	word, shift := from>>6, uint(from&63)
	return r.bits[word]>>shift | r.bits[word+1]<<1<<(63-shift)
}

// with returns the table of these masses plus least to most times m Da. The
// sum of two masses is in the step of the sum of their steps or in the one
// above, so both are set.
func (r *reach) with(m float64, least, most int) reach {
	both := reach{make([]uint64, len(r.bits)), r.perStep}
	both.or(r, 0)
	both.or(r, 1)
	sum := reach{make([]uint64, len(r.bits)), r.perStep}
	for n := least; n <= most; n++ {
		sum.or(&both, int(float64(n)*m*r.perStep))
	}
	return sum
}

// or sets the bits of other, moved up by shift; what leaves the table is lost.
func (r *reach) or(other *reach, shift int) {
	words, bits := shift>>6, uint(shift&63)
	if words >= len(r.bits) {
		return
	}
	to, from := r.bits[words:], other.bits[:len(other.bits)-words]
	carry := uint64(0)
	for i, w := range from {
		to[i] |= w<<bits | carry
		carry = w >> 1 >> (63 - bits)
	}
}

// occupancy is the share of set bits.
func (r *reach) occupancy() float64 {
	n := 0
	for _, w := range r.bits {
		n += bits.OnesCount64(w)
	}
	return float64(n) / float64(64*len(r.bits))
}

// sieve is a reach prepared for one dimension: it asks quickly whether a rest
// of mass, after some atoms of the dimension, may be reached.
type sieve struct {
	reach
	shifts []int  // steps of n atoms, from the dimension's min on, less the margin
	window uint64 // as many ones as steps have to be looked at
}

// newSieve prepares r for counts least to most of mass m and a tolerance in
// Da, which must be below 20 steps.
func newSieve(r reach, m float64, least, most int, tolerance float64) sieve {
	s := sieve{reach: r, shifts: make([]int, most-least+1)}
	for i := range s.shifts {
		// One step because the difference of two masses can be a step below
		// the difference of their steps, one against rounding errors.
		s.shifts[i] = int(float64(least+i)*m*r.perStep) + 2
	}
	s.window = 1<<(uint(2*tolerance*r.perStep)+6) - 1
	return s
}
