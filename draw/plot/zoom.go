package plot

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"ionwright/draw"
)

// closeUp is the part of the spectrum that is shown close up.
type closeUp struct {
	lo, hi float64 // of its m/z axis
	peaks  []peak
	top    float64 // its intensity axis ends there, in % of the base peak
	step   float64 // between the axis's numbers
}

// closeUpOf works out what the close-up shows; it fails if there is no peak in it.
func (c *chart) closeUpOf(z Zoom) (*closeUp, error) {
	in := &closeUp{lo: min(z.From, z.To) - 0.7, hi: max(z.From, z.To) + 0.7}
	highest := 0.0
	for _, p := range c.peaks {
		if p.mz > in.lo && p.mz < in.hi {
			in.peaks = append(in.peaks, p)
			highest = max(highest, p.percent)
		}
	}
	if len(in.peaks) == 0 || in.hi-in.lo > 1000 {
		return nil, fmt.Errorf("there is no peak to enlarge from m/z %v to %v", z.From, z.To)
	}
	in.step = niceStep(highest / 3)
	in.top = math.Ceil(highest/in.step-1e-9) * in.step
	return in, nil
}

// size is the room that the inset takes in a figure of the given width.
func (in *closeUp) size(width float64) (w, h float64) {
	w = min(max(110, 28*(in.hi-in.lo)+insetLeft+12), 0.42*width)
	return w, min(150, max(110, 0.75*w))
}

// Room that an inset's axes take inside its panel, in pixels.
const (
	insetLeft   = 36.0
	insetTop    = 42.0
	insetBottom = 24.0
)

// freeRoom finds a place for a box of w by h in area that overlaps none of the
// taken boxes, as far to the right and then as high as there is.
func freeRoom(w, h float64, area draw.Box, taken []draw.Box) (draw.Box, bool) {
	const step = 6
	for left := area.Right - w; left >= area.Left; left -= step {
		for top := area.Top; top+h <= area.Bottom; top += step {
			box := draw.Box{Left: left, Top: top, Right: left + w, Bottom: top + h}
			if !slices.ContainsFunc(taken, func(b draw.Box) bool { return b.Overlaps(box) }) {
				return box, true
			}
		}
	}
	return draw.Box{}, false
}

// draw draws the inset into box, with each peak's relative intensity above
// its stick.
func (in *closeUp) draw(c *chart, box draw.Box) *draw.Group {
	g := &draw.Group{ID: "inset", Class: "inset", Title: in.caption(c)}
	g.Add(draw.Rectangle(box, draw.Panel, draw.Stroke{Role: draw.Muted, Width: 0.8}))
	g.Add(draw.Text{At: draw.Point{X: box.Center().X, Y: box.Top + 15}, Anchor: draw.Middle, Size: smallSize, Role: draw.Ink, Runs: draw.Words(in.caption(c))})
	f := frame{
		box: draw.Box{Left: box.Left + insetLeft, Top: box.Top + insetTop, Right: box.Right - 8, Bottom: box.Bottom - insetBottom},
		lo:  in.lo, hi: in.hi, yHi: in.top,
	}
	whole := c.o.Decimals == 0
	g.Add(f.xAxis(nil, whole))
	g.Add(f.yAxis(nil, 0, in.top, in.step, func(v float64) string { return tickText(v, in.step) }))
	width := min(5, 0.25*f.box.Width()/(in.hi-in.lo))
	var labels []label
	var sticks []stick
	for _, p := range in.peaks {
		x, y := f.x(p.mz), f.y(p.percent)
		g.Add(draw.Polyline(draw.Stroke{Role: draw.Ink, Width: width}, draw.Point{X: x, Y: f.y(0)}, draw.Point{X: x, Y: y}))
		labels = append(labels, label{
			tip: draw.Point{X: x, Y: y}, width: draw.RunsWidth(draw.Plain(Percent(p.percent)), smallSize),
			height: 0.745 * smallSize, weight: p.percent,
		})
		sticks = append(sticks, stick{x, y, width / 2})
	}
	spots, _ := place(labels, sticks, nil, draw.Box{Left: f.box.Left, Top: box.Top + 20, Right: box.Right, Bottom: f.box.Bottom})
	for i, s := range spots {
		if s != nil {
			g.Add(&draw.Group{Class: "value", Items: []draw.Item{draw.Text{
				At: draw.Point{X: s.box.Center().X, Y: s.box.Bottom}, Anchor: draw.Middle, Size: smallSize,
				Role: draw.Ink, Runs: draw.Plain(Percent(in.peaks[i].percent)),
			}}})
		}
	}
	return g
}

func (in *closeUp) caption(c *chart) string {
	first := slices.MinFunc(in.peaks, func(a, b peak) int { return cmp.Compare(a.mz, b.mz) })
	last := slices.MaxFunc(in.peaks, func(a, b peak) int { return cmp.Compare(a.mz, b.mz) })
	if first == last {
		return "m/z " + c.mzText(first.mz) + ", in %"
	}
	return "m/z " + c.mzText(first.mz) + "–" + c.mzText(last.mz) + ", in %"
}

// mark shows on the main axis which part is enlarged.
func (in *closeUp) mark(f frame) draw.Path {
	y := f.box.Bottom + 1.5
	return draw.Polyline(draw.Stroke{Role: draw.Ink, Width: 3}, draw.Point{X: f.x(max(in.lo, f.lo)), Y: y}, draw.Point{X: f.x(min(in.hi, f.hi)), Y: y})
}
