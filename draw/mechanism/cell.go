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
// carry what can't be put on one atom outside brackets; of the others it is
// only noted that they are drawn in one of several forms.
func (s *strip) draw(at *places, panel ionize.Panel, shown []bool, how bracketing) (cell, error) {
	b, c, err := s.prepare(at, panel, shown, how)
	if err != nil {
		return cell{}, err
	}
	c.items = slices.Concat(b.artist.Items(), b.items())
	c.box = draw.NoBox()
	for _, item := range c.items {
		c.box = c.box.Union(draw.Bounds(item))
	}
	return c, nil
}

// prepare finds places for all that draw draws.
func (s *strip) prepare(at *places, panel ionize.Panel, shown []bool, how bracketing) (*board, cell, error) {
	sk, err := newSketch(panel, shown)
	if err != nil {
		return nil, cell{}, err
	}
	coordinates, err := at.lay(sk, panel)
	if err != nil {
		return nil, cell{}, err
	}
	o := structure.Options{Bond: s.o.Bond, Places: coordinates, NoDots: true, Dashed: sk.half}
	spread, delocalized := structure.Delocalize(sk.mol)
	c := cell{oneForm: delocalized && how == asWritten}
	switch {
	case delocalized && how != asWritten:
		o.Brackets = spread
	case how == always:
		if o.Brackets, err = structure.Unplaced(sk.mol, len(sk.half)); err != nil {
			return nil, cell{}, err
		}
		o.Dashed, sk.half = nil, nil
	}
	artist, err := structure.NewArtist(sk.mol, o)
	if err != nil {
		return nil, cell{}, err
	}
	if o.Brackets != nil {
		c.outside = o.Brackets.Words(func(x int) int { return panel.Before.Atoms[sk.form[x]].Atom + 1 })
	}
	sk.mol = artist.Mol()
	b := newBoard(sk, artist, s.o.Bond)
	b.markHalves()
	b.place(panel)
	return b, c, nil
}

// bracketing says when an ion is drawn in brackets.
type bracketing uint8

const (
	asWritten   bracketing = iota // never: arrows act on this form
	whereSpread                   // where resonance spreads charge or unpaired electron
	always                        // nothing is known of their places
)

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
