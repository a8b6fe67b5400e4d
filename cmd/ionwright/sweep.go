package main

import (
	"context"
	"fmt"
	"strconv"
	"strings"

	"ionwright/sector"
	"ionwright/spectrum"
	"ionwright/spectrum/file"
)

// sweepResult is what "sweep" computes.
type sweepResult struct {
	Radius         float64     `json:"radius"`  // m
	Voltage        float64     `json:"voltage"` // V
	Slit           float64     `json:"slit"`    // m
	ResolvingPower float64     `json:"resolvingPower"`
	Caution        string      `json:"caution"`
	Ions           []sweptIon  `json:"ions"` // in the order in which they arrive
	Trace          *sweptTrace `json:"trace,omitempty"`
}

type sweptIon struct {
	MZ        float64 `json:"mz"`
	Intensity float64 `json:"intensity"`
	Field     float64 `json:"field"` // T, down the central path
	From      float64 `json:"from"`  // T, from which it reaches the detector
	To        float64 `json:"to"`    // T
}

type sweptTrace struct {
	Field  []float64 `json:"field"` // T
	Signal []float64 `json:"signal"`
}

func runSweep(_ context.Context, c *call) error {
	radius := c.flags.Float64("radius", 0.25, "of the ion path, in `M`etres")
	voltage := c.flags.Float64("voltage", 4000, "accelerating, in `V`olts")
	slit := c.flags.Float64("slit", 0.0002, "width of both slits, in `M`etres")
	traced := c.flags.Bool("trace", false, "with --json: the recorded signal at every field too")
	args, err := c.parse(1, 1000)
	if err != nil {
		return err
	}
	s, err := c.sweptIons(args)
	if err != nil {
		return err
	}
	instrument := sector.Instrument{Radius: sector.Metre(*radius), Voltage: sector.Volt(*voltage),
		SourceSlit: sector.Metre(*slit), CollectorSlit: sector.Metre(*slit)}
	power, err := instrument.ResolvingPower()
	if err != nil {
		return err
	}
	recording, err := sector.Sweep(instrument, sector.Ions(s), sector.SweepSettings{})
	if err != nil {
		return err
	}
	r := sweepResult{Radius: *radius, Voltage: *voltage, Slit: *slit, ResolvingPower: power, Caution: sector.Caution}
	if *traced {
		r.Trace = &sweptTrace{recording.Trace.X, recording.Trace.Y}
	}
	for _, w := range recording.Windows {
		ion := recording.Ions[w.Ion]
		r.Ions = append(r.Ions, sweptIon{ion.MZ, ion.Intensity, float64(w.Center), float64(w.From), float64(w.To)})
	}
	if c.json {
		return c.printJSON(r)
	}
	c.print("path radius %g m, accelerating voltage %g V, slits %g m, resolving power %.0f", r.Radius, r.Voltage, r.Slit, r.ResolvingPower)
	c.print("%8s %10s %10s %22s", "m/z", "intensity", "field (T)", "reaches the detector")
	for _, ion := range r.Ions {
		c.print("%8g %10.4g %10.5f  from %.5f to %.5f", ion.MZ, ion.Intensity, ion.Field, ion.From, ion.To)
	}
	c.print("caution: %s", r.Caution)
	return nil
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
