package main

import (
	"context"
	"flag"
	"fmt"
	"math"
	"os"
	"slices"
	"strconv"
	"strings"

	"ionwright/sector"
	"ionwright/spectrum"
)

// sweepFlags are what "sweep" can be told.
type sweepFlags struct {
	instrument, formula, decays, switched, paths, out, format *string
	radius, voltage, slit, source, collector                  *float64
	field, from, to, ev, duration, rate, measure, draw        *float64
	exponential, traced, described, late                      *bool
	steps, fly                                                *int
	seed                                                      *uint64
	given                                                     map[string]bool
}

func newSweepFlags(c *call) *sweepFlags {
	f := c.flags
	return &sweepFlags{
		instrument:  f.String("instrument", "", "half-circle, 60-degrees, double-focusing, or a `FILE` with a description (.yaml); without, a half circle with slits only"),
		radius:      f.Float64("radius", 0.25, "of the ion path, in `M`etres"),
		voltage:     f.Float64("voltage", 4000, "accelerating, in `V`olts"),
		slit:        f.Float64("slit", 0.0002, "width of both slits, in `M`etres"),
		source:      f.Float64("source-slit", 0, "width of the source slit, in `M`etres"),
		collector:   f.Float64("collector-slit", 0, "width of the collector slit, in `M`etres"),
		formula:     f.String("ion", "", "fly one ion with its isotopes, such as C7H7+ or \"C7H7 2+\", a `FORMULA`"),
		ev:          f.Float64("ev", 70, "a compound's ions: the `ENERGY` of the electrons in eV"),
		decays:      f.String("metastable", "", "ions that decay before the magnet: `BEFORE-AFTER`:INTENSITY:RELEASE, the release in eV, more after commas"),
		late:        f.Bool("late", false, "a compound's ions: fly those too that decay before the magnet, at the computed rates"),
		field:       f.Float64("field", 0, "sweep the voltage instead, at this field in `T`esla"),
		from:        f.Float64("from", 0, "`START` of the sweep in T (V for a voltage sweep); 0: below the first ion"),
		to:          f.Float64("to", 0, "`END` of the sweep; 0: above the last ion"),
		steps:       f.Int("steps", 0, "the `NUMBER` of fields or voltages; 0: as many as the peaks need"),
		exponential: f.Bool("exponential", false, "equal ratios instead of equal steps, so that all peaks take equally long"),
		switched:    f.String("switch", "", "jump between selected ions instead of sweeping: their `MZ`, such as 43,58"),
		duration:    f.Float64("duration", 0, "count the ions of a sweep that takes so many `SECONDS`; 0: an endless one"),
		rate:        f.Float64("rate", 1e6, "with --duration: ions per second, a `NUMBER`, at the top of the strongest peak"),
		seed:        f.Uint64("seed", 1, "with --duration or --fly: the same `NUMBER` gives the same ions"),
		fly:         f.Int("fly", 0, "fly a `NUMBER` of ions one by one too, and count those lost on walls"),
		measure:     f.Float64("measure", 0, "the `MZ` at which the resolving power is measured; 0: of the strongest ion"),
		traced:      f.Bool("trace", false, "with --json: the recorded signal at every step too"),
		described:   f.Bool("describe", false, "print the instrument's description, to change and to give to --instrument"),
		out:         f.String("o", "", "write figures and an animation into this `FOLDER`"),
		format:      f.String("format", "svg", "of the figures: svg, png or pdf, a `NAME`"),
		paths:       f.String("paths", "", "with -o: the ions whose paths are drawn, their `MZ`, such as 43,58; without, the strongest"),
		draw:        f.Float64("at", 0, "with -o: the field in `T` at which the paths are drawn; 0: what brings the first of them to the detector"),
	}
}

