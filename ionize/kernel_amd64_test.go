package ionize

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// The instructions for eight columns at a time give the bits of the plain
// loops, so that a spectrum doesn't depend on the processor.
func TestKernelWidths(t *testing.T) {
	if !wide {
		t.Skip("this processor has no registers of eight numbers")
	}
	random := rand.New(rand.NewPCG(7, 8))
	rows := randomRows(random, 400)
	for _, n := range []int{0, 1, 2, 3, 17, 30, mostSummed} {
		places := make([]int32, max(n, 1))
		for i := range places {
			places[i] = random.Int32N(400)
		}
		unit := randomRow(random)
		var plain, eight Row
		sumRowsPlain(&plain, &rows[0], &places[0], n, &unit, PieceScale)
		sumRowsWide(&eight, &rows[0], &places[0], n, &unit, PieceScale)
		if plain != eight {
			t.Errorf("%d rows sum up to %v and %v", n, plain, eight)
		}
		terms := make([]Term, max(n, 1))
		for i := range terms {
			row := randomRow(random)
			terms[i] = Term{float32(random.NormFloat64()), &row}
		}
		addTermsPlain(&plain, &terms[0], n)
		addTermsWide(&eight, &terms[0], n)
		if plain != eight {
			t.Errorf("with %d terms %v and %v", n, plain, eight)
		}
		var weights [Outputs][Hidden]float32
		for o := range weights {
			row := randomRow(random)
			copy(weights[o][:], row[:])
		}
		var out, outEight [Outputs]float32
		activatePlain(&plain, &weights, &out)
		activateWide(&plain, &weights, &outEight)
		if out != outEight {
			t.Errorf("the corrections are %v and %v", out, outEight)
		}
	}
	for _, n := range []int{1, 2, 7, 8, 9, 400} { // the last with many more than eight together
		codes := make([]uint32, n)
		for i := range codes {
			codes[i] = random.Uint32()
			if i < n/4 {
				codes[i] >>= 16
			}
		}
		slices.Sort(codes)
		codes = slices.Compact(codes)
		table, err := newCodeTable(codes)
		if err != nil {
			t.Fatal(err)
		}
		asked := append(slices.Clone(codes), 0, 1, 12345, 1<<32-1)
		for range 2 * n {
			asked = append(asked, random.Uint32())
		}
		random.Shuffle(len(asked), func(i, j int) { asked[i], asked[j] = asked[j], asked[i] })
		plain, eight := make([]int32, len(asked)), make([]int32, len(asked))
		plain = plain[:findRowsPlain(&plain[0], &asked[0], len(asked), &table)]
		eight = eight[:findRowsWide(&eight[0], &asked[0], len(asked), &table, &rows[0])]
		if len(plain) < len(codes) || !slices.Equal(plain, eight) {
			t.Errorf("of %d codes %v and %v are found", n, plain, eight)
		}
	}
}
