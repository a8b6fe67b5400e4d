package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"

	"ionwright/internal/witness"
	"ionwright/reading"
	"ionwright/reading/candidate"
)

// choice is a spectrum and its candidates: the parts of each one's score, and
// which is right.
type choice struct {
	parts  []candidate.Parts
	right  int
	weight float64
}

// fitCandidates fits what each part of the evidence for a candidate structure
// weighs, to structures of the classes 1, 2 and 3 with an isomer there, and
// writes the weights that package candidate embeds. The computed spectra and
// the readings were fitted to the same classes, so they look a little better
// here than they are.
func fitCandidates(ctx context.Context, out io.Writer) error {
	samples, err := readingSamples(ctx, "train", 1, 2, 3)
	if err != nil {
		return err
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
			return err
		}
		c := choice{right: -1, weight: s.Weight}
		for i, ranked := range r.Ranked {
			c.parts = append(c.parts, ranked.Parts())
			if ranked.Name == s.Key {
				c.right = i
			}
		}
		if c.right >= 0 {
			choices = append(choices, c)
		}
	}
	weights := fitChoices(choices)
	var file bytes.Buffer
	fmt.Fprintf(&file, "# What each part of the evidence for a structure weighs, in natural logarithms of the odds.\n# Fitted to: %s, of the %d spectra with an isomer.\n# Attribution: %s.\n# Made by: go run ./bench fit-candidates. DO NOT EDIT.\n", fitData, len(choices), fitAttribution)
	for i, name := range candidate.PartNames {
		fmt.Fprintf(&file, "%s\t%.3f\n", name, weights[i])
	}
	path := filepath.Join(witness.Root(), "reading", "candidate", "weights.tsv")
	if err := os.WriteFile(path, file.Bytes(), 0o644); err != nil {
		return err
	}
	fmt.Fprint(out, file.String())
	return nil
}

// fitChoices returns the weights that make the right choices most likely:
// gradient ascent with a step of its own for each part (its mean square over
// the candidates), weights not negative.
func fitChoices(choices []choice) candidate.Parts {
	var weights, scale candidate.Parts
	count := 0.0
	for _, c := range choices {
		for _, p := range c.parts {
			for k := range p {
				d := p[k] - c.parts[c.right][k]
				scale[k] += c.weight * d * d / float64(len(c.parts))
			}
		}
		count += c.weight
	}
	for range 3000 {
		var gradient candidate.Parts
		for _, c := range choices {
			scores := make([]float64, len(c.parts))
			top, sum := math.Inf(-1), 0.0
			for i, p := range c.parts {
				scores[i] = weights.Score(p)
				top = max(top, scores[i])
			}
			for i := range scores {
				scores[i] = math.Exp(scores[i] - top)
				sum += scores[i]
			}
			for i, p := range c.parts {
				for k := range p {
					gradient[k] += c.weight * (c.parts[c.right][k] - p[k]) * scores[i] / sum
				}
			}
		}
		for k := range weights {
			if scale[k] > 0 {
				weights[k] = max(0, weights[k]+gradient[k]/scale[k])
			}
		}
	}
	return weights
}
