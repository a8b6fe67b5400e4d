package structure

import (
	"math"
	"slices"

	"ionwright/chem"
	"ionwright/draw"
	"ionwright/mol"
)

// bond draws one bond: lines, or a wedge.
func (a *Artist) bond(i int, wedges map[int]wedge) []draw.Item {
	b := a.m.Bond(i)
	if w, ok := wedges[i]; ok {
		return a.wedge(i, w)
	}
	p, q := a.at[b.Begin], a.at[b.End]
	if a.partial(i) {
		return a.partlyDouble(i)
	}
	switch a.m.KekuleOrder(i) {
	case mol.Double:
		return a.double(i)
	case mol.Triple:
		return a.parallel(b, -0.17, 0, 0.17)
	case mol.Quadruple:
		return a.parallel(b, -0.24, -0.08, 0.08, 0.24)
	}
	if line, ok := a.cut(int(b.Begin), int(b.End), p, q); ok {
		if slices.Contains(a.o.Dashed, i) {
			line.Stroke.Dash = []float64{2 * a.line, 2 * a.line}
			line.Stroke.Round = false
		}
		return []draw.Item{line}
	}
	return nil
}

// partial reports whether a bond is double, or triple, in some resonance forms
// only.
func (a *Artist) partial(i int) bool {
	return a.o.Brackets != nil && slices.Contains(a.o.Brackets.Partial, i)
}

// partlyDouble draws such a bond with a dashed last line.
func (a *Artist) partlyDouble(i int) []draw.Item {
	b := a.m.Bond(i)
	var items []draw.Item
	if a.m.KekuleOrder(i) == mol.Single {
		side := a.doubleSide(i)
		if side == 0 {
			side = 1
		}
		items = a.besideOwn(b, side)
	} else {
		items = a.parallel(b, -0.17, 0, 0.17)
	}
	if n := len(items); n > 1 {
		line := items[n-1].(draw.Path)
		line.Stroke.Dash, line.Stroke.Round = []float64{2 * a.line, 1.6 * a.line}, false
		items[n-1] = line
	}
	return items
}

// parallel draws lines beside the bond's own, at distances in bond lengths.
func (a *Artist) parallel(b mol.Bond, offsets ...float64) []draw.Item {
	p, q := a.at[b.Begin], a.at[b.End]
	n := a.normal(p, q)
	var items []draw.Item
	for _, k := range offsets {
		d := draw.Point{X: n.X * k * a.o.Bond, Y: n.Y * k * a.o.Bond}
		if line, ok := a.cut(int(b.Begin), int(b.End), plus(p, d), plus(q, d)); ok {
			items = append(items, line)
		}
	}
	return items
}

// normal is the unit vector to the left of the way from p to q, y down.
func (a *Artist) normal(p, q draw.Point) draw.Point {
	d := minus(q, p)
	l := math.Hypot(d.X, d.Y)
	if l == 0 {
		return draw.Point{}
	}
	return draw.Point{X: d.Y / l, Y: -d.X / l}
}

// double draws a double bond: two lines astride it where one end is a lone
// group or both sides look alike; else the bond's own line and a shorter one
// on the side of the ring, or of more neighbors.
func (a *Artist) double(i int) []draw.Item {
	b := a.m.Bond(i)
	side := a.doubleSide(i)
	if side == 0 {
		return a.parallel(b, -apart/2, apart/2)
	}
	return a.besideOwn(b, side)
}

// apart is the distance of a double bond's lines, in bond lengths.
const apart = 0.17

// besideOwn draws a bond's own line and a shorter one to one side, 1 or -1.
func (a *Artist) besideOwn(b mol.Bond, side float64) []draw.Item {
	p, q := a.at[b.Begin], a.at[b.End]
	n := a.normal(p, q)
	d := draw.Point{X: n.X * side * apart * a.o.Bond, Y: n.Y * side * apart * a.o.Bond}
	var items []draw.Item
	if line, ok := a.cut(int(b.Begin), int(b.End), p, q); ok {
		items = append(items, line)
	}
	// Shortened at ends that are corners; at a lone end it runs on.
	from, to := plus(p, d), plus(q, d)
	along := minus(q, p)
	short := func(end int32) float64 {
		if a.m.Degree(int(end)) > 1 && a.labels[end] == nil {
			return 0.12
		}
		return 0
	}
	k, l := short(b.Begin), short(b.End)
	from, to = plus(from, draw.Point{X: along.X * k, Y: along.Y * k}), plus(to, draw.Point{X: -along.X * l, Y: -along.Y * l})
	if line, ok := a.cut(int(b.Begin), int(b.End), from, to); ok {
		items = append(items, line)
	}
	return items
}

