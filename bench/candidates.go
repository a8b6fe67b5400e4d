package main

import (
	"context"
	"crypto/sha256"
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
// one formula is ranked first for its spectrum, on the half of the validation
// part on which the weights weren't set, beside the match of the computed
// spectrum alone; and how honest the probabilities are.
func candidateRanks(ctx context.Context, out io.Writer) error {
	samples, err := readingSamples(ctx, "train", 4)
	if err != nil {
		return err
	}
	sets := isomerSets(ctx, samples)
	for _, part := range []struct {
		name string
		half byte
	}{{"half on which the weights were set", 0}, {"the other half", 1}} {
		var all, matched ranks
		var calls calibration
		chance, n := 0.0, 0.0
		for _, s := range samples {
			list := sets[s.Formula.String()]
			if len(list) < 2 || weightHalf(s.Formula.String()) != part.half {
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
		fmt.Fprintf(out, "candidates, %s: %.0f structures with an isomer among the measured\n", part.name, n)
		fmt.Fprintf(out, "   ranked by all evidence      %v\n", all)
		fmt.Fprintf(out, "   by the computed spectrum    %v\n", matched)
		fmt.Fprintf(out, "   chance                      top-1 %.3f\n", chance/math.Max(n, 1))
		calls.print(out)
	}
	return ctx.Err()
}

// weightHalf divides the formulas into two halves.
func weightHalf(formula string) byte {
	sum := sha256.Sum256([]byte(formula))
	return sum[1] & 1
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
