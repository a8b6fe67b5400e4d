package main

import (
	"context"
	"fmt"
	"io"
	"slices"

	"ionwright/internal/witness"
	"ionwright/ionize"
	"ionwright/isotope"
	"ionwright/mol/smiles"
)

// mostLow is the highest electron energy, in eV, that counts as low.
const mostLow = 20

// clearChange is the least change of the molecular ion's share of the ion
// current that measurements show clearly: replicates at 70 eV differ by a
// median of 0.007.
const clearChange = 0.005

// energyPair is a compound measured at low energy and at about 70 eV, with the
// molecular ion's share of the ion current in each, the mean of the spectra.
type energyPair struct {
	smiles                  string
	class                   int
	low, usual              float64 // measured
	computedLow, computed70 float64
}

// energyAccuracy asks how the molecular ion's share of the ion current changes
// from 70 eV to the low energies at which compounds were measured, in the
// computed spectra and in the measured ones. Beside the share of right signs
// stands what always saying "up" gives.
func energyAccuracy(ctx context.Context, out io.Writer) error {
	for _, sameInstrument := range []bool{false, true} {
		pairs, err := energyPairs(ctx, out, sameInstrument)
		if err != nil {
			return err
		}
		of := "compounds measured at both energies"
		if sameInstrument {
			of += " on instruments of one type"
		}
		fmt.Fprintf(out, "%s (share of the ion current from the highest of the lowest m/z on, 29 at least)\n", of)
		for _, part := range []struct {
			name    string
			classes []int
			least   float64
		}{
			{"all, any change", []int{0, 1, 2, 3, 4}, 0},
			{"all, clear changes", []int{0, 1, 2, 3, 4}, clearChange},
			{"classes 1-3, clear changes", []int{1, 2, 3}, clearChange},
			{"class 4, clear changes", []int{4}, clearChange},
		} {
			printEnergies(out, part.name, pairs, part.classes, part.least)
		}
	}
	return nil
}

func printEnergies(out io.Writer, name string, pairs []energyPair, classes []int, least float64) {
	n, right, up, measured, computed, off := 0, 0, 0, 0.0, 0.0, 0.0
	for _, p := range pairs {
		change, computedChange := p.low-p.usual, p.computedLow-p.computed70
		if !slices.Contains(classes, p.class) || change == 0 || max(change, -change) < least {
			continue
		}
		n++
		if (change > 0) == (computedChange > 0) {
			right++
		}
		if change > 0 {
			up++
		}
		measured += change
		computed += computedChange
		off += max(change-computedChange, computedChange-change)
	}
	d := float64(max(n, 1))
	fmt.Fprintf(out, "  %-28s %4d compounds: sign right %.3f (always up %.3f); mean change measured %+.3f, computed %+.3f, mean error %.3f\n",
		name, n, float64(right)/d, float64(up)/d, measured/d, computed/d, off/d)
}

// energyPairs pairs the spectra at low energies with those of the same
// structure at about 70 eV and computes both.
func energyPairs(ctx context.Context, out io.Writer, sameInstrument bool) ([]energyPair, error) {
	low, err := sharedRecords("low_train.jsonl.gz")
	if err != nil {
		return nil, err
	}
	usual, err := sharedRecords("train.jsonl.gz")
	if err != nil {
		return nil, err
	}
	partners, lows := map[string][]witness.Record{}, map[string][]witness.Record{}
	for _, r := range usual {
		partners[r.SMILES] = append(partners[r.SMILES], r)
	}
	var order []string
	for _, r := range low {
		if r.EV > mostLow {
			continue
		}
		if lows[r.SMILES] == nil {
			order = append(order, r.SMILES)
		}
		lows[r.SMILES] = append(lows[r.SMILES], r)
	}
	var pairs []energyPair
	for _, text := range order {
		p, ok, err := comparePair(ctx, lows[text], partners[text], sameInstrument)
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if err != nil {
			fmt.Fprintf(out, "left out: %s: %v\n", text, err)
			continue
		}
		if ok {
			pairs = append(pairs, p)
		}
	}
	return pairs, nil
}

// comparePair takes the means over the spectra of one compound; false where
// none belong together.
func comparePair(ctx context.Context, low, usual []witness.Record, sameInstrument bool) (energyPair, bool, error) {
	p := energyPair{smiles: low[0].SMILES, class: low[0].Class()}
	m, err := smiles.Parse(p.smiles)
	if err != nil {
		return p, false, err
	}
	n := 0.0
	for _, l := range low {
		var with []witness.Record
		first := max(29, lowestOf(l))
		for _, u := range usual {
			if !sameInstrument || u.Instrument == l.Instrument {
				with = append(with, u)
				first = max(first, lowestOf(u))
			}
		}
		if len(with) == 0 {
			continue
		}
		b, err := ionize.BreakDown(ctx, m, []float64{70, l.EV})
		if err != nil {
			return p, false, err
		}
		n++
		p.low += currentShare(l, first)
		for _, u := range with {
			p.usual += currentShare(u, first) / float64(len(with))
		}
		p.computed70 += computedShare(b, 0, l.NominalMass, first)
		p.computedLow += computedShare(b, 1, l.NominalMass, first)
	}
	if n == 0 {
		return p, false, nil
	}
	p.low, p.usual, p.computedLow, p.computed70 = p.low/n, p.usual/n, p.computedLow/n, p.computed70/n
	return p, true, nil
}

func lowestOf(r witness.Record) int { return int(r.Peaks[0][0]) }

// currentShare is the share of the nominal molecular mass of the ion current
// from m/z first on.
func currentShare(r witness.Record, first int) float64 {
	at, all := 0.0, 0.0
	for _, p := range r.Peaks {
		if int(p[0]) < first {
			continue
		}
		all += p[1]
		if int(p[0]) == r.NominalMass {
			at += p[1]
		}
	}
	if all == 0 {
		return 0
	}
	return at / all
}

// computedShare is the same of the k-th energy of breakdown curves, isotopes
// counted.
func computedShare(b *ionize.Breakdown, k, mass, first int) float64 {
	at, all := 0.0, 0.0
	for i, ion := range b.Ions {
		pattern := isotope.Unit(ion.Formula)
		for above, share := range pattern.Abundance {
			mz := pattern.First + above
			if mz < first {
				continue
			}
			all += b.Shares[i][k] * share
			if mz == mass {
				at += b.Shares[i][k] * share
			}
		}
	}
	if all == 0 {
		return 0
	}
	return at / all
}
