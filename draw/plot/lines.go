package plot

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"ionwright/draw"
)

// Series is one curve: Y against X, in ascending X.
type Series struct {
	Name string
	X, Y []float64
}

// LinesOptions say how curves are drawn. The zero value gives 720 by 400
// pixels and axes around the data, with the y axis from zero where no value is
// negative.
type LinesOptions struct {
	Width, Height  float64
	Title          string     // what the figure is called
	XTitle, YTitle []draw.Run // with the unit in brackets
	Marks          []Mark     // places of the first curve that are labelled
}

// Mark labels the first curve at X.
type Mark struct {
	X    float64
	Text []draw.Run
	Dot  bool // a dot shows the place on the curve
}

// dashes tell curves apart without colour.
var dashes = [...][]float64{nil, {7, 3}, {2, 2.5}, {9, 3, 2, 3}}

// strokeOf is how the i-th curve is drawn: four dashes and four colours, which
// repeat together only after sixteen.
func strokeOf(i int) draw.Stroke {
	roles := [...]draw.Role{draw.Ink, draw.Accent, draw.Second, draw.Third}
	return draw.Stroke{Role: roles[(i+i/4)%4], Width: 1.6, Dash: dashes[i%4]}
}

// Lines makes a figure of curves, each named at its right end. It fails if a
// series is empty, has other numbers of X than of Y, a value that isn't
// finite, or X that goes back.
func Lines(series []Series, o LinesOptions) (draw.Figure, error) {
	if err := checkSeries(series); err != nil {
		return draw.Figure{}, fmt.Errorf("drawing the curves %q: %w", o.Title, err)
	}
	if o.Width == 0 {
		o.Width = 720
	}
	if o.Height == 0 {
		o.Height = 400
	}
	if !(o.Width >= 200 && o.Width <= 10000 && o.Height >= 150 && o.Height <= 10000) {
		return draw.Figure{}, fmt.Errorf("drawing the curves %q: the canvas is %v by %v pixels; it can be 200 by 150 to 10000 by 10000", o.Title, o.Width, o.Height)
	}
	c := &curves{series: series, o: o}
	return draw.Figure{Scene: c.scene(), Title: o.Title, Description: c.description(), Table: c.table()}, nil
}

func checkSeries(series []Series) error {
	if len(series) == 0 {
		return fmt.Errorf("there is none")
	}
	for _, s := range series {
		if len(s.X) == 0 || len(s.X) != len(s.Y) {
			return fmt.Errorf("the series %q has %s of x and %s of y", s.Name, count(len(s.X), "value"), count(len(s.Y), "value"))
		}
		for i, x := range s.X {
			if math.IsNaN(x) || math.IsInf(x, 0) || math.IsNaN(s.Y[i]) || math.IsInf(s.Y[i], 0) || math.Abs(x) > 1e15 || math.Abs(s.Y[i]) > 1e15 {
				return fmt.Errorf("point %d of the series %q is (%v, %v)", i+1, s.Name, x, s.Y[i])
			}
			if i > 0 && x < s.X[i-1] {
				return fmt.Errorf("x goes back from %v to %v at point %d of the series %q", s.X[i-1], x, i+1, s.Name)
			}
		}
	}
	return nil
}

type curves struct {
	series []Series
	o      LinesOptions
}

// span is the range of the values of all series, widened where it is empty.
func span(series []Series, values func(Series) []float64) (lo, hi float64) {
	lo, hi = math.Inf(1), math.Inf(-1)
	for _, s := range series {
		lo, hi = min(lo, slices.Min(values(s))), max(hi, slices.Max(values(s)))
	}
	if hi-lo < 1e-12*max(math.Abs(lo), math.Abs(hi), 1e-3) {
		pad := max(math.Abs(lo)/10, 0.5)
		lo, hi = lo-pad, hi+pad
	}
	return lo, hi
}

