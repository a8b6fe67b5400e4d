package mechanism

import (
	"math"

	"ionwright/draw"
)

const margin = 10 // around the drawing, pixels

// unit is a cell with the link before it: they stay on one row.
type unit struct {
	link *link
	cell *cell
	arm  float64 // length of the link
}

func (u *unit) width(gap float64) float64 {
	w := u.cell.width()
	if u.link != nil {
		w += u.arm + 2*gap
	}
	return w
}

// width is the room that a cell takes, its caption counted.
func (c *cell) width() float64 {
	w := max(c.box.Width(), draw.RunsWidth(c.caption, captionSize))
	if c.oneForm {
		w = max(w, draw.RunsWidth(draw.Plain(oneForm), noteSize))
	}
	return w
}

const (
	captionSize = 13 // pixels
	noteSize    = 11
	oneForm     = "one resonance form" // below a delocalized ion that arrows act on
)

// fold sets the strip in rows no wider than asked, 0 for one row.
func (s *strip) fold(width float64) draw.Scene {
	gap := 0.3 * s.o.Bond
	var rows [][]unit
	x := 0.0
	for k := range s.cells {
		u := unit{cell: &s.cells[k]}
		if k > 0 {
			u.link = &s.links[k-1]
			u.arm = s.armOf(u.link)
		}
		w := u.width(gap)
		if len(rows) == 0 || width > 0 && x+w > width-2*margin {
			rows = append(rows, nil)
			x = 0
		}
		rows[len(rows)-1] = append(rows[len(rows)-1], u)
		x += w
	}
	var scene draw.Scene
	y := float64(margin)
	for _, row := range rows {
		g, right, bottom := s.row(row, y, gap)
		scene.Items = append(scene.Items, g)
		scene.Width = max(scene.Width, right+margin)
		y = bottom + 0.8*s.o.Bond
	}
	scene.Width = math.Ceil(max(scene.Width, width))
	scene.Height = math.Ceil(y - 0.8*s.o.Bond + margin)
	return scene
}

// row sets units side by side, the tops of their ions and links at y and below.
func (s *strip) row(row []unit, y, gap float64) (g *draw.Group, right, bottom float64) {
	g = &draw.Group{Class: "row"}
	box := draw.NoBox()
	for i := range row {
		b := row[i].cell.box
		box = box.Union(draw.Box{Left: 0, Top: b.Top, Right: 1, Bottom: b.Bottom})
	}
	axis := (box.Top + box.Bottom) / 2
	for i := range row {
		if l := row[i].link; l != nil {
			up, down := s.linkReach(l)
			box = box.Union(draw.Box{Left: 0, Top: axis - up, Right: 1, Bottom: axis + down})
		}
	}
	dy := y - box.Top
	x := float64(margin)
	below := y + box.Height() + 1.2*captionSize // baseline of the captions
	bottom = below + 0.2*captionSize
	for i := range row {
		if row[i].cell.oneForm {
			bottom = below + 1.4*noteSize
		}
	}
	for i := range row {
		u := &row[i]
		if u.link != nil {
			x += gap
			g.Add(s.drawLink(u.link, x, axis+dy, u.arm))
			x += u.arm + gap
		}
		w := u.cell.width()
		ion := &draw.Group{Class: "ion"}
		ion.Add(draw.Placed(u.cell.items, 1, x+(w-u.cell.box.Width())/2-u.cell.box.Left, dy)...)
		ion.Add(draw.Text{At: draw.Point{X: x + w/2, Y: below}, Anchor: draw.Middle, Size: captionSize, Role: draw.Ink, Runs: u.cell.caption})
		if u.cell.oneForm {
			ion.Add(draw.Text{At: draw.Point{X: x + w/2, Y: below + 1.2*noteSize}, Anchor: draw.Middle, Size: noteSize, Role: draw.Muted, Runs: draw.Plain(oneForm)})
		}
		g.Add(ion)
		x += w
	}
	return g, x, bottom
}

// armOf is the length of a link's arrow: that of its longest line.
func (s *strip) armOf(l *link) float64 {
	longest := draw.RunsWidth(l.loss, s.size)
	for _, line := range l.above {
		longest = max(longest, draw.RunsWidth(draw.Plain(line), s.size))
	}
	for _, line := range l.note {
		longest = max(longest, draw.RunsWidth(draw.Plain(line), 0.9*s.size))
	}
	if l.resonance {
		return 1.3 * s.o.Bond
	}
	return max(longest+0.6*s.o.Bond, 1.8*s.o.Bond)
}

// linkReach is how far a link reaches above and below its arrow.
func (s *strip) linkReach(l *link) (up, down float64) {
	lines := float64(len(l.above) + len(l.note))
	return 0.4*s.o.Bond + lines*1.2*s.size, 0.4*s.o.Bond + 1.2*s.size
}

// drawLink draws the arrow between two ions with its words.
func (s *strip) drawLink(l *link, x, y, arm float64) *draw.Group {
	g := &draw.Group{Class: "step"}
	stroke := draw.Stroke{Role: draw.Ink, Width: s.o.Bond / 19}
	head := 0.32 * s.o.Bond
	barb := func(tip, way float64) draw.Path {
		return draw.Polygon(draw.Ink, draw.Stroke{}, draw.Point{X: tip, Y: y}, draw.Point{X: tip - way*head, Y: y - 0.4*head}, draw.Point{X: tip - way*head, Y: y + 0.4*head})
	}
	from := x
	if l.resonance {
		g.Class = "resonance"
		from += 0.8 * head
		g.Add(barb(x, -1))
	}
	g.Add(draw.Polyline(stroke, draw.Point{X: from, Y: y}, draw.Point{X: x + arm - 0.8*head, Y: y}), barb(x+arm, 1))
	center := x + (arm-0.5*head)/2
	text := func(line string, baseline, size float64, role draw.Role) {
		g.Add(draw.Text{At: draw.Point{X: center, Y: baseline}, Anchor: draw.Middle, Size: size, Role: role, Runs: draw.Plain(line)})
	}
	up := y - 0.35*s.o.Bond
	for i := len(l.note) - 1; i >= 0; i-- {
		text(l.note[i], up, 0.9*s.size, draw.Muted)
		up -= 1.15 * s.size
	}
	for i := len(l.above) - 1; i >= 0; i-- {
		text(l.above[i], up, s.size, draw.Ink)
		up -= 1.15 * s.size
	}
	if len(l.loss) > 0 {
		g.Add(draw.Text{At: draw.Point{X: center, Y: y + 0.3*s.o.Bond + s.size*0.8}, Anchor: draw.Middle, Size: s.size, Role: draw.Ink, Runs: l.loss})
	}
	return g
}
