package ionize

import (
	"bytes"
	"math"
	"slices"
	"testing"
)

func TestCorrectionsFile(t *testing.T) {
	want := &Corrections{Provenance: "a test's table"}
	want.Bias[3], want.Dense[2][1], want.Out[1][4] = 1, 2, 3
	codes := []uint32{7, 1 << 20, 1<<20 + 8, 4000000000}
	rows := make([]Row, len(codes))
	for i := range rows {
		for h := range rows[i] {
			rows[i][h] = float32(i+1) * float32(h-8) / 10
		}
	}
	var file bytes.Buffer
	if err := WriteCorrections(&file, want, codes, rows); err != nil {
		t.Fatal(err)
	}
	whole := file.Bytes()
	got, err := ReadCorrections(bytes.NewReader(whole))
	if err != nil {
		t.Fatal(err)
	}
	if got.Provenance != want.Provenance || got.Bias != want.Bias || got.Dense != want.Dense || got.Out != want.Out {
		t.Error("the shared layers didn't come back")
	}
	for i, code := range codes {
		back, ok := got.Of(code)
		if !ok {
			t.Fatalf("code %d is lost", code)
		}
		for h, v := range rows[i] {
			if math.Abs(float64(back[h]-v)) > float64(got.unit[h]) {
				t.Errorf("row %d, place %d: %g, want %g", i, h, back[h], v)
			}
		}
	}
	many := slices.Repeat(codes[3:], mostSummed)
	var sum Row
	if got.sum(&sum, got.find(nil, many), 1); math.Abs(float64(sum[Width-1]-mostSummed*rows[3][Width-1])) > float64(mostSummed*got.unit[Width-1]) {
		t.Errorf("%d rows of %g sum up to %g", mostSummed, rows[3][Width-1], sum[Width-1])
	}
	if _, ok := got.Of(12345); ok {
		t.Error("an unknown code has a row")
	}
	for _, n := range []int{0, 5, len(whole) / 2, len(whole) - 9} {
		if _, err := ReadCorrections(bytes.NewReader(whole[:n])); err == nil {
			t.Errorf("the first %d bytes are taken for a table", n)
		}
	}
}
