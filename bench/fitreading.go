package main

import (
	"bytes"
	"context"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"time"

	"ionwright/internal/witness"
	"ionwright/reading/fit"
)

// lowWeight is what a spectrum at low electron energy counts beside one at
// 70 eV when the groups are learned.
const lowWeight = 0.5

// fitReading fits the parameters of reading to the classes 1, 2 and 3 of the
// shared spectra and writes the file that package infer embeds.
func fitReading(ctx context.Context, out io.Writer) error {
	samples, err := readingSamples(ctx, "train", 1, 2, 3)
	if err != nil {
		return err
	}
	low, err := readingSamples(ctx, "low_train", 1, 2, 3)
	if err != nil {
		return err
	}
	for _, s := range low {
		s.Aside = true
		s.Weight *= lowWeight
		samples = append(samples, s)
	}
	start := time.Now()
	model, err := fit.Model(ctx, samples, fit.Default(), func(format string, args ...any) {
		fmt.Fprintf(out, "%6.0f s  %s\n", time.Since(start).Seconds(), fmt.Sprintf(format, args...))
	})
	if err != nil {
		return err
	}
	model.Provenance.Data = fitData + "; for the groups also spectra of such structures at 10-30 eV"
	model.Provenance.Attribution = fitAttribution
	model.Provenance.Command = "go run ./bench fit-reading"
	var file bytes.Buffer
	if err := model.Write(&file); err != nil {
		return err
	}
	path := filepath.Join(witness.Root(), "reading", "infer", "model.bin.gz")
	if err := os.WriteFile(path, file.Bytes(), 0o644); err != nil {
		return err
	}
	fmt.Fprintf(out, "%6.0f s  wrote %d bytes\n", time.Since(start).Seconds(), file.Len())
	return nil
}
