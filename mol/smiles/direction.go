package smiles

import (
	"slices"

	"ionwright/mol"
)

// direct chooses the marks / and \ that say the arrangements of the double
// bonds. Each double bond ties one bond at each of its ends: their marks are
// equal or opposite. Bonds tied together form a group, whose first one in the
// text is written '/'.
//
// A mark between two double bonds speaks of both. Where that would say
// something of a double bond without arrangement, or contradict the group
// (which can happen in rings of double bonds), the hydrogen of an end is
// written as an atom and carries the mark instead. Where there is none, the
// arrangement can't be written and is left out.
func (w *writer) direct() {
	m := w.m
	d := director{writer: w}
	for i := range m.NumBonds() {
		if m.Bond(i).Stereo != mol.NoStereo {
			if link, ok := d.link(int32(i)); ok {
				d.links = append(d.links, link)
			}
		}
	}
	if len(d.links) == 0 {
		return
	}
	slices.SortFunc(d.links, byPlace)
	for i := range m.NumBonds() {
		if m.Bond(i).Stereo == mol.NoStereo && m.CanBeCisTrans(i) {
			if link, ok := d.link(int32(i)); ok {
				d.silent = append(d.silent, link)
			}
		}
	}
	slices.SortFunc(d.silent, byPlace)
	d.banned = make([]bool, m.NumBonds())
	// Each round bans a bond or gives up a double bond, or is the last.
	for !d.tieAll() || d.overstated() {
	}
	w.slants = slices.Grow(w.slants[:0], len(d.group))[:len(d.group)]
	clear(w.slants)
	d.mark()
}

// director ties the directed bonds of a molecule into groups. Behind the
// bonds of the molecule count those to the hydrogens that aren't atoms, one
// for each atom.
type director struct {
	*writer
	links   []link  // with arrangement
	silent  []link  // without, though there could be one
	group   []int32 // by bond: another bond of the group, itself at the top
	against []bool  // by bond: its mark is opposite to that of group's bond
	chosen  []bool  // by bond: it carries a mark
	banned  []bool  // by bond: a mark on it would say too much
}

// link is an arranged double bond or chain of them.
type link struct {
	first int32    // smaller place of its ends in the walk
	given bool     // given up: its arrangement can't be written
	ends  [2]int32 // atoms that carry the substituents
	refs  [2]int32 // bonds that the arrangement refers to
	other [2]int32 // bonds to the second substituents, -1 = none
	cis   bool
}

func byPlace(a, b link) int { return int(a.first - b.first) }

// link describes the arrangement of a double bond.
func (d *director) link(bond int32) (link, bool) {
	b := d.m.Bond(int(bond))
	l := link{cis: b.Stereo == mol.Cis}
	for k, end := range [2][2]int32{{b.End, b.Begin}, {b.Begin, b.End}} {
		before, at := d.chainEnd(end[0], end[1])
		l.ends[k], l.refs[k], l.other[k] = at, -1, -1
		for _, nb := range d.m.Neighbors(int(at)) {
			switch {
			case nb.Atom == before:
			case l.refs[k] < 0:
				l.refs[k] = nb.Bond
			default:
				l.other[k] = nb.Bond
			}
		}
		if l.refs[k] < 0 {
			return l, false
		}
	}
	l.first = min(d.visit[l.ends[0]], d.visit[l.ends[1]])
	return l, true
}

// upper is the atom of a bond that is higher in the tree, which the mark is
// read from.
func (d *director) upper(bond int32) int32 {
	if hydrogen := bond - int32(d.m.NumBonds()); hydrogen >= 0 {
		return hydrogen
	}
	b := d.m.Bond(int(bond))
	if d.visit[b.Begin] < d.visit[b.End] {
		return b.Begin
	}
	return b.End
}

// hydrogenAt returns the bond to the hydrogen of an end that could carry its
// mark, or -1.
func (d *director) hydrogenAt(l *link, k int) int32 {
	at := l.ends[k]
	if l.other[k] >= 0 || d.m.Atom(int(at)).Hydrogens != 1 {
		return -1
	}
	return int32(d.m.NumBonds()) + at
}

// tieAll ties the marks of all double bonds. Where it meets a contradiction
// it bans a bond, so that hydrogens take its place, or gives the double bond
// up, and returns false.
func (d *director) tieAll() bool {
	n := d.m.NumBonds() + d.m.NumAtoms()
	d.group, d.against, d.chosen = make([]int32, n), make([]bool, n), make([]bool, n)
	for i := range d.group {
		d.group[i] = int32(i)
	}
	for i := range d.links {
		l := &d.links[i]
		if l.given {
			continue
		}
		carrier := [2]int32{d.carrier(l, 0), d.carrier(l, 1)}
		if !d.canMark(carrier[0]) || !d.canMark(carrier[1]) {
			l.given = true
			continue
		}
		if !d.tie(l, carrier) {
			if !d.ban(carrier) {
				l.given = true
			}
			return false
		}
		d.chosen[carrier[0]], d.chosen[carrier[1]] = true, true
	}
	for i := range d.links {
		l := &d.links[i]
		if l.given {
			continue
		}
		for k := range 2 {
			if pair, ok := d.pair(l, k); ok && !d.join(pair[0], pair[1], (d.upper(pair[0]) == l.ends[k]) == (d.upper(pair[1]) == l.ends[k])) {
				if !d.ban(pair) {
					l.given = true
				}
				return false
			}
		}
	}
	return true
}

