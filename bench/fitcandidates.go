package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"ionwright/internal/witness"
	"ionwright/reading/candidate"
)

// fitCandidates fits what each part of the evidence for a candidate structure
// weighs and writes the weights that package candidate embeds. It uses the
// validation part, since the computed spectra and the readings were fitted to
// the others and look better there than they are. That is four numbers; what
// they are worth is measured with weights fitted to half of the part and tried
// on the other half (topic candidates).
func fitCandidates(ctx context.Context, out io.Writer) error {
	choices, err := readChoices(ctx)
	if err != nil {
		return err
	}
	weights := fitChoices(choices)
	var file bytes.Buffer
	fmt.Fprintf(&file, "# What each part of the evidence for a structure weighs, in natural logarithms of the odds.\n# Fitted to: %s: %d spectra with an isomer.\n# Attribution: %s.\n# Made by: go run ./bench fit-candidates. DO NOT EDIT.\n", choiceData, len(choices), fitAttribution)
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

const choiceData = "MassBank release 2025.05.1, electron ionization at 60-80 eV, natural isotopes; structures whose SHA-256 (first byte of the SMILES, modulo 5) is 4, to which neither the computed spectra nor the readings were fitted"

// unfitted is the weight, judged by eye, of what the choices say nothing about.
const unfitted = 1

// fitChoices returns the weights that make the right choices most likely:
// gradient ascent with a step of its own for each part (its mean square over
// the candidates), weights not negative. A part in which all candidates are
// alike keeps its unfitted weight: the formula's, as isomers share it.
func fitChoices(choices []choice) candidate.Parts {
	var weights, scale candidate.Parts
	for _, c := range choices {
		for _, p := range c.parts {
			for k := range p {
				d := p[k] - c.parts[c.right][k]
				scale[k] += c.weight * d * d / float64(len(c.parts))
			}
		}
	}
	for k := range weights {
		if scale[k] == 0 {
			weights[k] = unfitted
		}
	}
	for range 3000 {
		var gradient candidate.Parts
		for _, c := range choices {
			probabilities := c.probabilities(weights)
			for i, p := range c.parts {
				for k := range p {
					gradient[k] += c.weight * (c.parts[c.right][k] - p[k]) * probabilities[i]
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
