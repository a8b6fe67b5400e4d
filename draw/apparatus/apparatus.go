// Package apparatus draws a magnetic-sector instrument to scale with the paths
// of chosen ions through it, the field that each m/z needs, and the trace that
// a sweep records. Everything is computed by package sector: no curve is a
// cartoon.
//
// For most uses call [Rays], [FieldCurve] and [Recording].
package apparatus

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"ionwright/draw"
	"ionwright/draw/plot"
	"ionwright/sector"
)

// RayOptions say what a drawing of the instrument shows.
type RayOptions struct {
	Width float64      // pixels; 0: 720
	MZ    []float64    // the ions whose paths are drawn; at least one
	Field sector.Tesla // of the magnet; 0: what brings the first ion to the collector
}

// mostIons bounds the paths in one drawing; more can't be told apart.
const mostIons = 8

// Rays draws the instrument seen along the magnet's field, to scale, with the
// path of each ion at one field: the middle one, and the two at the edges of a
// beam that diverges. It fails for settings that
// sector refuses and without ions.
func Rays(i sector.Instrument, o RayOptions) (draw.Figure, error) {
	if o.Width == 0 {
		o.Width = 720
	}
	if !(o.Width >= 200 && o.Width <= 10000) {
		return draw.Figure{}, fmt.Errorf("drawing the instrument %q: the width is %v pixels; it can be 200 to 10000", i.Name, o.Width)
	}
	if len(o.MZ) == 0 || len(o.MZ) > mostIons {
		return draw.Figure{}, fmt.Errorf("drawing the instrument %q: the paths of %d ions are asked for; it can be 1 to %d", i.Name, len(o.MZ), mostIons)
	}
	p, err := newPlan(i, o.Width)
	if err == nil {
		if p.field = o.Field; p.field == 0 {
			p.field, err = i.Field(o.MZ[0])
		}
	}
	if err == nil {
		err = p.fly(slices.Compact(slices.Sorted(slices.Values(o.MZ))))
	}
	if err != nil {
		return draw.Figure{}, fmt.Errorf("drawing the instrument %q: %w", i.Name, err)
	}
	return draw.Figure{Scene: p.scene(), Title: p.title(), Description: p.description(), Detail: p.detail(), Table: p.table()}, nil
}

// FieldCurve plots the field that brings ions down the central path against
// their m/z, up to a little more than the largest of mzs, which are marked. It
// fails for settings that sector refuses and without ions. Width and height in
// pixels; 0 for the usual ones.
func FieldCurve(i sector.Instrument, mzs []float64, width, height float64) (draw.Figure, error) {
	if len(mzs) == 0 {
		return draw.Figure{}, fmt.Errorf("plotting field against m/z: no m/z is given")
	}
	top := 1.15 * slices.Max(mzs)
	s := plot.Series{Name: i.Name}
	const points = 200
	for k := 1; k <= points; k++ {
		mz := top * float64(k) / points
		b, err := sector.Field(mz, i.Voltage, i.Radius)
		if err != nil {
			return draw.Figure{}, fmt.Errorf("plotting field against m/z: %w", err)
		}
		s.X, s.Y = append(s.X, mz), append(s.Y, float64(b))
	}
	var marks []plot.Mark
	var words []string
	for _, mz := range slices.Compact(slices.Sorted(slices.Values(mzs))) {
		b, err := sector.Field(mz, i.Voltage, i.Radius)
		if err != nil {
			return draw.Figure{}, fmt.Errorf("plotting field against m/z: %w", err)
		}
		marks = append(marks, plot.Mark{X: mz, Text: draw.Plain(plot.MZ(mz, 0)), Dot: true})
		words = append(words, fmt.Sprintf("m/z %s needs %s T", plot.MZ(mz, 0), significant(float64(b), 3)))
	}
	f, err := plot.Lines([]plot.Series{s}, plot.LinesOptions{
		Width: width, Height: height,
		Title:  fmt.Sprintf("Field against m/z at %s V and a radius of %s m", significant(float64(i.Voltage), 3), significant(float64(i.Radius), 3)),
		XTitle: draw.Words("m/z"), YTitle: draw.Plain("magnetic field (T)"), Marks: marks,
	})
	f.Description = "The field grows with the square root of m/z: " + strings.Join(words, ", ") + "."
	return f, err
}

// RecordingOptions say how a trace is drawn. The zero value gives 720 by 320
// pixels.
type RecordingOptions struct {
	Width, Height float64
	Most          int // labelled peaks at most, the strongest ones; 0: 24; negative: none
}

// Recording plots the trace of a sweep with each ion's m/z at its peak; ions
// of less than a hundredth of the strongest aren't labelled. The apparent m/z of
// a metastable ion has an asterisk.
func Recording(r *sector.Recording, name string) (draw.Figure, error) {
	return RecordingSized(r, name, RecordingOptions{})
}

