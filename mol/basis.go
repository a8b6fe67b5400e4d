package mol

import "math/bits"

// basis is a set of independent bond sets, each with a leading bond that no
// later one has.
type basis struct {
	words int
	rows  []uint64
	lead  []int32 // leading bond of each row
	work  []uint64
}

// newBasis makes room for size rows over that many bonds.
func newBasis(s *scratch, bonds, size int) *basis {
	words := (bonds + 63) / 64
	return &basis{words: words, rows: s.words(words * size)[:0], lead: s.ints(size)[:0], work: s.words(words)}
}

// reduce subtracts the first rows of the basis from set, into work.
func (b *basis) reduce(set []uint64, rows int) (zero bool) {
	copy(b.work, set)
	for k := range rows {
		lead := b.lead[k]
		if b.work[lead>>6]>>(lead&63)&1 != 0 {
			for w, bits := range b.rows[k*b.words : (k+1)*b.words] {
				b.work[w] ^= bits
			}
		}
	}
	for _, bits := range b.work {
		if bits != 0 {
			return false
		}
	}
	return true
}

// independent tells whether set is no sum of the first rows.
func (b *basis) independent(set []uint64, rows int) bool { return !b.reduce(set, rows) }

// insert adds what set has beyond all rows; false where that is nothing.
func (b *basis) insert(set []uint64) bool {
	if b.reduce(set, len(b.lead)) {
		return false
	}
	for w, word := range b.work {
		if word != 0 {
			b.lead = append(b.lead, int32(w*64+bits.TrailingZeros64(word)))
			break
		}
	}
	b.rows = append(b.rows, b.work...)
	return true
}