// chosen gives the instrument that the flags ask for.
func (f *sweepFlags) chosen() (sector.Instrument, error) {
	i := sector.Instrument{Radius: sector.Metre(*f.radius), Voltage: sector.Volt(*f.voltage), SourceSlit: sector.Metre(*f.slit), CollectorSlit: sector.Metre(*f.slit)}
	if name := *f.instrument; name != "" {
		if preset, ok := sector.Preset(name); ok {
			i = preset
		} else {
			if !strings.HasSuffix(name, ".yaml") && !strings.HasSuffix(name, ".yml") {
				return i, wrongUsage("there is no instrument %q: there are %s, and files that end with .yaml", name, strings.Join(sector.PresetNames(), ", "))
			}
			text, err := os.ReadFile(name)
			if err != nil {
				return i, fmt.Errorf("opening %q: %w", name, reason(err))
			}
			if i, err = sector.ReadDescription(text); err != nil {
				return i, fmt.Errorf("%s: %w", name, err)
			}
		}
		if f.given["radius"] {
			i.Radius = sector.Metre(*f.radius)
		}
		if f.given["voltage"] {
			i.Voltage = sector.Volt(*f.voltage)
		}
		if f.given["slit"] {
			i.SourceSlit, i.CollectorSlit = sector.Metre(*f.slit), sector.Metre(*f.slit)
		}
	}
	if f.given["source-slit"] {
		i.SourceSlit = sector.Metre(*f.source)
	}
	if f.given["collector-slit"] {
		i.CollectorSlit = sector.Metre(*f.collector)
	}
	return i, i.Check()
}

func runSweep(ctx context.Context, c *call) error {
	f := newSweepFlags(c)
	args, err := c.parse(0, 1000)
	if err != nil {
		return err
	}
	f.given = map[string]bool{}
	c.flags.Visit(func(one *flag.Flag) { f.given[one.Name] = true })
	if err := f.agree(); err != nil {
		return err
	}
	i, err := f.chosen()
	if err != nil {
		return err
	}
	if *f.described {
		return c.describeInstrument(i)
	}
	beam, err := c.beam(ctx, args, f, i)
	if err != nil {
		return err
	}
	s := &swept{flags: f, beam: beam, instrument: i}
	if err := s.fly(); err != nil {
		return err
	}
	if *f.out != "" {
		if err := s.draw(); err != nil {
			return err
		}
	}
	if c.json {
		return c.printJSON(s.result())
	}
	s.print(c)
	return nil
}

// agree refuses flags that don't go together.
func (f *sweepFlags) agree() error {
	voltage, switched := *f.field != 0, *f.switched != ""
	switch {
	case voltage && switched:
		return wrongUsage("--switch jumps the field, and --field holds it; give one of them")
	case switched && (*f.duration != 0 || *f.fly != 0 || *f.out != ""):
		return wrongUsage("--switch records no sweep; leave out --duration, --fly and -o")
	case voltage && (*f.fly != 0 || *f.out != ""):
		return wrongUsage("--fly and -o are for sweeps of the field; leave out --field")
	case voltage && f.given["voltage"]:
		return wrongUsage("--field holds the field and sweeps the voltage; leave out --voltage")
	case f.given["seed"] && *f.duration == 0 && *f.fly == 0:
		return wrongUsage("--seed is for counted ions; give --duration or --fly too")
	case f.given["rate"] && *f.duration == 0:
		return wrongUsage("--rate is for counted ions; give --duration too")
	case *f.out == "" && (f.given["paths"] || f.given["at"] || f.given["format"]):
		return wrongUsage("--paths, --at and --format are for figures; give -o too")
	}
	return nil
}

// describeInstrument prints the description that --instrument reads.
func (c *call) describeInstrument(i sector.Instrument) error {
	if c.json {
		return c.printJSON(map[string]string{"description": i.Description(), "caution": sector.Caution})
	}
	fmt.Fprint(c.out, i.Description())
	c.print("# %s", sector.Caution)
	return nil
}

// swept is a sweep that was flown.
type swept struct {
	flags      *sweepFlags
	beam       beam
	instrument sector.Instrument

	recording *sector.Recording        // of a field sweep
	volts     *sector.VoltageRecording // of a voltage sweep
	dwells    []sector.Dwell           // of switching
	counted   *sector.Counted
	counting  sector.Counting
	centroids spectrum.Spectrum // of the trace, or of what was counted
	swarm     *sector.Swarm
	power     *power
	files     []string // written
}

