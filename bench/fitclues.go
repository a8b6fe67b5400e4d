package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"ionwright/internal/witness"
	"ionwright/reading/fit"
)

const (
	fitData        = "MassBank release 2025.05.1, electron ionization at 60-80 eV, natural isotopes; structures whose SHA-256 (first byte of the SMILES, modulo 5) is 1, 2 or 3"
	fitAttribution = "MassBank consortium and the records' contributors, CC BY-NC-SA; parameters only, no record"
)

// fitClues counts how often each clue is right in the classes 1, 2 and 3 of
// the shared spectra and writes the table that package reading embeds.
func fitClues(ctx context.Context, out io.Writer) error {
	samples, err := readingSamples(ctx, "train", 1, 2, 3)
	if err != nil {
		return err
	}
	shares, err := fit.Clues(ctx, samples)
	if err != nil {
		return err
	}
	var file bytes.Buffer
	err = fit.WriteClues(&file, []string{
		"How often what a clue suggests first is true: key, structures with the clue, of them those of which it is true.",
		"Counted on: " + fitData + ".",
		"Attribution: " + fitAttribution + ".",
		"Made by: go run ./bench fit-clues. DO NOT EDIT.",
	}, shares)
	if err != nil {
		return err
	}
	path := filepath.Join(witness.Root(), "reading", "clues.tsv")
	if err := os.WriteFile(path, file.Bytes(), 0o644); err != nil {
		return err
	}
	fmt.Fprintf(out, "wrote %d rows\n", len(shares))
	return nil
}
