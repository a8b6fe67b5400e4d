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
// one formula is ranked first for its spectrum, on the validation part, beside
// the match of the computed spectrum alone; and how honest the probabilities
// are. The weights that the program uses were fitted to this part, so they are
// fitted again here to each half of the formulas and tried on the other half.
func candidateRanks(ctx context.Context, out io.Writer) error {
	choices, err := readChoices(ctx)
	if err != nil {
		return err
	}
	var halves [2][]choice
	for _, c := range choices {
		halves[c.half] = append(halves[c.half], c)
	}
	var all, matched ranks
	var calls calibration
	chance, n := 0.0, 0.0
	for half, tried := range halves {
		weights := fitChoices(halves[1-half])
		for _, c := range tried {
			place, byMatch := 1, 1
			p := c.probabilities(weights)
			for i := range p {
				if p[i] > p[c.right] {
					place++
				}
				if c.parts[i][0] > c.parts[c.right][0] {
					byMatch++
				}
				calls.add("candidate", p[i], i == c.right, c.weight)
			}
			all.add(place, c.weight)
			matched.add(byMatch, c.weight)
			chance += c.weight / float64(len(p))
			n += c.weight
		}
		fmt.Fprintf(out, "half %d: %d spectra, tried with weights fitted to the other half: %v %.2f\n", half+1, len(tried), candidate.PartNames, weights)
	}
	fmt.Fprintf(out, "candidates: %.0f structures of the validation part with an isomer in it\n", n)
	fmt.Fprintf(out, "   ranked by all evidence      %v\n", all)
	fmt.Fprintf(out, "   by the computed spectrum    %v\n", matched)
	fmt.Fprintf(out, "   chance                      top-1 %.3f\n", chance/math.Max(n, 1))
	calls.print(out)
	return ctx.Err()
}

// choice is a spectrum and its candidates: the parts of each one's score, and
// which is right.
type choice struct {
	parts  []candidate.Parts
	right  int
	half   int // of the formulas, 0 or 1, by chance
	weight float64
}

// readChoices ranks the structures of each formula of the validation part for
// the spectra of each of them.
func readChoices(ctx context.Context) ([]choice, error) {
	samples, err := readingSamples(ctx, "train", 4)
	if err != nil {
		return nil, err
	}
	sets := isomerSets(ctx, samples)
	var choices []choice
	for _, s := range samples {
		list := sets[s.Formula.String()]
		if len(list) < 2 {
			continue
		}
		r, err := candidate.Rank(ctx, s.Spectrum, reading.Given{}, list)
		if err != nil {
			return nil, err
		}
		c := choice{right: -1, half: int(sha256.Sum256([]byte(s.Formula.String()))[0]) % 2, weight: s.Weight}
		for i, ranked := range r.Ranked {
			c.parts = append(c.parts, ranked.Parts())
			if ranked.Name == s.Key {
				c.right = i
			}
		}
		if c.right >= 0 { // not refused
			choices = append(choices, c)
		}
	}
	return choices, ctx.Err()
}

// probabilities are those of the candidates with the weights.
func (c choice) probabilities(weights candidate.Parts) []float64 {
	out := make([]float64, len(c.parts))
	top, sum := math.Inf(-1), 0.0
	for i, p := range c.parts {
		out[i] = weights.Score(p)
		top = max(top, out[i])
	}
	for i := range out {
		out[i] = math.Exp(out[i] - top)
		sum += out[i]
	}
	for i := range out {
		out[i] /= sum
	}
	return out
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
