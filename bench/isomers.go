package main

import (
	"context"
	"fmt"
	"io"
	"runtime"
	"text/tabwriter"
	"time"

	"ionwright/chem"
	"ionwright/isomer"
	"ionwright/mol/smiles"
	"ionwright/practice/rival"
)

// isomerSpeed prints how fast structures are made and counted, on one core, by
// processor time, and how long rivals take.
func isomerSpeed(ctx context.Context, out io.Writer) error {
	fmt.Fprintln(out, "every structure at lowest valences is made, one core, processor time, tables included")
	table := tabwriter.NewWriter(out, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(table, "formula\tstructures\tms\tmillion/s\tcounting, ms\t")
	for _, formula := range []string{"C6H6", "C8H10", "C10H16", "C10H16O", "C10H20O2", "C9H10O2", "C9H19NO2", "C20H42"} {
		s, err := isomer.New(chem.MustFormula(formula), isomer.Options{LowestValences: true})
		if err != nil {
			return err
		}
		start := processorTime()
		made := 0
		for _, err := range s.All(ctx) {
			if err != nil {
				return err
			}
			made++
		}
		making := processorTime() - start
		start = processorTime()
		if _, err := s.Count(ctx, 1); err != nil {
			return err
		}
		counting := processorTime() - start
		fmt.Fprintf(table, "%s\t%d\t%.1f\t%.2f\t%.1f\t\n", formula, made, 1e3*making, float64(made)/making/1e6, 1e3*counting)
	}
	if err := table.Flush(); err != nil {
		return err
	}
	var memory runtime.MemStats
	runtime.ReadMemStats(&memory)
	fmt.Fprintf(out, "memory taken from the system: %.0f MB\n\n", float64(memory.Sys)/1e6)
	return rivalSpeed(ctx, out)
}

// rivalSpeed prints the rivals of unknowns of which only the formula is told.
func rivalSpeed(ctx context.Context, out io.Writer) error {
	fmt.Fprintf(out, "rivals, formula and computed spectrum given, %d cores\n", runtime.NumCPU())
	table := tabwriter.NewWriter(out, 0, 0, 2, ' ', tabwriter.AlignRight)
	fmt.Fprintln(table, "answer\tsame\tclose\tcomputed\tpassed over\tseconds\tprocessor seconds\t")
	for _, text := range []string{"CCCC(C)=O", "CCOCC", "COC(=O)CCC", "Cc1ccc(C)cc1", "CCCc1ccccc1", "Cc1ccc(O)cc1", "CC(=O)c1ccccc1", "COC(=O)c1ccccc1"} {
		m, err := smiles.Parse(text)
		if err != nil {
			return err
		}
		start, began := processorTime(), time.Now()
		found, err := rival.Find(ctx, rival.Problem{Answer: m, FormulaGiven: true}, rival.Options{})
		if err != nil {
			return err
		}
		fmt.Fprintf(table, "%s\t%d\t%d\t%d\t%d\t%.1f\t%.1f\t\n", text, found.Same, found.Close, found.Computed, found.Passed,
			time.Since(began).Seconds(), processorTime()-start)
	}
	return table.Flush()
}
