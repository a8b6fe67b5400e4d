package main

import (
	"context"
	"fmt"
	"math"
	"strconv"
	"strings"

	"ionwright/chem"
	"ionwright/ionize"
	"ionwright/isotope"
	"ionwright/mol/names"
	"ionwright/sector"
	"ionwright/spectrum"
	"ionwright/spectrum/file"
)

// beam finds the ions that fly: typed ones, those of a spectrum file, one ion
// with its isotopes, or those that a compound's structure gives.
func (c *call) beam(ctx context.Context, args []string, f *sweepFlags, i sector.Instrument) (beam, error) {
	var b beam
	var err error
	switch {
	case *f.formula != "" && len(args) > 0:
		return b, wrongUsage("--ion gives the ions; %q is one argument too many", args[0])
	case *f.formula != "":
		b, err = isotopesOf(*f.formula)
	case len(args) == 0:
		return b, wrongUsage("an argument is missing: ions such as 43:100, a spectrum file, or a compound")
	case len(args) == 1 && compoundLike(args[0]):
		b, err = compoundBeam(ctx, args[0], *f.ev, i, *f.late)
	case *f.late:
		return b, wrongUsage("--late is for the ions of a compound; for others give --metastable")
	default:
		b.spectrum, err = c.sweptIons(args)
		b.name = b.spectrum.Title
	}
	if err != nil {
		return b, err
	}
	decays, err := metastable(*f.decays)
	b.decays = append(b.decays, decays...)
	return b, err
}

// compoundLike tells a name or SMILES from ions and files.
func compoundLike(arg string) bool {
	if _, err := file.FormatOf(arg); err == nil {
		return false
	}
	mz, _, _ := strings.Cut(arg, ":")
	_, err := strconv.ParseFloat(mz, 64)
	return err != nil
}

// compoundBeam computes the ions of a compound, each at its exact m/z, and
// where late is true those that decay on their way to the magnet.
func compoundBeam(ctx context.Context, text string, ev float64, i sector.Instrument, late bool) (beam, error) {
	m, err := names.Structure(text)
	if err != nil {
		return beam{}, fmt.Errorf("%q is neither a spectrum file, nor an m/z with an intensity like 43:100, nor a compound: %w", text, err)
	}
	if !late {
		p, err := ionize.Predict(ctx, m, ionize.Settings{EnergyEV: ev})
		if err != nil {
			return beam{}, err
		}
		s, err := p.Exact()
		return beam{name: text, note: computedNote, spectrum: s}, err
	}
	if _, _, err := i.FreeFlight(float64(m.Formula().MZ())); err != nil {
		return beam{}, err
	}
	p, decays, err := ionize.Metastable(ctx, m, ionize.Settings{EnergyEV: ev}, func(mz float64) (from, to float64) {
		begin, end, err := i.FreeFlight(mz)
		if err != nil {
			return 0, 0
		}
		return float64(begin), float64(end)
	})
	if err != nil {
		return beam{}, err
	}
	s, err := p.Exact()
	return beam{name: text, note: computedNote, spectrum: s, decays: inFlight(p, s, decays)}, err
}

// Bounds of what decays in flight: the part of the base peak under which a
// stream is left out, and how many of the strongest are flown.
const (
	leastLate = 1e-4
	mostLate  = 20
)

// inFlight gives the decays the currents that their precursors have in the
// spectrum.
func inFlight(p *ionize.Prediction, s spectrum.Spectrum, decays []ionize.Late) []sector.Decay {
	sameFormula := map[chem.Formula]float64{}
	for _, ion := range p.Ions {
		sameFormula[ion.Formula] += ion.Abundance
	}
	base, _ := s.Base()
	var out []sector.Decay
	for _, d := range decays {
		from := p.Ions[d.From]
		current := 0.0
		for _, peak := range s.Peaks {
			if math.Abs(peak.MZ-d.Before) < 1e-4 && sameFormula[from.Formula] > 0 {
				current += peak.Intensity * from.Abundance / sameFormula[from.Formula] * d.Fraction
			}
		}
		if current >= leastLate*base.Intensity && d.After < d.Before {
			out = append(out, sector.Decay{Before: d.Before, After: d.After, Charge: d.Charge, Intensity: current, Release: d.Release})
		}
		if len(out) == mostLate {
			break
		}
	}
	return out
}

// isotopesOf gives an ion with its isotopes, at their exact m/z.
func isotopesOf(formula string) (beam, error) {
	f, err := chem.ParseFormula(formula)
	if err != nil {
		return beam{}, err
	}
	if f.Charge() < 1 {
		return beam{}, fmt.Errorf("%q has no positive charge: only positive ions fly here; write for example %q", formula, formula+"+")
	}
	const rarest = 1e-4
	fine, err := isotope.Fine(f, rarest)
	if err != nil {
		return beam{}, err
	}
	var peaks []spectrum.Peak
	for _, i := range fine {
		peaks = append(peaks, spectrum.Peak{MZ: float64(i.Mass) / float64(f.Charge()), Intensity: 100 * i.Probability / fine[0].Probability})
	}
	s, err := spectrum.New(peaks)
	return beam{name: f.Unicode(), spectrum: s}, err
}

// sweptIons are the ions of the arguments: a spectrum file, or m/z with
// intensities.
func (c *call) sweptIons(args []string) (spectrum.Spectrum, error) {
	if _, err := file.FormatOf(args[0]); err == nil && len(args) == 1 {
		return c.readSpectrum(args[0])
	}
	var peaks []spectrum.Peak
	for _, arg := range args {
		mz, intensity, found := strings.Cut(arg, ":")
		if !found {
			intensity = "100"
		}
		x, err := strconv.ParseFloat(mz, 64)
		y, err2 := strconv.ParseFloat(intensity, 64)
		if err != nil || err2 != nil {
			return spectrum.Spectrum{}, wrongUsage("%q is neither a spectrum file nor an m/z with an intensity like 43:100", arg)
		}
		peaks = append(peaks, spectrum.Peak{MZ: x, Intensity: y})
	}
	s, err := spectrum.New(peaks)
	if err != nil {
		return s, fmt.Errorf("taking the ions: %w", err)
	}
	return s, nil
}
