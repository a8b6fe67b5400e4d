package structure

import (
	"math"
	"slices"

	"ionwright/draw"
	"ionwright/mol"
)

// wedge says that a bond leaves the plane: from is the stereocenter.
type wedge struct {
	from  int32
	front bool // toward the reader: solid; else hashed
}

// stereo is how the arrangements of a structure are shown.
type stereo struct {
	bonds     map[int]wedge // by bond
	hydrogens map[int]bool  // by center: a hydrogen that is drawn for it, in front or not
}

// wedges chooses for every tetrahedral center one bond that shows its
// arrangement: a single bond outside rings before one in a ring, to an atom
// that is no center itself, with few neighbors. Where all bonds are in rings
// the center's hydrogen is drawn.
func (a *Artist) wedges() stereo {
	s := stereo{map[int]wedge{}, map[int]bool{}}
	out := s.bonds
	for i := range a.m.NumAtoms() {
		c := a.m.Atom(i).Chirality
		n := a.m.Neighbors(i)
		if c != mol.TH1 && c != mol.TH2 || len(n) < 3 || len(n) > 4 {
			continue
		}
		outside := slices.ContainsFunc(n, func(nb mol.Neighbor) bool { return !a.m.RingBond(int(nb.Bond)) })
		if !outside && len(n) == 3 && a.m.Atom(i).Hydrogens == 1 && a.labels[i] == nil {
			s.hydrogens[i] = a.turnsLeft(i, []int{0, 1, 2}) == (c == mol.TH1)
			continue
		}
		best, bestScore := -1, math.Inf(-1)
		for k, nb := range n {
			if _, taken := out[int(nb.Bond)]; taken || a.m.KekuleOrder(int(nb.Bond)) != mol.Single {
				continue
			}
			score := -float64(a.m.Degree(int(nb.Atom)))
			if a.m.RingBond(int(nb.Bond)) {
				score -= 20
			}
			if a.m.Atom(int(nb.Atom)).Chirality != mol.NotChiral {
				score -= 10
			}
			if score > bestScore {
				best, bestScore = k, score
			}
		}
		if best >= 0 {
			out[int(n[best].Bond)] = wedge{int32(i), a.inFront(i, best)}
		}
	}
	return s
}

// hydrogen draws the hydrogen of a center whose other bonds are in rings.
func (a *Artist) hydrogen(i int, front bool) []draw.Item {
	d := a.freeDirection(i, 0)
	p := a.at[i]
	end := draw.Point{X: p.X + 0.5*a.o.Bond*d.X, Y: p.Y + 0.5*a.o.Bond*d.Y}
	size := 0.8 * a.size
	at := draw.Point{X: p.X + (0.56*a.o.Bond+0.36*size)*d.X, Y: p.Y + (0.56*a.o.Bond+0.36*size)*d.Y + 0.36*size}
	return append(a.wedgeBetween(p, end, front),
		draw.Text{At: at, Anchor: draw.Middle, Size: size, Role: draw.Ink, Runs: draw.Plain("H")})
}

// inFront reports whether neighbor k of a center has to be drawn toward the
// reader.
//
// TH1 says: seen from the first neighbor, the others follow counterclockwise;
// a hydrogen that isn't drawn is the first. Seen by the reader, from above
// the plane, with one neighbor above it, the three others show their sense
// as seen from that neighbor; with the hidden hydrogen above, so do the three
// that are drawn.
func (a *Artist) inFront(center, k int) bool {
	n := a.m.Neighbors(center)
	counterclockwise := a.m.Atom(center).Chirality == mol.TH1
	if len(n) == 3 {
		// The three drawn ones are in order after the hidden one. If they
		// show the sense that they have as seen from it, it is above the
		// plane, and the marked bond is behind.
		return a.turnsLeft(center, []int{0, 1, 2}) != counterclockwise
	}
	rest := slices.DeleteFunc([]int{0, 1, 2, 3}, func(j int) bool { return j == k })
	// Bringing neighbor k to the front of the order takes k swaps.
	if k%2 == 1 {
		counterclockwise = !counterclockwise
	}
	return a.turnsLeft(center, rest) == counterclockwise
}

// turnsLeft reports whether three neighbors, given by their place in the
// center's list, follow each other counterclockwise for the reader.
func (a *Artist) turnsLeft(center int, three []int) bool {
	n := a.m.Neighbors(center)
	angle := func(k int) float64 {
		d := minus(a.at[n[k].Atom], a.at[center])
		return math.Atan2(-d.Y, d.X) // y down becomes y up
	}
	first := angle(three[0])
	turn := func(k int) float64 { return math.Mod(angle(k)-first+4*math.Pi, 2*math.Pi) }
	return turn(three[1]) < turn(three[2])
}

// wedge draws a bond that leaves the plane, narrow at the stereocenter.
func (a *Artist) wedge(i int, w wedge) []draw.Item {
	b := a.m.Bond(i)
	begin, end := int(w.from), int(b.Other(w.from))
	p, q := a.at[begin], a.at[end]
	from, to := a.clip(begin, p, q), 1-a.clip(end, q, p)
	if to-from < 0.05 {
		return nil
	}
	d := minus(q, p)
	return a.wedgeBetween(draw.Point{X: p.X + d.X*from, Y: p.Y + d.Y*from}, draw.Point{X: p.X + d.X*to, Y: p.Y + d.Y*to}, w.front)
}

// wedgeBetween draws a wedge from its tip p to q, solid or hashed.
func (a *Artist) wedgeBetween(p, q draw.Point, front bool) []draw.Item {
	d := minus(q, p)
	at := func(t float64) draw.Point { return draw.Point{X: p.X + d.X*t, Y: p.Y + d.Y*t} }
	n := a.normal(p, q)
	half := 0.09 * a.o.Bond
	beside := func(t, width float64) (draw.Point, draw.Point) {
		c := at(t)
		return draw.Point{X: c.X + n.X*width, Y: c.Y + n.Y*width}, draw.Point{X: c.X - n.X*width, Y: c.Y - n.Y*width}
	}
	if front {
		l, r := beside(1, half)
		return []draw.Item{draw.Polygon(draw.Ink, draw.Stroke{Role: draw.Ink, Width: 0.3 * a.line, Round: true}, p, l, r)}
	}
	var items []draw.Item
	hashes := max(4, int(6*math.Hypot(d.X, d.Y)/a.o.Bond+0.5))
	for k := range hashes {
		t := (float64(k) + 0.6) / float64(hashes)
		l, r := beside(t, half*(float64(k)+0.9)/float64(hashes))
		items = append(items, draw.Polyline(draw.Stroke{Role: draw.Ink, Width: 0.8 * a.line}, l, r))
	}
	return items
}
