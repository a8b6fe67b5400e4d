// Package structure draws molecular graphs as skeletal formulas: bonds as
// lines, carbon atoms as their ends and corners, every other atom with its
// symbol, hydrogens and charge.
//
// For most uses call [Draw]. To put several structures into one drawing, or
// arrows onto one, make an [Artist] and use its places.
package structure

import (
	"fmt"
	"math"
	"slices"

	"ionwright/draw"
	"ionwright/draw/layout"
	"ionwright/mol"
)

// Options say how a structure is drawn. The zero value gives bonds of 30
// pixels and a skeletal formula.
type Options struct {
	Name      string  // of the compound or ion, for the words; may be empty
	Bond      float64 // bond length in pixels; 0: 30
	Carbons   bool    // write every carbon with its hydrogens
	LonePairs bool    // draw the lone pairs of main-group atoms
	Numbers   bool    // number the atoms from 1, in the order of the graph
	Atoms     []int   // atoms that are set off by a circle
	Bonds     []int   // bonds that are set off by thicker lines
	Dashed    []int   // single bonds drawn dashed, for those that hold one electron
	NoDots    bool    // leave unpaired electrons to the caller, who finds room by Around
	// Brackets draw a delocalized ion as Delocalize says: pass on what it returns.
	// Nothing is abbreviated then. nil: charges stand at their atoms.
	Brackets *Spread
	// Abbreviate lists the groups that are written as one label, by the names of
	// Abbreviations; those that hold a marked atom or bond stay whole. All
	// numbers remain those of the whole structure.
	Abbreviate []string
	BondIDs    bool // give the group of each bond an id, bond-1 on; for one structure in a scene
	// Places are the atoms' coordinates with bonds of length 1, y up, as
	// layout.Coordinates gives them; nil: laid out here.
	Places []layout.Point
}

// DefaultBond is the length of a bond in pixels where Options don't say one.
const DefaultBond = 30

// Draw makes the figure of one structure, with a margin around it. It fails
// if Places has another length than the structure has atoms, or values that
// aren't finite, if a marked atom or bond doesn't exist, or if Bond isn't
// between 5 and 500.
func Draw(m *mol.Mol, o Options) (draw.Figure, error) {
	a, err := NewArtist(m, o)
	if err != nil {
		return draw.Figure{}, fmt.Errorf("drawing the structure %q: %w", nameOf(m, o), err)
	}
	items := a.Items()
	box := draw.NoBox()
	for _, item := range items {
		box = box.Union(draw.Bounds(item))
	}
	if box.Empty() {
		box = draw.Box{Right: 1, Bottom: 1}
	}
	const margin = 8
	box = box.Grow(margin)
	scene := draw.Scene{
		Width: math.Ceil(box.Width()), Height: math.Ceil(box.Height()),
		Items: draw.Placed(items, 1, -box.Left, -box.Top),
	}
	return draw.Figure{Scene: scene, Title: title(m, o), Description: description(m, o), Detail: abbreviationWords(a.short), Table: table(m)}, nil
}

// Artist draws one structure with the middle of its atoms' extent at the
// origin.
type Artist struct {
	m      *mol.Mol
	o      Options
	at     []draw.Point // of the atoms, in pixels, y down
	labels []*label     // of the atoms, nil for a bare corner
	size   float64      // of the text
	line   float64      // width of bonds
	short  *abbreviated // nil: nothing is abbreviated; else m is its structure
	bonds  []int        // with short, by bond of m, its index in the whole structure
}

