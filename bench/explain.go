package main

import (
	"cmp"
	"context"
	"fmt"
	"hash/fnv"
	"io"
	"runtime"
	"slices"
	"sync"

	"ionwright/ionize"
	"ionwright/mol"
	"ionwright/mol/smiles"
	"ionwright/spectrum"
)

// decoysOf is how many wrong structures each spectrum is explained by.
const decoysOf = 5

// told is a structure of the validation part with the share of its measured
// ion current that it explains, and that its decoys do.
type told struct {
	smiles       string
	mass         int
	classes      []string
	own          float64
	decoys       []float64 // measured isomers first
	measuredOnes int       // how many of the decoys are of the data
	left         []string  // strong peaks without explanation
	err          error
}

// explainAccuracy prints figure G on the validation part: the share of the
// measured ion current on peaks with a route of at most four steps, beside the
// same for decoys: other measured structures of the formula, and where these
// are fewer than five, rewired ones.
func explainAccuracy(ctx context.Context, out io.Writer) error {
	all, err := validationStructures()
	if err != nil {
		return err
	}
	isomers, err := structuresByFormula()
	if err != nil {
		return err
	}
	results := make([]*told, len(all))
	next := make(chan int)
	var group sync.WaitGroup
	for range runtime.GOMAXPROCS(0) {
		group.Go(func() {
			for i := range next {
				results[i] = tellOne(ctx, all[i], isomers[all[i].formula])
			}
		})
	}
	for i := range all {
		if ctx.Err() != nil {
			break
		}
		next <- i
	}
	close(next)
	group.Wait()
	if ctx.Err() != nil {
		return ctx.Err()
	}
	var done []*told
	for _, t := range results {
		if t.err != nil {
			fmt.Fprintf(out, "left out: %s: %v\n", t.smiles, t.err)
			continue
		}
		done = append(done, t)
	}
	printTold(out, done)
	return nil
}

// structuresByFormula lists the structures of all classes by formula.
func structuresByFormula() (map[string][]string, error) {
	records, err := sharedRecords("train.jsonl.gz")
	if err != nil {
		return nil, err
	}
	by := map[string][]string{}
	for _, r := range records {
		if !slices.Contains(by[r.Formula], r.SMILES) {
			by[r.Formula] = append(by[r.Formula], r.SMILES)
		}
	}
	return by, nil
}

// tellOne explains the spectra of one structure by it and by its decoys.
func tellOne(ctx context.Context, s *compared, isomers []string) *told {
	t := &told{smiles: s.smiles, mass: s.mass}
	m, err := smiles.Parse(s.smiles)
	if err != nil {
		t.err = err
		return t
	}
	t.classes = classesOf(m)
	share, a, err := explainAll(ctx, m, s.measured)
	if err != nil {
		t.err = err
		return t
	}
	t.own = share
	for _, peak := range a.Peaks {
		if !peak.Explained && peak.MZ >= a.From && peak.Relative >= 10 {
			t.left = append(t.left, fmt.Sprintf("%d: %.0f (%.0f)", peak.MZ, peak.Relative, peak.Computed))
		}
	}
	var decoys []*mol.Mol
	for _, text := range shuffled(s.smiles, isomers) {
		if other, err := smiles.Parse(text); err == nil && smiles.Canonical(other) != smiles.Canonical(m) && len(decoys) < decoysOf {
			decoys = append(decoys, other)
		}
	}
	t.measuredOnes = len(decoys)
	decoys = append(decoys, rewired(m, decoysOf-len(decoys))...)
	for _, decoy := range decoys {
		if share, _, err := explainAll(ctx, decoy, s.measured); err == nil {
			t.decoys = append(t.decoys, share)
		}
	}
	return t
}

// explainAll is the mean share that a structure explains of the spectra, and
// the assignment of the first.
func explainAll(ctx context.Context, m *mol.Mol, measured []spectrum.Spectrum) (float64, *ionize.Assignment, error) {
	p, err := ionize.Predict(ctx, m, ionize.Settings{})
	if err != nil {
		return 0, nil, err
	}
	var first *ionize.Assignment
	sum := 0.0
	for _, s := range measured {
		a := p.Assign(s)
		sum += a.Explained
		if first == nil {
			first = a
		}
	}
	return sum / float64(len(measured)), first, nil
}

// shuffled is the list in an order that depends on key alone.
func shuffled(key string, list []string) []string {
	place := func(s string) uint64 {
		sum := fnv.New64a()
		sum.Write([]byte(key + " " + s))
		return sum.Sum64()
	}
	out := slices.Clone(list)
	slices.SortFunc(out, func(a, b string) int { return cmp.Compare(place(a), place(b)) })
	return out
}

func mean(x []float64) float64 {
	sum := 0.0
	for _, v := range x {
		sum += v
	}
	return sum / float64(max(len(x), 1))
}

// printTold prints figure G by mass and by class, and the worst structures.
func printTold(out io.Writer, done []*told) {
	fmt.Fprintf(out, "explained share of the ion current (G), decoys beside it: of the data, and rewired\n")
	fmt.Fprintf(out, "%-24s %5s %7s %10s %6s %8s %6s %7s\n", "", "n", "G", "with decoy", "decoys", "measured", "rewired", "lower by")
	for _, b := range bands() {
		printToldPart(out, b.name, slices.DeleteFunc(slices.Clone(done), func(t *told) bool { return !b.holds(t.mass) }))
	}
	var classes [][]string
	for _, t := range done {
		classes = append(classes, t.classes)
	}
	for _, name := range classNames(classes) {
		printToldPart(out, name, slices.DeleteFunc(slices.Clone(done), func(t *told) bool { return !slices.Contains(t.classes, name) }))
	}
	slices.SortStableFunc(done, func(x, y *told) int { return cmp.Compare(x.own, y.own) })
	fmt.Fprintln(out, "the 30 least explained: share, nominal mass, structure, peaks of 10 % and more without explanation: measured (computed)")
	for _, t := range done[:min(30, len(done))] {
		fmt.Fprintf(out, "  %.2f %4d %-50s  %v\n", t.own, t.mass, t.smiles, t.left)
	}
}

// printToldPart prints a line of means; those of decoys are over structures
// that have some.
func printToldPart(out io.Writer, name string, part []*told) {
	var own, with, decoys, measured, rewiredOnes []float64
	for _, t := range part {
		own = append(own, t.own)
		if len(t.decoys) == 0 {
			continue
		}
		with = append(with, t.own)
		decoys = append(decoys, mean(t.decoys))
		split := min(t.measuredOnes, len(t.decoys))
		if split > 0 {
			measured = append(measured, mean(t.decoys[:split]))
		}
		if split < len(t.decoys) {
			rewiredOnes = append(rewiredOnes, mean(t.decoys[split:]))
		}
	}
	fmt.Fprintf(out, "%-24s %5d %7.3f %10.3f %6.3f %8.3f %7.3f %7.3f\n", name, len(part), mean(own), mean(with), mean(decoys), mean(measured), mean(rewiredOnes), mean(with)-mean(decoys))
}
