package main

import (
	"context"
	"fmt"

	"ionwright/chem"
	"ionwright/draw"
	"ionwright/draw/ions"
	"ionwright/draw/plot"
	"ionwright/draw/structure"
	"ionwright/ionize"
	"ionwright/isotope"
	"ionwright/spectrum"
	"ionwright/spectrum/file"
)

// spectrumFlags are the flags of figures of spectra.
type spectrumFlags struct {
	label, highlight string
	strongest        int
	mass             float64
	from, to         float64
	test             bool
	ev               float64
}

func newSpectrumFlags(c *call) *spectrumFlags {
	s := &spectrumFlags{}
	c.flags.StringVar(&s.label, "label", "", "`MZ,MZ...` that are labelled in any case")
	c.flags.StringVar(&s.highlight, "highlight", "", "`MZ,MZ...` that are drawn bolder")
	c.flags.IntVar(&s.strongest, "strongest", 10, "how `MANY` of the strongest peaks are labelled in any case")
	c.flags.Float64Var(&s.mass, "mass", 0, "`MZ` of the molecular ion; 0: from the structure, where there is one")
	c.flags.Float64Var(&s.from, "from", 0, "where the axis begins, `MZ`; 0: before the first peak")
	c.flags.Float64Var(&s.to, "to", 0, "where the axis ends, `MZ`; 0: after the last peak")
	c.flags.BoolVar(&s.test, "test", false, "for a test: axes and peaks only, nothing that gives the answer away")
	c.flags.Float64Var(&s.ev, "ev", 70, "of a computed spectrum: the `ENERGY` of the electrons in eV")
	return s
}

// options are the flags as options of the figure.
func (s *spectrumFlags) options(common *canvas) (o plot.Options, err error) {
	o = plot.Options{Width: common.width, Height: common.height, Name: common.name, MolecularIon: s.mass, From: s.from, To: s.to, Strongest: s.strongest}
	if s.strongest < 1 {
		return o, wrongUsage("--strongest %d: at least 1", s.strongest)
	}
	if s.test {
		o.Mode, o.Alias = plot.Test, common.name
	}
	if o.Label, err = numbers("label", s.label); err != nil {
		return o, err
	}
	o.Highlight, err = numbers("highlight", s.highlight)
	return o, err
}

// spectrumOf reads a spectrum from a file, or computes that of a structure;
// then the prediction comes with it.
func (c *call) spectrumOf(ctx context.Context, text string, ev float64) (spectrum.Spectrum, *ionize.Prediction, error) {
	if _, err := file.FormatOf(text); err == nil {
		s, err := c.readSpectrum(text)
		return s, nil, err
	}
	m, title, err := c.structureOf(text)
	if err != nil {
		return spectrum.Spectrum{}, nil, err
	}
	p, err := ionize.Predict(ctx, m, ionize.Settings{EnergyEV: ev})
	if err != nil {
		return spectrum.Spectrum{}, nil, err
	}
	s := p.Spectrum()
	s.Info.Origin = spectrum.Computed
	if s.Info.Name = title; title == "" {
		s.Info.Name = m.Formula().String()
	}
	return s, p, nil
}

func prepareSpectrum(c *call, common *canvas) func(context.Context, []string) (draw.Figure, error) {
	flags := newSpectrumFlags(c)
	losses := c.flags.String("loss", "", "`MZ-MZ,...` between which a bracket names the loss")
	zoom := c.flags.String("zoom", "", "`MZ-MZ` of a part that is shown close up, such as an isotope cluster")
	assign := c.flags.Bool("assign", false, "of a computed spectrum: write the formula of the ion under each label asked for with --label, or else of the five strongest")
	drawn := c.flags.String("structures", "", "of a computed spectrum: `MZ,MZ...` whose ions are drawn beside their peaks")
	profile := c.flags.Float64("profile", 0, "draw a profile, peaks having this `WIDTH` in m/z at half their height; 0: sticks")
	return func(ctx context.Context, args []string) (draw.Figure, error) {
		o, err := flags.options(common)
		if err != nil {
			return draw.Figure{}, err
		}
		o.PeakWidth = *profile
		pairs, err := ranges("loss", *losses)
		if err != nil {
			return draw.Figure{}, err
		}
		zooms, err := ranges("zoom", *zoom)
		if err != nil {
			return draw.Figure{}, err
		}
		if len(zooms) > 1 {
			return draw.Figure{}, wrongUsage("--zoom %s: one part can be shown close up", *zoom)
		}
		for _, z := range zooms {
			o.Zoom = &plot.Zoom{From: z[0], To: z[1]}
		}
		beside, err := numbers("structures", *drawn)
		if err != nil {
			return draw.Figure{}, err
		}
		s, p, err := c.spectrumOf(ctx, args[0], flags.ev)
		if err != nil {
			return draw.Figure{}, err
		}
		if p == nil {
			if *assign || len(beside) > 0 {
				return draw.Figure{}, wrongUsage("--assign and --structures need a computed spectrum; %q is a file", args[0])
			}
			for _, pair := range pairs {
				o.Losses = append(o.Losses, plot.Loss{From: pair[0], To: pair[1]})
			}
			return plot.Spectrum(s, o)
		}
		if o.MolecularIon == 0 {
			o.MolecularIon = float64(p.MolecularIon().MZ)
		}
		for _, pair := range pairs {
			o.Losses = append(o.Losses, ions.Loss(p, pair[0], pair[1]))
		}
		for _, mz := range beside {
			in, err := ions.Structure(p, mz, structure.Options{Bond: insetBond})
			if err != nil {
				return draw.Figure{}, err
			}
			o.Insets = append(o.Insets, in)
		}
		if *assign {
			of := o.Label
			if len(of) == 0 {
				for _, peak := range s.Strongest(5) {
					of = append(of, peak.MZ)
				}
			}
			o.Assignments = ions.Formulas(p, of)
		}
		return plot.Spectrum(s, o)
	}
}

