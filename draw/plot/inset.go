package plot

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"ionwright/draw"
)

// Inset is a drawing, such as a structure, that stands beside a peak, joined
// to it by a line.
type Inset struct {
	MZ     float64
	Figure draw.Figure // as large as it is to be; its description becomes part of the figure's words
}

// insetMargin is the air around an inset, in pixels.
const insetMargin = 6.0

// joined is an inset with its place.
type joined struct {
	box      draw.Box
	from, to draw.Point // of the line, from the peak's label
	line     bool       // false where the inset stands so close that no line is needed
	crosses  bool       // the line runs over something
}

// checkInsets fails for an inset that can't be placed at all.
func (c *chart) checkInsets() error {
	for _, in := range c.o.Insets {
		if c.find(in.MZ) < 0 {
			return fmt.Errorf("a drawing is to stand beside m/z %s, and there is no peak", c.mzText(in.MZ))
		}
		w, h := in.Figure.Scene.Bounds().Width(), in.Figure.Scene.Bounds().Height()
		if !(w > 0 && h > 0 && w <= c.o.Width-yAxisWidth-2*marginRight && h <= 2000) {
			return fmt.Errorf("the drawing beside m/z %s is %v by %v pixels, and the figure is %v wide", c.mzText(in.MZ), w, h, c.o.Width)
		}
	}
	return nil
}

// placeInsets finds room for the insets, larger ones first, off everything
// that is taken; false if one has none.
func (c *chart) placeInsets(l *arrangement, taken []draw.Box) ([]joined, bool) {
	out := make([]joined, len(c.o.Insets))
	order := make([]int, len(out))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		x, y := c.o.Insets[a].Figure.Scene.Bounds(), c.o.Insets[b].Figure.Scene.Bounds()
		return cmp.Compare(y.Width()*y.Height(), x.Width()*x.Height())
	})
	for _, i := range order {
		j, ok := c.placeInset(l, c.o.Insets[i], taken)
		if !ok {
			return nil, false
		}
		out[i] = j
		taken = append(taken, j.box.Grow(insetMargin))
		if j.line {
			taken = append(taken, alongLine(j.from, j.to)...)
		}
	}
	return out, true
}

// placeInset finds the place for one inset that costs least: near to its
// peak's label, and joined to it by a line that crosses nothing.
func (c *chart) placeInset(l *arrangement, in Inset, taken []draw.Box) (joined, bool) {
	const step = 6
	own := c.anchorOf(l, c.find(in.MZ))
	ink := in.Figure.Scene.Bounds()
	w, h := ink.Width(), ink.Height()
	area := draw.Box{Left: l.f.box.Left + 8, Top: marginTop, Right: l.f.box.Right, Bottom: l.f.box.Bottom - 8}
	var best joined
	bestCost := math.Inf(1)
	for left := area.Left; left+w <= area.Right; left += step {
		for top := area.Top; top+h <= area.Bottom; top += step {
			box := draw.Box{Left: left, Top: top, Right: left + w, Bottom: top + h}
			j := joined{box: box}
			j.from, j.to = between(own, box)
			length := math.Hypot(j.to.X-j.from.X, j.to.Y-j.from.Y)
			cost := length
			if cost >= bestCost || slices.ContainsFunc(taken, func(b draw.Box) bool { return b.Overlaps(box) }) {
				continue
			}
			if j.line = length > 5; j.line {
				for _, b := range taken {
					// The peak's own label and stick touch the line's start.
					if !b.Overlaps(own.Grow(-0.5)) && b.CrossedBy(j.from, j.to) {
						cost += 150
						j.crosses = true
					}
				}
			}
			if cost < bestCost {
				best, bestCost = j, cost
			}
		}
	}
	if best.line {
		best.from, best.to, best.line = joint(own, in.Figure.Scene, best.box.Left-ink.Left, best.box.Top-ink.Top)
	}
	return best, !math.IsInf(bestCost, 1)
}

