package compose

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"testing"

	"ionwright/chem"
	"ionwright/internal/witness"
)

// search is one question to the witness.
type search struct {
	Mass   float64 `json:"mass"`
	PPM    float64 `json:"ppm"`
	Ranges string  `json:"ranges"`
	DBE    bool    `json:"dbe"` // whole and not negative
	Ion    bool    `json:"ion"` // a cation of charge one, mass being its m/z
}

// The same sets as the witness finds, under the same rules.
func TestFindAgainstMFFinder(t *testing.T) {
	searches := []search{
		{Mass: 300.1, PPM: 5, Ranges: common},
		{Mass: 300.1, PPM: 5, Ranges: common, DBE: true},
		{Mass: 450.15, PPM: 5, Ranges: common},
		{Mass: 600.2, PPM: 5, Ranges: common, DBE: true},
		{Mass: 180.06339, PPM: 20, Ranges: "C0-30 H0-60 N0-5 O0-10"},
		{Mass: 110.0732, PPM: 1000, Ranges: "C0-9 H0-20 N0-4 O0-6 S0-2"},
		{Mass: 120.5, PPM: 5000, Ranges: "C0-9 H0-20 N0-4 O0-6 Si0-3"},
		{Mass: 195.0877, PPM: 10, Ranges: "C0-20 H0-40 N0-8 O0-8", Ion: true},
		{Mass: 73.0468, PPM: 10, Ranges: "C0-6 H0-14 Si0-2 O0-3", Ion: true},
	}
	stdin, err := json.Marshal(searches)
	if err != nil {
		t.Fatal(err)
	}
	answer := witness.Node(t, `
const { findMFs } = require('mf-finder');
(async () => {
  const answers = [];
  for (const q of JSON.parse(require('fs').readFileSync(0))) {
    const options = { ranges: q.ranges.split(' ').join(' '), precision: q.ppm, allowNeutral: true, limit: 1e7, maxIterations: 1e12 };
    if (q.dbe) options.filter = { unsaturation: { min: 0, onlyInteger: true } };
    if (q.ion) { options.ionizations = '(+)'; options.allowNeutral = false; }
    const result = await findMFs(q.mass, options);
    answers.push(result.mfs.map((x) => x.mf));
  }
  console.log(JSON.stringify(answers));
})();`, stdin)
	var answers [][]string
	if err := json.Unmarshal(answer, &answers); err != nil {
		t.Fatal(err)
	}
	for i, q := range searches {
		name := fmt.Sprintf("%g within %g ppm, %s, dbe %v, ion %v", q.Mass, q.PPM, q.Ranges, q.DBE, q.Ion)
		s := space(t, q.Ranges)
		if q.Ion {
			s.Charge = 1
		}
		if q.DBE {
			s.DBE = &Interval{0, 1000}
		}
		found, err := s.Find(context.Background(), chem.Mass(q.Mass), Tolerance{q.PPM, PPM})
		if err != nil {
			t.Fatal(err)
		}
		var got, want []string
		for _, c := range found {
			if q.DBE && c.Formula.DBE() != float64(int(c.Formula.DBE())) {
				continue
			}
			got = append(got, c.Formula.WithCharge(0).String())
		}
		for _, text := range answers[i] {
			f, err := chem.ParseFormula(text)
			if err != nil {
				t.Fatalf("the witness's formula: %v", err)
			}
			want = append(want, f.WithCharge(0).String())
		}
		slices.Sort(got)
		slices.Sort(want)
		if len(want) == 0 {
			t.Errorf("%s: the witness finds nothing", name)
		}
		if d := difference(got, want); d != "" {
			t.Errorf("%s: %s", name, d)
		}
		t.Logf("%s: %d formulas", name, len(want))
	}
}