// insetBond is the length of bonds in structures beside peaks, in pixels.
const insetBond = 24

func prepareCompare(c *call, common *canvas) func(context.Context, []string) (draw.Figure, error) {
	flags := newSpectrumFlags(c)
	upper := c.flags.String("upper", "", "what the upper spectrum is called; the `NAME` in the figure")
	lower := c.flags.String("lower", "", "what the lower spectrum is called; the `NAME` in the figure")
	return func(ctx context.Context, args []string) (draw.Figure, error) {
		o, err := flags.options(common)
		if err != nil {
			return draw.Figure{}, err
		}
		var both [2]spectrum.Spectrum
		called := [2]string{*upper, *lower}
		for i, arg := range args {
			s, _, err := c.spectrumOf(ctx, arg, flags.ev)
			if err != nil {
				return draw.Figure{}, err
			}
			both[i] = s
			if called[i] == "" && !flags.test {
				called[i] = s.Info.Name
				if called[i] == "" {
					called[i] = s.Title
				}
				if s.Info.Origin != spectrum.Unknown {
					called[i] += " (" + s.Info.Origin.String() + ")"
				}
			}
		}
		return plot.Compare(both[0], both[1], plot.CompareOptions{Width: common.width, Height: common.height, Upper: called[0], Lower: called[1], Options: o})
	}
}

func prepareIsotopes(c *call, common *canvas) func(context.Context, []string) (draw.Figure, error) {
	power := c.flags.Float64("resolving-power", 0, "m over its width at half height: draw what an instrument of that resolving `POWER` records; 0: sticks at whole mass numbers")
	return func(_ context.Context, args []string) (draw.Figure, error) {
		f, err := chem.ParseFormula(args[0])
		if err != nil {
			return draw.Figure{}, err
		}
		name := common.name
		if name == "" {
			name = f.Unicode()
		}
		if *power != 0 {
			return isotopeProfile(f, name, *power, common)
		}
		s, err := isotopeSticks(f)
		if err != nil {
			return draw.Figure{}, err
		}
		d, err := plot.Spectrum(s, plot.Options{Width: common.width, Height: common.height, Name: name, From: s.Peaks[0].MZ - 2, To: s.Peaks[len(s.Peaks)-1].MZ + 2})
		d.Title = "Isotope pattern of " + name
		return d, err
	}
}

// isotopeSticks is a formula's isotope pattern as a spectrum, without peaks
// under 0.05 % of the strongest.
func isotopeSticks(f chem.Formula) (spectrum.Spectrum, error) {
	pattern := isotope.Unit(f)
	charge := 1.0
	if f.Charge() != 0 {
		charge = float64(max(f.Charge(), -f.Charge()))
	}
	_, highest := pattern.Base()
	var peaks []spectrum.Peak
	for i, a := range pattern.Abundance {
		if a >= 0.0005*highest {
			peaks = append(peaks, spectrum.Peak{MZ: float64(pattern.First+i) / charge, Intensity: a})
		}
	}
	s, err := spectrum.New(peaks)
	if err == nil && len(s.Peaks) == 0 {
		err = fmt.Errorf("the formula %q has no atoms", f)
	}
	return s, err
}

// isotopeProfile draws what an instrument of limited resolving power records.
func isotopeProfile(f chem.Formula, name string, power float64, common *canvas) (draw.Figure, error) {
	p, err := isotope.NewProfile(f, power)
	if err != nil {
		return draw.Figure{}, err
	}
	return profileFigure(p, name, power, common)
}
