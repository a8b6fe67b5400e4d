package ionize

import (
	"math"
	"math/rand/v2"
	"testing"
)

func randomRow(random *rand.Rand) (x Row) {
	for h := range x {
		x[h] = float32(random.NormFloat64())
	}
	return x
}

func randomRows(random *rand.Rand, n int) []packedRow {
	rows := make([]packedRow, n)
	for i := range rows {
		for h := range Width {
			rows[i][h/8] |= random.Uint64N(2*zeroByte+1) << (h % 8 * 8)
		}
	}
	return rows
}

// The loops over rows do what these few lines do in whole numbers and in
// floats of twice the length.
func TestKernels(t *testing.T) {
	random := rand.New(rand.NewPCG(9, 10))
	c := &Corrections{rows: randomRows(random, 50), unit: randomRow(random)}
	for i := range 3 { // the extremes
		for w := range words {
			c.rows[i][w] = 0x0101010101010101 * uint64(zeroByte*i)
		}
	}
	for _, n := range []int{0, 1, 2, 7, 26, mostSummed} {
		for most := range 2 {
			places := make([]int32, n)
			var sum [Width]int
			for i := range places {
				places[i] = 2
				if most == 0 {
					places[i] = random.Int32N(50)
				}
				for h := range sum {
					sum[h] += int(uint8(c.rows[places[i]][h/8]>>(h%8*8))) - zeroByte
				}
			}
			var x Row
			c.sum(&x, places, 0.5)
			for h := range x {
				if want := 0.5 * (float32(sum[h]) * c.unit[h]); x[h] != want {
					t.Fatalf("%d rows: column %d is %v, want %v", n, h, x[h], want)
				}
			}
		}
	}
	x, a, b := randomRow(random), randomRow(random), randomRow(random)
	var weights [Outputs][Hidden]float32
	copy(weights[0][:], a[:])
	copy(weights[1][:], b[:])
	for o, got := range Activate(&x, &weights) {
		want := float64(x[Hidden+o])
		for h, v := range x[:Hidden] {
			want += float64(weights[o][h]) * max(float64(v), 0)
		}
		if math.Abs(float64(got)-want) > 1e-5 {
			t.Errorf("correction %d is %v, want %v", o, got, want)
		}
	}
	before := x
	x.Add(Term{1, &a}, Term{-0.7, &b})
	for h := range x {
		if want := float64(before[h]) + float64(a[h]) - 0.7*float64(b[h]); math.Abs(float64(x[h])-want) > 1e-6 {
			t.Errorf("column %d with two terms is %v, want %v", h, x[h], want)
		}
	}
}

// Codes that don't ascend would be looked for in the wrong place.
func TestCodesAscend(t *testing.T) {
	for _, codes := range [][]uint32{{2, 1}, {5, 5}} {
		if _, err := newCodeTable(codes); err == nil {
			t.Errorf("%v is taken for a list of codes that ascend", codes)
		}
	}
}
