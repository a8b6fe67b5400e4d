package png

import (
	"math"

	"ionwright/draw"
	"ionwright/draw/typeface"
)

// haloWidth is how far a halo reaches around the letters on both sides
// together, as the SVG writer has it.
const haloWidth = 3.0

// Text fills the outlines of the letters, over their halo.
func (r *renderer) Text(t draw.Text) {
	sin, cos := math.Sincos(t.Angle * math.Pi / 180)
	var letters [][]draw.Point
	x := t.Left()
	for _, run := range t.Runs {
		face, size := typeface.Of(run.Style()), run.Size(t.Size)
		baseline := t.At.Y - run.Rise(t.Size)
		for _, c := range run.Text {
			pen := &pen{place: func(gx, gy float64) draw.Point {
				dx, dy := x+gx*size-t.At.X, baseline-gy*size-t.At.Y
				return draw.Point{X: t.At.X + dx*cos - dy*sin, Y: t.At.Y + dx*sin + dy*cos}
			}}
			face.Outline(c, pen)
			letters = append(letters, pen.contours...)
			x += face.Advance(c) * size
		}
	}
	if len(letters) == 0 {
		return
	}
	if t.Halo != draw.NoRole {
		r.fill(outlineOf(letters, draw.Stroke{Role: t.Halo, Width: haloWidth, Round: true}), t.Halo)
	}
	r.fill(letters, t.Role)
}

// pen collects a glyph's contours as polygons; a curve becomes six chords,
// which at any size of type leave it by less than a hundredth of an em.
type pen struct {
	place    func(x, y float64) draw.Point
	contours [][]draw.Point
	at       [2]float64
}

func (p *pen) MoveTo(x, y float64) {
	p.contours = append(p.contours, []draw.Point{p.place(x, y)})
	p.at = [2]float64{x, y}
}

func (p *pen) LineTo(x, y float64) {
	last := len(p.contours) - 1
	p.contours[last] = append(p.contours[last], p.place(x, y))
	p.at = [2]float64{x, y}
}

func (p *pen) QuadTo(cx, cy, x, y float64) {
	const chords = 6
	from := p.at
	for i := 1; i <= chords; i++ {
		t := float64(i) / chords
		u := 1 - t
		p.LineTo(u*u*from[0]+2*u*t*cx+t*t*x, u*u*from[1]+2*u*t*cy+t*t*y)
	}
}

func (p *pen) Close() {
	last := len(p.contours) - 1
	p.contours[last] = append(p.contours[last], p.contours[last][0])
}
