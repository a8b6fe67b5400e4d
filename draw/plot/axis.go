package plot

import "ionwright/draw"

// Sizes in pixels that all figures of this package share.
const (
	textSize    = 12.0 // labels and tick numbers
	smallSize   = 11.0 // second lines, notes
	titleSize   = 13.0 // axis titles
	tickLength  = 5.0
	minorLength = 3.0
	axisWidth   = 1.0
)

// frame maps data to the canvas: x grows to the right from lo to hi, y grows
// upward from yLo to yHi.
type frame struct {
	box    draw.Box // where the data are drawn
	lo, hi float64
	yLo    float64
	yHi    float64
}

func (f frame) x(v float64) float64 {
	return f.box.Left + (v-f.lo)/(f.hi-f.lo)*f.box.Width()
}

func (f frame) y(v float64) float64 {
	return f.box.Bottom - (v-f.yLo)/(f.yHi-f.yLo)*f.box.Height()
}

// xStep is the distance of numbered ticks such that their numbers, as wide as
// the widest of them, have room. whole forbids steps below one.
func (f frame) xStep(whole bool) float64 {
	room := max(draw.RunsWidth(draw.Plain(tickText(f.hi, niceStep((f.hi-f.lo)/10))), textSize), 18) + 22
	step := niceStep(room / f.box.Width() * (f.hi - f.lo))
	if whole {
		step = max(step, 1)
	}
	return step
}

// minorOf is the distance of the small ticks between numbered ones step apart.
func minorOf(step float64, whole bool) float64 {
	minor := step / 5
	if lead := step / niceStep(step/1.5); lead > 1.9 && lead < 2.1 {
		minor = step / 4 // 2, 20: quarters; 1, 5, 10: fifths
	}
	if whole && minor < 1 {
		minor = 1
	}
	return minor
}

// xAxis draws the axis under the frame with its title.
func (f frame) xAxis(title []draw.Run, whole bool) *draw.Group {
	g := &draw.Group{Class: "axis axis-x"}
	line := draw.Stroke{Role: draw.Muted, Width: axisWidth}
	y := f.box.Bottom
	g.Add(draw.Polyline(line, draw.Point{X: f.box.Left, Y: y}, draw.Point{X: f.box.Right, Y: y}))
	step := f.xStep(whole)
	for _, v := range ticks(f.lo, f.hi, minorOf(step, whole)) {
		g.Add(draw.Polyline(line, draw.Point{X: f.x(v), Y: y}, draw.Point{X: f.x(v), Y: y + minorLength}))
	}
	for _, v := range ticks(f.lo, f.hi, step) {
		g.Add(draw.Polyline(line, draw.Point{X: f.x(v), Y: y}, draw.Point{X: f.x(v), Y: y + tickLength}))
		g.Add(draw.Text{At: draw.Point{X: f.x(v), Y: y + tickLength + 3 + 0.745*textSize}, Anchor: draw.Middle, Size: textSize, Role: draw.Muted, Runs: draw.Plain(tickText(v, step))})
	}
	if len(title) > 0 {
		g.Add(draw.Text{At: draw.Point{X: f.box.Center().X, Y: y + xAxisHeight - 5}, Anchor: draw.Middle, Size: titleSize, Role: draw.Ink, Runs: title})
	}
	return g
}

// Room that the axes take beside a frame, in pixels.
const (
	xAxisHeight = 42.0
	yAxisWidth  = 52.0
)

// yAxis draws the axis left of the frame, numbered every step from from to to,
// with its title along it. text writes a number.
func (f frame) yAxis(title []draw.Run, from, to, step float64, text func(float64) string) *draw.Group {
	g := &draw.Group{Class: "axis axis-y"}
	line := draw.Stroke{Role: draw.Muted, Width: axisWidth}
	x := f.box.Left
	g.Add(draw.Polyline(line, draw.Point{X: x, Y: f.y(from)}, draw.Point{X: x, Y: f.y(to)}))
	for _, v := range ticks(from, to, step) {
		g.Add(draw.Polyline(line, draw.Point{X: x, Y: f.y(v)}, draw.Point{X: x - tickLength, Y: f.y(v)}))
		g.Add(draw.Text{At: draw.Point{X: x - tickLength - 3, Y: f.y(v) + 0.37*textSize}, Anchor: draw.End, Size: textSize, Role: draw.Muted, Runs: draw.Plain(text(v))})
	}
	if len(title) > 0 {
		at := draw.Point{X: x - yAxisWidth + titleSize, Y: (f.y(from) + f.y(to)) / 2}
		g.Add(draw.Text{At: at, Anchor: draw.Middle, Size: titleSize, Role: draw.Ink, Angle: -90, Runs: title})
	}
	return g
}

// intensityAxis is the y axis of 0 to 100 %.
func (f frame) intensityAxis() *draw.Group {
	step := 20.0
	if f.y(0)-f.y(100) < 130 {
		step = 50
	}
	return f.yAxis(draw.Plain("relative intensity (%)"), 0, 100, step, func(v float64) string { return tickText(v, step) })
}
