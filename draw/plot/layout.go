package plot

import (
	"ionwright/draw"
)

// layOut draws the whole figure. Where the labels that must be shown don't
// fit, the room above the 100 % line grows, first at the cost of the peaks'
// height, then of the canvas's.
func (c *chart) layOut() draw.Scene {
	const (
		marginTop   = 8.0
		marginRight = 14.0
		leastHeight = 0.55 // of the canvas, for the peaks
	)
	width, height := c.o.Width, c.o.Height
	right := width - marginRight
	if z := c.o.Zoom; z != nil {
		_ = z
	}
	for rows := 1.5; ; rows++ {
		f := frame{lo: c.o.From, hi: c.o.To, yLo: 0, yHi: 100}
		f.box = draw.Box{Left: yAxisWidth, Right: right}
		all, lanes := c.brackets(f)
		headroom := float64(lanes)*laneHeight + rows*lineHeight
		height = max(c.o.Height, (headroom+marginTop+xAxisHeight)/(1-leastHeight))
		f.box.Top, f.box.Bottom = marginTop+headroom, height-xAxisHeight

		tags := c.tags(f, 1)
		area := draw.Box{Left: f.box.Left + 2, Top: marginTop + float64(lanes)*laneHeight, Right: width - 2, Bottom: f.box.Bottom}
		spots, ok := place(tagLabels(tags), c.sticksOf(f), c.drops(f, all, marginTop, lanes, tags), area)
		if !ok && rows < 500 {
			continue
		}
		scene := draw.Scene{Width: width, Height: height}
		scene.Items = []draw.Item{
			f.intensityAxis(),
			f.xAxis(draw.Words("m/z"), c.o.Decimals == 0),
			c.drawSticks(f, "peak"),
			c.drawBrackets(f, all, marginTop, lanes, tags, spots),
			c.drawTags(tags, spots, 0, false),
		}
		return scene
	}
}