// frame leaves room for so many lines of labels above the curves.
func (c *curves) frame(rows float64) (f frame, yStep float64) {
	f.lo, f.hi = span(c.series, func(s Series) []float64 { return s.X })
	yLo, yHi := span(c.series, func(s Series) []float64 { return s.Y })
	if yLo >= 0 {
		yLo = 0
	}
	yStep = niceStep((yHi - yLo) / 6)
	f.yLo, f.yHi = math.Floor(yLo/yStep+1e-9)*yStep, math.Ceil(yHi/yStep-1e-9)*yStep

	names := 0.0
	if len(c.series) > 1 {
		for _, s := range c.series {
			names = max(names, draw.RunsWidth(draw.Words(s.Name), textSize))
		}
		names += 14
	}
	numbers := 0.0
	for _, v := range ticks(f.yLo, f.yHi, yStep) {
		numbers = max(numbers, draw.RunsWidth(draw.Plain(tickText(v, yStep)), textSize))
	}
	left := max(yAxisWidth, numbers+tickLength+3+titleSize+10)
	f.box = draw.Box{Left: left, Top: marginTop + 8, Right: c.o.Width - marginRight - min(names, c.o.Width/3), Bottom: c.o.Height - xAxisHeight}
	f.box.Top = min(f.box.Top+rows*lineHeight, f.box.Bottom-20)
	return f, yStep
}

func (c *curves) scene() draw.Scene {
	f, yStep := c.frame(0)
	var marks *draw.Group
	for rows, ok := 1.5, len(c.o.Marks) == 0; !ok && rows < 50; rows++ {
		f, yStep = c.frame(rows)
		marks, ok = c.marks(f)
	}
	scene := draw.Scene{Width: c.o.Width, Height: c.o.Height, Items: []draw.Item{
		f.xAxis(c.o.XTitle, false),
		f.yAxis(c.o.YTitle, f.yLo, f.yHi, yStep, func(v float64) string { return tickText(v, yStep) }),
	}}
	if f.yLo < 0 {
		y := f.y(0)
		scene.Items = append(scene.Items, draw.Polyline(draw.Stroke{Role: draw.Faint, Width: 1}, draw.Point{X: f.box.Left, Y: y}, draw.Point{X: f.box.Right, Y: y}))
	}
	for i, s := range c.series {
		points := make([]draw.Point, len(s.X))
		for k := range s.X {
			points[k] = draw.Point{X: f.x(s.X[k]), Y: f.y(s.Y[k])}
		}
		path := draw.Polyline(strokeOf(i), thin(columns(points))...)
		path.Stroke.Round = true
		scene.Items = append(scene.Items, &draw.Group{ID: fmt.Sprintf("series-%d", i+1), Class: "series", Title: s.Name, Items: []draw.Item{path}})
	}
	scene.Items = append(scene.Items, c.names(f)...)
	if marks != nil {
		scene.Items = append(scene.Items, marks)
	}
	return scene
}

// columns keeps of the points in each half pixel of x the first, lowest,
// highest and last one: of a long noisy recording more can't be seen.
func columns(points []draw.Point) []draw.Point {
	var out []draw.Point
	for from := 0; from < len(points); {
		to, low, high := from, from, from
		for to < len(points) && math.Floor(points[to].X*2) == math.Floor(points[from].X*2) {
			if points[to].Y < points[low].Y {
				low = to
			}
			if points[to].Y > points[high].Y {
				high = to
			}
			to++
		}
		last := -1
		for _, k := range [...]int{from, min(low, high), max(low, high), to - 1} {
			if k > last {
				out, last = append(out, points[k]), k
			}
		}
		from = to
	}
	return out
}

// thin leaves out points that lie within a tenth of a pixel of the line
// between their neighbours, so that long recordings stay small.
func thin(points []draw.Point) []draw.Point {
	if len(points) < 3 {
		return points
	}
	out := points[:1:1]
	from := 0
	for i := 2; i < len(points); i++ {
		for k := from + 1; k < i; k++ {
			if distance(points[k], points[from], points[i]) > 0.1 {
				out = append(out, points[i-1])
				from = i - 1
				break
			}
		}
		if i-from > 200 { // bounds the work of the inner loop
			out = append(out, points[i])
			from = i
		}
	}
	if last := points[len(points)-1]; out[len(out)-1] != last {
		out = append(out, last)
	}
	return out
}

// distance is how far p lies from the line between a and b: the top of a narrow
// peak lies far beyond the ends of a line in its flank.
func distance(p, a, b draw.Point) float64 {
	dx, dy := b.X-a.X, b.Y-a.Y
	along := 0.0
	if length := dx*dx + dy*dy; length > 0 {
		along = min(max(((p.X-a.X)*dx+(p.Y-a.Y)*dy)/length, 0), 1)
	}
	return math.Hypot(p.X-a.X-along*dx, p.Y-a.Y-along*dy)
}

