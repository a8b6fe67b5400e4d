package main

import (
	"context"
	"fmt"
	"io"
	"math"

	"ionwright/ionize"
	"ionwright/mol/smiles"
	"ionwright/reading"
	"ionwright/reading/candidate"
	"ionwright/reading/fit"
)

// candidateRanks prints how often the right one of the measured structures of
// one formula is ranked first for its spectrum, on the validation part, beside
// the match of the computed spectrum alone; and how honest the probabilities
// are.
func candidateRanks(ctx context.Context, out io.Writer) error {
	samples, err := readingSamples(ctx, "train", 4)
	if err != nil {
		return err
	}
	sets := isomerSets(ctx, samples)
	var all, matched ranks
	var calls calibration
	chance, n := 0.0, 0.0
	for _, s := range samples {
		list := sets[s.Formula.String()]
		if len(list) < 2 {
			continue
		}
		r, err := candidate.Rank(ctx, s.Spectrum, reading.Given{}, list)
		if err != nil {
			return err
		}
		place, byMatch := 0, 1
		right := 0.0
		for i, c := range r.Ranked {
			if c.Name == s.Key {
				place, right = i+1, c.Match
			}
			calls.add("candidate", c.Probability, c.Name == s.Key, s.Weight)
		}
		if place == 0 {
			continue // refused
		}
		for _, c := range r.Ranked {
			if c.Match > right {
				byMatch++
			}
		}
		all.add(place, s.Weight)
		matched.add(byMatch, s.Weight)
		chance += s.Weight / float64(len(r.Ranked))
		n += s.Weight
	}
	fmt.Fprintf(out, "candidates: %.0f structures of the validation part with an isomer in it\n", n)
	fmt.Fprintf(out, "   ranked by all evidence      %v\n", all)
	fmt.Fprintf(out, "   by the computed spectrum    %v\n", matched)
	fmt.Fprintf(out, "   chance                      top-1 %.3f\n", chance/math.Max(n, 1))
	calls.print(out)
	return ctx.Err()
}

// isomerSets are the structures of each formula that the engine covers.
func isomerSets(ctx context.Context, samples []fit.Sample) map[string][]candidate.Structure {
	out := map[string][]candidate.Structure{}
	seen := map[string]bool{}
	for _, s := range samples {
		if seen[s.Key] {
			continue
		}
		seen[s.Key] = true
		m, err := smiles.Parse(s.Key)
		if err != nil {
			continue
		}
		p, err := ionize.Predict(ctx, m, ionize.Settings{})
		if err != nil {
			continue
		}
		f := s.Formula.String()
		out[f] = append(out[f], candidate.Structure{Name: s.Key, Mol: m, Prediction: p})
	}
	return out
}
