// Package motion makes an animation of a field sweep: the instrument to scale
// with the paths of ions, which sector computes for every field shown, and the
// trace that grows below. It plays without a server and without a library.
//
// For most uses call [New] and write its SVG or HTML.
package motion

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"ionwright/draw"
	"ionwright/draw/apparatus"
	"ionwright/sector"
)

// Options say what an animation shows. The zero value shows the paths of the
// five strongest ions in twelve seconds, with stops.
type Options struct {
	Name string    // of what flies; may be empty
	MZ   []float64 // the ions whose paths are drawn, 1 to 6; nil: the strongest ones
	// Seconds is how long the sweep takes, without the stops; 0: 12. The real
	// one is faster or slower: what is true to scale is the field.
	Seconds float64
}

// Film is an animation that is ready to be written.
type Film struct {
	figure   draw.Figure // the instrument and the whole trace, without paths
	flights  []flight    // one for each ion
	times    []float64   // of the pictures, parts of the whole, from 0 to 1
	cursor   []float64   // where the trace has come to in each picture, x in pixels
	top      float64     // of the trace
	bottom   float64
	left     float64
	right    float64
	duration float64      // s
	curve    []draw.Point // the trace
	readout  draw.Point
	arrivals []arrival
}

// flight is how one ion's path changes.
type flight struct {
	mz    float64
	ways  [][]draw.Point // one for each picture, all with equally many points
	inner []bool
}

// arrival is a stop at which an ion reaches the detector.
type arrival struct {
	ion      int
	from, to float64 // parts of the whole
	field    sector.Tesla
}

// Sizes and pace.
const (
	width        = 720.0
	stageHeight  = 540.0
	traceHeight  = 230.0
	mostIons     = 6
	defaultIons  = 5
	pictures     = 60 // beside those at which ions arrive
	wayPoints    = 28 // of a path
	stopSeconds  = 1.0
	readoutSpace = 26.0
)

// New computes an animation of a recorded field sweep. It fails for a number
// of ions that can't be told apart, and for settings that sector refuses.
func New(r *sector.Recording, o Options) (*Film, error) {
	if o.Seconds == 0 {
		o.Seconds = 12
	}
	if !(o.Seconds >= 1 && o.Seconds <= 600) {
		return nil, fmt.Errorf("animating a sweep: it is to take %v seconds; expected 1 to 600", o.Seconds)
	}
	mzs := slices.Compact(slices.Sorted(slices.Values(o.MZ)))
	if len(mzs) == 0 {
		mzs = strongest(r)
	}
	if len(mzs) == 0 || len(mzs) > mostIons {
		return nil, fmt.Errorf("animating a sweep: the paths of %d ions are asked for; it can be 1 to %d", len(mzs), mostIons)
	}
	stage, err := apparatus.NewStage(r.Instrument, width, stageHeight)
	if err != nil {
		return nil, err
	}
	trace, err := apparatus.RecordingSized(r, o.Name, apparatus.RecordingOptions{Width: width, Height: traceHeight, Most: -1})
	if err != nil {
		return nil, err
	}
	f := &Film{}
	f.compose(stage, trace)
	fields, err := f.schedule(r, mzs, o.Seconds)
	if err != nil {
		return nil, err
	}
	x := fields[len(fields)-1] - fields[0]
	for _, b := range fields {
		f.cursor = append(f.cursor, f.left+float64((b-fields[0])/x)*(f.right-f.left))
	}
	if err := f.fly(stage, r.Instrument.Voltage, mzs, fields); err != nil {
		return nil, err
	}
	f.describe(r, mzs, o.Name)
	return f, nil
}

// strongest are the m/z of the strongest ions, none within two units of
// another, so that their paths can be told apart.
func strongest(r *sector.Recording) []float64 {
	ions := slices.Clone(r.Ions)
	slices.SortStableFunc(ions, func(a, b sector.Ion) int { return cmp.Compare(b.Intensity, a.Intensity) })
	first, last := r.Trace.X[0], r.Trace.X[len(r.Trace.X)-1]
	var out []float64
	for _, ion := range ions {
		b, err := r.Instrument.Field(ion.MZ)
		close := slices.ContainsFunc(out, func(mz float64) bool { return math.Abs(mz-ion.MZ) < 2 })
		if err != nil || close || float64(b) < first || float64(b) > last {
			continue
		}
		if out = append(out, ion.MZ); len(out) == defaultIons {
			break
		}
	}
	slices.Sort(out)
	return out
}

