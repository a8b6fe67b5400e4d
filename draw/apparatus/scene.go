package apparatus

import (
	"fmt"
	"math"

	"ionwright/draw"
	"ionwright/draw/plot"
)

// view maps the plan to the canvas: the path starts to the right.
type view struct {
	sin, cos float64 // turns the path's start to the right
	scale    float64 // pixels per m
	dx, dy   float64
}

func (v view) at(q point) draw.Point {
	x, y := q.x*v.cos-q.y*v.sin, q.x*v.sin+q.y*v.cos
	return draw.Point{X: x*v.scale + v.dx, Y: -y*v.scale + v.dy}
}

func (v view) all(points []point) []draw.Point {
	out := make([]draw.Point, len(points))
	for i, q := range points {
		out[i] = v.at(q)
	}
	return out
}

const (
	textSize = 12.0
	margin   = 34.0 // around the instrument, for labels
)

// scene draws the instrument and the rays.
func (p *plan) scene() draw.Scene {
	// The boxes have to hold their names, whatever the scale turns out to be.
	p.boxSize = 0.2 * p.r
	for range 3 {
		v, _ := p.fit()
		p.boxSize = max(0.2*p.r, 58/v.scale)
	}
	v, height := p.fit()
	scene := draw.Scene{Width: p.o.Width, Height: height}
	scene.Items = append(scene.Items, p.drawMagnet(v), p.drawChamber(v), p.drawEnds(v))
	if p.instrument.Electric != nil {
		scene.Items = append(scene.Items, p.drawElectric(v))
	}
	rays := &draw.Group{Class: "rays"}
	for k, b := range p.beams {
		rays.Add(p.drawBeam(v, k, b))
	}
	scene.Items = append(scene.Items, rays, p.drawWords(v), p.drawScale(v, height))
	p.addLabels(v, &scene)
	return scene
}

// fit chooses the scale so that everything has the figure's width.
func (p *plan) fit() (view, float64) {
	angle := -math.Atan2(p.start.y, p.start.x)
	v := view{scale: 1}
	v.sin, v.cos = math.Sincos(angle)
	box := draw.NoBox()
	for _, q := range p.outline() {
		box = box.Include(v.at(q))
	}
	v.scale = (p.o.Width - 2*margin) / box.Width()
	const tallest = 0.8 // of the width
	if h := box.Height() * v.scale; h > tallest*p.o.Width {
		v.scale *= tallest * p.o.Width / h
	}
	v.dx = p.o.Width/2 - v.scale*box.Center().X
	v.dy = margin - v.scale*box.Top
	return v, math.Ceil(box.Height()*v.scale + 2*margin + 26)
}

// polesHalf is how far the poles reach beside the central path.
func (p *plan) polesHalf() float64 { return min(p.half+0.12*p.r, 0.9*p.r) }

// outline is points around everything.
func (p *plan) outline() []point {
	var out []point
	w := p.polesHalf()
	for k := 0; k <= 48; k++ {
		sin, cos := math.Sincos(p.angle * float64(k) / 48)
		out = append(out, point{(p.r + w) * cos, (p.r + w) * sin}, point{(p.r - w) * cos, (p.r - w) * sin})
	}
	size := p.boxSize
	for _, end := range []struct{ at, along point }{{p.source, p.start.times(-1)}, {p.collector, p.along}} {
		side := end.along.left().times(max(p.half, size))
		far := end.at.plus(end.along.times(1.6 * size))
		out = append(out, end.at.plus(side), end.at.minus(side), far.plus(side), far.minus(side))
	}
	if p.instrument.Electric != nil {
		for k := 0; k <= 24; k++ {
			for _, outward := range []float64{-1, 1} {
				at, _ := p.electricAt(float64(k)/24, outward*1.6*p.electricHalf())
				out = append(out, at)
			}
		}
	}
	return out
}

func (p *plan) electricHalf() float64 {
	if g := float64(p.instrument.Electric.Gap); g > 0 {
		return g / 2
	}
	return 0.08 * float64(p.instrument.Electric.Radius)
}

// arc is a circle's arc about the magnet's center of bend.
func (p *plan) arc(radius, from, to float64) []point {
	const steps = 64
	var out []point
	for k := 0; k <= steps; k++ {
		sin, cos := math.Sincos(from + (to-from)*float64(k)/steps)
		out = append(out, point{radius * cos, radius * sin})
	}
	return out
}

func (p *plan) drawMagnet(v view) *draw.Group {
	w := p.polesHalf()
	shape := append(p.arc(p.r+w, 0, p.angle), p.arc(p.r-w, p.angle, 0)...)
	g := &draw.Group{ID: "magnet", Class: "magnet", Title: "magnet"}
	g.Add(draw.Polygon(draw.Panel, draw.Stroke{Role: draw.Muted, Width: 1}, v.all(shape)...))
	return g
}

