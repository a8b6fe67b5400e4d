package mechanism

import (
	"math"

	"ionwright/draw"
	"ionwright/ionize"
)

// arrow is one arrow of a board with the curve chosen for it.
type arrow struct {
	ionize.Arrow
	curve curve
	ways  []curve // to choose from
}

// curve is a Bézier curve with what stands at its start.
type curve struct {
	p      [4]draw.Point
	own    float64      // cost of its shape
	dots   []draw.Point // electrons drawn at its start
	radius float64      // of the dots
	makes  [2]int       // the atoms between which it makes a bond; equal where it doesn't
}

const samples = 16

// point is the place on the curve at t, 0 to 1.
func (c *curve) point(t float64) draw.Point {
	u := 1 - t
	w := [4]float64{u * u * u, 3 * u * u * t, 3 * u * t * t, t * t * t}
	var q draw.Point
	for k, p := range c.p {
		q.X += w[k] * p.X
		q.Y += w[k] * p.Y
	}
	return q
}

// sampled is the curve as points.
func (c *curve) sampled() [samples + 1]draw.Point {
	var out [samples + 1]draw.Point
	for k := range out {
		out[k] = c.point(float64(k) / samples)
	}
	return out
}

// options lists the curves that an arrow may take.
func (b *board) options(a ionize.Arrow) []curve {
	var out []curve
	var makes [2]int
	if a.To.Bond {
		x, y := b.index[a.To.Begin], b.index[a.To.End]
		if _, joined := b.mol.BondBetween(x, y); !joined {
			makes = [2]int{x, y}
		}
	}
	for _, start := range b.starts(a) {
		for _, end := range b.ends(a, start.at) {
			for _, bulge := range []float64{0.3, -0.3, 0.5, -0.5, 0.8, -0.8, 1.2, -1.2} {
				c := b.bend(start, end, bulge)
				c.makes = makes
				out = append(out, c)
			}
		}
	}
	return out
}

// start is a place where an arrow may begin.
type start struct {
	at   draw.Point
	out  draw.Point // direction in which it may leave; zero: any
	dots []draw.Point
}

// starts lists where an arrow may begin: the middle of its bond, on either
// side, or a place beside its atom, where the electrons are drawn.
func (b *board) starts(a ionize.Arrow) []start {
	if a.From.Bond {
		p, q := b.artist.Place(b.index[a.From.Begin]), b.artist.Place(b.index[a.From.End])
		mid, n := middle(p, q), normal(p, q)
		d := 0.1 * b.bond
		return []start{
			{at: draw.Point{X: mid.X + d*n.X, Y: mid.Y + d*n.Y}, out: n},
			{at: draw.Point{X: mid.X - d*n.X, Y: mid.Y - d*n.Y}, out: draw.Point{X: -n.X, Y: -n.Y}},
		}
	}
	atom := b.index[a.From.Begin]
	center := b.artist.Place(atom)
	var out []start
	for n := 1; n <= 3; n++ {
		for _, p := range b.artist.Around(atom, n) {
			l := distance(p, center)
			d := draw.Point{X: (p.X - center.X) / l, Y: (p.Y - center.Y) / l}
			s := start{at: draw.Point{X: p.X + 0.11*b.bond*d.X, Y: p.Y + 0.11*b.bond*d.Y}, out: d}
			if a.Electrons == 1 {
				s.dots = []draw.Point{p}
			} else {
				for _, k := range []float64{-1, 1} {
					s.dots = append(s.dots, draw.Point{X: p.X - k*0.075*b.bond*d.Y, Y: p.Y + k*0.075*b.bond*d.X})
				}
			}
			out = append(out, s)
		}
	}
	return out
}

// end is a place where an arrow may stop, with the point it heads for.
type end struct {
	at, toward draw.Point
	aside      float64 // what it costs to stop there rather than at the best place
}

