package layout

import "math"

func (p Point) plus(q Point) Point       { return Point{p.X + q.X, p.Y + q.Y} }
func (p Point) minus(q Point) Point      { return Point{p.X - q.X, p.Y - q.Y} }
func (p Point) times(k float64) Point    { return Point{p.X * k, p.Y * k} }
func (p Point) dot(q Point) float64      { return p.X*q.X + p.Y*q.Y }
func (p Point) cross(q Point) float64    { return p.X*q.Y - p.Y*q.X }
func (p Point) length() float64          { return math.Hypot(p.X, p.Y) }
func (p Point) angle() float64           { return math.Atan2(p.Y, p.X) }
func (p Point) distance(q Point) float64 { return math.Hypot(p.X-q.X, p.Y-q.Y) }

// squared is the squared distance.
func (p Point) squared(q Point) float64 {
	dx, dy := p.X-q.X, p.Y-q.Y
	return dx*dx + dy*dy
}

// unit is p with length 1; the zero vector becomes (1, 0).
func (p Point) unit() Point {
	if l := p.length(); l > 1e-12 {
		return p.times(1 / l)
	}
	return Point{1, 0}
}

// turned is p turned counterclockwise by the angle with that sine and cosine.
func (p Point) turned(sin, cos float64) Point {
	return Point{p.X*cos - p.Y*sin, p.X*sin + p.Y*cos}
}

func direction(angle float64) Point {
	sin, cos := math.Sincos(angle)
	return Point{cos, sin}
}

// mirrored is p mirrored about the line through a in the unit direction d.
func (p Point) mirrored(a, d Point) Point {
	v := p.minus(a)
	along := d.times(2 * v.dot(d))
	return a.plus(along.minus(v))
}

// toSegment is the squared distance of p from the segment ab, and whether its
// foot lies strictly between the ends.
func (p Point) toSegment(a, b Point) (squared float64, inside bool) {
	ab, ap := b.minus(a), p.minus(a)
	length := ab.dot(ab)
	if length == 0 {
		return ap.dot(ap), false
	}
	t := ap.dot(ab) / length
	if t <= 0 {
		return ap.dot(ap), false
	}
	if t >= 1 {
		return p.squared(b), false
	}
	return p.squared(a.plus(ab.times(t))), true
}

// crossing reports whether the segments ab and cd cross in their insides.
// Ends that touch the other segment's line don't count.
func crossing(a, b, c, d Point) bool {
	const tiny = 1e-9
	ab, cd := b.minus(a), d.minus(c)
	return ab.cross(c.minus(a))*ab.cross(d.minus(a)) < -tiny && cd.cross(a.minus(c))*cd.cross(b.minus(c)) < -tiny
}
