package web

import (
	"context"
	"errors"
	"fmt"
	"math"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"ionwright/draw/plot"
	"ionwright/sector"
	"ionwright/spectrum"
)

// shown is what the place Demonstrate is asked: everything that its address
// says.
type shown struct {
	Q          string  // compound whose ions fly
	Peaks      string  // or ions as they are typed
	Instrument int     // of the presets
	Voltage    float64 // V; 0: the instrument's
	Slit       float64 // mm, both slits; 0: the instrument's
	Field      float64 // T; 0: where the lightest ion comes through
	WhatIf     string  // key of a what-if; "" none
	Projector  bool
}

// Ranges of the sliders.
const (
	lowestVoltage, highestVoltage = 200, 10_000 // V
	narrowestSlit, widestSlit     = 0.01, 3     // mm
	usualIons                     = "butan-2-one"
)

func readShown(r *http.Request) (shown, error) {
	v := r.URL.Query()
	d := shown{Q: strings.TrimSpace(v.Get("q")), Peaks: strings.TrimSpace(v.Get("peaks")), WhatIf: v.Get("if"), Projector: v.Get("projector") == "1"}
	if d.Q == "" && d.Peaks == "" {
		d.Q = usualIons
	}
	for _, f := range []struct {
		name        string
		least, most float64
		unit        string
		into        *float64
	}{
		{"voltage", lowestVoltage, highestVoltage, "V", &d.Voltage},
		{"slit", narrowestSlit, widestSlit, "mm", &d.Slit},
		{"field", 0, 100, "T", &d.Field},
	} {
		text := v.Get(f.name)
		if text == "" {
			continue
		}
		x, err := strconv.ParseFloat(text, 64)
		if err != nil || !(x >= f.least && x <= f.most) {
			return d, badRequest(fmt.Errorf("the %s %q isn't a number of %s from %g to %g", f.name, text, f.unit, f.least, f.most))
		}
		*f.into = x
	}
	if text := v.Get("instrument"); text != "" {
		n, err := strconv.Atoi(text)
		if err != nil || n < 0 || n >= len(sector.Presets()) {
			return d, badRequest(fmt.Errorf("there is no instrument %q", text))
		}
		d.Instrument = n
	}
	if _, ok := whatIfNamed(d.WhatIf); d.WhatIf != "" && !ok {
		return d, badRequest(fmt.Errorf("there is no what-if %q", d.WhatIf))
	}
	return d, nil
}

func (d shown) addressAt(path string) string {
	number := func(x float64) string {
		if x == 0 {
			return ""
		}
		return strconv.FormatFloat(x, 'g', 5, 64)
	}
	instrument, projector := "", ""
	if d.Instrument != 0 {
		instrument = strconv.Itoa(d.Instrument)
	}
	if d.Projector {
		projector = "1"
	}
	return address(path, [][2]string{{"q", d.Q}, {"peaks", d.Peaks}, {"instrument", instrument}, {"voltage", number(d.Voltage)},
		{"slit", number(d.Slit)}, {"field", number(d.Field)}, {"if", d.WhatIf}, {"projector", projector}}...)
}

// WithWhatIf is the address with a what-if, or without the one that is on.
func (d shown) WithWhatIf(key string) string {
	if d.WhatIf == key {
		key = ""
	}
	d.WhatIf = key
	return d.addressAt("/demonstrate")
}

// setUp is an instrument and the ions that fly through it.
type setUp struct {
	instrument sector.Instrument
	ions       []sector.Ion
	name       string // of the ions
}

// mostIons fly in a demonstration: the strongest.
const mostIons = 40

// setUp looks up what is asked for, without the what-if.
func (s *Server) setUp(ctx context.Context, d shown) (setUp, error) {
	u := setUp{instrument: sector.Presets()[d.Instrument], name: d.Q}
	var peaks spectrum.Spectrum
	if d.Peaks != "" {
		typed, err := typedIons(d.Peaks)
		if err != nil {
			return u, err
		}
		peaks, u.name = typed, "the ions"
	} else {
		p, err := s.predict(ctx, d.Q, usualEV)
		if err != nil {
			return u, err
		}
		peaks = p.Spectrum().AtLeast(1)
	}
	strongest, err := spectrum.New(peaks.Scaled(100).Strongest(mostIons))
	if err != nil {
		return u, badRequest(err)
	}
	u.ions = sector.Ions(strongest)
	if d.Voltage != 0 {
		u.instrument.Voltage = sector.Volt(d.Voltage)
	}
	if d.Slit != 0 {
		u.instrument.SourceSlit, u.instrument.CollectorSlit = sector.Metre(d.Slit/1000), sector.Metre(d.Slit/1000)
	}
	return u, nil
}

