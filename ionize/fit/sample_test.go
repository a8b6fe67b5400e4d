package fit

import (
	"cmp"
	"context"
	"slices"
	"testing"

	"ionwright/internal/fixture"
	"ionwright/ionize"
	"ionwright/mol/smiles"
)

// TestSampleOfTable finds some rows of the fitted table again: each is set to
// zero, the handbook value, and fitted to the measured spectra that the tests
// carry, all other rows held fast. The loss has to come down by most of what
// the row in the table brings it down by.
func TestSampleOfTable(t *testing.T) {
	var samples []*Sample
	for _, r := range fixture.Measured(t) {
		if r.EV != 70 || len(r.Peaks) < 5 {
			continue
		}
		structure, err := smiles.Parse(r.SMILES)
		if err != nil {
			t.Fatal(err)
		}
		n, err := ionize.Record(context.Background(), structure, ionize.Settings{EnergyEV: 70}, ionize.Fitted())
		if err != nil {
			t.Logf("%s: %v", r.Name, err)
			continue
		}
		peaks := map[int]float64{}
		for _, p := range r.Peaks {
			peaks[int(p[0])] = p[1]
		}
		samples = append(samples, &Sample{SMILES: r.SMILES, Network: n, Spectra: []map[int]float64{peaks}})
	}
	if len(samples) < 30 {
		t.Fatalf("only %d spectra to fit to", len(samples))
	}
	// Rows that matter to some spectra, but not to so many that the test takes long.
	const fewest, most, tried, found = 5, 12, 40, 4
	index, seen := vocabulary(samples, 1)
	table := ionize.Fitted()
	m := &Model{Index: index, Seen: seen, Rows: make([]ionize.Row, len(index)), Dense: table.Dense, Bias: table.Bias, Out: table.Out, Warmth: table.Warmth}
	for code, r := range index {
		m.Rows[r], _ = table.Of(code)
	}
	examples := layOut(samples, index, 1)
	using := make([][]*example, len(m.Rows))
	for _, e := range examples {
		for _, r := range e.codes {
			using[r] = append(using[r], e)
		}
	}
	set := Settings{Blend: 0.6}
	var w worker
	loss := func(r int) float64 {
		sum := 0.0
		for _, e := range using[r] {
			w.predict(m, e, 0, nil)
			a, b := w.cosines(e, set.Blend, false)
			sum += set.Blend*(1-a) + (1-set.Blend)*(1-b)
		}
		return sum
	}
	var rows []int
	for r := range m.Rows {
		if n := len(using[r]); n >= fewest && n <= most {
			rows = append(rows, r)
		}
	}
	slices.SortStableFunc(rows, func(a, b int) int { return cmp.Compare(m.effect(&m.Rows[b]), m.effect(&m.Rows[a])) })
	if len(rows) < tried {
		t.Fatalf("only %d rows matter to these spectra", len(rows))
	}
	type effect struct {
		row        int
		with, gain float64
	}
	var effects []effect
	zero := ionize.Row{}
	for _, r := range rows[:tried] {
		with, row := loss(r), m.Rows[r]
		m.Rows[r] = zero
		effects = append(effects, effect{r, with, loss(r) - with})
		m.Rows[r] = row
	}
	slices.SortStableFunc(effects, func(a, b effect) int { return cmp.Compare(b.gain, a.gain) })
	for _, x := range effects[:found] {
		if x.gain <= 0 {
			t.Fatalf("row %d: the spectra it matters to fit no worse without it", x.row)
		}
		old := m.Rows[x.row]
		m.Rows[x.row] = zero
		opt, sum, best := &adagrad{start: 1e-3}, ionize.Row{}, x.with+x.gain
		for range 15 {
			for _, e := range using[x.row] {
				w.learn(m, e, set, nil)
				if at := slices.Index(e.codes, int32(x.row)); w.touched[at] {
					opt.apply(&m.Rows[x.row], &w.grads[at], &sum, 0.06, 0)
				}
			}
			best = min(best, loss(x.row))
		}
		m.Rows[x.row] = old
		t.Logf("row %d, %d spectra: loss %.4f with the row, %.4f without, %.4f fitted again", x.row, len(using[x.row]), x.with, x.with+x.gain, best)
		if regained := x.with + x.gain - best; regained < 0.6*x.gain {
			t.Errorf("row %d, of %d spectra: the loss is %.3f with the row in the table, %.3f with none, and %.3f at best when it is fitted again",
				x.row, len(using[x.row]), x.with, x.with+x.gain, best)
		}
	}
}