// RecordingSized is Recording with a choice of size.
func RecordingSized(r *sector.Recording, name string, o RecordingOptions) (draw.Figure, error) {
	if o.Most == 0 {
		o.Most = 24
	}
	if len(r.Trace.X) == 0 {
		return draw.Figure{}, fmt.Errorf("drawing the trace %q: it is empty", name)
	}
	windows := slices.DeleteFunc(slices.Clone(r.Windows), func(w sector.Window) bool {
		at := float64(w.Center)
		return at < r.Trace.X[0] || at > r.Trace.X[len(r.Trace.X)-1]
	})
	slices.SortStableFunc(windows, func(a, b sector.Window) int {
		_, x := r.Of(a)
		_, y := r.Of(b)
		return cmp.Compare(y, x)
	})
	var marks []plot.Mark
	for k, w := range windows {
		mz, intensity := r.Of(w)
		if _, strongest := r.Of(windows[0]); k >= o.Most || !(intensity >= strongest/100) {
			break
		}
		// Thermal energies pull a peak to one side, so the mark is at its top.
		mark := plot.Mark{X: top(r, w), Text: draw.Plain(plot.MZ(mz, 0))}
		if w.Decay {
			mark.Text = draw.Plain(plot.MZ(mz, 1) + "*")
		}
		marks = append(marks, mark)
	}
	slices.SortStableFunc(marks, func(a, b plot.Mark) int { return cmp.Compare(a.X, b.X) })
	return plot.Trace(r.Trace, plot.TraceOptions{Width: o.Width, Height: o.Height, Name: name, Marks: marks})
}

// top is the field at which the trace is highest in a window.
func top(r *sector.Recording, w sector.Window) float64 {
	x, y := r.Trace.X, r.Trace.Y
	at, _ := slices.BinarySearch(x, float64(w.From))
	best := at
	for ; at < len(x) && x[at] <= float64(w.To); at++ {
		if y[at] > y[best] {
			best = at
		}
	}
	if best >= len(x) || y[best] == 0 {
		return float64(w.Center)
	}
	return x[best]
}

// degrees writes an angle to a hundredth of a degree.
func degrees(a sector.Radian) string {
	return strconv.FormatFloat(math.Round(float64(a)*180/math.Pi*100)/100, 'f', -1, 64)
}

// significant writes v with so many significant digits, without an exponent
// in the range that instruments have.
func significant(v float64, digits int) string {
	if v == 0 {
		return "0"
	}
	decimals := max(0, digits-1-int(math.Floor(math.Log10(math.Abs(v)))))
	text := strconv.FormatFloat(v, 'f', min(decimals, 9), 64)
	return strings.Replace(text, "-", "−", 1)
}

func (p *plan) title() string {
	title := "Magnetic-sector instrument to scale"
	if p.instrument.Name != "" {
		title += " (" + p.instrument.Name + ")"
	}
	return title
}

func (b beam) words() string {
	side := "outer"
	if b.inner {
		side = "inner"
	}
	switch {
	case b.arrive:
		return "reaches the collector"
	case b.end == sector.Plates:
		return "hits a plate of the electric sector"
	case b.end == sector.Turned:
		return "circles in the magnet"
	case b.end == sector.ChamberWall:
		return "hits the " + side + " wall"
	}
	return "misses the collector slit on the " + side + " side"
}

// description says in one sentence what happens to each ion.
func (p *plan) description() string {
	var words []string
	for _, b := range p.beams {
		words = append(words, fmt.Sprintf("m/z %s %s", plot.MZ(b.mz, 0), b.words()))
	}
	return fmt.Sprintf("Paths of ions through the instrument at a field of %s T: %s.", significant(float64(p.field), 3), strings.Join(words, ", "))
}

func (p *plan) detail() string {
	i := p.instrument
	detail := fmt.Sprintf("The ions are accelerated by %s V and bent by %s degrees on a radius of %s m.", significant(float64(i.Voltage), 3), degrees(p.layout.Magnet.Angle), significant(float64(i.Radius), 3))
	if i.Electric != nil {
		detail += fmt.Sprintf(" An electric sector of %s degrees stands before the magnet.", degrees(i.Electric.Angle))
	}
	return detail + " Lighter ions bend more. Lengths are to scale; the openings of the slits are drawn wider than they are."
}

func (p *plan) table() draw.Table {
	t := draw.Table{Caption: "Ions in the drawing", Columns: []string{"m/z", "radius of the path (m)", "what becomes of it"}}
	for _, b := range p.beams {
		radius := ""
		if r, err := sector.Radius(b.mz, p.field, p.instrument.Voltage); err == nil {
			radius = significant(float64(r), 3)
		}
		t.Rows = append(t.Rows, []string{plot.MZ(b.mz, 0), radius, b.words()})
	}
	return t
}

// point is a place in the plane of the beam in m.
type point struct{ x, y float64 }

func (a point) plus(b point) point    { return point{a.x + b.x, a.y + b.y} }
func (a point) minus(b point) point   { return point{a.x - b.x, a.y - b.y} }
func (a point) times(k float64) point { return point{a.x * k, a.y * k} }
func (a point) dot(b point) float64   { return a.x*b.x + a.y*b.y }
func (a point) left() point           { return point{-a.y, a.x} }
