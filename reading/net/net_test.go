package net

import (
	"bytes"
	"context"
	"math"
	"math/rand/v2"
	"testing"
)

// rows is exclusive or of two inputs, beside an input without meaning; the
// second label is the first input, the third is unknown.
type rows struct {
	inputs [][]Input
	labels [][]float32
}

func (r rows) Len() int                        { return len(r.inputs) }
func (r rows) Row(i int, _ *rand.Rand) []Input { return r.inputs[i] }
func (r rows) Labels(i int) []float32          { return r.labels[i] }
func (r rows) Weight(int) float32              { return 1 }
func label(b bool) float32 {
	if b {
		return 1
	}
	return 0
}

func exclusiveOr(n int, seed uint64) rows {
	random := rand.New(rand.NewPCG(seed, 1))
	var r rows
	for range n {
		a, b, noise := random.Float32(), random.Float32(), random.Float32()
		r.inputs = append(r.inputs, []Input{{0, a}, {1, b}, {2, noise}})
		r.labels = append(r.labels, []float32{label((a > 0.5) != (b > 0.5)), label(a > 0.5), -1})
	}
	return r
}

func fitted(t *testing.T) *Net {
	t.Helper()
	n, err := Fit(context.Background(), exclusiveOr(800, 1), Settings{Inputs: 3, One: 24, Two: 12, Outputs: 3, Epochs: 80, Batch: 16, Rate: 5e-3, Seed: 3})
	if err != nil {
		t.Fatal(err)
	}
	return n
}

func TestFitLearnsExclusiveOr(t *testing.T) {
	n := fitted(t)
	fresh := exclusiveOr(500, 2)
	var wrong [2]int
	for i, row := range fresh.inputs {
		for k, s := range n.Scores(row)[:2] {
			if (s > 0) != (fresh.labels[i][k] > 0.5) {
				wrong[k]++
			}
		}
	}
	if wrong[0] > 40 || wrong[1] > 25 { // 8 and 5 %: points near the borders
		t.Errorf("of 500 fresh points %d and %d are wrong", wrong[0], wrong[1])
	}
}

// Slopes is the derivative: compare with a small step.
func TestSlopes(t *testing.T) {
	n := fitted(t)
	row := []Input{{0, 0.3}, {1, 0.8}}
	slopes := n.Slopes(row, 0)
	for k := range row {
		const step = 1e-3
		moved := []Input{row[0], row[1]}
		moved[k].Value *= 1 + step
		got := float64(n.Scores(moved)[0]-n.Scores(row)[0]) / step
		if math.Abs(got-float64(slopes[k])) > 0.02*math.Max(1, math.Abs(got)) {
			t.Errorf("input %d: slope %v, by a small step %v", k, slopes[k], got)
		}
	}
}

func TestSameSeedSameNet(t *testing.T) {
	var one, two bytes.Buffer
	if err := fitted(t).Write(&one); err != nil {
		t.Fatal(err)
	}
	if err := fitted(t).Write(&two); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(one.Bytes(), two.Bytes()) {
		t.Error("two fits with one seed differ")
	}
}

// Weights are stored in eight bits: scores come back nearly the same, and a
// second writing gives the same bytes.
func TestWriteThenRead(t *testing.T) {
	n := fitted(t)
	var first, second bytes.Buffer
	if err := n.Write(&first); err != nil {
		t.Fatal(err)
	}
	back, err := Read(bytes.NewReader(first.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range exclusiveOr(50, 9).inputs {
		for k, s := range n.Scores(row)[:2] {
			if d := math.Abs(float64(back.Scores(row)[k] - s)); d > 0.1*math.Max(3, math.Abs(float64(s))) {
				t.Fatalf("row %v output %d: %v before, %v after", row, k, s, back.Scores(row)[k])
			}
		}
	}
	if err := back.Write(&second); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(first.Bytes(), second.Bytes()) {
		t.Error("writing what was read gives other bytes")
	}
}

func TestFitRefusesNonsense(t *testing.T) {
	if _, err := Fit(context.Background(), exclusiveOr(10, 1), Settings{}); err == nil {
		t.Error("settings of zero are accepted")
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Fit(ctx, exclusiveOr(10, 1), Settings{Inputs: 3, One: 2, Two: 2, Outputs: 3, Epochs: 1, Batch: 1, Rate: 1}); err == nil {
		t.Error("a cancelled fit goes on")
	}
}

func FuzzRead(f *testing.F) {
	n, err := Fit(context.Background(), exclusiveOr(10, 1), Settings{Inputs: 3, One: 2, Two: 2, Outputs: 3, Epochs: 1, Batch: 4, Rate: 1e-3})
	if err != nil {
		f.Fatal(err)
	}
	var buf bytes.Buffer
	if err := n.Write(&buf); err != nil {
		f.Fatal(err)
	}
	f.Add(buf.Bytes())
	f.Add([]byte("no network at all, but long enough"))
	f.Fuzz(func(t *testing.T, data []byte) {
		if n, err := Read(bytes.NewReader(data)); err == nil {
			n.Scores([]Input{{0, 1}})
		}
	})
}

// The first outputs alone are those of the whole network.
func TestFirst(t *testing.T) {
	n := fitted(t)
	row := []Input{{0, 1}, {2, 0.5}}
	whole, cut := n.Scores(row), n.First(2).Scores(row)
	if len(cut) != 2 || cut[0] != whole[0] || cut[1] != whole[1] {
		t.Errorf("the first two of %v are %v", whole, cut)
	}
}
