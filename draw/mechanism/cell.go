package mechanism

import (
	"math"
	"slices"

	"ionwright/chem"
	"ionwright/draw"
	"ionwright/draw/structure"
	"ionwright/ionize"
)

const hydrogen = chem.H

// draw draws the form before a panel with the panel's arrows. bracketed ions
// carry their charge outside, where it can't be said which atom bears it.
func (s *strip) draw(at *places, panel ionize.Panel, shown []bool, bracketed bool) (cell, error) {
	if bracketed {
		panel.Before = withoutSites(panel.Before)
	}
	sk, err := newSketch(panel, shown)
	if err != nil {
		return cell{}, err
	}
	coordinates, err := at.lay(sk, panel)
	if err != nil {
		return cell{}, err
	}
	artist, err := structure.NewArtist(sk.mol, structure.Options{Bond: s.o.Bond, Places: coordinates, NoDots: true, Dashed: sk.half})
	if err != nil {
		return cell{}, err
	}
	b := newBoard(sk, artist, s.o.Bond)
	b.markHalves()
	b.place(panel)
	items := slices.Concat(artist.Items(), b.items())
	box := draw.NoBox()
	for _, item := range items {
		box = box.Union(draw.Bounds(item))
	}
	if bracketed {
		brackets, grown := s.brackets(box, sign(panel.After, shown))
		items, box = append(items, brackets...), grown
	}
	return cell{items: items, box: box}, nil
}

// withoutSites is a form with charge and unpaired electrons taken off its
// atoms.
func withoutSites(f ionize.Form) ionize.Form {
	f.Atoms = slices.Clone(f.Atoms)
	for i := range f.Atoms {
		f.Atoms[i].Charge = 0
		f.Atoms[i].Unbonded &^= 1
	}
	return f
}

// sign is the charge of what is drawn, with a dot for an odd-electron ion.
func sign(f ionize.Form, shown []bool) string {
	electrons := 0
	for i, a := range f.Atoms {
		if shown[i] {
			electrons += a.Unbonded
		}
	}
	for _, b := range f.Bonds {
		if shown[b.Begin] {
			electrons += b.Electrons
		}
	}
	if electrons%2 == 1 {
		return "+•"
	}
	return "+"
}

// brackets are drawn around a box, with the charge at their upper right.
func (s *strip) brackets(box draw.Box, charge string) ([]draw.Item, draw.Box) {
	box = box.Grow(0.25 * s.o.Bond)
	tick := 0.22 * s.o.Bond
	stroke := draw.Stroke{Role: draw.Ink, Width: s.o.Bond / 19}
	text := draw.Text{
		At: draw.Point{X: box.Right + 0.12*s.o.Bond, Y: box.Top + 0.3*s.o.Bond}, Size: 0.5 * s.o.Bond, Role: draw.Ink, Runs: draw.Plain(charge),
	}
	items := []draw.Item{
		draw.Polyline(stroke, draw.Point{X: box.Left + tick, Y: box.Top}, draw.Point{X: box.Left, Y: box.Top}, draw.Point{X: box.Left, Y: box.Bottom}, draw.Point{X: box.Left + tick, Y: box.Bottom}),
		draw.Polyline(stroke, draw.Point{X: box.Right - tick, Y: box.Top}, draw.Point{X: box.Right, Y: box.Top}, draw.Point{X: box.Right, Y: box.Bottom}, draw.Point{X: box.Right - tick, Y: box.Bottom}),
		text,
	}
	for _, item := range items {
		box = box.Union(draw.Bounds(item))
	}
	return items, box
}

// board is one ion with room for dots, pairs and arrows.
type board struct {
	*sketch
	artist *structure.Artist
	bond   float64 // length in pixels
	texts  []draw.Box
	signs  []draw.Item // charges of bonds with one electron
	dots   []draw.Item
	arrows []*arrow
	taken  []draw.Point // where dots stand
}

func newBoard(s *sketch, artist *structure.Artist, bond float64) *board {
	b := &board{sketch: s, artist: artist, bond: bond}
	draw.Scene{Items: artist.Items()}.Walk(func(item draw.Item, _ []*draw.Group) {
		if t, ok := item.(draw.Text); ok {
			b.texts = append(b.texts, t.Bounds())
		}
	})
	return b
}

// markHalves writes the charge and the dot at bonds of one electron.
func (b *board) markHalves() {
	for _, k := range b.half {
		bond := b.mol.Bond(k)
		p, q := b.artist.Place(int(bond.Begin)), b.artist.Place(int(bond.End))
		mid, n := middle(p, q), normal(p, q)
		best, bestRoom := draw.Point{}, -1.0
		for _, side := range []float64{1, -1} {
			c := draw.Point{X: mid.X + side*0.5*b.bond*n.X, Y: mid.Y + side*0.5*b.bond*n.Y}
			if room := b.room(c); room > bestRoom+1e-9 {
				best, bestRoom = c, room
			}
		}
		text := draw.Text{At: draw.Point{X: best.X, Y: best.Y + 0.18*b.bond}, Anchor: draw.Middle, Size: 0.42 * b.bond, Role: draw.Ink, Runs: draw.Plain("+•")}
		b.signs = append(b.signs, text)
		b.texts = append(b.texts, text.Bounds())
	}
}

// room is the distance from a point to the nearest atom.
func (b *board) room(p draw.Point) float64 {
	least := math.Inf(1)
	for i := range b.mol.NumAtoms() {
		least = min(least, distance(p, b.artist.Place(i)))
	}
	return least
}

// items are the marks of the board, arrows last.
func (b *board) items() []draw.Item {
	out := slices.Concat(b.signs, b.dots)
	arrows := &draw.Group{Class: "arrows"}
	for _, a := range b.arrows {
		arrows.Add(a.group(b.bond))
	}
	if len(arrows.Items) > 0 {
		out = append(out, arrows)
	}
	return out
}

func middle(p, q draw.Point) draw.Point { return draw.Point{X: (p.X + q.X) / 2, Y: (p.Y + q.Y) / 2} }

func distance(p, q draw.Point) float64 { return math.Hypot(p.X-q.X, p.Y-q.Y) }

// normal is the unit vector across the way from p to q; zero for no way.
func normal(p, q draw.Point) draw.Point {
	l := distance(p, q)
	if l == 0 {
		return draw.Point{}
	}
	return draw.Point{X: (q.Y - p.Y) / l, Y: -(q.X - p.X) / l}
}