// tie ties the two bonds that carry the marks of a double bond; false where
// they are tied the other way already.
func (d *director) tie(l *link, carrier [2]int32) bool {
	// Seen from the double bond, the substituents are on the same side or
	// not; the mark is read from the upper atom of its bond.
	opposite := !l.cis
	for k := range 2 {
		if carrier[k] != l.refs[k] {
			opposite = !opposite
		}
		if d.upper(carrier[k]) != l.ends[k] {
			opposite = !opposite
		}
	}
	return d.join(carrier[0], carrier[1], opposite)
}

// pair returns the two substituents of an end where both carry marks: they lie
// on opposite sides.
func (d *director) pair(l *link, k int) ([2]int32, bool) {
	a, b := l.refs[k], l.other[k]
	if b < 0 {
		b = d.hydrogenAt(l, k)
	}
	return [2]int32{a, b}, b >= 0 && d.chosen[a] && d.chosen[b]
}

// ban bans one of two bonds that another could stand in for, the later one in
// the walk if it can be; false where that is neither.
func (d *director) ban(bonds [2]int32) bool {
	n := int32(d.m.NumBonds())
	if bonds[0] < n && bonds[1] < n && d.place(bonds[0]) < d.place(bonds[1]) {
		bonds[0], bonds[1] = bonds[1], bonds[0]
	}
	for _, bond := range bonds {
		if int(bond) < len(d.banned) && !d.banned[bond] && d.replaceable(bond) {
			d.banned[bond] = true
			return true
		}
	}
	return false
}

// overstated finds a double bond without arrangement that has marks at both
// ends nevertheless, and bans one of the marks where another could take its
// place.
func (d *director) overstated() bool {
	for i := range d.silent {
		l := &d.silent[i]
		marked := [2]int32{-1, -1}
		for k := range 2 {
			for _, bond := range [2]int32{l.refs[k], l.other[k]} {
				if bond >= 0 && d.chosen[bond] {
					marked[k] = bond
				}
			}
		}
		if marked[0] >= 0 && marked[1] >= 0 && d.ban(marked) {
			return true
		}
	}
	return false
}

// place orders bonds by their lower atom in the walk, then by their upper.
func (d *director) place(bond int32) int64 {
	b := d.m.Bond(int(bond))
	x, y := d.visit[b.Begin], d.visit[b.End]
	return int64(max(x, y))<<32 | int64(min(x, y))
}

// find returns the top bond of a group and whether the marks of the two are
// opposite.
func (d *director) find(bond int32) (int32, bool) {
	against := false
	for d.group[bond] != bond {
		against = against != d.against[bond]
		bond = d.group[bond]
	}
	return bond, against
}

// join ties two bonds; false where they are tied the other way already.
func (d *director) join(a, b int32, opposite bool) bool {
	topA, againstA := d.find(a)
	topB, againstB := d.find(b)
	if topA == topB {
		return (againstA != againstB) == opposite
	}
	d.group[topB] = topA
	d.against[topB] = (againstA != againstB) != opposite
	return true
}

// mark sets the marks, so that the first of each group in the text is '/'.
func (d *director) mark() {
	value := make([]slant, len(d.group)) // by top bond
	for _, bond := range d.textBonds() {
		top, against := d.find(bond)
		if value[top] == level {
			value[top] = above
			if against {
				value[top] = below
			}
		}
		d.slants[bond] = value[top]
		if against {
			d.slants[bond] = -value[top]
		}
	}
}

// textBonds lists the bonds that carry marks in the order of the text.
func (d *director) textBonds() []int32 {
	var list []int32
	add := func(bond int32) {
		if d.chosen[bond] {
			list = append(list, bond)
		}
	}
	stack := []int32{}
	for _, root := range d.order {
		if d.parent[root] >= 0 {
			continue
		}
		stack = append(stack, root)
		for len(stack) > 0 {
			at := stack[len(stack)-1]
			stack = stack[:len(stack)-1]
			if up := d.parent[at]; up >= 0 {
				add(up)
			}
			for _, c := range d.ringBonds(nil, at) {
				if d.closures[c].above == at {
					add(d.closures[c].bond)
				}
			}
			add(int32(d.m.NumBonds()) + at)
			for _, s := range d.branches(nil, at) {
				stack = append(stack, s.atom)
			}
		}
	}
	return list
}
