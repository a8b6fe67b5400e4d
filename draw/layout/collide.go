package layout

import "math"

// What counts as a collision, in bond lengths.
const (
	nearAtoms  = 0.62 // atoms that aren't bonded come nearer than this
	cleanAtoms = 0.85 // wished for
	nearBond   = 0.32 // an atom comes nearer than this to a bond
)

// Costs of what a drawing shouldn't have.
const (
	costCross = 6.0
	costNear  = 4.0
	costBond  = 4.0
)

// collisions is the cost of the drawing as it is: atoms too near to each other
// or to bonds, bonds that cross, and bonds at one atom that stand too close.
func (u *untangler) collisions() float64 {
	if cost, ok := u.apart(); ok {
		return cost
	}
	cost := 0.0
	for i, a := range u.part {
		for _, b := range u.part[:i] {
			cost += u.nearness(a, b)
		}
		cost += u.strain(a)
	}
	for i, e := range u.bonds {
		for _, f := range u.bonds[:i] {
			cost += u.crossed(e, f)
		}
		for _, a := range u.part {
			cost += u.onBond(a, e)
		}
	}
	return cost
}

// apart reports whether no two atoms come near to each other, and then gives
// the cost, which is that of the angles alone. Two bonds of length 1 that cross
// have ends within 0.71 of each other, and an atom on such a bond is within 0.6
// of one of its ends; so this holds only where all bonds have that length.
func (u *untangler) apart() (cost float64, ok bool) {
	if u.uneven {
		return 0, false
	}
	for i, a := range u.part {
		p := u.pos[a]
		for _, b := range u.part[:i] {
			q := u.pos[b]
			if dx, dy := p.X-q.X, p.Y-q.Y; dx*dx+dy*dy < cleanAtoms*cleanAtoms && u.bond(a, b) < 0 {
				return 0, false
			}
		}
		cost += u.strain(a)
	}
	return cost, true
}

// between is the part of the cost that moving a branch can change: between
// inside and outside, and at the bonds that join them. It may stop counting
// beyond limit.
func (u *untangler) between(b *branch, limit float64) float64 {
	cost := u.strain(b.a)
	for _, e := range b.joint {
		cost += u.strain(e.a ^ e.b ^ b.a)
	}
	if cost > limit {
		return cost
	}
	small, large := b.inside, b.outside
	smallBonds, largeBonds := b.inner, b.outer
	if len(small) > len(large) {
		small, large, smallBonds, largeBonds = large, small, largeBonds, smallBonds
	}
	u.work += len(small) + len(large)
	// What is far from the smaller side costs nothing; the joints count as part
	// of that side.
	lo, hi := u.extent(small)
	for _, e := range b.joint {
		p, q := u.pos[e.a], u.pos[e.b]
		lo = Point{min(lo.X, p.X, q.X), min(lo.Y, p.Y, q.Y)}
		hi = Point{max(hi.X, p.X, q.X), max(hi.Y, p.Y, q.Y)}
	}
	u.near = u.near[:0]
	for _, y := range large {
		if p := u.pos[y]; p.X > lo.X-cleanAtoms && p.X < hi.X+cleanAtoms && p.Y > lo.Y-cleanAtoms && p.Y < hi.Y+cleanAtoms {
			u.near = append(u.near, y)
		}
	}
	u.work += len(small) * len(u.near)
	for _, x := range small {
		p := u.pos[x]
		for _, y := range u.near {
			q := u.pos[y]
			if dx, dy := p.X-q.X, p.Y-q.Y; dx*dx+dy*dy < cleanAtoms*cleanAtoms {
				cost += u.nearness(x, y)
			}
		}
		if cost > limit {
			return cost
		}
	}
	u.nearBonds = u.nearBonds[:0]
	for _, f := range largeBonds {
		p, q := u.pos[f.a], u.pos[f.b]
		if min(p.X, q.X) < hi.X+nearBond && max(p.X, q.X) > lo.X-nearBond && min(p.Y, q.Y) < hi.Y+nearBond && max(p.Y, q.Y) > lo.Y-nearBond {
			u.nearBonds = append(u.nearBonds, f)
		}
	}
	for k, e := range b.joint {
		for _, f := range smallBonds {
			cost += u.crossed(e, f)
		}
		for _, f := range u.nearBonds {
			cost += u.crossed(e, f)
		}
		for _, f := range b.joint[:k] {
			cost += u.crossed(e, f)
		}
		for _, x := range small {
			cost += u.onBond(x, e)
		}
		for _, y := range u.near {
			cost += u.onBond(y, e)
		}
	}
	if cost > limit {
		return cost
	}
	for _, e := range smallBonds {
		for _, f := range u.nearBonds {
			cost += u.crossed(e, f)
		}
		for _, y := range u.near {
			cost += u.onBond(y, e)
		}
		if cost > limit {
			return cost
		}
	}
	for _, e := range u.nearBonds {
		for _, x := range small {
			cost += u.onBond(x, e)
		}
	}
	return cost
}

