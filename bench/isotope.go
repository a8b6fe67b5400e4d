package main

import (
	"bytes"
	"context"
	"encoding/json"
	"fmt"
	"io"
	"os/exec"
	"runtime"
	"text/tabwriter"

	"ionwright/chem"
	"ionwright/internal/witness"
	"ionwright/isotope"
)

// isoSpecSpeed computes each formula's pattern by mass number, covering 0.999,
// and its isotopologues above 1e-4; it prints the seconds of processor time of
// three passes of each.
const isoSpecSpeed = `
import json, sys, time
from IsoSpecPy import IsoTotalProb, IsoThreshold
formulas = json.load(sys.stdin)
out = {'unit': [], 'fine': []}
for _ in range(3):
    start = time.process_time()
    for f in formulas:
        bins = {}
        for mass, p in IsoTotalProb(0.999, f):
            k = round(mass)
            bins[k] = bins.get(k, 0.0) + p
    out['unit'].append(time.process_time() - start)
    start = time.process_time()
    for f in formulas:
        for mass, p in IsoThreshold(1e-4, f, absolute=True):
            pass
    out['fine'].append(time.process_time() - start)
print(json.dumps(out))
`

// npmIsotopeSpeed does the first of these with the npm library.
const npmIsotopeSpeed = `
const { IsotopicDistribution } = require('isotopic-distribution');
const formulas = JSON.parse(require('fs').readFileSync(0));
const out = { unit: [] };
for (let pass = 0; pass < 3; pass++) {
  const start = process.cpuUsage();
  for (const f of formulas) new IsotopicDistribution(f, { fwhm: 0.5 }).getDistribution();
  const used = process.cpuUsage(start);
  out.unit.push((used.user + used.system) / 1e6);
}
console.log(JSON.stringify(out));
`

// isotopeSpeed prints how many isotope patterns a second are computed, beside
// IsoSpec and an npm library, on one core each.
func isotopeSpeed(ctx context.Context, out io.Writer) error {
	formulas, err := distinctFormulas()
	if err != nil {
		return err
	}
	texts := make([]string, len(formulas))
	for i, f := range formulas {
		texts[i] = f.String()
	}
	stdin, err := json.Marshal(texts)
	if err != nil {
		return err
	}
	var isoSpec, npm struct{ Unit, Fine []float64 }
	if err := reference(witness.PythonCommand("IsoSpecPy", isoSpecSpeed))(stdin, &isoSpec); err != nil {
		return fmt.Errorf("running IsoSpec: %w", err)
	}
	if err := reference(witness.NodeCommand(npmIsotopeSpeed))(stdin, &npm); err != nil {
		return fmt.Errorf("running isotopic-distribution: %w", err)
	}
	fmt.Fprintf(out, "%d formulas, one core, processor time, median of the passes\n", len(formulas))
	var dst []float64
	unit, unitAllocations := timed(51, func() {
		for _, f := range formulas {
			_, dst = isotope.AppendUnit(dst[:0], f)
		}
	})
	fine, fineAllocations := timed(7, func() {
		for _, f := range formulas {
			if _, err = isotope.Fine(f, 1e-4); err != nil {
				return
			}
		}
	})
	if err != nil {
		return err
	}
	n := float64(len(formulas))
	table := tabwriter.NewWriter(out, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(table, "work\tours/s\tallocations each\tIsoSpec from Python/s\tratio\tisotopic-distribution/s\tratio\t")
	fmt.Fprintf(table, "by mass number\t%.0f\t%.2f\t%s%s\n", n/unit, float64(unitAllocations)/n, beside(n, unit, isoSpec.Unit), beside(n, unit, npm.Unit))
	fmt.Fprintf(table, "isotopologues above 1e-4\t%.0f\t%.2f\t%s%s\n", n/fine, float64(fineAllocations)/n, beside(n, fine, isoSpec.Fine), "\t\t")
	return table.Flush()
}

// distinctFormulas are those of the training spectra.
func distinctFormulas() ([]chem.Formula, error) {
	records, err := sharedRecords("train.jsonl.gz")
	if err != nil {
		return nil, err
	}
	seen := map[chem.Formula]bool{}
	var formulas []chem.Formula
	for _, r := range records {
		f, err := chem.ParseFormula(r.Formula)
		if err != nil {
			return nil, err
		}
		if !seen[f] {
			seen[f] = true
			formulas = append(formulas, f)
		}
	}
	return formulas, nil
}

// reference returns a function that runs a reference's command and reads its
// JSON answer; where the command is absent it leaves the answer as it is.
func reference(cmd *exec.Cmd, present bool) func(stdin []byte, answer any) error {
	return func(stdin []byte, answer any) error {
		if !present {
			return nil
		}
		cmd.Stdin = bytes.NewReader(stdin)
		printed, err := cmd.Output()
		if err != nil {
			return err
		}
		return json.Unmarshal(printed, answer)
	}
}

// timed returns the median processor time of the passes in seconds, and the
// allocations of the last.
func timed(passes int, work func()) (seconds float64, allocations uint64) {
	var all []float64
	for range passes {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		start := processorTime()
		work()
		all = append(all, processorTime()-start)
		runtime.ReadMemStats(&after)
		allocations = after.Mallocs - before.Mallocs
	}
	return median(all), allocations
}

// beside is the two cells of a reference: its rate, and how many times ours is.
func beside(n, ours float64, theirs []float64) string {
	if len(theirs) == 0 {
		return "absent\t\t"
	}
	return fmt.Sprintf("%.0f\t%.1f\t", n/median(theirs), median(theirs)/ours)
}
