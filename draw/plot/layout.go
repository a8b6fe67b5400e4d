package plot

import (
	"fmt"
	"slices"

	"ionwright/draw"
)

// Margins of the canvas and the least part of its height that the peaks get,
// in pixels and as a fraction.
const (
	marginTop   = 8.0
	marginRight = 14.0
	leastPart   = 0.55
)

// layOut draws the whole figure. A close-up goes where the peaks leave room, or
// else into a column of its own on the right; drawings beside peaks go where
// there is room, and the canvas grows until there is.
func (c *chart) layOut() (draw.Scene, error) {
	const more, most = 40, 4000 // pixels
	for extra := 0.0; ; extra += more {
		l, items, taken, err := c.withZoom(extra)
		if err != nil {
			return draw.Scene{}, err
		}
		places, ok := c.placeInsets(l, taken)
		// A line over something is worth some more room, where that helps.
		crosses := slices.ContainsFunc(places, func(j joined) bool { return j.crosses })
		if !ok && extra < most || crosses && extra < 5*more {
			continue
		}
		if !ok {
			return draw.Scene{}, fmt.Errorf("there is no room for %s beside the peaks", count(len(c.o.Insets), "drawing"))
		}
		scene := l.scene(c)
		scene.Items = append(scene.Items, items...)
		if len(places) > 0 {
			scene.Items = append(scene.Items, c.drawInsets(places))
		}
		return scene, nil
	}
}

// withZoom arranges the figure with its close-up, if it has one. It returns
// what is drawn for that, and all that a drawing beside a peak keeps off.
func (c *chart) withZoom(extra float64) (*arrangement, []draw.Item, []draw.Box, error) {
	right := c.o.Width - marginRight
	l := c.arrange(right, extra)
	if c.o.Zoom == nil {
		return l, nil, l.taken(c), nil
	}
	in, err := c.closeUpOf(*c.o.Zoom)
	if err != nil {
		return nil, nil, nil, err
	}
	w, h := in.size(c.o.Width)
	area := draw.Box{Left: l.f.box.Left + 20, Top: marginTop + 4, Right: right, Bottom: l.f.box.Bottom - 12}
	box, found := freeRoom(w, h, area, l.taken(c))
	if !found {
		l = c.arrange(right-w-12, extra)
		box = draw.Box{Left: right - w, Top: marginTop + 4, Right: right, Bottom: marginTop + 4 + h}
	}
	return l, []draw.Item{in.mark(l.f), in.draw(c, box)}, append(l.taken(c), box.Grow(insetMargin)), nil
}

// arrangement is where everything of a figure stands.
type arrangement struct {
	f        frame
	height   float64 // of the canvas
	extra    float64 // room above the brackets
	brackets []bracket
	lanes    int
	tags     []tag
	spots    []*spot
}

// top is where the room for labels begins, below the brackets.
func (l *arrangement) top() float64 { return marginTop + l.extra + float64(l.lanes)*laneHeight }

// arrange places brackets and labels in a figure whose m/z axis ends at the
// given x. Where the labels that must be shown don't fit, the room above the
// 100 % line grows, first at the cost of the peaks' height, then of the
// canvas's; extra is room above all that, at the cost of the canvas.
func (c *chart) arrange(right, extra float64) *arrangement {
	for rows := 1.5; ; rows++ {
		l := &arrangement{extra: extra, f: frame{lo: c.o.From, hi: c.o.To, yHi: 100}}
		l.f.box = draw.Box{Left: yAxisWidth, Right: right}
		l.brackets, l.lanes = c.brackets(l.f)
		headroom := float64(l.lanes)*laneHeight + rows*lineHeight
		l.height = max(c.o.Height, (headroom+marginTop+xAxisHeight)/(1-leastPart)) + extra
		headroom += extra
		l.f.box.Top, l.f.box.Bottom = marginTop+headroom, l.height-xAxisHeight

		l.tags = c.tags(l.f)
		area := draw.Box{Left: l.f.box.Left + 2, Top: l.top(), Right: right + marginRight - 2, Bottom: l.f.box.Bottom}
		var ok bool
		l.spots, ok = place(tagLabels(l.tags), c.sticksOf(l.f), c.drops(l), area)
		// Each round adds a line to the room; there are fewer labels than
		// lines long before the last.
		if ok || rows > float64(len(l.tags)*8+20) {
			return l
		}
	}
}

func (l *arrangement) scene(c *chart) draw.Scene {
	scene := draw.Scene{Width: c.o.Width, Height: l.height, Items: []draw.Item{
		l.f.intensityAxis(),
		l.f.xAxis(draw.Words("m/z"), c.o.Decimals == 0),
		c.drawSticks(l.f, "peak", false),
	}}
	if len(l.brackets) > 0 {
		scene.Items = append(scene.Items, c.drawBrackets(l))
	}
	scene.Items = append(scene.Items, c.drawTags(l.tags, l.spots, 0, false))
	return scene
}

// taken lists the boxes that an inset keeps off.
func (l *arrangement) taken(c *chart) []draw.Box {
	const margin = 8
	var taken []draw.Box
	for _, s := range c.sticksOf(l.f) {
		taken = append(taken, draw.Box{Left: s.x - s.halfWidth, Top: s.top, Right: s.x + s.halfWidth, Bottom: l.f.box.Bottom}.Grow(margin))
	}
	for _, b := range c.drops(l) {
		taken = append(taken, b.box.Grow(margin))
	}
	for _, b := range l.brackets {
		half := draw.RunsWidth(b.text, smallSize) / 2
		y := l.laneY(b.lane)
		taken = append(taken, draw.Box{Left: min(b.left, b.textX-half), Top: y - laneHeight + 5, Right: max(b.right, b.textX+half), Bottom: y + 5}.Grow(2))
	}
	for i, s := range l.spots {
		if s == nil {
			continue
		}
		taken = append(taken, s.box.Grow(margin))
		if s.leader {
			from, to := s.line(l.tags[i].tip)
			taken = append(taken, draw.NoBox().Include(from).Include(to).Grow(margin))
		}
	}
	return taken
}