// ends lists where an arrow may stop: beside its atom or its bond. At a bond
// that it makes, between two atoms, it stops short of the middle, or beside it,
// to leave room for the arrow from the other side.
func (b *board) ends(a ionize.Arrow, from draw.Point) []end {
	if !a.To.Bond {
		atom := b.index[a.To.Begin]
		var out []end
		for k := range 16 {
			out = append(out, end{b.outside(atom, 2*math.Pi*float64(k)/16, 0.07*b.bond), b.artist.Place(atom), 0})
		}
		return out
	}
	p, q := b.artist.Place(b.index[a.To.Begin]), b.artist.Place(b.index[a.To.End])
	mid, n := middle(p, q), normal(p, q)
	if _, joined := b.mol.BondBetween(b.index[a.To.Begin], b.index[a.To.End]); joined {
		var out []end
		d := 0.15 * b.bond
		for _, along := range []float64{0, 0.19, -0.19} { // room for two on one side
			c := draw.Point{X: mid.X + along*(q.X-p.X), Y: mid.Y + along*(q.Y-p.Y)}
			out = append(out,
				end{draw.Point{X: c.X + d*n.X, Y: c.Y + d*n.Y}, c, math.Abs(along)},
				end{draw.Point{X: c.X - d*n.X, Y: c.Y - d*n.Y}, c, math.Abs(along)})
		}
		return out
	}
	if a.Electrons == 2 { // a pair heads for the atom it binds to
		far := b.index[a.To.End]
		if distance(p, from) > distance(q, from) {
			far = b.index[a.To.Begin]
		}
		center := b.artist.Place(far)
		angle := math.Atan2(mid.Y-center.Y, mid.X-center.X)
		var out []end
		for _, turn := range []float64{0, 0.4, -0.4, 0.8, -0.8} {
			out = append(out, end{b.outside(far, angle+turn, 0.07*b.bond), center, math.Abs(turn)})
		}
		return out
	}
	l := max(distance(mid, from), 1)
	short := min(0.12*b.bond, l/3)
	stop := draw.Point{X: mid.X + short*(from.X-mid.X)/l, Y: mid.Y + short*(from.Y-mid.Y)/l}
	var out []end
	for _, aside := range []float64{0, 0.2, -0.2, 0.35, -0.35} {
		d := aside * b.bond
		out = append(out, end{draw.Point{X: stop.X + d*n.X, Y: stop.Y + d*n.Y}, mid, 6 * math.Abs(aside)})
	}
	return out
}

// outside is the place beside an atom in a direction, clear of its label.
func (b *board) outside(atom int, angle, air float64) draw.Point {
	center, box := b.artist.Place(atom), b.artist.Box(atom).Grow(air)
	sin, cos := math.Sincos(angle)
	r := 0.14 * b.bond
	for r < 2*b.bond && inside(box, draw.Point{X: center.X + r*cos, Y: center.Y + r*sin}) {
		r += 0.04 * b.bond
	}
	return draw.Point{X: center.X + r*cos, Y: center.Y + r*sin}
}

func inside(b draw.Box, p draw.Point) bool {
	return p.X > b.Left && p.X < b.Right && p.Y > b.Top && p.Y < b.Bottom
}

// bend makes the curve from a start to an end that bulges to one side, by a
// part of its length but never too flat to be seen as curved.
func (b *board) bend(s start, e end, bulge float64) curve {
	n := normal(s.at, e.at)
	l := distance(s.at, e.at)
	h := bulge * l
	if least := 0.42 * b.bond * math.Abs(bulge) / 0.3; math.Abs(h) < least {
		h = math.Copysign(min(least, 0.9*b.bond), bulge)
	}
	along := draw.Point{X: (e.at.X - s.at.X) * 0.2, Y: (e.at.Y - s.at.Y) * 0.2}
	c := curve{dots: s.dots, radius: 0.05 * b.bond}
	c.p = [4]draw.Point{
		s.at,
		{X: s.at.X + along.X + h*n.X, Y: s.at.Y + along.Y + h*n.Y},
		{X: e.at.X - along.X + h*n.X, Y: e.at.Y - along.Y + h*n.Y},
		e.at,
	}
	c.own = 1.2*math.Abs(bulge) + 0.5*l/b.bond + 8*max(0, 0.45-l/b.bond) // too short, and it shows no way
	if s.out != (draw.Point{}) {                                         // leaves away from its atom or bond
		c.own += 1.5 * (1 - cosine(minus(c.p[1], c.p[0]), s.out))
	}
	c.own += 1.5*(1-cosine(minus(c.p[3], c.p[2]), minus(e.toward, c.p[3]))) + e.aside
	return c
}

