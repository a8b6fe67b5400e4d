package ionize

import "slices"

// proposeCleavages offers, for each bond whose breaking parts the ion, the
// two ways to leave the charge and the hydrogens that may move across.
func proposeCleavages(x *expansion) {
	var bridges bondSet
	x.s.bridges(&x.b.joins, noBond, &bridges)
	for b := range x.m.ends {
		if bridges.has(b) {
			i, j := int(x.m.ends[b][0]), int(x.m.ends[b][1])
			setA := x.m.reach(x.s, i, b, noBond)
			setB := x.s.atoms.minus(setA)
			partA, partB := x.s.part(x.m, setA), x.s.part(x.m, setB)
			x.sides = append(x.sides, x.m.count(&partA), x.m.count(&partB))
			cut := &split{x: x, bond: b, a: i, b: j, partA: partA, partB: partB}
			cut.propose()
			cut.proposeMigrations()
			back := cut.swap()
			back.propose()
			back.proposeMigrations()
		}
	}
}

// split is a bond between atom a of part A and atom b of part B, about to
// break.
type split struct {
	x            *expansion
	bond         int
	a, b         int
	partA, partB skeleton
}

func (c *split) swap() *split {
	return &split{x: c.x, bond: c.bond, a: c.b, b: c.a, partA: c.partB, partB: c.partA}
}

// propose offers the steps in which part A keeps the charge, without a
// hydrogen moved and with one or two taken from B, and those in which part B,
// having given a hydrogen to A, keeps it. The other half comes from swap.
func (c *split) propose() {
	x := c.x
	x.emit(proposal{
		kind: c.cleavageKind(), ion: c.partA, neutral: c.partB,
		cut: [2]int16{int16(c.bond), noBond}, formed: noBond,
	})
	for _, way := range c.transfers() {
		ion, neutral := c.partA, c.partB
		mv := takeHydrogen(&neutral, &ion, way.donor, way.acceptor, way.ring)
		p := proposal{ion: ion, neutral: neutral, cut: [2]int16{int16(c.bond), noBond}, formed: noBond, moves: [2]move{mv}}
		p.kind = HydrogenRearrangement
		if way.ring == 6 && way.acceptor != c.a {
			p.kind = GammaHydrogenRearrangement
		}
		p.ontoSaturated = c.saturated(way.acceptor)
		x.emit(p)
		if way.acceptor == c.a {
			lost := p
			lost.ion, lost.neutral = neutral, ion
			lost.kind = c.eliminationKind()
			x.emit(lost)
		} else if second, ok := c.secondDonor(&neutral, way.donor); ok {
			mv2 := takeHydrogen(&neutral, &ion, second, c.a, 0)
			p.ion, p.neutral, p.kind, p.moves[1] = ion, neutral, DoubleHydrogenRearrangement, mv2
			x.emit(p)
		}
	}
}

// transfer is one way for a hydrogen to cross from B to A.
type transfer struct {
	donor, acceptor int
	ring            uint8 // members of the cyclic transition state
}

// transfers lists the ways worth trying: to the atom at the broken bond, or
// over it to the far end of a double bond that starts at its neighbour; from
// the best donor at each ring size. The slice is good until the next call.
func (c *split) transfers() []transfer {
	x := c.x
	x.ways = x.ways[:0]
	d := x.distances(atomSet(0).with(c.b), c.partB.atoms)
	type want struct{ distance, ring uint8 }
	add := func(acceptor int, wants []want) {
		if c.full(acceptor) {
			return
		}
		for _, w := range wants {
			if donor, ok := c.bestDonor(&d, w.distance); ok {
				x.ways = append(x.ways, transfer{donor, acceptor, w.ring})
			}
		}
	}
	for _, mid := range x.b.at(c.a) {
		if int(mid.bond) == c.bond {
			continue
		}
		for _, half := range x.b.at(int(mid.to)) {
			far := int(half.to)
			if far == c.a || x.b.pi[half.bond] == 0 {
				continue
			}
			add(far, []want{{1, 6}, {2, 7}})
			if c.partB.atoms.len() == 1 {
				add(far, []want{{0, 5}})
			}
		}
	}
	if slices.ContainsFunc(x.ways, func(t transfer) bool { return t.ring == 6 && x.m.atoms[t.acceptor].aromatic }) {
		return x.ways // no one draws another ring where a hydrogen can move to an arene through one of six
	}
	n := len(x.ways)
	add(c.a, []want{{1, 4}, {3, 6}})
	if len(x.ways) == n {
		add(c.a, []want{{2, 5}, {4, 7}, {0, 3}})
	}
	return x.ways
}

