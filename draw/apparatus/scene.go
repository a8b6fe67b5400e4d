package apparatus

import (
	"fmt"
	"math"

	"ionwright/draw"
	"ionwright/draw/plot"
	"ionwright/sector"
)

// view maps the plan to the canvas.
type view struct {
	scale  float64 // pixels per m
	dx, dy float64
}

func (v view) at(q point) draw.Point {
	return draw.Point{X: q.x*v.scale + v.dx, Y: -q.y*v.scale + v.dy}
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
	scene, v := p.stage()
	rays := &draw.Group{Class: "rays"}
	for k, b := range p.beams {
		rays.Add(p.drawBeam(v, k, b))
	}
	scene.Items = append(scene.Items, rays, p.drawWords(v, 10))
	p.addLabels(v, &scene)
	return scene
}

// stage draws what doesn't depend on ions and field.
func (p *plan) stage() (draw.Scene, view) {
	// The boxes have to hold their names, whatever the scale turns out to be.
	r := float64(p.layout.Magnet.Radius)
	p.boxSize = 0.2 * r
	for range 3 {
		v, _ := p.fit()
		p.boxSize = max(0.2*r, 58/v.scale)
	}
	v, height := p.fit()
	scene := draw.Scene{Width: p.width, Height: height}
	scene.Items = append(scene.Items, p.drawMagnet(v), p.drawChamber(v), p.drawEnds(v))
	if p.instrument.Electric != nil {
		scene.Items = append(scene.Items, p.drawElectric(v))
	}
	scene.Items = append(scene.Items, p.drawScale(v, height))
	return scene, v
}

// fit chooses the scale so that everything has the figure's width.
func (p *plan) fit() (view, float64) {
	v := view{scale: 1}
	box := draw.NoBox()
	for _, q := range p.outline() {
		box = box.Include(v.at(q))
	}
	v.scale = (p.width - 2*margin) / box.Width()
	if h := box.Height() * v.scale; h > p.tallest*p.width {
		v.scale *= p.tallest * p.width / h
	}
	v.dx = p.width/2 - v.scale*box.Center().X
	v.dy = margin - v.scale*box.Top
	return v, math.Ceil(box.Height()*v.scale + 2*margin + 26)
}

func (p *plan) drawMagnet(v view) *draw.Group {
	g := &draw.Group{ID: "magnet", Class: "magnet", Title: "magnet"}
	g.Add(draw.Polygon(draw.Panel, draw.Stroke{Role: draw.Muted, Width: 1}, v.all(p.poles())...))
	return g
}

// drawChamber draws the walls between which the ions fly, and the central path.
func (p *plan) drawChamber(v view) *draw.Group {
	g := &draw.Group{Class: "chamber"}
	if p.walled {
		for _, outward := range []float64{-1, 1} {
			g.Add(draw.Polyline(draw.Stroke{Role: draw.Muted, Width: 1}, v.all(p.tube(outward))...))
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
	end("source", point{p.layout.Source.X, p.layout.Source.Y}, point{-1, 0}, max(p.half, 0.4*size))
	end("detector", point{p.layout.Collector.X, p.layout.Collector.Y}, toward(p.layout.ToCollector), p.half)
	return g
}

func (p *plan) drawElectric(v view) *draw.Group {
	g := &draw.Group{ID: "electric-sector", Class: "electric", Title: "electric sector"}
	half := p.electricHalf()
	for _, outward := range []float64{-half, half} {
		g.Add(draw.Polyline(draw.Stroke{Role: draw.Ink, Width: 4}, v.all(side(*p.layout.Electric, outward))...))
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
	if b.arrive {
		stroke = draw.Stroke{Role: draw.Accent, Width: 2.4}
	}
	for n, way := range b.rays {
		s := stroke
		if n > 0 {
			s.Width = 0.6
		}
		g.Add(draw.Polyline(s, v.all(way)...))
	}
	if !b.arrive {
		c := v.at(b.rays[0][len(b.rays[0])-1])
		cross := draw.Stroke{Role: stroke.Role, Width: 1.5}
		g.Add(draw.Polyline(cross, draw.Point{X: c.X - 4, Y: c.Y - 4}, draw.Point{X: c.X + 4, Y: c.Y + 4}),
			draw.Polyline(cross, draw.Point{X: c.X - 4, Y: c.Y + 4}, draw.Point{X: c.X + 4, Y: c.Y - 4}))
	}
	return g
}

// drawWords names the magnet with its field, and the electric sector, on the
// inner side of their bends, so many pixels away from the poles.
func (p *plan) drawWords(v view, away float64) *draw.Group {
	g := &draw.Group{Class: "words"}
	name := func(b sector.Bend, outward float64, text string) {
		path, at := v.at(place(b, 0.5, 0)), v.at(place(b, 0.5, outward))
		t := draw.Text{At: at, Anchor: draw.End, Size: textSize, Role: draw.Ink, Halo: draw.Paper, Runs: draw.Plain(text)}
		if at.X > path.X {
			t.Anchor = draw.Start
		}
		g.Add(t)
	}
	magnet := "magnet"
	if p.field > 0 {
		magnet += fmt.Sprintf(", %s T", significant(float64(p.field), 3))
	}
	name(p.layout.Magnet, -p.polesHalf()-away/v.scale, magnet)
	if e := p.layout.Electric; e != nil {
		name(*e, -p.electricHalf()-16/v.scale, "electric sector")
	}
	return g
}

// drawScale draws the bar that gives the scale.
func (p *plan) drawScale(v view, height float64) *draw.Group {
	length := 1.0
	for _, l := range []float64{1, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01, 0.005, 0.002, 0.001} {
		if length = l; l*v.scale < 0.2*p.width {
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
	scene.Walk(func(item draw.Item, within []*draw.Group) {
		switch it := item.(type) {
		case draw.Text:
			taken = append(taken, it.Bounds().Grow(2))
		case draw.Path:
			if within[len(within)-1].Class == "ends" && it.Fill != draw.NoRole {
				taken = append(taken, draw.Bounds(it)) // a box with its name in it
			}
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
