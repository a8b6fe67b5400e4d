package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"runtime"
	"strings"
	"text/tabwriter"

	"ionwright/internal/witness"
	"ionwright/mol"
	"ionwright/mol/smiles"
)

// rdkitSMILESSpeed prints the seconds of processor time of three passes of
// reading SMILES, and of reading and writing them as canonical ones.
const rdkitSMILESSpeed = `
import json, sys, time
from rdkit import Chem, RDLogger
RDLogger.DisableLog('rdApp.*')
given = json.load(sys.stdin)
out = {'version': Chem.rdBase.rdkitVersion, 'read': [], 'canonical': []}
for _ in range(3):
    start = time.process_time()
    for s in given:
        Chem.MolFromSmiles(s)
    out['read'].append(time.process_time() - start)
    start = time.process_time()
    for s in given:
        Chem.MolToSmiles(Chem.MolFromSmiles(s))
    out['canonical'].append(time.process_time() - start)
print(json.dumps(out))
`

// smilesSpeed prints how many SMILES a second are read, and turned into
// canonical ones, beside RDKit, on one core each.
func smilesSpeed(ctx context.Context, out io.Writer) error {
	records, err := sharedRecords("train.jsonl.gz")
	if err != nil {
		return err
	}
	var texts []string
	for _, r := range records {
		texts = append(texts, r.SMILES)
	}
	ours, err := ourSMILESSpeed(texts)
	if err != nil {
		return err
	}
	fmt.Fprintf(out, "%d structures, one core, processor time, median of the passes\n", len(texts))
	var theirs struct {
		Version         string
		Read, Canonical []float64
	}
	script, ok := witness.PythonCommand("rdkit", rdkitSMILESSpeed)
	if ok {
		stdin, err := json.Marshal(texts)
		if err != nil {
			return err
		}
		script.Stdin = strings.NewReader(string(stdin))
		answer, err := script.Output()
		if err != nil {
			return fmt.Errorf("running RDKit: %w", err)
		}
		if err := json.Unmarshal(answer, &theirs); err != nil {
			return err
		}
		fmt.Fprintf(out, "beside RDKit %s, called from Python\n", theirs.Version)
	} else {
		fmt.Fprintln(out, "RDKit is absent")
	}
	table := tabwriter.NewWriter(out, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(table, "work\tmolecules/s\tallocations each\tbytes each\tRDKit molecules/s\tratio\t")
	for _, row := range ours {
		n := float64(len(texts))
		fmt.Fprintf(table, "%s\t%.0f\t%.1f\t%.0f\t", row.work, n/row.seconds, float64(row.allocations)/n, float64(row.bytes)/n)
		seconds := theirs.Canonical
		if row.read {
			seconds = theirs.Read
		}
		if len(seconds) > 0 && row.compared {
			fmt.Fprintf(table, "%.0f\t%.1f\t", n/median(seconds), median(seconds)/row.seconds)
		}
		fmt.Fprintln(table)
	}
	return table.Flush()
}

// A smilesPass is one row of the table.
type smilesPass struct {
	work               string
	read, compared     bool
	seconds            float64
	allocations, bytes uint64 // of one pass
}

func ourSMILESSpeed(texts []string) ([]smilesPass, error) {
	molecules := make([]*mol.Mol, len(texts))
	read := func() error {
		for i, s := range texts {
			m, err := smiles.Parse(s)
			if err != nil {
				return err
			}
			molecules[i] = m
		}
		return nil
	}
	length := 0 // used, so that the work isn't left out
	both := func() error {
		for _, s := range texts {
			m, err := smiles.Parse(s)
			if err != nil {
				return err
			}
			length += len(smiles.Canonical(m))
		}
		return nil
	}
	write := func() error {
		for _, m := range molecules {
			length += len(smiles.Canonical(m))
		}
		return nil
	}
	rows := []smilesPass{{work: "read", read: true, compared: true}, {work: "canonical SMILES of what was read"}, {work: "SMILES to canonical SMILES", compared: true}}
	for r, work := range []func() error{read, write, both} {
		row := &rows[r]
		var seconds []float64
		for range 7 {
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			start := processorTime()
			if err := work(); err != nil {
				return nil, err
			}
			seconds = append(seconds, processorTime()-start)
			runtime.ReadMemStats(&after)
			row.allocations, row.bytes = after.Mallocs-before.Mallocs, after.TotalAlloc-before.TotalAlloc
		}
		row.seconds = median(seconds)
	}
	if length == 0 {
		return nil, fmt.Errorf("nothing was written")
	}
	return rows, nil
}