// fly does what the flags ask for.
func (s *swept) fly() error {
	f := s.flags
	ions := sector.Ions(s.beam.spectrum)
	if *f.switched != "" {
		selected, err := numbers("switch", *f.switched)
		if err != nil {
			return err
		}
		s.dwells, err = sector.Switch(s.instrument, ions, s.beam.decays, selected)
		return err
	}
	var err error
	trace := spectrum.Trace{}
	if *f.field != 0 {
		s.volts, err = sector.SweepVoltage(s.instrument, sector.Tesla(*f.field), ions, sector.VoltageSettings{
			From: sector.Volt(*f.from), To: sector.Volt(*f.to), Steps: *f.steps, Exponential: *f.exponential, Decays: s.beam.decays})
		if err != nil {
			return err
		}
		if trace, err = s.volts.FieldTrace(s.volts.Trace, s.instrument.Voltage); err != nil {
			return err
		}
	} else {
		set := sector.SweepSettings{From: sector.Tesla(*f.from), To: sector.Tesla(*f.to), Steps: *f.steps, Exponential: *f.exponential, Decays: s.beam.decays}
		if s.recording, err = sector.Sweep(s.instrument, ions, set); err != nil {
			return err
		}
		trace = s.recording.Trace
		if *f.fly != 0 {
			if s.swarm, err = sector.FlySwarm(s.instrument, ions, set, *f.fly, *f.seed); err != nil {
				return err
			}
		}
	}
	if s.power, err = measurePower(s.instrument, trace, s.measuredAt()); err != nil {
		return err
	}
	return s.count(trace)
}

// count lets the detector count, where that was asked for, and finds the peaks.
func (s *swept) count(trace spectrum.Trace) error {
	f := s.flags
	var err error
	if *f.duration == 0 && *f.rate > 0 {
		s.centroids, err = s.instrument.Centroids(trace, slices.Max(trace.Y)*1e-6)
		return err
	}
	s.counting = sector.Counting{Duration: sector.Second(*f.duration), IonRate: *f.rate / slices.Max(trace.Y), Seed: *f.seed}
	recorded := trace
	if s.volts != nil {
		recorded = s.volts.Trace
	}
	if s.counted, err = s.instrument.Detector.Count(recorded, s.counting); err != nil {
		return err
	}
	atField := *s.counted
	if s.volts != nil {
		if atField.Trace, err = s.volts.FieldTrace(s.counted.Trace, s.instrument.Voltage); err != nil {
			return err
		}
	}
	s.centroids, err = s.instrument.Counted(&atField, s.counting)
	return err
}

// measuredAt is the m/z at which the resolving power is measured.
func (s *swept) measuredAt() float64 {
	if *s.flags.measure != 0 {
		return *s.flags.measure
	}
	base, _ := s.beam.spectrum.Base()
	return base.MZ
}

// beam is what flies.
type beam struct {
	name     string // in words
	note     string // of a computed spectrum
	spectrum spectrum.Spectrum
	decays   []sector.Decay
}

// metastable reads a list of decays such as "91-65:1:0.5,105-77".
func metastable(text string) ([]sector.Decay, error) {
	var out []sector.Decay
	if text == "" {
		return nil, nil
	}
	for _, one := range strings.Split(text, ",") {
		parts := strings.Split(strings.TrimSpace(one), ":")
		pair, err := ranges("metastable", parts[0])
		if err != nil {
			return nil, err
		}
		d := sector.Decay{Before: pair[0][0], After: pair[0][1], Intensity: 1, Release: 0.1}
		for k, of := range []*float64{&d.Intensity, &d.Release} {
			if len(parts) <= k+1 {
				break
			}
			if *of, err = strconv.ParseFloat(parts[k+1], 64); err != nil || math.IsNaN(*of) {
				return nil, wrongUsage("--metastable: %q isn't a number; write for example 91-65:1:0.5", parts[k+1])
			}
		}
		if len(parts) > 3 {
			return nil, wrongUsage("--metastable: %q has too many parts; write for example 91-65:1:0.5", one)
		}
		out = append(out, d)
	}
	return out, nil
}
