package main

import (
	"context"
	"fmt"
	"io"
	"math/rand/v2"
	"slices"

	"ionwright/internal/degrade"
	"ionwright/reading"
	"ionwright/reading/fit"
	"ionwright/spectrum"
)

// spoiledEvery is the share of the validation part that is read in each way:
// one spectrum in so many.
const spoiledEvery = 3

// readingSpoiled prints how the readings hold up on spectra of the validation
// part that are spoiled by program: M, N and O for each way, and how often the
// reading says that something is wrong.
func readingSpoiled(ctx context.Context, out io.Writer) error {
	all, err := readingSamples(ctx, "train", 4)
	if err != nil {
		return err
	}
	var samples []fit.Sample
	for i, s := range all {
		if i%spoiledEvery == 0 {
			samples = append(samples, s)
		}
	}
	fmt.Fprintf(out, "%d spectra of the validation part, spoiled by program\n", len(samples))
	fmt.Fprintf(out, "%-40s %9s %9s %9s %9s %9s   %s\n", "", "M present", "M all", "N top-1", "N top-5", "O mean", "says that something is wrong")
	ways := append([]degrade.Way{{Name: "as recorded", Spoil: func(s spectrum.Spectrum, _ *rand.Rand) spectrum.Spectrum { return s }}}, degrade.Ways()...)
	for _, percent := range []float64{10, 30, 100} {
		ways = append(ways, degrade.Way{Name: fmt.Sprintf("mixed with another compound at %.0f %%", percent), Spoil: func(s spectrum.Spectrum, random *rand.Rand) spectrum.Spectrum {
			return degrade.Mixed(s, samples[random.IntN(len(samples))].Spectrum, percent)
		}})
	}
	for _, way := range ways {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		var present, whole, warned share
		var formulas ranks
		average := groupAverage{}
		for i, s := range samples {
			random := rand.New(rand.NewPCG(uint64(i), 99))
			spoiled := way.Spoil(s.Spectrum, random)
			alone := reading.Quick(spoiled, reading.Given{})
			right := len(alone.MolecularIon) > 0 && alone.MolecularIon[0].MZ == s.Mass
			whole.add(right, s.Weight)
			if s.View.At(s.Mass) >= 1 {
				present.add(right, s.Weight)
			}
			warned.add(len(alone.Doubts) > 0, s.Weight)
			average.add(s, alone.Groups)
			if s.Mass > 300 {
				continue
			}
			told := reading.Quick(spoiled, reading.Given{NominalMass: s.Mass})
			formulas.add(1+slices.IndexFunc(told.Formulas, func(f reading.FormulaCandidate) bool { return f.Formula == s.Formula }), s.Weight)
		}
		fmt.Fprintf(out, "%-40s %9v %9v %9v %9v %9.3f   %v\n", way.Name, present, whole, formulas.one, formulas.five, average.mean(), warned)
	}
	return nil
}

// groupAverage gathers the calls of each scored group.
type groupAverage map[string]*struct {
	scores []float64
	labels []bool
}

func (a groupAverage) add(s fit.Sample, calls []reading.GroupCall) {
	for _, c := range calls {
		if a[c.Name] == nil {
			a[c.Name] = &struct {
				scores []float64
				labels []bool
			}{}
		}
		a[c.Name].scores = append(a[c.Name].scores, c.Probability)
		a[c.Name].labels = append(a[c.Name].labels, s.Groups[c.Name])
	}
}

// mean is the mean of the average precisions of the groups that occur.
func (a groupAverage) mean() float64 {
	sum, n := 0.0, 0.0
	for _, g := range a {
		if slices.Contains(g.labels, true) {
			average, _ := precision(g.scores, g.labels)
			sum += average
			n++
		}
	}
	return sum / max(n, 1)
}
