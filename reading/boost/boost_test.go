package boost

import (
	"bytes"
	"math"
	"math/rand/v2"
	"testing"
)

func xorRows(n int) (rows [][]float32, labels []bool) {
	random := rand.New(rand.NewPCG(1, 2))
	for range n {
		a, b, noise := random.Float32(), random.Float32(), random.Float32()
		rows = append(rows, []float32{a, b, noise})
		labels = append(labels, (a > 0.5) != (b > 0.3))
	}
	return rows, labels
}

func fitXor(t *testing.T) (*Ensemble, [][]float32, []bool) {
	t.Helper()
	rows, labels := xorRows(2000)
	e, err := Fit(NewTable(rows), Logistic(labels, nil), Settings{Rounds: 60, Leaves: 6, MinWeight: 1, L2: 1, Rate: 0.2, RowShare: 0.8, FeatureShare: 1, Seed: 7})
	if err != nil {
		t.Fatal(err)
	}
	return e, rows, labels
}

// Exclusive or can't be told by any sum of one-feature functions: only real
// trees learn it.
func TestFitLearnsExclusiveOr(t *testing.T) {
	e, _, _ := fitXor(t)
	random := rand.New(rand.NewPCG(3, 4))
	wrong := 0
	for range 1000 {
		a, b := random.Float32(), random.Float32()
		if (e.Score([]float32{a, b, 0.5}) > 0) != ((a > 0.5) != (b > 0.3)) {
			wrong++
		}
	}
	if wrong > 40 { // 4 %: points near the two borders
		t.Errorf("%d of 1000 fresh points are on the wrong side", wrong)
	}
}

func TestContributionsSumToTheScore(t *testing.T) {
	e, rows, _ := fitXor(t)
	for _, row := range rows[:50] {
		contributions := make([]float64, e.Width())
		score, mean := e.Explain(row, contributions)
		sum := mean
		for _, c := range contributions {
			sum += c
		}
		if math.Abs(sum-score) > 1e-4 || math.Abs(score-e.Score(row)) > 1e-9 { // float32 leaves, 60 trees
			t.Fatalf("row %v: contributions sum to %g, explained score %g, score %g", row, sum, score, e.Score(row))
		}
	}
}

func TestScoresOfManyRows(t *testing.T) {
	e, rows, _ := fitXor(t)
	for i, s := range e.Scores(rows[:40]) {
		if s != e.Score(rows[i]) {
			t.Fatalf("row %d scores %g alone and %g among others", i, e.Score(rows[i]), s)
		}
	}
}

func TestSameSeedSameEnsemble(t *testing.T) {
	var one, two bytes.Buffer
	a, _, _ := fitXor(t)
	b, _, _ := fitXor(t)
	if err := a.Write(&one); err != nil {
		t.Fatal(err)
	}
	if err := b.Write(&two); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(one.Bytes(), two.Bytes()) {
		t.Error("two fits with one seed differ")
	}
}

func TestWriteThenRead(t *testing.T) {
	e, rows, _ := fitXor(t)
	var buf bytes.Buffer
	if err := e.Write(&buf); err != nil {
		t.Fatal(err)
	}
	back, err := Read(&buf)
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows[:50] {
		if back.Score(row) != e.Score(row) {
			t.Fatalf("row %v scores %g before and %g after", row, e.Score(row), back.Score(row))
		}
	}
}

func TestChoiceFindsTheMarkedRow(t *testing.T) {
	random := rand.New(rand.NewPCG(5, 6))
	var rows [][]float32
	var starts, chosen []int
	for range 400 {
		starts = append(starts, len(rows))
		n := 3 + random.IntN(5)
		best, at := float32(-1), 0
		for k := range n {
			v := random.Float32()
			if v > best {
				best, at = v, len(rows)
			}
			rows = append(rows, []float32{v, float32(k)})
		}
		chosen = append(chosen, at)
	}
	starts = append(starts, len(rows))
	e, err := Fit(NewTable(rows), Choice(starts, chosen, nil), Settings{Rounds: 80, Leaves: 8, MinWeight: 1, L2: 1, Rate: 0.2, RowShare: 1, FeatureShare: 1})
	if err != nil {
		t.Fatal(err)
	}
	right := 0
	for g, want := range chosen {
		best := starts[g]
		for i := starts[g]; i < starts[g+1]; i++ {
			if e.Score(rows[i]) > e.Score(rows[best]) {
				best = i
			}
		}
		if best == want {
			right++
		}
	}
	if right < 340 { // 85 %: the largest value decides, bins of 1/64 blur near ties
		t.Errorf("the largest value's row is chosen in %d of 400 groups", right)
	}
}

func TestFitRefusesNonsense(t *testing.T) {
	rows, labels := xorRows(10)
	if _, err := Fit(NewTable(rows), Logistic(labels, nil), Settings{}); err == nil {
		t.Error("settings without rounds are accepted")
	}
	if _, err := Fit(NewTable(nil), Logistic(nil, nil), Settings{Rounds: 1, Leaves: 2, Rate: 1, RowShare: 1, FeatureShare: 1}); err == nil {
		t.Error("an empty table is accepted")
	}
}

func FuzzRead(f *testing.F) {
	rows, labels := xorRows(100)
	e, err := Fit(NewTable(rows), Logistic(labels, nil), Settings{Rounds: 2, Leaves: 3, MinWeight: 1, L2: 1, Rate: 1, RowShare: 1, FeatureShare: 1})
	if err != nil {
		f.Fatal(err)
	}
	var buf bytes.Buffer
	if err := e.Write(&buf); err != nil {
		f.Fatal(err)
	}
	f.Add(buf.Bytes())
	f.Add([]byte("no trees"))
	f.Fuzz(func(t *testing.T, data []byte) {
		e, err := Read(bytes.NewReader(data))
		if err != nil {
			return
		}
		e.Score(make([]float32, e.Width()))
	})
}
