package main

import (
	"context"
	"fmt"
	"strconv"

	"ionwright/draw"
	"ionwright/draw/apparatus"
	"ionwright/draw/plot"
	"ionwright/isotope"
	"ionwright/sector"
	"ionwright/spectrum"
)

// instrumentFlags are the flags that describe a magnetic sector.
type instrumentFlags struct{ radius, voltage, slit float64 }

func newInstrumentFlags(c *call) *instrumentFlags {
	i := &instrumentFlags{}
	c.flags.Float64Var(&i.radius, "radius", 0.25, "of the ion path, in `M`etres")
	c.flags.Float64Var(&i.voltage, "voltage", 4000, "accelerating, in `V`olts")
	c.flags.Float64Var(&i.slit, "slit", 0.0002, "width of both slits, in `M`etres")
	return i
}

func (i *instrumentFlags) instrument(name string) sector.Instrument {
	return sector.Instrument{Name: name, Radius: sector.Metre(i.radius), Voltage: sector.Volt(i.voltage),
		SourceSlit: sector.Metre(i.slit), CollectorSlit: sector.Metre(i.slit)}
}

func prepareInstrument(c *call, common *canvas) func(context.Context, []string) (draw.Figure, error) {
	flags := newInstrumentFlags(c)
	field := c.flags.Float64("field", 0, "of the magnet, in `T`esla; 0: what brings the first ion to the collector")
	return func(_ context.Context, args []string) (draw.Figure, error) {
		mzs, err := mzArguments(args)
		if err != nil {
			return draw.Figure{}, err
		}
		if common.height != 0 {
			return draw.Figure{}, wrongUsage("--height: the instrument is drawn to scale; give --width")
		}
		return apparatus.Rays(flags.instrument(common.name), apparatus.RayOptions{Width: common.width, MZ: mzs, Field: sector.Tesla(*field)})
	}
}

func prepareField(c *call, common *canvas) func(context.Context, []string) (draw.Figure, error) {
	flags := newInstrumentFlags(c)
	return func(_ context.Context, args []string) (draw.Figure, error) {
		mzs, err := mzArguments(args)
		if err != nil {
			return draw.Figure{}, err
		}
		return apparatus.FieldCurve(flags.instrument(common.name), mzs, common.width, common.height)
	}
}

func prepareSweep(c *call, common *canvas) func(context.Context, []string) (draw.Figure, error) {
	flags := newInstrumentFlags(c)
	return func(_ context.Context, args []string) (draw.Figure, error) {
		s, err := c.sweptIons(args)
		if err != nil {
			return draw.Figure{}, err
		}
		recording, err := sector.Sweep(flags.instrument(common.name), sector.Ions(s), sector.SweepSettings{})
		if err != nil {
			return draw.Figure{}, err
		}
		return apparatus.RecordingSized(recording, common.name, apparatus.RecordingOptions{Width: common.width, Height: common.height})
	}
}

func mzArguments(args []string) ([]float64, error) {
	var out []float64
	for _, arg := range args {
		mz, err := strconv.ParseFloat(arg, 64)
		if err != nil {
			return nil, wrongUsage("%q is no m/z", arg)
		}
		out = append(out, mz)
	}
	return out, nil
}

// profileFigure draws the profile of an isotope pattern.
func profileFigure(p isotope.Profile, name string, power float64, common *canvas) (draw.Figure, error) {
	f, err := plot.Trace(spectrum.Trace{X: p.MZ, Y: p.Intensity, XUnit: "m/z"}, plot.TraceOptions{Width: common.width, Height: common.height, Name: name})
	f.Title = fmt.Sprintf("Isotope pattern of %s at a resolving power of %g", name, power)
	return f, err
}
