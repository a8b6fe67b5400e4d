package mechanism

import (
	"math"

	"ionwright/draw/layout"
	"ionwright/ionize"
	"ionwright/mol"
)

// places are the coordinates of atoms, bonds of length 1, y up: by place in the
// forms of the movement being drawn.
type places struct {
	at    map[int]layout.Point
	atoms []ionize.FormAtom // of the movement
}

// enter moves on to the next movement: the molecule's atoms stay where they
// are.
func (p places) enter(m ionize.Movement) places {
	byAtom := map[int]layout.Point{}
	for i, a := range p.atoms {
		if q, ok := p.at[i]; ok && !a.IsHydrogen {
			byAtom[a.Atom] = q
		}
	}
	next := places{at: map[int]layout.Point{}, atoms: m.Panels[0].Before.Atoms}
	for i, a := range next.atoms {
		if q, ok := byAtom[a.Atom]; ok && !a.IsHydrogen {
			next.at[i] = q
		}
	}
	return next
}

// sketch is a form cut down to what is drawn: some hydrogens are atoms, and
// deuterium is.
type sketch struct {
	form  []int // by atom of the sketch: place in the form; -1 for deuterium
	index []int // by place in the form: atom of the sketch, -1 where it isn't drawn
	mol   *mol.Mol
	half  []int // bonds of one electron
}

// newSketch makes the sketch of a panel's first form.
func newSketch(panel ionize.Panel, shown []bool) (*sketch, error) {
	f := panel.Before
	s := &sketch{index: make([]int, len(f.Atoms))}
	neighbor := make([]int, len(f.Atoms)) // of a hydrogen
	for i := range neighbor {
		neighbor[i] = -1
	}
	for _, b := range f.Bonds {
		neighbor[b.Begin], neighbor[b.End] = b.End, b.Begin
	}
	hydrogens := make([]int, len(f.Atoms))
	for i, a := range f.Atoms {
		s.index[i] = -1
		if !shown[i] {
			continue
		}
		acts := a.Isotope != 0
		for _, arrow := range panel.Arrows {
			acts = acts || touches(arrow, i)
		}
		if a.IsHydrogen && !acts && neighbor[i] >= 0 && !f.Atoms[neighbor[i]].IsHydrogen {
			hydrogens[neighbor[i]]++
			continue
		}
		s.index[i] = len(s.form)
		s.form = append(s.form, i)
	}
	var atoms []mol.Atom
	for _, i := range s.form {
		a := f.Atoms[i]
		atoms = append(atoms, mol.Atom{
			Element: a.Element, Isotope: uint16(a.Isotope), Charge: int8(a.Charge), Radical: uint8(a.Radical()),
			Hydrogens: uint8(a.Hydrogens - a.Deuterium + hydrogens[i]),
		})
	}
	var bonds []mol.Bond
	for _, b := range f.Bonds {
		x, y := s.index[b.Begin], s.index[b.End]
		if x < 0 || y < 0 {
			continue
		}
		if b.Electrons%2 == 1 {
			s.half = append(s.half, len(bonds))
		}
		bonds = append(bonds, mol.Bond{Begin: int32(x), End: int32(y), Order: mol.Order((b.Electrons + 1) / 2)})
	}
	for x, i := range s.form[:len(s.form):len(s.form)] {
		for range f.Atoms[i].Deuterium {
			bonds = append(bonds, mol.Bond{Begin: int32(x), End: int32(len(atoms)), Order: mol.Single})
			atoms = append(atoms, mol.Atom{Element: hydrogen, Isotope: 2})
			s.form = append(s.form, -1)
		}
	}
	var err error
	s.mol, err = mol.New(atoms, bonds)
	return s, err
}

// lay gives the sketch coordinates and remembers those of the form's atoms.
// Where a shift closes a ring of atoms for a moment, the ring is laid out, so
// that the arrows run around it.
func (p *places) lay(s *sketch, panel ionize.Panel) ([]layout.Point, error) {
	graph, err := s.withNewBonds(panel)
	if err != nil {
		return nil, err
	}
	known := map[int]layout.Point{}
	unknown := false
	for x, i := range s.form {
		if q, ok := p.at[i]; ok && i >= 0 {
			known[x] = q
		} else if graph.Degree(x) != 1 {
			unknown = true
		}
	}
	var out []layout.Point
	if !unknown && graph.NumBonds() == s.mol.NumBonds() && len(known) > 0 {
		out = attach(s.mol, known)
	}
	if !even(graph, out) {
		out = layout.Following(graph, known)
	}
	if graph != s.mol && !even(graph, out) { // the ring would be bridged: not laid out
		out = layout.Following(s.mol, known)
	}
	straighten(s.mol, out)
	for x, i := range s.form {
		if i >= 0 {
			p.at[i] = out[x]
		}
	}
	return out, nil
}