// names writes each curve's name to the right of its last point, spread so
// that they don't overlap and in the order of the curves' ends.
func (c *curves) names(f frame) []draw.Item {
	if len(c.series) < 2 {
		return nil
	}
	type end struct {
		series int
		y      float64
	}
	ends := make([]end, len(c.series))
	for i, s := range c.series {
		ends[i] = end{i, f.y(s.Y[len(s.Y)-1])}
	}
	slices.SortStableFunc(ends, func(a, b end) int { return cmp.Compare(a.y, b.y) })
	wanted := make([]float64, len(ends))
	for i, e := range ends {
		wanted[i] = e.y
	}
	spread := spreadOut(wanted, lineHeight+1, f.box.Top+6, f.box.Bottom-2)
	var items []draw.Item
	for i, e := range ends {
		s := c.series[e.series]
		at := draw.Point{X: f.box.Right + 12, Y: spread[i] + 0.37*textSize}
		last := draw.Point{X: f.x(s.X[len(s.X)-1]), Y: e.y}
		items = append(items,
			draw.Polyline(draw.Stroke{Role: draw.Muted, Width: 0.8}, draw.Point{X: last.X + 2, Y: last.Y}, draw.Point{X: f.box.Right + 9, Y: spread[i]}),
			draw.Text{At: at, Size: textSize, Role: strokeOf(e.series).Role, Runs: draw.Words(s.Name)})
	}
	return items
}

// spreadOut moves ascending places apart to at least gap, within lo to hi as
// far as they fit, with the least sum of squared moves (pool adjacent
// violators, Ayer et al. 1955).
func spreadOut(places []float64, gap, lo, hi float64) []float64 {
	type pool struct{ sum, n float64 }
	var pools []pool
	for i, p := range places {
		pools = append(pools, pool{p - float64(i)*gap, 1})
		for k := len(pools) - 1; k > 0 && pools[k].sum/pools[k].n < pools[k-1].sum/pools[k-1].n; k-- {
			pools[k-1] = pool{pools[k-1].sum + pools[k].sum, pools[k-1].n + pools[k].n}
			pools = pools[:k]
		}
	}
	last := hi - float64(len(places)-1)*gap
	var out []float64
	for _, p := range pools {
		for range int(p.n) {
			at := max(min(p.sum/p.n, last), lo)
			out = append(out, at+float64(len(out))*gap)
		}
	}
	return out
}

func (c *curves) description() string {
	x, y := draw.RunsString(c.o.XTitle), draw.RunsString(c.o.YTitle)
	lo, hi := span(c.series, func(s Series) []float64 { return s.X })
	text := func(v float64) string { return rounded(v, lo, hi) }
	if len(c.series) == 1 {
		s := c.series[0]
		top := 0
		for i, v := range s.Y {
			if v > s.Y[top] {
				top = i
			}
		}
		return fmt.Sprintf("Curve of %s against %s from %s to %s; highest at %s.", y, x, text(lo), text(hi), text(s.X[top]))
	}
	var words []string
	yLo, yHi := span(c.series, func(s Series) []float64 { return s.Y })
	for _, s := range c.series {
		words = append(words, fmt.Sprintf("%s from %s to %s", s.Name, rounded(s.Y[0], yLo, yHi), rounded(s.Y[len(s.Y)-1], yLo, yHi)))
	}
	return fmt.Sprintf("%s, %s against %s from %s to %s: %s.", count(len(c.series), "curve"), y, x, text(lo), text(hi), list(words))
}

// table gives the curves at no more than 50 places.
func (c *curves) table() draw.Table {
	t := draw.Table{Caption: c.o.Title, Columns: []string{"curve", draw.RunsString(c.o.XTitle), draw.RunsString(c.o.YTitle)}}
	xLo, xHi := span(c.series, func(s Series) []float64 { return s.X })
	yLo, yHi := span(c.series, func(s Series) []float64 { return s.Y })
	for _, s := range c.series {
		every := max(1, (len(s.X)+49)/50)
		for i := 0; i < len(s.X); i += every {
			t.Rows = append(t.Rows, []string{s.Name, rounded(s.X[i], xLo, xHi), rounded(s.Y[i], yLo, yHi)})
		}
	}
	return t
}

// rounded writes v to a hundredth or so of the range that it is drawn in: what
// can be read off the figure.
func rounded(v, lo, hi float64) string {
	step := niceStep((hi - lo) / 300)
	return tickText(math.Round(v/step)*step, step)
}