// NewArtist lays the structure out, where o doesn't, and works out its
// labels. It fails where Draw does.
func NewArtist(m *mol.Mol, o Options) (*Artist, error) {
	if o.Bond == 0 {
		o.Bond = DefaultBond
	}
	if !(o.Bond >= 5 && o.Bond <= 500) {
		return nil, fmt.Errorf("the bond length is %v pixels; it can be 5 to 500", o.Bond)
	}
	if o.Places != nil && len(o.Places) != m.NumAtoms() {
		return nil, fmt.Errorf("there are places for %d atoms, and %d atoms", len(o.Places), m.NumAtoms())
	}
	for _, i := range o.Atoms {
		if i < 0 || i >= m.NumAtoms() {
			return nil, fmt.Errorf("atom %d is to be marked, and there are %d", i+1, m.NumAtoms())
		}
	}
	for _, i := range slices.Concat(o.Bonds, o.Dashed) {
		if i < 0 || i >= m.NumBonds() {
			return nil, fmt.Errorf("bond %d is to be marked, and there are %d", i+1, m.NumBonds())
		}
	}
	a := &Artist{m: m, o: o, size: 0.5 * o.Bond, line: o.Bond / 19}
	if s := o.Brackets; s != nil {
		if s.Mol.NumAtoms() != m.NumAtoms() || s.Mol.NumBonds() != m.NumBonds() {
			return nil, fmt.Errorf("the brackets are for a structure of %d atoms, and this one has %d", s.Mol.NumAtoms(), m.NumAtoms())
		}
		a.m = s.Mol
	} else if len(o.Abbreviate) > 0 {
		if err := a.shorten(); err != nil {
			return nil, err
		}
	}
	places := a.o.Places
	if places == nil {
		places = layout.Coordinates(a.m)
	}
	a.at, a.labels = make([]draw.Point, len(places)), make([]*label, len(places))
	for i, p := range places {
		if math.IsNaN(p.X) || math.IsInf(p.X, 0) || math.IsNaN(p.Y) || math.IsInf(p.Y, 0) {
			return nil, fmt.Errorf("atom %d stands at (%v, %v)", i+1, p.X, p.Y)
		}
		a.at[i] = draw.Point{X: p.X * o.Bond, Y: -p.Y * o.Bond}
	}
	for i := range a.labels {
		a.labels[i] = a.labelOf(i)
	}
	return a, nil
}

// Place is where an atom stands, in pixels, y down; for one in an abbreviated
// group, where that does.
func (a *Artist) Place(atom int) draw.Point { return a.at[a.drawn(atom)] }

// Box is the extent of an atom's label, or a small box around a bare corner.
func (a *Artist) Box(atom int) draw.Box {
	atom = a.drawn(atom)
	if l := a.labels[atom]; l != nil {
		return l.bounds()
	}
	p := a.at[atom]
	return draw.Box{Left: p.X, Top: p.Y, Right: p.X, Bottom: p.Y}.Grow(a.line)
}

// Items are the parts of the drawing: marks first, then bonds, then atoms.
func (a *Artist) Items() []draw.Item {
	marks := &draw.Group{Class: "marks"}
	for _, i := range a.o.Bonds {
		b := a.m.Bond(i)
		marks.Add(draw.Polyline(draw.Stroke{Role: draw.Accent, Width: 3.2 * a.line, Round: true}, a.at[b.Begin], a.at[b.End]))
	}
	for _, i := range a.o.Atoms {
		marks.Add(draw.Circle(a.at[i], 0.36*a.o.Bond, draw.NoRole, draw.Stroke{Role: draw.Accent, Width: a.line}))
	}
	bonds := &draw.Group{Class: "bonds"}
	shown := a.wedges()
	for i := range a.m.NumBonds() {
		g := &draw.Group{Class: "bond", Items: a.bond(i, shown.bonds)}
		if a.o.BondIDs {
			g.ID = fmt.Sprintf("bond-%d", a.bondNumber(i)+1)
		}
		bonds.Add(g)
	}
	atoms := &draw.Group{Class: "atoms"}
	for i := range a.m.NumAtoms() {
		items := a.atom(i)
		if front, ok := shown.hydrogens[i]; ok {
			items = append(items, a.hydrogen(i, front)...)
		}
		if len(items) > 0 {
			atoms.Add(&draw.Group{Class: "atom", Items: items})
		}
	}
	var out []draw.Item
	for _, g := range []*draw.Group{marks, bonds, atoms} {
		if len(g.Items) > 0 {
			out = append(out, g)
		}
	}
	if a.o.Brackets != nil {
		out = append(out, a.brackets(out))
	}
	return out
}

// Mol is the structure as it is drawn: in brackets, without what stands outside.
func (a *Artist) Mol() *mol.Mol { return a.m }