// withNewBonds is the sketch's graph with the single bonds that the panel's
// arrows make.
func (s *sketch) withNewBonds(panel ionize.Panel) (*mol.Mol, error) {
	edit := s.mol.Edit()
	added := false
	for _, a := range panel.Arrows {
		if !a.To.Bond {
			continue
		}
		x, y := s.index[a.To.Begin], s.index[a.To.End]
		if x < 0 || y < 0 {
			continue
		}
		if _, joined := edit.BondBetween(x, y); !joined {
			edit.AddBond(x, y, mol.Single)
			added = true
		}
	}
	if !added {
		return s.mol, nil
	}
	return edit.Mol()
}

// even reports whether all bonds are about as long as bonds are.
func even(m *mol.Mol, at []layout.Point) bool {
	if len(at) != m.NumAtoms() {
		return false
	}
	for i := range m.NumBonds() {
		b := m.Bond(i)
		if l := math.Hypot(at[b.Begin].X-at[b.End].X, at[b.Begin].Y-at[b.End].Y); l < 0.7 || l > 1.3 {
			return false
		}
	}
	return true
}

// straighten turns what hangs on a triple bond, or on two double bonds, into
// its line: the smaller side, when that brings no atoms together.
func straighten(m *mol.Mol, at []layout.Point) {
	for i := range m.NumAtoms() {
		n := m.Neighbors(i)
		if len(n) != 2 || m.RingBond(int(n[0].Bond)) || m.RingBond(int(n[1].Bond)) {
			continue
		}
		x, y := m.KekuleOrder(int(n[0].Bond)), m.KekuleOrder(int(n[1].Bond))
		if x+y != 4 {
			continue
		}
		fixed, turned := int(n[0].Atom), int(n[1].Atom)
		side := beyond(m, i, turned)
		if other := beyond(m, i, fixed); len(other) < len(side) {
			fixed, turned, side = turned, fixed, other
		}
		angle := math.Atan2(at[i].Y-at[fixed].Y, at[i].X-at[fixed].X) - math.Atan2(at[turned].Y-at[i].Y, at[turned].X-at[i].X)
		sin, cos := math.Sincos(angle)
		moved := map[int]layout.Point{}
		for _, k := range side {
			dx, dy := at[k].X-at[i].X, at[k].Y-at[i].Y
			moved[k] = layout.Point{X: at[i].X + dx*cos - dy*sin, Y: at[i].Y + dx*sin + dy*cos}
		}
		if !crowds(at, moved) {
			for k, q := range moved {
				at[k] = q
			}
		}
	}
}

// beyond lists the atoms on the far side of the bond from one atom to the
// other, which is in no ring.
func beyond(m *mol.Mol, from, to int) []int {
	seen := map[int]bool{from: true, to: true}
	out := []int{to}
	for k := 0; k < len(out); k++ {
		for _, n := range m.Neighbors(out[k]) {
			if j := int(n.Atom); !seen[j] {
				seen[j] = true
				out = append(out, j)
			}
		}
	}
	return out
}

// crowds reports whether a moved atom comes near one that stays.
func crowds(at []layout.Point, moved map[int]layout.Point) bool {
	for _, q := range moved {
		for k, p := range at {
			if _, also := moved[k]; !also && math.Hypot(p.X-q.X, p.Y-q.Y) < 0.6 {
				return true
			}
		}
	}
	return false
}

// attach adds to known places those of the atoms that hang on one of them by a
// single bond, in the widest gaps.
func attach(m *mol.Mol, known map[int]layout.Point) []layout.Point {
	out := make([]layout.Point, m.NumAtoms())
	for x, q := range known {
		out[x] = q
	}
	for x := range out {
		if _, ok := known[x]; ok {
			continue
		}
		bearer := int(m.Neighbors(x)[0].Atom)
		best, bestRoom := layout.Point{}, -1.0
		for k := range 24 {
			sin, cos := math.Sincos(2 * math.Pi * float64(k) / 24)
			q := layout.Point{X: out[bearer].X + 0.9*cos, Y: out[bearer].Y + 0.9*sin}
			room := math.Inf(1)
			for y := range out {
				if _, ok := known[y]; ok {
					room = min(room, math.Hypot(out[y].X-q.X, out[y].Y-q.Y)+0.02*q.Y)
				}
			}
			if room > bestRoom+1e-9 {
				best, bestRoom = q, room
			}
		}
		out[x] = best
		known[x] = best
	}
	return out
}