// drawChamber draws the walls between which the ions fly, and the central path.
func (p *plan) drawChamber(v view) *draw.Group {
	g := &draw.Group{Class: "chamber"}
	if p.walled {
		for _, side := range []float64{-1, 1} {
			off := side * p.half
			way := []point{{p.r + off, -p.before}}
			way = append(way, p.arc(p.r+off, 0, p.angle)...)
			way = append(way, p.collector.plus(p.exit.times(off/p.r)))
			g.Add(draw.Polyline(draw.Stroke{Role: draw.Muted, Width: 1}, v.all(way)...))
		}
	}
	return g
}

// drawEnds draws the source with its slit and the collector's slit with the
// detector behind it.
func (p *plan) drawEnds(v view) *draw.Group {
	g := &draw.Group{Class: "ends"}
	size := p.boxSize
	slit := 2.5 / v.scale // drawn openings, half
	end := func(name string, at, outward point, plate float64) {
		side := outward.left()
		near, far := at.plus(outward.times(0.25*size)), at.plus(outward.times(1.25*size))
		half := side.times(0.5 * size)
		g.Add(draw.Polygon(draw.Panel, draw.Stroke{Role: draw.Muted, Width: 1}, v.all([]point{near.plus(half), far.plus(half), far.minus(half), near.minus(half)})...))
		for _, sign := range []float64{-1, 1} {
			g.Add(draw.Polyline(draw.Stroke{Role: draw.Ink, Width: 2.5}, v.at(at.plus(side.times(sign*slit))), v.at(at.plus(side.times(sign*plate)))))
		}
		middle := v.at(at.plus(outward.times(0.75 * size)))
		g.Add(draw.Text{At: draw.Point{X: middle.X, Y: middle.Y + 0.36*textSize}, Anchor: draw.Middle, Size: textSize, Role: draw.Ink, Runs: draw.Plain(name)})
	}
	end("source", p.source, p.start.times(-1), max(p.half, 0.4*size))
	end("detector", p.collector, p.along, p.half)
	return g
}

func (p *plan) drawElectric(v view) *draw.Group {
	g := &draw.Group{ID: "electric-sector", Class: "electric", Title: "electric sector"}
	half := p.electricHalf()
	for _, outward := range []float64{-half, half} {
		var way []point
		for k := 0; k <= 32; k++ {
			at, _ := p.electricAt(float64(k)/32, outward)
			way = append(way, at)
		}
		g.Add(draw.Polyline(draw.Stroke{Role: draw.Ink, Width: 4}, v.all(way)...))
	}
	return g
}

// dashes tell the ions apart without colour. A solid line is for those that
// arrive.
var dashes = [...][]float64{{6, 3}, {2, 2.5}, {10, 3, 2, 3}, {14, 4}}

// drawBeam draws one ion's rays; a cross ends those that hit a wall or plate.
func (p *plan) drawBeam(v view, k int, b beam) *draw.Group {
	g := &draw.Group{Class: "ray", Title: "m/z " + plot.MZ(b.mz, 0) + " " + b.words()}
	roles := [...]draw.Role{draw.Ink, draw.Second, draw.Third, draw.Muted}
	stroke := draw.Stroke{Role: roles[k%4], Width: 1.3, Dash: dashes[k%4]}
	if b.fate == arrives {
		stroke = draw.Stroke{Role: draw.Accent, Width: 2.4}
	}
	for n, way := range b.rays {
		s := stroke
		if n > 0 {
			s.Width = 0.6
		}
		g.Add(draw.Polyline(s, v.all(way)...))
	}
	if b.fate != arrives {
		c := v.at(b.rays[0][len(b.rays[0])-1])
		cross := draw.Stroke{Role: stroke.Role, Width: 1.5}
		g.Add(draw.Polyline(cross, draw.Point{X: c.X - 4, Y: c.Y - 4}, draw.Point{X: c.X + 4, Y: c.Y + 4}),
			draw.Polyline(cross, draw.Point{X: c.X - 4, Y: c.Y + 4}, draw.Point{X: c.X + 4, Y: c.Y - 4}))
	}
	return g
}

