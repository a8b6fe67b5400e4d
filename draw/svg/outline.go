package svg

import (
	"strings"

	"ionwright/draw"
	"ionwright/draw/typeface"
)

// outlines writes a text as one path of its letters' outlines, over its halo.
func (e *encoder) outlines(t draw.Text) {
	var p pen
	x := t.Left()
	for _, r := range t.Runs {
		p.size, p.baseline = r.Size(t.Size), t.At.Y-r.Rise(t.Size)
		face := typeface.Of(r.Style())
		for _, c := range r.Text {
			p.left = x
			if face.Has(c) {
				face.Outline(c, &p)
			}
			x += face.Advance(c) * p.size
		}
	}
	if p.data.Len() == 0 {
		return
	}
	e.print(`<path class="text" d="`, p.data.String(), `" fill="`, e.color(t.Role), `"`)
	if t.Halo != draw.NoRole {
		e.print(` stroke="`, e.color(t.Halo), `" stroke-width="3" stroke-linejoin="round" paint-order="stroke"`)
	}
	if t.Angle != 0 {
		e.print(` transform="rotate(`, number(t.Angle), ` `, number(t.At.X), ` `, number(t.At.Y), `)"`)
	}
	e.print("/>\n")
}

// pen writes the outline of a glyph, in em and y up, as path data.
type pen struct {
	data           strings.Builder
	left, baseline float64 // where the glyph's origin stands
	size           float64
}

func (p *pen) step(op string, coordinates ...float64) {
	p.data.WriteString(op)
	for i, v := range coordinates {
		if i > 0 {
			p.data.WriteByte(' ')
		}
		if i%2 == 0 {
			p.data.WriteString(number(p.left + v*p.size))
		} else {
			p.data.WriteString(number(p.baseline - v*p.size))
		}
	}
}

func (p *pen) MoveTo(x, y float64)         { p.step("M", x, y) }
func (p *pen) LineTo(x, y float64)         { p.step("L", x, y) }
func (p *pen) QuadTo(cx, cy, x, y float64) { p.step("Q", cx, cy, x, y) }
func (p *pen) Close()                      { p.step("Z") }
