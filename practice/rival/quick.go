package rival

import (
	"math"
	"math/bits"

	"ionwright/mol"
	"ionwright/mol/smarts"
	"ionwright/reading"
	"ionwright/spectrum"
)

// quick is the look at a structure that takes tens of microseconds: which
// groups it has, against what the peaks say, and how much of the ion current
// lies at masses of pieces that one bond, or two of a ring, set free.
type quick struct {
	matcher *smarts.Matcher
	groups  []groupWeight
	current map[int]float64 // share of the ion current, by m/z
}

type groupWeight struct {
	pattern *smarts.Pattern
	weight  float64 // of having the group beside not having it, in the logarithm of odds
}

// The weights of the two parts, as the ranking of candidates has them.
const (
	weightGroups  = 0.35
	weightCurrent = 4.0
	leastGroup    = 0.02
)

func newQuick(view spectrum.Spectrum, read reading.Reading) quick {
	q := quick{current: map[int]float64{}}
	total := view.TotalIonCurrent()
	for _, p := range view.Peaks {
		q.current[spectrum.UnitMZ(p.MZ)] += p.Intensity / total
	}
	for _, call := range read.Groups {
		if p, err := pattern(call.Name); err == nil {
			x := min(1-leastGroup, max(leastGroup, call.Probability))
			q.groups = append(q.groups, groupWeight{p, math.Log(x / (1 - x))})
		}
	}
	return q
}

// clone is for another goroutine.
func (q quick) clone() quick {
	q.matcher = &smarts.Matcher{}
	return q
}

// score is higher for what explains the spectrum better, in the logarithm of
// odds.
func (q quick) score(m *mol.Mol) float64 {
	q.matcher.Load(m)
	score := weightCurrent * q.explained(m)
	for _, g := range q.groups {
		if q.matcher.Match(g.pattern) {
			score += weightGroups * g.weight
		}
	}
	return score
}

const mostVertices = 64 // the width of a set of atoms

// explained is the share of the ion current at the masses of the molecule, of
// its pieces, and of these with a hydrogen more or up to two less, as
// rearrangements leave them.
func (q quick) explained(m *mol.Mol) float64 {
	n := m.NumAtoms()
	if n > mostVertices {
		return 0
	}
	var p pieces
	var ring, chain []mol.Bond
	for i := range m.NumBonds() {
		b := m.Bond(i)
		p.toggle(b)
		switch {
		case b.Order != mol.Single:
		case m.RingBond(i):
			ring = append(ring, b)
		default:
			chain = append(chain, b)
		}
	}
	for v := range n {
		a := m.Atom(v)
		p.mass[v] = a.Element.Principal().MassNumber + int(a.Hydrogens)
		p.total += p.mass[v]
	}
	p.found = make([]bool, p.total+2)
	p.found[p.total], p.found[p.total-1] = true, true
	for _, b := range chain {
		p.toggle(b)
		p.cut(int(b.Begin))
		p.toggle(b)
	}
	for i, b := range ring {
		p.toggle(b)
		for _, c := range ring[:i] {
			p.toggle(c)
			p.cut(int(c.Begin))
			p.toggle(c)
		}
		p.toggle(b)
	}
	share := 0.0
	for mz, found := range p.found { // in order, so that structures alike come to the very same sum
		if found {
			share += q.current[mz]
		}
	}
	return share
}

// pieces collects the masses of what bonds set free.
type pieces struct {
	near  [mostVertices]uint64
	mass  [mostVertices]int
	total int
	found []bool // by mass
}

// toggle takes a bond away, or puts it back.
func (p *pieces) toggle(b mol.Bond) {
	p.near[b.Begin] ^= 1 << b.End
	p.near[b.End] ^= 1 << b.Begin
}

// cut adds the masses of the piece with an atom and of the rest, if the bonds
// that are left make it one.
func (p *pieces) cut(from int) {
	set, edge := uint64(1)<<from, uint64(1)<<from
	x := 0
	for edge != 0 {
		v := bits.TrailingZeros64(edge)
		edge &= edge - 1
		x += p.mass[v]
		edge |= p.near[v] &^ set
		set |= p.near[v]
	}
	if x == p.total {
		return
	}
	for shift := -2; shift <= 1; shift++ {
		p.found[x+shift], p.found[p.total-x+shift] = true, true
	}
}
