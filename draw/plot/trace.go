package plot

import (
	"fmt"
	"math"
	"slices"

	"ionwright/draw"
	"ionwright/spectrum"
)

// TraceOptions say how a trace is drawn. The zero value gives 720 by 320
// pixels.
type TraceOptions struct {
	Width, Height float64
	Name          string // of what was recorded; may be empty
	Marks         []Mark // peaks that are labelled
}

// Trace makes a figure of what a detector recorded, the signal in % of its
// highest value. It fails where the trace's Check does, and for a trace
// without a positive signal.
func Trace(t spectrum.Trace, o TraceOptions) (draw.Figure, error) {
	title := "Recorded trace"
	if o.Name != "" {
		title += " of " + o.Name
	}
	if err := t.Check(); err != nil {
		return draw.Figure{}, fmt.Errorf("drawing the trace %q: %w", o.Name, err)
	}
	if len(t.Y) == 0 || !(slices.Max(t.Y) > 0) {
		return draw.Figure{}, fmt.Errorf("drawing the trace %q: it has no signal", o.Name)
	}
	highest := slices.Max(t.Y)
	s := Series{X: t.X, Y: make([]float64, len(t.Y))}
	for i, y := range t.Y {
		s.Y[i] = y / highest * 100
	}
	if o.Height == 0 {
		o.Height = 320
	}
	return Lines([]Series{s}, LinesOptions{
		Width: o.Width, Height: o.Height, Title: title, XTitle: sweptTitle(t.XUnit), YTitle: draw.Plain("signal (% of highest)"), Marks: o.Marks,
	})
}

// sweptTitle is the axis title for a trace's unit.
func sweptTitle(unit string) []draw.Run {
	switch unit {
	case "T":
		return draw.Plain("magnetic field (T)")
	case "V":
		return draw.Plain("accelerating voltage (V)")
	case "s":
		return draw.Plain("time (s)")
	case "m/z":
		return draw.Words("m/z")
	}
	return draw.Plain(unit)
}

// marks labels the first curve, and reports whether there was room for all.
// The curve stands in for sticks: one a pixel.
func (c *curves) marks(f frame) (*draw.Group, bool) {
	s := c.series[0]
	columns := int(f.box.Width()) + 1
	sticks := make([]stick, columns)
	for i := range sticks {
		sticks[i] = stick{f.box.Left + float64(i), f.box.Bottom, 0.5}
	}
	for i := range s.X {
		x, y := f.x(s.X[i]), f.y(s.Y[i])
		from := x
		if i > 0 {
			from = f.x(s.X[i-1])
		}
		for k := int(from - f.box.Left); k <= int(math.Ceil(x-f.box.Left)) && k < columns; k++ {
			sticks[k].top = min(sticks[k].top, y)
			if i > 0 {
				sticks[k].top = min(sticks[k].top, max(y, f.y(s.Y[i-1])))
			}
		}
	}
	labels := make([]label, len(c.o.Marks))
	for i, m := range c.o.Marks {
		x := min(max(f.x(m.X), f.box.Left), f.box.Right)
		labels[i] = label{tip: draw.Point{X: x, Y: sticks[min(int(x-f.box.Left), columns-1)].top}, width: draw.RunsWidth(m.Text, textSize), height: 0.95 * textSize, must: true}
		labels[i].weight = -labels[i].tip.Y
	}
	spots, ok := place(labels, sticks, nil, draw.Box{Left: f.box.Left, Top: 2, Right: c.o.Width - 2, Bottom: f.box.Bottom})
	g := &draw.Group{Class: "labels"}
	for i, s := range spots {
		if s == nil {
			continue
		}
		one := &draw.Group{Class: "label"}
		if c.o.Marks[i].Dot {
			one.Add(draw.Circle(labels[i].tip, 3, draw.Ink, draw.Stroke{}))
		}
		if s.leader {
			from, to := s.line(labels[i].tip)
			one.Add(draw.Polyline(draw.Stroke{Role: draw.Muted, Width: 0.8}, from, to))
		}
		one.Add(draw.Text{At: draw.Point{X: s.box.Center().X, Y: s.box.Bottom - 0.205*textSize}, Anchor: draw.Middle, Size: textSize, Role: draw.Ink, Halo: draw.Paper, Runs: c.o.Marks[i].Text})
		g.Add(one)
	}
	return g, ok
}
