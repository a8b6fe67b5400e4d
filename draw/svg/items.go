package svg

import (
	"strings"

	"ionwright/draw"
)

// BeginGroup opens a group; its title is the first child, as SVG wants it.
func (e *encoder) BeginGroup(g *draw.Group) {
	e.print("<g")
	if g.ID != "" {
		id := e.id(g.ID)
		e.check(idText(g.ID), "the id %q has characters other than letters, digits and hyphens", g.ID)
		e.check(!e.ids[id] && g.ID != "title" && g.ID != "desc", "the id %q is there twice", g.ID)
		e.ids[id] = true
		e.print(` id="`, id, `"`)
	}
	if g.Class != "" {
		e.print(` class="`, escape(g.Class), `"`)
	}
	e.print(">\n")
	if g.Title != "" {
		e.print("<title>", escape(g.Title), "</title>\n")
	}
}

// EndGroup closes a group.
func (e *encoder) EndGroup(*draw.Group) { e.print("</g>\n") }

// Path writes a path with its colours.
func (e *encoder) Path(p draw.Path) {
	if p.Fill == draw.NoRole && p.Stroke.Role == draw.NoRole || len(p.Segments) == 0 {
		return
	}
	e.print(`<path d="`, e.data(p), `" fill="`, e.color(p.Fill), `"`)
	if s := p.Stroke; s.Role != draw.NoRole {
		e.print(` stroke="`, e.color(s.Role), `" stroke-width="`, number(s.Width), `"`)
		if s.Round {
			e.print(` stroke-linecap="round" stroke-linejoin="round"`)
		}
		if len(s.Dash) > 0 {
			var dashes []string
			for _, d := range s.Dash {
				dashes = append(dashes, number(d))
			}
			e.print(` stroke-dasharray="`, strings.Join(dashes, " "), `"`)
		}
	}
	e.print("/>\n")
}

// data is the path's d attribute.
func (e *encoder) data(p draw.Path) string {
	var b strings.Builder
	point := func(q draw.Point) {
		e.check(finite(q.X) && finite(q.Y), "a path goes through (%v, %v)", q.X, q.Y)
		b.WriteString(number(q.X))
		b.WriteByte(' ')
		b.WriteString(number(q.Y))
	}
	for _, s := range p.Segments {
		switch s.Op {
		case draw.Move:
			b.WriteByte('M')
			point(s.P[0])
		case draw.Line:
			b.WriteByte('L')
			point(s.P[0])
		case draw.Cubic:
			b.WriteByte('C')
			point(s.P[0])
			b.WriteByte(' ')
			point(s.P[1])
			b.WriteByte(' ')
			point(s.P[2])
		case draw.Close:
			b.WriteByte('Z')
		}
	}
	return b.String()
}

// Text writes a line of text, one tspan a run that differs from the plain
// style.
func (e *encoder) Text(t draw.Text) {
	if len(t.Runs) == 0 {
		return
	}
	e.check(finite(t.At.X) && finite(t.At.Y) && finite(t.Size) && finite(t.Angle), "the text %q stands at (%v, %v)", t.String(), t.At.X, t.At.Y)
	if e.options.Outlines {
		e.outlines(t)
		return
	}
	e.print(`<text x="`, number(t.At.X), `" y="`, number(t.At.Y), `" font-size="`, number(t.Size), `" fill="`, e.color(t.Role), `"`)
	switch t.Anchor {
	case draw.Middle:
		e.print(` text-anchor="middle"`)
	case draw.End:
		e.print(` text-anchor="end"`)
	}
	if t.Halo != draw.NoRole {
		e.print(` stroke="`, e.color(t.Halo), `" stroke-width="3" stroke-linejoin="round" paint-order="stroke"`)
	}
	if t.Angle != 0 {
		e.print(` transform="rotate(`, number(t.Angle), ` `, number(t.At.X), ` `, number(t.At.Y), `)"`)
	}
	if e.options.LinkFont {
		e.print(` textLength="`, number(t.Width()), `" lengthAdjust="spacingAndGlyphs"`)
	}
	e.print(` xml:space="preserve">`)
	baseline := 0.0 // where the last run left it, pixels above the text's own
	for _, r := range t.Runs {
		rise := r.Rise(t.Size)
		if r.Script == draw.Normal && !r.Italic && !r.Bold && rise == baseline {
			e.print(escape(r.Text))
			continue
		}
		e.print("<tspan")
		if rise != baseline {
			e.print(` dy="`, number(baseline-rise), `"`)
			baseline = rise
		}
		if r.Script != draw.Normal {
			e.print(` font-size="`, number(r.Size(t.Size)), `"`)
		}
		if r.Bold {
			e.print(` font-weight="bold"`)
		} else if r.Italic {
			e.print(` font-style="italic"`)
		}
		e.print(">", escape(r.Text), "</tspan>")
	}
	e.print("</text>\n")
}
