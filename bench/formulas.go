package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"text/tabwriter"

	"ionwright/chem"
	"ionwright/compose"
	"ionwright/internal/witness"
)

// formulaSearch is one row of the table.
type formulaSearch struct {
	Mass float64 `json:"mass"` // Da
	PPM  float64 `json:"ppm"`
	name string
}

const formulaRanges = "C0-50 H0-100 N0-10 O0-15 S0-3 P0-2 F0-6 Cl0-4 Br0-4"

// mfFinderSpeed prints for each search the formulas found and the seconds of
// processor time.
const mfFinderSpeed = `
const { findMFs } = require('mf-finder');
(async () => {
  const { ranges, searches } = JSON.parse(require('fs').readFileSync(0));
  const answers = [];
  for (const q of searches) {
    const passes = q.ppm < 100 ? 5 : 1;
    const answer = { seconds: [] };
    for (let pass = 0; pass < passes; pass++) {
      const start = process.cpuUsage();
      const result = await findMFs(q.mass, { ranges, precision: q.ppm, allowNeutral: true, limit: 1e7, maxIterations: 1e12 });
      const used = process.cpuUsage(start);
      answer.seconds.push((used.user + used.system) / 1e6);
      answer.found = result.mfs.length;
    }
    answers.push(answer);
  }
  console.log(JSON.stringify({ answers }));
})();
`

// formulaSpeed prints how long all formulas of a mass take, beside the npm
// library mf-finder, on one core each.
func formulaSpeed(ctx context.Context, out io.Writer) error {
	var searches []formulaSearch
	for _, mass := range []float64{300.1, 450.15, 600.2} {
		searches = append(searches, formulaSearch{mass, 5, fmt.Sprintf("%.2f within 5 ppm", mass)})
	}
	for _, mass := range []float64{300.1, 450.15, 600.2} {
		searches = append(searches, formulaSearch{mass, 0.5 / mass * 1e6, fmt.Sprintf("%.2f within 0.5 Da", mass)})
	}
	stdin, err := json.Marshal(map[string]any{"ranges": formulaRanges, "searches": searches})
	if err != nil {
		return err
	}
	var theirs struct {
		Answers []struct {
			Found   int
			Seconds []float64
		}
	}
	if err := reference(witness.NodeCommand(mfFinderSpeed))(stdin, &theirs); err != nil {
		return fmt.Errorf("running mf-finder: %w", err)
	}
	elements, err := compose.Elements(map[string]int{"C": 50, "H": 100, "N": 10, "O": 15, "S": 3, "P": 2, "F": 6, "Cl": 4, "Br": 4})
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "%s, one core, processor time, median of the passes; ours one by one, theirs as a sorted list\n", formulaRanges)
	table := tabwriter.NewWriter(out, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(table, "search\tformulas\tours, ms\tallocations\tsorted list, ms\tmf-finder's formulas\tms\tratio\tratio of the list\t")
	for i, q := range searches {
		space := compose.Space{Elements: elements}
		tolerance := compose.Tolerance{Value: q.PPM, Unit: compose.PPM}
		found := 0
		each, allocations := timed(15, func() {
			found = 0
			for _, err = range space.Each(ctx, chem.Mass(q.Mass), tolerance) {
				found++
			}
		})
		if err != nil {
			return err
		}
		list, _ := timed(5, func() { _, err = space.Find(ctx, chem.Mass(q.Mass), tolerance) })
		if err != nil {
			return err
		}
		fmt.Fprintf(table, "%s\t%d\t%.3f\t%d\t%.3f\t", q.name, found, each*1000, allocations, list*1000)
		if i < len(theirs.Answers) {
			t := theirs.Answers[i]
			fmt.Fprintf(table, "%d\t%.1f\t%.0f\t%.0f\t", t.Found, median(t.Seconds)*1000, median(t.Seconds)/each, median(t.Seconds)/list)
		} else {
			fmt.Fprint(table, "absent\t\t\t\t")
		}
		fmt.Fprintln(table)
	}
	return table.Flush()
}