// saturated reports whether atom i is a carbon that has no double bond yet.
func (c *split) saturated(i int) bool {
	pi, _ := c.x.b.piAt(i)
	return c.x.m.atoms[i].element == iC && pi == 0 && c.x.b.left[i] == 0
}

// full reports whether the atom can't take one more hydrogen when the bond
// is broken: it has then no valence left.
func (c *split) full(acceptor int) bool {
	return c.x.m.free(&c.partA, acceptor) <= 0
}

// bestDonor picks, among the atoms of B at the given distance from the broken
// bond, the one that gives a hydrogen up most easily: most neighbours, next to
// a heteroatom or double bond.
func (c *split) bestDonor(d *[MaxAtoms]uint8, distance uint8) (int, bool) {
	best, bestRank := -1, -1
	for rest := c.partB.atoms; rest != 0; rest &= rest - 1 {
		i := rest.first()
		if d[i] != distance || c.partB.hydrogen(i) == 0 {
			continue
		}
		rank := 2 * c.x.m.degree(&c.partB, i)
		if c.x.m.atoms[i].element != iC {
			rank += 3
		}
		if pi, _ := c.x.b.piAt(i); pi > 0 {
			rank -= 3 // vinylic and aromatic hydrogens are held fast
		}
		for _, half := range c.x.b.at(i) {
			j := int(half.to)
			if c.x.m.atoms[j].element != iC {
				rank++
			}
			if pi, _ := c.x.b.piAt(j); pi > 0 {
				rank++
			}
		}
		if rank > bestRank {
			best, bestRank = i, rank
		}
	}
	return best, best >= 0
}

// secondDonor finds a further hydrogen of the neutral, next to the atom that
// gave the first or on it.
func (c *split) secondDonor(neutral *skeleton, first int) (int, bool) {
	if c.x.m.free(&c.partA, c.a) <= 0 {
		return 0, false
	}
	best := -1
	for _, half := range c.x.b.at(first) {
		j := int(half.to)
		if neutral.atoms.has(j) && neutral.hydrogen(j) > 0 && (best < 0 || neutral.hydrogen(j) > neutral.hydrogen(best)) {
			best = j
		}
	}
	if best < 0 && neutral.hydrogen(first) > 0 {
		best = first
	}
	return best, best >= 0
}

// cleavageKind names the plain breaking of the bond with the charge on A.
func (c *split) cleavageKind() Kind {
	x := c.x
	m := x.m
	neutral := m.count(&c.partB)
	if neutral == (counts{iC: 1, iO: 1}) {
		return CarbonMonoxideLoss
	}
	if neutral == (counts{iC: 2, iH: 4}) && !x.odd {
		return EtheneLoss
	}
	if m.atoms[c.b].element != iC && m.atoms[c.a].element == iC {
		return InductiveCleavage
	}
	if m.atoms[c.a].element != iC {
		return SigmaCleavage
	}
	if pi, hetero := x.b.piAt(c.a); pi > 0 && hetero {
		return AlphaCleavage
	} else if pi > 0 {
		return SigmaCleavage
	}
	kind := SigmaCleavage
	for _, half := range x.b.at(c.a) {
		j := int(half.to)
		if int(half.bond) == c.bond || kind == AlphaCleavage {
			continue
		}
		pi, _ := x.b.piAt(j)
		switch {
		case m.atoms[j].element == iN || m.atoms[j].element == iO || m.atoms[j].element == iS:
			kind = AlphaCleavage
		case m.atoms[j].aromatic && pi > 0:
			kind = BenzylicCleavage
		case m.atoms[j].element == iC && pi > 0 && kind == SigmaCleavage:
			if _, hetero := x.b.piAt(j); !hetero {
				kind = AllylicCleavage
			}
		}
	}
	return kind
}

// eliminationKind names the loss of A with a hydrogen of B.
func (c *split) eliminationKind() Kind {
	part := c.x.m.count(&c.partA)
	switch part {
	case counts{iO: 1, iH: 1}:
		return WaterElimination
	case counts{iF: 1}, counts{iCl: 1}, counts{iBr: 1}, counts{iI: 1}:
		return HydrogenHalideElimination
	case counts{iC: 1, iN: 1}:
		return HydrogenCyanideLoss
	}
	return Elimination
}