// nearness is the cost of two atoms that come near to each other.
func (u *untangler) nearness(a, b int32) float64 {
	d := u.pos[a].squared(u.pos[b])
	if d >= cleanAtoms*cleanAtoms || u.bond(a, b) >= 0 {
		return 0
	}
	d = math.Sqrt(d)
	cost := 1.5 * (cleanAtoms - d)
	if d < nearAtoms {
		cost += costNear + 12*(nearAtoms-d)
	}
	return cost
}

// crossed is the cost of two bonds if they cross.
func (u *untangler) crossed(e, f edge) float64 {
	p, q, r, s := u.pos[e.a], u.pos[e.b], u.pos[f.a], u.pos[f.b]
	if max(r.X, s.X) < min(p.X, q.X) || min(r.X, s.X) > max(p.X, q.X) || max(r.Y, s.Y) < min(p.Y, q.Y) || min(r.Y, s.Y) > max(p.Y, q.Y) {
		return 0
	}
	if e.a == f.a || e.a == f.b || e.b == f.a || e.b == f.b || !crossing(p, q, r, s) {
		return 0
	}
	return costCross
}

// onBond is the cost of an atom that lies on a bond of others, or nearly.
func (u *untangler) onBond(a int32, e edge) float64 {
	if a == e.a || a == e.b {
		return 0
	}
	o, p, q := u.pos[a], u.pos[e.a], u.pos[e.b]
	if o.X < min(p.X, q.X)-nearBond || o.X > max(p.X, q.X)+nearBond || o.Y < min(p.Y, q.Y)-nearBond || o.Y > max(p.Y, q.Y)+nearBond {
		return 0
	}
	if d, inside := o.toSegment(p, q); inside && d < nearBond*nearBond {
		return costBond * (1.2 - math.Sqrt(d)/nearBond)
	}
	return 0
}

// strain is the cost of an atom's bonds that stand too close, outside rings.
func (u *untangler) strain(a int32) float64 {
	cost := 0.0
	n := u.neighbors(a)
	ideal := idealAcross(len(n))
	for i, x := range n {
		for _, y := range n[:i] {
			if u.inRing[a] > 0 && u.inRing[x] > 0 && u.inRing[y] > 0 {
				continue
			}
			if d := u.pos[x].squared(u.pos[y]); d < ideal*ideal-1e-9 {
				cost += 1.2 * (ideal - math.Sqrt(d))
			}
		}
	}
	return cost
}

// idealAcross is the distance of two neighbors of an atom with that many bonds
// that costs nothing: a little less than the usual angles give.
func idealAcross(degree int) float64 {
	switch degree {
	case 2:
		return 1.7
	case 3:
		return 1.4
	case 4:
		return 1.1
	}
	return 0.7
}