// compose puts the trace below the instrument.
func (f *Film) compose(stage *apparatus.Stage, trace draw.Figure) {
	f.readout = draw.Point{X: width / 2, Y: stage.Scene.Height + 4}
	at := stage.Scene.Height + readoutSpace
	f.figure.Scene = draw.Scene{Width: width, Height: math.Ceil(at + trace.Scene.Height)}
	f.figure.Scene.Items = append(f.figure.Scene.Items, stage.Scene.Items...)
	f.figure.Scene.Items = append(f.figure.Scene.Items, draw.Placed(trace.Scene.Items, 1, 0, at)...)
	f.bottom, f.top = 0, at
	f.figure.Scene.Walk(func(item draw.Item, within []*draw.Group) {
		path, ok := item.(draw.Path)
		if !ok || within[len(within)-1].Class != "series" {
			return
		}
		points := path.Flatten(0.5)
		all := slices.Concat(points...)
		f.curve, f.left, f.right = all, all[0].X, all[len(all)-1].X
		for _, p := range all {
			f.bottom = max(f.bottom, p.Y)
		}
	})
	f.figure.Table = trace.Table
}

// schedule chooses the fields of the pictures, and when each is shown: evenly
// over the sweep, with a stop where a drawn ion reaches the detector.
func (f *Film) schedule(r *sector.Recording, mzs []float64, seconds float64) ([]sector.Tesla, error) {
	first, last := sector.Tesla(r.Trace.X[0]), sector.Tesla(r.Trace.X[len(r.Trace.X)-1])
	type stop struct {
		field sector.Tesla
		ion   int // -1: none arrives
	}
	var stops []stop
	for k := 0; k <= pictures; k++ {
		stops = append(stops, stop{first + (last-first)*sector.Tesla(k)/pictures, -1})
	}
	for k, mz := range mzs {
		b, err := r.Instrument.Field(mz)
		if err != nil {
			return nil, fmt.Errorf("animating a sweep: %w", err)
		}
		if b < first || b > last {
			return nil, fmt.Errorf("animating a sweep: m/z %s needs %.4g T, and the sweep goes from %.4g T to %.4g T", mzText(mz), float64(b), float64(first), float64(last))
		}
		stops = append(stops, stop{b, k})
	}
	slices.SortStableFunc(stops, func(a, b stop) int {
		switch {
		case a.field < b.field:
			return -1
		case a.field > b.field:
			return 1
		}
		return 0
	})
	f.duration = seconds + stopSeconds*float64(len(mzs)+1) // the last stop is the end
	at := 0.0
	var fields []sector.Tesla
	for k, s := range stops {
		if k > 0 {
			at += float64((s.field-stops[k-1].field)/(last-first)) * seconds
		}
		fields, f.times = append(fields, s.field), append(f.times, at/f.duration)
		if s.ion >= 0 {
			from := at
			at += stopSeconds
			fields, f.times = append(fields, s.field), append(f.times, at/f.duration)
			f.arrivals = append(f.arrivals, arrival{s.ion, from / f.duration, at / f.duration, s.field})
		}
	}
	fields, f.times = append(fields, last), append(f.times, 1)
	return fields, nil
}

// fly computes the paths of all pictures.
func (f *Film) fly(stage *apparatus.Stage, v sector.Volt, mzs []float64, fields []sector.Tesla) error {
	ions := make([]sector.Ion, len(mzs))
	f.flights = make([]flight, len(mzs))
	for k, mz := range mzs {
		ions[k] = sector.Ion{MZ: mz, Intensity: 1}
		f.flights[k].mz = mz
	}
	for _, b := range fields {
		frame, err := stage.Instrument.Frame(ions, sector.FrameSettings{Field: b, Voltage: v})
		if err != nil {
			return fmt.Errorf("animating a sweep: %w", err)
		}
		for k, beam := range frame.Beams {
			ray := beam.Rays[0]
			way := make([]draw.Point, len(ray.Points))
			for n, p := range ray.Points {
				way[n] = stage.At(p)
			}
			f.flights[k].ways = append(f.flights[k].ways, evenly(way, wayPoints))
			f.flights[k].inner = append(f.flights[k].inner, ray.Inner)
		}
	}
	return nil
}

// evenly returns n points at equal distances along a way.
func evenly(way []draw.Point, n int) []draw.Point {
	along := make([]float64, len(way))
	for k := 1; k < len(way); k++ {
		along[k] = along[k-1] + math.Hypot(way[k].X-way[k-1].X, way[k].Y-way[k-1].Y)
	}
	whole := along[len(way)-1]
	out := make([]draw.Point, n)
	at := 0
	for k := range out {
		want := whole * float64(k) / float64(n-1)
		for at < len(way)-2 && along[at+1] < want {
			at++
		}
		part := 0.0
		if length := along[at+1] - along[at]; length > 0 {
			part = min(max((want-along[at])/length, 0), 1)
		}
		a, b := way[at], way[at+1]
		out[k] = draw.Point{X: a.X + part*(b.X-a.X), Y: a.Y + part*(b.Y-a.Y)}
	}
	return out
}