func minus(p, q draw.Point) draw.Point { return draw.Point{X: p.X - q.X, Y: p.Y - q.Y} }

// cosine is that of the angle between two directions, 0 where one has none.
func cosine(u, v draw.Point) float64 {
	l := math.Hypot(u.X, u.Y) * math.Hypot(v.X, v.Y)
	if l < 1e-9 {
		return 0
	}
	return (u.X*v.X + u.Y*v.Y) / l
}

// head is the arrow's head: its outline, and where on the curve its foot is.
func (c *curve) head(bond float64, electrons int) (outline []draw.Point, foot float64) {
	tip := c.p[3]
	length, width := 0.3*bond, 0.13*bond
	// The head lies along the last stretch of the curve.
	back := 1.0
	for back > 0 && distance(c.point(back), tip) < length {
		back -= 0.01
	}
	base := c.point(max(back, 0))
	l := max(distance(base, tip), 1e-9)
	d := draw.Point{X: (tip.X - base.X) / l, Y: (tip.Y - base.Y) / l}
	at := draw.Point{X: tip.X - length*d.X, Y: tip.Y - length*d.Y}
	side := draw.Point{X: -d.Y, Y: d.X}
	barb := func(k float64) draw.Point {
		return draw.Point{X: at.X - 0.06*bond*d.X + k*width*side.X, Y: at.Y - 0.06*bond*d.Y + k*width*side.Y}
	}
	if electrons == 2 {
		return []draw.Point{tip, barb(1), at, barb(-1)}, max(back, 0.02)
	}
	inward := minus(middle(c.p[0], tip), at)
	outer := 1.0
	if inward.X*side.X+inward.Y*side.Y > 0 {
		outer = -1
	}
	return []draw.Point{tip, barb(outer), at}, max(back, 0.02)
}

// group is the arrow as drawn: a line with a barb on both sides for two
// electrons, on the outer side for one.
func (a *arrow) group(bond float64) *draw.Group {
	g := &draw.Group{Class: "electron-pair", Title: "2 electrons"}
	if a.Electrons == 1 {
		g.Class, g.Title = "electron", "1 electron"
	}
	c := &a.curve
	outline, foot := c.head(bond, a.Electrons)
	line := draw.Path{Stroke: draw.Stroke{Role: draw.Accent, Width: bond / 20, Round: true}}
	line.MoveTo(c.p[0].X, c.p[0].Y)
	first := split(c.p, foot)
	line.CubicTo(first[1], first[2], first[3])
	if a.Electrons == 1 {
		line.LineTo(c.p[3].X, c.p[3].Y)
	}
	g.Add(line, draw.Polygon(draw.Accent, draw.Stroke{}, outline...))
	return g
}

// split returns the part of a Bézier curve from its start to t (de Casteljau).
func split(p [4]draw.Point, t float64) [4]draw.Point {
	mix := func(a, b draw.Point) draw.Point { return draw.Point{X: a.X + t*(b.X-a.X), Y: a.Y + t*(b.Y-a.Y)} }
	a, b, c := mix(p[0], p[1]), mix(p[1], p[2]), mix(p[2], p[3])
	d, e := mix(a, b), mix(b, c)
	return [4]draw.Point{p[0], a, d, mix(d, e)}
}
