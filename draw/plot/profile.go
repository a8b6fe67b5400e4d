package plot

import (
	"math"
	"sort"

	"ionwright/draw"
)

// signal is the height of the profile at an m/z, in % of its highest point.
func (c *chart) signal(mz float64) float64 {
	// Beyond three widths a Gaussian is below 2e-11 of its height.
	reach := 3 * c.o.PeakWidth
	first := sort.Search(len(c.peaks), func(i int) bool { return c.peaks[i].mz >= mz-reach })
	sum := 0.0
	for _, p := range c.peaks[first:] {
		if p.mz > mz+reach {
			break
		}
		d := (p.mz - mz) / c.o.PeakWidth
		sum += p.percent * math.Exp(-4*math.Ln2*d*d)
	}
	return sum / c.overlap
}

// measureOverlap finds by how much peaks that overlap exceed 100 %.
func (c *chart) measureOverlap() {
	c.overlap = 1
	if c.o.PeakWidth == 0 {
		return
	}
	highest := 0.0
	for _, p := range c.peaks { // the highest point is at a peak or between two that merge
		for _, d := range []float64{-0.5, 0, 0.5} {
			highest = max(highest, c.signal(p.mz+d*c.o.PeakWidth))
		}
	}
	c.overlap = max(1, highest/100)
}

// height is where a peak's label stands, in %.
func (c *chart) height(i int) float64 {
	if c.o.PeakWidth > 0 {
		return c.signal(c.peaks[i].mz)
	}
	return c.peaks[i].percent
}

// profilePoints follows the profile in steps of at most half a pixel and a
// tenth of a peak's width.
func (c *chart) profilePoints(f frame) []draw.Point {
	step := min(0.5*(f.hi-f.lo)/f.box.Width(), c.o.PeakWidth/10)
	step = max(step, (f.hi-f.lo)/200_000)
	n := int(math.Ceil((f.hi - f.lo) / step))
	points := make([]draw.Point, n+1)
	for k := range points {
		mz := f.lo + (f.hi-f.lo)*float64(k)/float64(n)
		points[k] = draw.Point{X: f.x(mz), Y: f.y(c.signal(mz))}
	}
	return points
}

// drawProfile draws the curve; highlighted peaks get a bolder piece of it.
func (c *chart) drawProfile(f frame) *draw.Group {
	g := &draw.Group{Class: "peaks"}
	line := draw.Polyline(draw.Stroke{Role: draw.Ink, Width: 1.3, Round: true}, thin(c.profilePoints(f))...)
	g.Add(&draw.Group{ID: "profile", Class: "profile", Items: []draw.Item{line}})
	for i, p := range c.peaks {
		if !c.isHighlighted(i) {
			continue
		}
		part := f
		part.lo, part.hi = max(f.lo, p.mz-c.o.PeakWidth), min(f.hi, p.mz+c.o.PeakWidth)
		part.box.Left, part.box.Right = f.x(part.lo), f.x(part.hi)
		g.Add(&draw.Group{Class: "peak", Title: "m/z " + MZ(p.mz, c.o.Decimals), Items: []draw.Item{
			draw.Polyline(draw.Stroke{Role: draw.Accent, Width: 2.6, Round: true}, thin(c.profilePoints(part))...),
		}})
	}
	return g
}

// profileColumns stand in for sticks as obstacles: one a pixel.
func (c *chart) profileColumns(f frame) []stick {
	columns := make([]stick, int(f.box.Width())+2)
	for k := range columns {
		columns[k] = stick{f.box.Left + float64(k), f.box.Bottom, 0.5}
	}
	for _, p := range c.profilePoints(f) {
		if k := int(p.X - f.box.Left + 0.5); k >= 0 && k < len(columns) {
			columns[k].top = min(columns[k].top, p.Y-0.7)
		}
	}
	// Columns where nothing is are no obstacles.
	var out []stick
	for _, s := range columns {
		if s.top < f.box.Bottom-1 {
			out = append(out, s)
		}
	}
	return out
}