// joint is the line from a box to the nearest ink of a scene moved by dx and
// dy, which ends a little before; false if there is nothing left of it.
func joint(own draw.Box, s draw.Scene, dx, dy float64) (from, to draw.Point, ok bool) {
	const air = 4
	nearest := math.Inf(1)
	try := func(p draw.Point) {
		p = draw.Point{X: p.X + dx, Y: p.Y + dy}
		q := draw.Point{X: min(max(p.X, own.Left), own.Right), Y: min(max(p.Y, own.Top), own.Bottom)}
		if d := math.Hypot(p.X-q.X, p.Y-q.Y); d < nearest-1e-9 {
			from, to, nearest = q, p, d
		}
	}
	s.Walk(func(item draw.Item, _ []*draw.Group) {
		switch it := item.(type) {
		case draw.Path:
			for _, part := range it.Flatten(0.5) {
				for k, p := range part {
					try(p)
					if k > 0 { // and between the corners
						for _, t := range []float64{0.25, 0.5, 0.75} {
							try(draw.Point{X: part[k-1].X + t*(p.X-part[k-1].X), Y: part[k-1].Y + t*(p.Y-part[k-1].Y)})
						}
					}
				}
			}
		case draw.Text:
			b := it.Bounds()
			for _, x := range []float64{b.Left, (b.Left + b.Right) / 2, b.Right} {
				for _, y := range []float64{b.Top, (b.Top + b.Bottom) / 2, b.Bottom} {
					try(draw.Point{X: x, Y: y})
				}
			}
		}
	})
	const least = 10 // shorter ones look like a bond or a minus sign
	if nearest <= air+least || math.IsInf(nearest, 1) {
		return from, to, false
	}
	k := (nearest - air) / nearest
	return from, draw.Point{X: from.X + k*(to.X-from.X), Y: from.Y + k*(to.Y-from.Y)}, true
}

// anchorOf is what a peak's inset is joined to: its label, or the top of its
// stick.
func (c *chart) anchorOf(l *arrangement, peak int) draw.Box {
	for k, t := range l.tags {
		if t.peak == peak && l.spots[k] != nil {
			return l.spots[k].box.Grow(1)
		}
	}
	tip := draw.Point{X: l.f.x(c.peaks[peak].mz), Y: l.f.y(c.peaks[peak].percent)}
	return draw.NoBox().Include(tip).Grow(1)
}

// between is the shortest line from one box to the other; where they face each
// other along a side, it starts at the middle of what they share.
func between(a, b draw.Box) (from, to draw.Point) {
	pair := func(aLo, aHi, bLo, bHi float64) (float64, float64) {
		switch {
		case bLo >= aHi:
			return aHi, bLo
		case aLo >= bHi:
			return aLo, bHi
		}
		m := (max(aLo, bLo) + min(aHi, bHi)) / 2
		return m, m
	}
	from.X, to.X = pair(a.Left, a.Right, b.Left, b.Right)
	from.Y, to.Y = pair(a.Top, a.Bottom, b.Top, b.Bottom)
	return from, to
}

// alongLine are boxes that cover a line, for others to keep off.
func alongLine(p, q draw.Point) []draw.Box {
	n := int(math.Hypot(q.X-p.X, q.Y-p.Y)/12) + 1
	var out []draw.Box
	for k := range n {
		at := func(k int) draw.Point {
			t := float64(k) / float64(n)
			return draw.Point{X: p.X + t*(q.X-p.X), Y: p.Y + t*(q.Y-p.Y)}
		}
		out = append(out, draw.NoBox().Include(at(k)).Include(at(k+1)).Grow(2))
	}
	return out
}

// drawInsets draws the insets with their lines.
func (c *chart) drawInsets(places []joined) *draw.Group {
	g := &draw.Group{Class: "insets"}
	for i, j := range places {
		in := c.o.Insets[i]
		one := &draw.Group{Class: "drawing", Title: in.Figure.Title}
		if j.line {
			one.Add(draw.Polyline(draw.Stroke{Role: draw.Muted, Width: 0.8}, j.from, j.to))
		}
		ink := in.Figure.Scene.Bounds()
		one.Add(withoutIDs(draw.Placed(in.Figure.Scene.Items, 1, j.box.Left-ink.Left, j.box.Top-ink.Top))...)
		g.Add(one)
	}
	return g
}

// withoutIDs takes the ids off a drawing that is put into another, where they
// might be there already. The groups are changed in place: they are copies.
func withoutIDs(items []draw.Item) []draw.Item {
	for _, item := range items {
		if g, ok := item.(*draw.Group); ok {
			g.ID = ""
			withoutIDs(g.Items)
		}
	}
	return items
}