// typedIons reads ions as they are typed: m/z alone, all equally strong, or
// peaks.
func typedIons(text string) (spectrum.Spectrum, error) {
	if strings.Contains(text, ":") {
		return typedPeaks(text)
	}
	var peaks []spectrum.Peak
	for _, field := range strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" \t\r\n,;", r) }) {
		mz, err := strconv.ParseFloat(field, 64)
		if err != nil {
			return spectrum.Spectrum{}, badRequest(fmt.Errorf("%q isn't an m/z; write such as 28 44, or 28:100 44:30 with intensities", field))
		}
		peaks = append(peaks, spectrum.Peak{MZ: mz, Intensity: 100})
	}
	s, err := spectrum.New(peaks)
	return checkedPeaks(s, err)
}

// whatIf is an idea to try on the instrument.
type whatIf struct {
	Key, Name string
	Says      string // what follows, in a sentence
	change    func(u *setUp)
}

// whatIfs is the visible list.
func whatIfs() []whatIf {
	return []whatIf{
		{"voltage", "Twice the voltage", "Faster ions bend less, so every field grows by the square root of two.",
			func(u *setUp) { u.instrument.Voltage *= 2 }},
		{"slit", "Half the slits", "Peaks become half as wide, so neighbors come apart; fewer ions pass at a time.",
			func(u *setUp) { u.instrument.SourceSlit /= 2; u.instrument.CollectorSlit /= 2 }},
		{"charge", "Charge two", "Only m/z counts: an ion of charge two arrives where a singly charged one of half its mass does.",
			func(u *setUp) {
				for i := range u.ions {
					u.ions[i].MZ /= 2
				}
			}},
		{"radius", "A smaller magnet", "On a circle of half the radius every ion needs twice the field.",
			func(u *setUp) { halveRadius(&u.instrument) }},
	}
}

// halveRadius makes the instrument half as large; slits stay.
func halveRadius(i *sector.Instrument) {
	i.Radius /= 2
	i.Before /= 2
	i.After /= 2
	i.Chamber /= 2
	i.Gap /= 2
	if i.Electric != nil {
		e := *i.Electric
		e.Radius /= 2
		e.Between /= 2
		e.Gap /= 2
		i.Electric = &e
	}
	i.MaxField = 0
}

func whatIfNamed(key string) (whatIf, bool) {
	for _, w := range whatIfs() {
		if w.Key == key {
			return w, true
		}
	}
	return whatIf{}, false
}

// changed is the set-up with the what-if.
func (u setUp) changed(d shown) setUp {
	if w, ok := whatIfNamed(d.WhatIf); ok {
		u.ions = slices.Clone(u.ions)
		w.change(&u)
	}
	return u
}

// sweepRange is from a little below the lightest to a little above the
// heaviest ion, as far as the magnet goes.
func (u setUp) sweepRange() (from, to sector.Tesla, err error) {
	lightest, heaviest := math.Inf(1), 0.0
	for _, ion := range u.ions {
		lightest, heaviest = min(lightest, ion.MZ), max(heaviest, ion.MZ)
	}
	i := u.instrument
	if from, err = sector.Field(lightest, i.Voltage, i.Radius); err != nil {
		return 0, 0, badRequest(err)
	}
	if to, err = sector.Field(heaviest, i.Voltage, i.Radius); err != nil {
		return 0, 0, badRequest(err)
	}
	const margin = 0.04
	from, to = from*(1-margin), to*(1+margin)
	if i.MaxField > 0 {
		to = min(to, i.MaxField)
	}
	if from >= to {
		return 0, 0, badRequest(fmt.Errorf("the magnet of %q reaches %.3g T, too little for the lightest of these ions at %.0f V; lower the voltage", i.Name, float64(i.MaxField), float64(i.Voltage)))
	}
	return from, to, nil
}

// arrival is an ion of the table: the field at which it comes through.
type arrival struct {
	MZ      float64 `json:"mz"`
	Field   float64 `json:"field"` // T
	Before  float64 `json:"-"`     // T, without the what-if
	Height  float64 `json:"height"`
	Beyond  bool    `json:"-"` // the magnet doesn't reach it
	written string
}

func (a arrival) Label() string { return a.written }

// Fields are written as the trade does, to a millitesla.
func (a arrival) FieldText() string  { return fmt.Sprintf("%.3f T", a.Field) }
func (a arrival) BeforeText() string { return fmt.Sprintf("%.3f T", a.Before) }

func arrivals(before, now setUp) ([]arrival, error) {
	var out []arrival
	for k, ion := range now.ions {
		b, err := sector.Field(ion.MZ, now.instrument.Voltage, now.instrument.Radius)
		old, err2 := sector.Field(before.ions[k].MZ, before.instrument.Voltage, before.instrument.Radius)
		if err = errors.Join(err, err2); err != nil {
			return nil, badRequest(err)
		}
		most := now.instrument.MaxField
		out = append(out, arrival{MZ: ion.MZ, Field: float64(b), Before: float64(old), Height: ion.Intensity,
			Beyond: most > 0 && b > most, written: plot.MZ(ion.MZ, 0)})
	}
	return out, nil
}