// doubleSide is 1 or -1 for the side (left or right from Begin to End) that
// the second line is on, 0 for two lines astride.
func (a *Artist) doubleSide(i int) float64 {
	b := a.m.Bond(i)
	p, q := a.at[b.Begin], a.at[b.End]
	n := a.normal(p, q)
	sideOf := func(r draw.Point) float64 { d := minus(r, p); return d.X*n.X + d.Y*n.Y }
	if a.m.RingBond(i) {
		if ring := a.ringOf(i); ring != nil {
			var middle draw.Point
			for _, at := range ring {
				middle = plus(middle, a.at[at])
			}
			middle = draw.Point{X: middle.X / float64(len(ring)), Y: middle.Y / float64(len(ring))}
			if sideOf(middle) < 0 {
				return -1
			}
			return 1
		}
	}
	if a.m.Degree(int(b.Begin)) == 1 && a.lone(b.Begin) || a.m.Degree(int(b.End)) == 1 && a.lone(b.End) {
		return 0
	}
	left, right := 0, 0
	for _, end := range []int32{b.Begin, b.End} {
		for _, nb := range a.m.Neighbors(int(end)) {
			if int(nb.Bond) == i {
				continue
			}
			switch s := sideOf(a.at[nb.Atom]); {
			case s > 0.2*a.o.Bond:
				left++
			case s < -0.2*a.o.Bond:
				right++
			}
		}
	}
	switch {
	case left == 0 && right == 0:
		return 0
	case left > right:
		return 1
	case right > left:
		return -1
	}
	return 1
}

// lone reports whether an end of a double bond looks best astride: anything
// with a label, such as O, and CH2.
func (a *Artist) lone(atom int32) bool {
	return a.labels[atom] != nil || a.m.Atom(int(atom)).Element == chem.C
}

// ringOf is the ring that a double bond's second line lies in: an aromatic
// one first, then one of six, then the smaller.
func (a *Artist) ringOf(bond int) []int32 {
	b := a.m.Bond(bond)
	var best []int32
	bestScore := math.Inf(-1)
	for _, ring := range a.m.Rings() {
		k := slices.Index(ring, b.Begin)
		if k < 0 {
			continue
		}
		n := len(ring)
		if ring[(k+1)%n] != b.End && ring[(k+n-1)%n] != b.End {
			continue
		}
		score := -float64(n)
		doubles := 0
		for j, at := range ring {
			if next, ok := a.m.BondBetween(int(at), int(ring[(j+1)%n])); ok && a.m.KekuleOrder(next) == mol.Double {
				doubles++
			}
		}
		score += 3 * float64(doubles)
		if n == 6 {
			score += 2
		}
		if score > bestScore {
			best, bestScore = ring, score
		}
	}
	return best
}

// cut is the line from p to q less what the labels of its two atoms cover;
// false if nothing is left.
func (a *Artist) cut(begin, end int, p, q draw.Point) (draw.Path, bool) {
	from, to := a.clip(begin, p, q), 1-a.clip(end, q, p)
	if to-from < 0.05 {
		return draw.Path{}, false
	}
	d := minus(q, p)
	return draw.Polyline(draw.Stroke{Role: draw.Ink, Width: a.line, Round: true},
		draw.Point{X: p.X + d.X*from, Y: p.Y + d.Y*from}, draw.Point{X: p.X + d.X*to, Y: p.Y + d.Y*to}), true
}

// clip is the part of the way from p, at the atom, to q that the atom's label
// covers, with a little air.
func (a *Artist) clip(atom int, p, q draw.Point) float64 {
	l := a.labels[atom]
	if l == nil {
		return 0
	}
	air := 0.12 * a.size
	covered := 0.0
	for _, box := range l.boxes() {
		box = box.Grow(air)
		// Walk back from q: the last point inside the box.
		for k := 40; k > 0; k-- {
			t := float64(k) / 40
			x, y := p.X+(q.X-p.X)*t, p.Y+(q.Y-p.Y)*t
			if x > box.Left && x < box.Right && y > box.Top && y < box.Bottom {
				covered = max(covered, t)
				break
			}
		}
	}
	return covered
}

func plus(p, q draw.Point) draw.Point { return draw.Point{X: p.X + q.X, Y: p.Y + q.Y} }
