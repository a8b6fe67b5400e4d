package main

import (
	"context"
	"fmt"
	"io"
	"strings"

	"ionwright/internal/witness"
	"ionwright/ionize"
	"ionwright/mol"
	"ionwright/mol/smiles"
	"ionwright/spectrum"
	"ionwright/spectrum/match"
)

// What counts as a peak that the labels moved: at least movedLeast % of the
// base peak, and in the unlabelled compound under movedShare of that.
const (
	movedLeast = 5
	movedShare = 0.25
)

// labelled is one deuterium-labelled compound with its figures.
type labelled struct {
	smiles            string
	with, without     float64 // A of the spectra computed with and without the labels
	moved             int     // peaks that the labels moved
	right, unlabelled int     // of them, those that the computed spectra show, with and without labels
	partner           bool    // the unlabelled compound was measured too
}

// labelAccuracy compares the computed spectra of deuterium-labelled compounds
// with the measured ones; beside them stands what the spectrum computed
// without the labels gives.
func labelAccuracy(ctx context.Context, out io.Writer) error {
	records, plain, err := labelledRecords()
	if err != nil {
		return err
	}
	var all []labelled
	for _, r := range records {
		l, err := compareLabels(ctx, r, plain)
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err != nil {
			fmt.Fprintf(out, "left out: %s: %v\n", r.SMILES, err)
			continue
		}
		all = append(all, l)
	}
	var sum labelled
	partners := 0
	fmt.Fprintln(out, "A with labels, A without, peaks moved, of them computed with labels, without; structure")
	for _, l := range all {
		fmt.Fprintf(out, "  %.2f %.2f %3d %3d %3d  %s\n", l.with, l.without, l.moved, l.right, l.unlabelled, l.smiles)
		sum.with += l.with
		sum.without += l.without
		sum.moved += l.moved
		sum.right += l.right
		sum.unlabelled += l.unlabelled
		if l.partner {
			partners++
		}
	}
	n := float64(max(len(all), 1))
	fmt.Fprintf(out, "%d labelled spectra: A %.3f, without the labels %.3f\n", len(all), sum.with/n, sum.without/n)
	fmt.Fprintf(out, "%d of them have an unlabelled partner: of %d peaks that the labels moved (%d %% of the base and more, in the unlabelled compound under %.0f %% of that), %d have a quarter of their height or more in the computed spectrum (%.2f); without the labels %d (%.2f)\n",
		partners, sum.moved, movedLeast, 100*movedShare, sum.right, float64(sum.right)/float64(max(sum.moved, 1)), sum.unlabelled, float64(sum.unlabelled)/float64(max(sum.moved, 1)))
	return nil
}

// labelledRecords reads the labelled spectra, and the unlabelled ones by
// canonical SMILES.
func labelledRecords() (records []witness.Record, plain map[string]witness.Record, err error) {
	if records, err = sharedRecords("labelled_train.jsonl.gz"); err != nil {
		return nil, nil, err
	}
	others, err := sharedRecords("train.jsonl.gz")
	if err != nil {
		return nil, nil, err
	}
	plain = map[string]witness.Record{}
	for _, r := range others {
		if m, err := smiles.Parse(r.SMILES); err == nil {
			plain[smiles.Canonical(m)] = r
		}
	}
	return records, plain, nil
}

// withoutLabels reads the structure with protium for its deuterium.
func withoutLabels(text string) (*mol.Mol, error) {
	return smiles.Parse(strings.ReplaceAll(text, "[2H]", "[H]"))
}

func compareLabels(ctx context.Context, r witness.Record, plain map[string]witness.Record) (labelled, error) {
	l := labelled{smiles: r.SMILES}
	measured, err := measuredSpectrum(r)
	if err != nil {
		return l, err
	}
	m, err := smiles.Parse(r.SMILES)
	if err != nil {
		return l, err
	}
	bare, err := withoutLabels(r.SMILES)
	if err != nil {
		return l, err
	}
	with, err := ionize.Predict(ctx, m, ionize.Settings{EnergyEV: r.EV})
	if err != nil {
		return l, err
	}
	without, err := ionize.Predict(ctx, bare, ionize.Settings{EnergyEV: r.EV})
	if err != nil {
		return l, err
	}
	a, b := with.Spectrum(), without.Spectrum()
	l.with, l.without = match.A(a, measured), match.A(b, measured)
	partner, ok := plain[smiles.Canonical(bare)]
	if !ok {
		return l, nil
	}
	l.partner = true
	unlabelled, err := measuredSpectrum(partner)
	if err != nil {
		return l, err
	}
	view, before, viewA, viewB := match.View(measured), match.View(unlabelled), match.View(a), match.View(b)
	for _, p := range view.AtLeast(movedLeast).Peaks {
		mz := spectrum.UnitMZ(p.MZ)
		if before.Relative(mz) > movedShare*p.Intensity {
			continue
		}
		l.moved++
		if viewA.Relative(mz) >= p.Intensity/4 {
			l.right++
		}
		if viewB.Relative(mz) >= p.Intensity/4 {
			l.unlabelled++
		}
	}
	return l, nil
}

// measuredSpectrum is a record's spectrum.
func measuredSpectrum(r witness.Record) (spectrum.Spectrum, error) {
	peaks := make([]spectrum.Peak, len(r.Peaks))
	for i, p := range r.Peaks {
		peaks[i] = spectrum.Peak{MZ: p[0], Intensity: p[1]}
	}
	s, err := spectrum.New(peaks)
	if err != nil {
		return s, fmt.Errorf("%s: %w", r.ID, err)
	}
	return s, nil
}
