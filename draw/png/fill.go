package png

import (
	"fmt"
	"image"
	"math"

	"golang.org/x/image/vector"

	"ionwright/draw"
)

// fill paints the inside of closed polygons, by the nonzero winding rule.
func (r *renderer) fill(polygons [][]draw.Point, role draw.Role) {
	box := draw.NoBox()
	for _, polygon := range polygons {
		for _, p := range polygon {
			if math.IsNaN(p.X+p.Y) || math.IsInf(p.X+p.Y, 0) {
				if r.err == nil {
					r.err = fmt.Errorf("a path goes through (%v, %v)", p.X, p.Y)
				}
				return
			}
			box = box.Include(draw.Point{X: p.X * r.scale, Y: p.Y * r.scale})
		}
	}
	bounds := r.picture.Bounds()
	limit := func(v float64) int { return int(min(max(v, -10), 1e5)) }
	area := image.Rect(limit(math.Floor(box.Left))-1, limit(math.Floor(box.Top))-1, limit(math.Ceil(box.Right))+1, limit(math.Ceil(box.Bottom))+1).Intersect(bounds)
	if box.Empty() || area.Empty() {
		return
	}
	raster := vector.NewRasterizer(area.Dx(), area.Dy())
	at := func(p draw.Point) (float32, float32) {
		return float32(p.X*r.scale - float64(area.Min.X)), float32(p.Y*r.scale - float64(area.Min.Y))
	}
	for _, polygon := range polygons {
		for i, p := range polygon {
			if x, y := at(p); i == 0 {
				raster.MoveTo(x, y)
			} else {
				raster.LineTo(x, y)
			}
		}
		raster.ClosePath()
	}
	raster.Draw(r.picture, area, image.NewUniform(r.color(role)), image.Point{})
}

// outlineOf is the area that a stroke covers, as polygons that all turn the
// same way, so that they add up where they overlap.
func outlineOf(parts [][]draw.Point, s draw.Stroke) [][]draw.Point {
	var out [][]draw.Point
	add := func(points ...draw.Point) {
		area := 0.0
		for i, p := range points {
			q := points[(i+1)%len(points)]
			area += p.X*q.Y - q.X*p.Y
		}
		if area < 0 {
			for i, j := 0, len(points)-1; i < j; i, j = i+1, j-1 {
				points[i], points[j] = points[j], points[i]
			}
		}
		if area != 0 {
			out = append(out, points)
		}
	}
	half := s.Width / 2
	for _, part := range dashed(parts, s.Dash) {
		part = distinct(part)
		closed := len(part) > 2 && part[0] == part[len(part)-1]
		for i := 1; i < len(part); i++ {
			a, b := part[i-1], part[i]
			n := normal(a, b, half)
			add(draw.Point{X: a.X + n.X, Y: a.Y + n.Y}, draw.Point{X: b.X + n.X, Y: b.Y + n.Y}, draw.Point{X: b.X - n.X, Y: b.Y - n.Y}, draw.Point{X: a.X - n.X, Y: a.Y - n.Y})
			next := i + 1
			if next == len(part) {
				if !closed {
					break
				}
				next = 1
			}
			if s.Round {
				add(disk(b, half)...)
			} else {
				add(miter(a, b, part[next], half)...)
			}
		}
		if s.Round && !closed && len(part) > 0 {
			add(disk(part[0], half)...)
			add(disk(part[len(part)-1], half)...)
		}
	}
	return out
}

// distinct drops points that repeat the one before.
func distinct(points []draw.Point) []draw.Point {
	var out []draw.Point
	for _, p := range points {
		if len(out) == 0 || out[len(out)-1] != p {
			out = append(out, p)
		}
	}
	return out
}

// normal is the vector of the given length to the left of the way from a to b.
func normal(a, b draw.Point, length float64) draw.Point {
	dx, dy := b.X-a.X, b.Y-a.Y
	k := length / math.Hypot(dx, dy)
	return draw.Point{X: -dy * k, Y: dx * k}
}

func disk(c draw.Point, radius float64) []draw.Point {
	const sides = 20
	out := make([]draw.Point, sides)
	for i := range out {
		sin, cos := math.Sincos(2 * math.Pi * float64(i) / sides)
		out[i] = draw.Point{X: c.X + radius*cos, Y: c.Y + radius*sin}
	}
	return out
}

// miter fills the notch outside the corner at b, up to SVG's limit of 4 line
// widths; sharper corners are cut off.
func miter(a, b, c draw.Point, half float64) []draw.Point {
	n, m := normal(a, b, half), normal(b, c, half)
	if (b.X-a.X)*(c.Y-b.Y)-(b.Y-a.Y)*(c.X-b.X) > 0 { // the notch is on the other side
		n, m = draw.Point{X: -n.X, Y: -n.Y}, draw.Point{X: -m.X, Y: -m.Y}
	}
	p, q := draw.Point{X: b.X + n.X, Y: b.Y + n.Y}, draw.Point{X: b.X + m.X, Y: b.Y + m.Y}
	sum := draw.Point{X: n.X + m.X, Y: n.Y + m.Y}
	length := sum.X*sum.X + sum.Y*sum.Y
	if length < 4*half*half/16 { // half² * 4 / limit²
		return []draw.Point{b, p, q}
	}
	k := 2 * half * half / length
	return []draw.Point{b, p, {X: b.X + sum.X*k, Y: b.Y + sum.Y*k}, q}
}

// dashed cuts polylines into dashes; without a pattern they stay as they are.
func dashed(parts [][]draw.Point, pattern []float64) [][]draw.Point {
	total := 0.0
	for _, d := range pattern {
		total += d
	}
	if !(total > 0) {
		return parts
	}
	var out [][]draw.Point
	for _, part := range parts {
		k, left := 0, pattern[0]
		var current []draw.Point
		if len(part) > 0 {
			current = []draw.Point{part[0]}
		}
		for i := 1; i < len(part); i++ {
			a, b := part[i-1], part[i]
			length := math.Hypot(b.X-a.X, b.Y-a.Y)
			for done := 0.0; done < length; {
				step := min(left, length-done)
				done += step
				left -= step
				p := draw.Point{X: a.X + (b.X-a.X)*done/length, Y: a.Y + (b.Y-a.Y)*done/length}
				if k%2 == 0 {
					current = append(current, p)
				}
				for left <= 1e-9 {
					if k%2 == 0 {
						out = append(out, current)
					}
					k++
					left = pattern[k%len(pattern)]
					current = []draw.Point{p}
				}
			}
		}
		if k%2 == 0 && len(current) > 1 {
			out = append(out, current)
		}
	}
	return out
}
