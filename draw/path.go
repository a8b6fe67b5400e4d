package draw

import "math"

// MoveTo starts a new part of the path at (x, y).
func (p *Path) MoveTo(x, y float64) {
	p.Segments = append(p.Segments, Segment{Op: Move, P: [3]Point{{x, y}}})
}

// LineTo draws a straight line to (x, y).
func (p *Path) LineTo(x, y float64) {
	p.Segments = append(p.Segments, Segment{Op: Line, P: [3]Point{{x, y}}})
}

// CubicTo draws a Bézier curve with control points a and b to c.
func (p *Path) CubicTo(a, b, c Point) {
	p.Segments = append(p.Segments, Segment{Op: Cubic, P: [3]Point{a, b, c}})
}

// Close draws a straight line back to where this part of the path started.
func (p *Path) Close() { p.Segments = append(p.Segments, Segment{Op: Close}) }

// ArcTo draws an arc of a circle about center, from where the path is (which
// must be on the circle, at the angle from) to the angle to. Angles are in
// radians, growing clockwise on the canvas since y points down; to may be
// less than from.
//
// The arc is made of Bézier curves of at most 45 degrees, which leave the
// circle by less than 5e-6 of its radius.
func (p *Path) ArcTo(center Point, radius, from, to float64) {
	n := max(1, int(math.Ceil(math.Abs(to-from)/(math.Pi/4)-1e-9)))
	step := (to - from) / float64(n)
	k := radius * 4 / 3 * math.Tan(step/4)
	for i := range n {
		a := from + float64(i)*step
		b := a + step
		sinA, cosA := math.Sincos(a)
		sinB, cosB := math.Sincos(b)
		start := Point{center.X + radius*cosA, center.Y + radius*sinA}
		end := Point{center.X + radius*cosB, center.Y + radius*sinB}
		p.CubicTo(Point{start.X - k*sinA, start.Y + k*cosA}, Point{end.X + k*sinB, end.Y - k*cosB}, end)
	}
}

// Polyline is an open path through the points.
func Polyline(stroke Stroke, points ...Point) Path {
	p := Path{Stroke: stroke}
	for i, q := range points {
		if i == 0 {
			p.MoveTo(q.X, q.Y)
		} else {
			p.LineTo(q.X, q.Y)
		}
	}
	return p
}

// Rectangle is a closed path around the box.
func Rectangle(b Box, fill Role, stroke Stroke) Path {
	p := Polyline(stroke, Point{b.Left, b.Top}, Point{b.Right, b.Top}, Point{b.Right, b.Bottom}, Point{b.Left, b.Bottom})
	p.Close()
	p.Fill = fill
	return p
}

// Circle is a closed circle.
func Circle(center Point, radius float64, fill Role, stroke Stroke) Path {
	p := Path{Fill: fill, Stroke: stroke}
	p.MoveTo(center.X+radius, center.Y)
	p.ArcTo(center, radius, 0, 2*math.Pi)
	p.Close()
	return p
}

// Polygon is a closed path through the points.
func Polygon(fill Role, stroke Stroke, points ...Point) Path {
	p := Polyline(stroke, points...)
	p.Close()
	p.Fill = fill
	return p
}

// Flatten returns the path as polylines, curves replaced by chords that leave
// them by at most tolerance (pixels, positive). A closed part ends where it
// starts.
func (p Path) Flatten(tolerance float64) [][]Point {
	var parts [][]Point
	var part []Point
	end := func() {
		if len(part) > 0 {
			parts = append(parts, part)
		}
		part = nil
	}
	for _, s := range p.Segments {
		switch s.Op {
		case Move:
			end()
			part = append(part, s.P[0])
		case Line:
			part = append(part, s.P[0])
		case Cubic:
			if len(part) == 0 {
				part = append(part, s.P[0])
			}
			part = flattenCubic(part, s.P, tolerance)
		case Close:
			if len(part) > 0 {
				start := part[0]
				part = append(part, start)
				end()
				part = append(part, start)
			}
		}
	}
	if len(part) > 1 {
		end()
	}
	return parts
}

// flattenCubic appends the chords of a curve from part's last point. A chord
// of one n-th of the curve leaves it by at most the greatest second
// difference of the control points times 3/(4 n²) (Wang 1984).
func flattenCubic(part []Point, c [3]Point, tolerance float64) []Point {
	a := part[len(part)-1]
	d1 := math.Hypot(a.X-2*c[0].X+c[1].X, a.Y-2*c[0].Y+c[1].Y)
	d2 := math.Hypot(c[0].X-2*c[1].X+c[2].X, c[0].Y-2*c[1].Y+c[2].Y)
	n := int(math.Ceil(math.Sqrt(0.75 * max(d1, d2) / tolerance)))
	n = min(max(n, 1), 1000)
	for i := 1; i <= n; i++ {
		t := float64(i) / float64(n)
		u := 1 - t
		w := [4]float64{u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t}
		part = append(part, Point{
			w[0]*a.X + w[1]*c[0].X + w[2]*c[1].X + w[3]*c[2].X,
			w[0]*a.Y + w[1]*c[0].Y + w[2]*c[1].Y + w[3]*c[2].Y,
		})
	}
	return part
}
