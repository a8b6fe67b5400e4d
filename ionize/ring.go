package ionize

import "slices"

// proposeRingCleavages offers, for each pair of ring bonds whose breaking
// together parts the ion, both ways to leave the charge, without a hydrogen
// moved and with one moved either way; and, where an aromatic or other
// unsaturated ring loses a piece, the closing of the ring behind it.
//
// Two that no one would draw are left out: the loss of what a retro-Diels-Alder
// reaction of the ion loses, from elsewhere in the ring; and the loss, with a
// hydrogen shift, of what a single bond holds.
func proposeRingCleavages(x *expansion) {
	var fixed bondSet
	x.s.bridges(&x.b.joins, noBond, &fixed)
	if fixed == x.s.bonds {
		return
	}
	x.findDienes(&fixed)
	for first := range x.m.ends {
		if !x.s.bonds.has(first) || fixed.has(first) {
			continue
		}
		var partners bondSet
		x.s.bridges(&x.b.joins, first, &partners)
		for second := first + 1; second < len(x.m.ends); second++ {
			if !partners.has(second) || fixed.has(second) {
				continue
			}
			x.proposeRingPair(first, second)
		}
	}
}

func (x *expansion) proposeRingPair(first, second int) {
	m := x.m
	start := int(m.ends[first][0])
	setA := m.reach(x.s, start, first, second)
	setB := x.s.atoms.minus(setA)
	if setB == 0 {
		return
	}
	r := &ringCut{x: x, first: first, second: second, partA: x.s.part(m, setA), partB: x.s.part(m, setB)}
	r.ends(setA)
	r.donorA, r.donorB = -1, -1
	if !x.rare {
		r.donorA, r.donorB = x.donorIn(&r.partA, r.a1, r.a2), x.donorIn(&r.partB, r.b1, r.b2)
	}
	r.propose()
	r.swap().propose()
}

// ringCut is a pair of ring bonds about to break: a1-b1 and a2-b2, with a1 and
// a2 in part A (they may be one atom).
type ringCut struct {
	x              *expansion
	first, second  int
	a1, b1, a2, b2 int
	partA, partB   skeleton
	donorA, donorB int // atoms of either part that would give a hydrogen away; -1 for none, and for a rare ion
}

func (r *ringCut) ends(setA atomSet) {
	side := func(bond int) (inA, inB int) {
		i, j := int(r.x.m.ends[bond][0]), int(r.x.m.ends[bond][1])
		if setA.has(i) {
			return i, j
		}
		return j, i
	}
	r.a1, r.b1 = side(r.first)
	r.a2, r.b2 = side(r.second)
}

func (r *ringCut) swap() *ringCut {
	return &ringCut{
		x: r.x, first: r.first, second: r.second, a1: r.b1, b1: r.a1, a2: r.b2, b2: r.a2,
		partA: r.partB, partB: r.partA, donorA: r.donorB, donorB: r.donorA,
	}
}

// propose offers the steps in which part A keeps the charge.
func (r *ringCut) propose() {
	base := proposal{
		ion: r.partA, neutral: r.partB, formed: noBond,
		cut: [2]int16{int16(r.first), int16(r.second)},
	}
	lost := r.x.m.count(&r.partB)
	base.kind = r.kind(lost, RingCleavage)
	other := base.kind == RingCleavage || base.kind == EtheneLoss
	if !other || !slices.Contains(r.x.diels, lost) {
		r.emit(&base)
	}
	r.proposeMoved(&base)
}

// emit offers the step. Where both ends of what is left are open and can't
// pair up along the chain, they close to a smaller ring.
func (r *ringCut) emit(p *proposal) {
	if bond, ok := r.closing(&p.ion); ok {
		p.ion.bonds = p.ion.bonds.with(bond)
		p.formed = int16(bond)
	}
	r.x.emit(*p)
}

// closing returns the bond that joins the open ends of the ion, where they
// aren't joined already.
func (r *ringCut) closing(ion *skeleton) (int, bool) {
	m := r.x.m
	if r.a1 == r.a2 || r.x.bonded(r.a1, r.a2) || m.free(ion, r.a1) < 1 || m.free(ion, r.a2) < 1 {
		return 0, false
	}
	if !r.alone(ion, r.a1) || !r.alone(ion, r.a2) {
		b := &m.paired
		m.bond(ion, b)
		if b.left[r.a1] == 0 || b.left[r.a2] == 0 {
			return 0, false
		}
	}
	return m.form(r.a1, r.a2)
}

// alone reports whether atom i, which has a valence free, can pair it with no
// neighbour's nor keep it as a lone pair: there is no need then to pair up the
// whole ion.
func (r *ringCut) alone(ion *skeleton, i int) bool {
	m := r.x.m
	if m.atoms[i].valence != lowestValence[m.atoms[i].element] {
		return false
	}
	for at := ion.bonds.and(m.touching[i]); at != (bondSet{}); at = at.without(at.first()) {
		if m.free(ion, m.across(at.first(), i)) > 0 {
			return false
		}
	}
	return true
}

