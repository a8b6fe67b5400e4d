package layout

import (
	"math"

	"ionwright/mol"
)

// branch is a part of the drawing that can move as a whole: what hangs at a by
// the bond to b, or a ring system that shares its atom a with the rest. Moving
// it changes the collisions between inside and outside only.
type branch struct {
	a, b            int32
	spiro           bool
	inside, outside []int32
	inner, outer    []edge
	joint           []edge // between the two
}

// move mirrors a branch (about the bond by which it hangs, or a spiro system
// about its own middle) or turns it about its atom a or b.
type move struct {
	branch int
	mirror bool
	about  int32
	angle  float64
}

// listBranches lists the branches and what may be done with each: mirroring,
// unless it makes no difference or a given arrangement would be lost, and
// bending at either end; for a spiro system, mirroring and turning.
func (u *untangler) listBranches() {
	for _, e := range u.bonds {
		a, b := e.a, e.b
		if u.m.RingBond(int(e.bond)) {
			if u.parent[b] != a {
				a, b = b, a
			}
			if u.parent[b] == a && u.inRing[a] > 1 && u.hangsAt(a, b) {
				u.addBranch(branch{a: a, b: b, spiro: true})
				u.addMove(true, a, 0)
				u.addTurns(a, 10, 20, 35)
			}
			continue
		}
		if u.branchSize(a, b) > u.branchSize(b, a) {
			a, b = b, a
		}
		u.addBranch(branch{a: a, b: b})
		if u.degree(a) > 1 && u.degree(b) > 1 && u.m.Bond(int(e.bond)).Stereo == mol.NoStereo {
			u.addMove(true, a, 0)
		}
		if u.degree(a) > 1 {
			u.addTurns(a, 15, 30, 60, 120)
		}
		if u.degree(b) > 1 {
			u.addTurns(b, 15, 30, 60)
		}
	}
}

func (u *untangler) addMove(mirror bool, about int32, angle float64) {
	u.moves = append(u.moves, move{len(u.branches) - 1, mirror, about, angle})
}

func (u *untangler) addTurns(about int32, degrees ...float64) {
	for _, d := range degrees {
		u.addMove(false, about, d*math.Pi/180)
		u.addMove(false, about, -d*math.Pi/180)
	}
}

// addBranch works out what is inside and outside.
func (u *untangler) addBranch(b branch) {
	in := make([]bool, len(u.atom))
	u.eachInBranch(b.a, b.b, func(x int32) {
		in[x] = true
		b.inside = append(b.inside, x)
	})
	for _, x := range u.part {
		if !in[x] {
			b.outside = append(b.outside, x)
		}
	}
	for _, e := range u.bonds {
		switch {
		case in[e.a] && in[e.b]:
			b.inner = append(b.inner, e)
		case in[e.a] || in[e.b]:
			b.joint = append(b.joint, e)
		default:
			b.outer = append(b.outer, e)
		}
	}
	u.branches = append(u.branches, b)
}

// hangsAt reports whether the branch that the tree has below b is joined to
// the rest by a alone, and isn't all of it.
func (u *untangler) hangsAt(a, b int32) bool {
	from, to := u.enter[b], u.enter[b]+u.size[b]
	for _, x := range u.order[from:to] {
		for _, y := range u.neighbors(x) {
			if y != a && (u.enter[y] < from || u.enter[y] >= to) {
				return false
			}
		}
	}
	return u.parent[a] >= 0 || u.size[b]+1 < u.size[a]
}

func (u *untangler) apply(m move) {
	b := &u.branches[m.branch]
	if m.mirror {
		toward := u.pos[b.b]
		if b.spiro {
			toward = Point{}
			for _, x := range b.inside {
				toward = toward.plus(u.pos[x])
			}
			toward = toward.times(1 / float64(len(b.inside)))
		}
		origin := u.pos[b.a]
		d := toward.minus(origin).unit()
		for _, x := range b.inside {
			u.pos[x] = u.pos[x].mirrored(origin, d)
		}
		return
	}
	sin, cos := math.Sincos(m.angle)
	center := u.pos[m.about]
	for _, x := range b.inside {
		u.pos[x] = center.plus(u.pos[x].minus(center).turned(sin, cos))
	}
}

func (u *untangler) save(b *branch) {
	u.saved = u.saved[:0]
	for _, x := range b.inside {
		u.saved = append(u.saved, u.pos[x])
	}
}

func (u *untangler) restore(b *branch) {
	for i, x := range b.inside {
		u.pos[x] = u.saved[i]
	}
}
