package main

import (
	"context"
	"fmt"
	"io"
	"runtime"
	"time"

	"ionwright/chem"
	"ionwright/ionize"
	"ionwright/mol"
	"ionwright/mol/smiles"
)

// predictSpeed prints how many spectra a second one core computes, by the size
// of the molecule, and the memory that a long stream of them takes.
func predictSpeed(ctx context.Context, out io.Writer) error {
	records, err := sharedRecords("train.jsonl.gz")
	if err != nil {
		return err
	}
	bands := []struct {
		name     string
		from, to int // atoms other than hydrogen
		carbons  int // 0 for any number
	}{
		{"ten carbons", 10, 14, 10},
		{"10 to 19 heavy atoms", 10, 19, 0},
		{"20 to 29 heavy atoms", 20, 29, 0},
		{"30 to 40 heavy atoms", 30, 40, 0},
	}
	const most = 150 // structures a band
	start := processorTime()
	ionize.Fitted()
	fmt.Fprintf(out, "reading the fitted table, once: %.0f ms\n\n", 1000*(processorTime()-start))
	fmt.Fprintf(out, "%-22s %10s %12s %14s %14s\n", "", "structures", "a second", "ms, mean", "ms, longest")
	seen := map[string]bool{}
	var parsed []*mol.Mol
	for _, r := range records {
		if seen[r.SMILES] {
			continue
		}
		seen[r.SMILES] = true
		if m, err := smiles.Parse(r.SMILES); err == nil {
			parsed = append(parsed, m)
		}
	}
	for _, band := range bands {
		n, total, longest := 0, 0.0, 0.0
		for _, m := range parsed {
			heavy := m.NumAtoms()
			if n == most || heavy < band.from || heavy > band.to || band.carbons > 0 && m.Formula().Count(chem.C) != band.carbons {
				continue
			}
			start := processorTime()
			if _, err := ionize.Predict(ctx, m, ionize.Settings{}); err != nil {
				if ctx.Err() != nil {
					return ctx.Err()
				}
				continue
			}
			took := processorTime() - start
			n, total, longest = n+1, total+took, max(longest, took)
		}
		fmt.Fprintf(out, "%-22s %10d %12.0f %14.1f %14.1f\n", band.name, n, float64(n)/total, 1000*total/float64(n), 1000*longest)
	}
	return streamMemory(ctx, out, parsed)
}

// streamMemory computes one spectrum after the other and prints the most
// memory that was held between them.
func streamMemory(ctx context.Context, out io.Writer, molecules []*mol.Mol) error {
	const spectra = 1000
	most := uint64(0)
	start := time.Now()
	for i := range spectra {
		if _, err := ionize.Predict(ctx, molecules[i%len(molecules)], ionize.Settings{}); err != nil && ctx.Err() != nil {
			return ctx.Err()
		}
		if i%20 == 0 {
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			most = max(most, m.Sys-m.HeapReleased)
		}
	}
	fmt.Fprintf(out, "\n%d spectra in %.0f s of wall time: at most %d MB from the operating system\n", spectra, time.Since(start).Seconds(), most>>20)
	return nil
}