// proposeMoved moves a hydrogen from B to A, or from A to B.
func (r *ringCut) proposeMoved(base *proposal) {
	m := r.x.m
	move := func(fromIon bool, donor, to1, to2 int) {
		if donor < 0 {
			return
		}
		p := *base
		given, taken := &p.neutral, &p.ion
		if fromIon {
			given, taken = taken, given
		}
		for _, open := range [2]int{to1, to2} {
			if m.free(taken, open) > 0 {
				p.moves[0] = takeHydrogen(given, taken, donor, open, 0)
				lost := m.count(&p.neutral)
				if slices.Contains(r.x.sides, lost) {
					return
				}
				p.kind = r.kind(lost, RingCleavageWithHydrogen)
				r.emit(&p)
				return
			}
		}
	}
	move(false, r.donorB, r.a1, r.a2)
	move(true, r.donorA, r.b1, r.b2)
}

// findDienes notes what the retro-Diels-Alder reactions of the ion split off:
// for each double bond of a ring, the two pieces that come of breaking the bonds
// next but one to it, where the ring has six atoms and isn't aromatic.
func (x *expansion) findDienes(fixed *bondSet) {
	for bond, ends := range x.m.ends {
		if !x.s.bonds.has(bond) || fixed.has(bond) || x.b.pi[bond] == 0 {
			continue
		}
		left, right := int(ends[0]), int(ends[1])
		if x.m.atoms[left].aromatic && x.m.atoms[right].aromatic {
			continue
		}
		x.arms(left, right, fixed, func(l1, l2, cut1 int) {
			x.arms(right, left, fixed, func(r1, r2, cut2 int) {
				if l1 == r1 || l2 == r2 || l1 == r2 || l2 == r1 || !x.bonded(l2, r2) {
					return
				}
				set := x.m.reach(x.s, l2, cut1, cut2)
				if set.has(left) {
					return
				}
				ene, diene := x.s.part(x.m, set), x.s.part(x.m, x.s.atoms.minus(set))
				x.diels = append(x.diels, x.m.count(&ene), x.m.count(&diene))
			})
		})
	}
}

// arms calls visit for each way of two ring bonds on from the double-bonded
// atom at, away from its partner; the second bond is given.
func (x *expansion) arms(at, partner int, fixed *bondSet, visit func(first, second, bond int)) {
	for _, h := range x.b.at(at) {
		if first := int(h.to); first != partner && !fixed.has(int(h.bond)) {
			for _, next := range x.b.at(first) {
				if second := int(next.to); second != at && !fixed.has(int(next.bond)) {
					visit(first, second, int(next.bond))
				}
			}
		}
	}
}

func (x *expansion) bonded(i, j int) bool {
	for _, h := range x.b.at(i) {
		if int(h.to) == j {
			return true
		}
	}
	return false
}

// donorIn finds a hydrogen in part, nearest to its two open ends; -1 for none.
func (x *expansion) donorIn(part *skeleton, end1, end2 int) int {
	d := x.distances(atomSet(0).with(end1).with(end2), part.atoms)
	best, bestRank := -1, 1<<10
	for rest := part.atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		if part.hydrogen(i) == 0 {
			continue
		}
		near := int(d[i])
		rank := 4 * near
		if near == 0 {
			rank = 6 // the open end itself gives its hydrogen less easily than its neighbour
		}
		if x.m.atoms[i].element != iC {
			rank -= 3
		}
		if pi, _ := x.b.piAt(i); pi > 0 {
			rank += 3
		}
		if rank < bestRank {
			best, bestRank = i, rank
		}
	}
	return best
}

// kind names the step by what leaves.
func (r *ringCut) kind(lost counts, plain Kind) Kind {
	switch lost {
	case counts{iC: 1, iO: 1}:
		return CarbonMonoxideLoss
	case counts{iC: 1, iN: 1, iH: 1}:
		return HydrogenCyanideLoss
	case counts{iC: 2, iH: 2}:
		return EthyneLoss
	}
	if plain == RingCleavage && r.retroDielsAlder() {
		return RetroDielsAlder
	}
	if lost == (counts{iC: 2, iH: 4}) {
		return EtheneLoss
	}
	return plain
}

// retroDielsAlder reports whether the two bonds are the allylic ones of a
// six-membered ring with a double bond opposite.
func (r *ringCut) retroDielsAlder() bool {
	return r.x.bonded(r.b1, r.b2) && r.diene(&r.partA, r.a1, r.a2) ||
		r.x.bonded(r.a1, r.a2) && r.diene(&r.partB, r.b1, r.b2)
}

// diene reports whether a chain end1-x=y-end2 joins the two open ends.
func (r *ringCut) diene(part *skeleton, end1, end2 int) bool {
	for _, first := range r.x.b.at(end1) {
		if !part.atoms.has(int(first.to)) {
			continue
		}
		for _, second := range r.x.b.at(int(first.to)) {
			x2 := int(second.to)
			if r.x.b.pi[second.bond] > 0 && part.atoms.has(x2) && x2 != end1 && r.x.bonded(x2, end2) {
				return true
			}
		}
	}
	return false
}