// drawWords names the magnet with its field, and the electric sector.
func (p *plan) drawWords(v view) *draw.Group {
	g := &draw.Group{Class: "words"}
	sin, cos := math.Sincos(p.angle / 2)
	inside := p.r - p.polesHalf() - 10/v.scale
	text := fmt.Sprintf("magnet, %s T", significant(float64(p.o.Field), 3))
	// The text ends before the poles and runs towards the center of the bend and
	// beyond, where nothing else is.
	at := v.at(point{inside * cos, inside * sin})
	g.Add(draw.Text{At: at, Anchor: draw.End, Size: textSize, Role: draw.Ink, Halo: draw.Paper, Runs: draw.Plain(text)})
	if p.instrument.Electric != nil {
		center, _ := p.electricCenter()
		middle, _ := p.electricAt(0.5, 0)
		at := v.at(center.plus(middle.minus(center).times(0.5)))
		g.Add(draw.Text{At: at, Anchor: draw.Middle, Size: textSize, Role: draw.Ink, Halo: draw.Paper, Runs: draw.Plain("electric sector")})
	}
	return g
}

// drawScale draws the bar that gives the scale.
func (p *plan) drawScale(v view, height float64) *draw.Group {
	length := 1.0
	for _, l := range []float64{1, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01, 0.005, 0.002, 0.001} {
		if length = l; l*v.scale < 0.2*p.o.Width {
			break
		}
	}
	y := height - 14
	x := margin
	end := x + length*v.scale
	line := draw.Stroke{Role: draw.Ink, Width: 1.2}
	text := significant(length*100, 1) + " cm"
	return &draw.Group{Class: "scale", Items: []draw.Item{
		draw.Polyline(line, draw.Point{X: x, Y: y - 4}, draw.Point{X: x, Y: y}, draw.Point{X: end, Y: y}, draw.Point{X: end, Y: y - 4}),
		draw.Text{At: draw.Point{X: end + 8, Y: y + 1}, Size: textSize, Role: draw.Ink, Runs: draw.Plain(text)},
	}}
}

// addLabels writes each ion's m/z at the end of its path, beyond what is
// there, where no other text stands.
func (p *plan) addLabels(v view, scene *draw.Scene) {
	var taken []draw.Box // by texts and lines
	scene.Walk(func(item draw.Item, _ []*draw.Group) {
		switch it := item.(type) {
		case draw.Text:
			taken = append(taken, it.Bounds().Grow(2))
		case draw.Path:
			taken = append(taken, beads(it)...)
		}
	})
	canvas := draw.Box{Left: 2, Top: 2, Right: scene.Width - 2, Bottom: scene.Height - 2}
	g := &draw.Group{Class: "labels"}
	for _, b := range p.beams {
		end := v.at(b.rays[0][len(b.rays[0])-1])
		t := draw.Text{Anchor: draw.Middle, Size: textSize, Role: draw.Ink, Halo: draw.Paper, Runs: draw.Words("m/z " + plot.MZ(b.mz, 0))}
		best, found := t, false
		for radius := 12.0; radius < 250 && !found; radius += 4 {
			for k := range 32 {
				angle := float64(k) * math.Pi / 16
				t.At = draw.Point{X: end.X + radius*1.4*math.Cos(angle), Y: end.Y + radius*math.Sin(angle) + 0.36*textSize}
				box := t.Bounds()
				if !canvas.Contains(box) || overlapsAny(box, taken) {
					continue
				}
				best, found = t, true
				break
			}
		}
		taken = append(taken, best.Bounds().Grow(2))
		one := &draw.Group{Class: "label"}
		box := best.Bounds()
		near := draw.Point{X: min(max(end.X, box.Left), box.Right), Y: min(max(end.Y, box.Top), box.Bottom)}
		if length := math.Hypot(near.X-end.X, near.Y-end.Y); length > 10 {
			from := draw.Point{X: end.X + (near.X-end.X)*6/length, Y: end.Y + (near.Y-end.Y)*6/length}
			to := draw.Point{X: end.X + (near.X-end.X)*(length-2)/length, Y: end.Y + (near.Y-end.Y)*(length-2)/length}
			one.Add(draw.Polyline(draw.Stroke{Role: draw.Muted, Width: 0.8}, from, to))
		}
		one.Add(best)
		g.Add(one)
	}
	scene.Items = append(scene.Items, g)
}

// beads are small boxes along a path's lines.
func beads(p draw.Path) []draw.Box {
	var out []draw.Box
	for _, part := range p.Flatten(1) {
		for i := 1; i < len(part); i++ {
			a, b := part[i-1], part[i]
			n := int(math.Hypot(b.X-a.X, b.Y-a.Y)/5) + 1
			for k := 0; k <= n; k++ {
				t := float64(k) / float64(n)
				x, y := a.X+(b.X-a.X)*t, a.Y+(b.Y-a.Y)*t
				out = append(out, draw.Box{Left: x, Top: y, Right: x, Bottom: y}.Grow(2))
			}
		}
	}
	return out
}

func overlapsAny(b draw.Box, others []draw.Box) bool {
	for _, o := range others {
		if b.Overlaps(o) {
			return true
		}
	}
	return false
}
