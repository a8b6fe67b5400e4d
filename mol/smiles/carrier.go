package smiles

import "ionwright/mol"

// replaceable tells whether each double bond that a mark serves can have
// another one in its place.
func (d *director) replaceable(bond int32) bool {
	for i := range d.links {
		l := &d.links[i]
		for k := range 2 {
			if l.refs[k] != bond && l.other[k] != bond {
				continue
			}
			rival := l.refs[k] + l.other[k] - bond
			if l.other[k] >= 0 && !d.banned[rival] && d.markable(rival) || d.hydrogenAt(l, k) >= 0 {
				continue
			}
			return false
		}
	}
	return true
}

// carrier chooses the substituent of an end that carries the mark: none that
// is banned if it can be helped, one that has a mark already, else one that
// isn't next to another double bond, else the one that comes first.
func (d *director) carrier(l *link, k int) int32 {
	a, b := l.refs[k], l.other[k]
	if b >= 0 && d.markable(a) != d.markable(b) {
		if d.markable(b) {
			return b
		}
		return a
	}
	if b < 0 {
		if hydrogen := d.hydrogenAt(l, k); d.banned[a] && hydrogen >= 0 {
			return hydrogen
		}
		return a
	}
	switch {
	case d.banned[a] != d.banned[b]:
		if d.banned[a] {
			return b
		}
		return a
	case d.chosen[a]:
		return a
	case d.chosen[b]:
		return b
	}
	nextA, nextB := d.besideDouble(a, l.ends[k]), d.besideDouble(b, l.ends[k])
	if nextA != nextB {
		if nextA {
			return b
		}
		return a
	}
	if d.place(b) < d.place(a) {
		return b
	}
	return a
}

// canMark is markable for bonds to hydrogens, too.
func (d *director) canMark(bond int32) bool {
	return int(bond) >= d.m.NumBonds() || d.markable(bond)
}

// markable tells whether a mark can stand for the order of a bond.
func (d *director) markable(bond int32) bool {
	order := d.m.Bond(int(bond)).Order
	return order == mol.Single || order == mol.Aromatic
}

// besideDouble tells whether the far atom of a bond has a double bond.
func (d *director) besideDouble(bond, at int32) bool {
	far := d.m.Bond(int(bond)).Other(at)
	for _, nb := range d.m.Neighbors(int(far)) {
		if d.m.Bond(int(nb.Bond)).Order == mol.Double {
			return true
		}
	}
	return false
}
