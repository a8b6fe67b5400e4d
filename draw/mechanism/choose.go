package mechanism

import (
	"math"

	"ionwright/draw"
	"ionwright/ionize"
)

// place finds room for the panel's arrows and for the electrons that act, and
// draws the unpaired electrons that don't.
func (b *board) place(panel ionize.Panel) {
	acts := map[int]bool{}
	for _, a := range panel.Arrows {
		one := &arrow{Arrow: a, ways: b.options(a)}
		b.arrows = append(b.arrows, one)
		if !a.From.Bond {
			acts[b.index[a.From.Begin]] = true
		}
	}
	for x := range b.form {
		if b.mol.Atom(x).Radical > 0 && !acts[x] {
			p := b.artist.Around(x, 1)[0]
			b.taken = append(b.taken, p)
			b.dots = append(b.dots, draw.Circle(p, 0.05*b.bond, draw.Ink, draw.Stroke{}))
		}
	}
	b.choose()
	for _, a := range b.arrows {
		for _, p := range a.curve.dots {
			b.dots = append(b.dots, draw.Circle(p, a.curve.radius, draw.Ink, draw.Stroke{}))
		}
	}
}

// choose gives each arrow the curve that is least in the way, the others
// standing where they are, and goes round until nothing changes.
func (b *board) choose() {
	for k, a := range b.arrows {
		a.curve = b.best(k, b.arrows[:k])
	}
	for range 4 {
		changed := false
		for k, a := range b.arrows {
			others := make([]*arrow, 0, len(b.arrows))
			for j, o := range b.arrows {
				if j != k {
					others = append(others, o)
				}
			}
			if c := b.best(k, others); c.p != a.curve.p {
				a.curve, changed = c, true
			}
		}
		if !changed {
			return
		}
	}
}

// best is the curve of the k-th arrow that costs least beside others.
func (b *board) best(k int, others []*arrow) curve {
	a := b.arrows[k]
	best, least := a.ways[0], math.Inf(1)
	for i := range a.ways {
		c := &a.ways[i]
		if c.own >= least {
			continue
		}
		cost := c.own + b.clashes(a, c)
		for _, o := range others {
			if cost >= least {
				break
			}
			cost += b.between(c, &o.curve)
		}
		if cost < least-1e-9 {
			best, least = *c, cost
		}
	}
	return best
}

// What an arrow costs where it is in the way.
const (
	onText   = 4.0 // a sample of it on a label
	onAtom   = 2.0 // a sample of it on a bare corner
	overBond = 1.2
	overDot  = 3.0
	crossing = 6.0 // another arrow
	touching = 0.8 // a sample near another arrow
)

// clashes is what the curve costs beside the structure.
func (b *board) clashes(a *arrow, c *curve) float64 {
	cost := 0.0
	pts := c.sampled()
	air := 0.04 * b.bond
	for _, box := range b.texts {
		grown := box.Grow(air)
		for k, p := range pts {
			if inside(grown, p) && k > 0 {
				cost += onText
			}
		}
		for _, p := range c.dots {
			if inside(grown, p) {
				cost += 2 * onText
			}
		}
	}
	for x := range b.mol.NumAtoms() {
		q := b.artist.Place(x)
		for k, p := range pts {
			if d := distance(p, q); d < 0.13*b.bond || k < samples-2 && k > 2 && d < 0.2*b.bond {
				cost += onAtom
			}
		}
	}
	for _, q := range b.taken {
		for _, p := range pts {
			if distance(p, q) < 0.14*b.bond {
				cost += overDot
			}
		}
	}
	for k := range b.mol.NumBonds() {
		bond := b.mol.Bond(k)
		p, q := b.artist.Place(int(bond.Begin)), b.artist.Place(int(bond.End))
		for i := 1; i < len(pts); i++ {
			if meet(pts[i-1], pts[i], p, q) {
				cost += overBond
			}
		}
		for _, d := range c.dots {
			if nearLine(d, p, q) < 0.1*b.bond {
				cost += overDot
			}
		}
	}
	return cost
}

// between is what two arrows cost each other.
func (b *board) between(c, o *curve) float64 {
	cost := 0.0
	u, v := c.sampled(), o.sampled()
	for i := 1; i < len(u); i++ {
		for j := 1; j < len(v); j++ {
			if meet(u[i-1], u[i], v[j-1], v[j]) {
				cost += crossing
			}
		}
	}
	for i := 3; i < len(u); i++ {
		for j := 3; j < len(v); j++ {
			if distance(u[i], v[j]) < 0.13*b.bond {
				cost += touching
				break
			}
		}
	}
	for _, pair := range [2][2]*curve{{c, o}, {o, c}} {
		pts := pair[0].sampled()
		for _, d := range pair[1].dots {
			for _, p := range pts {
				if distance(p, d) < 0.1*b.bond {
					cost += overDot
				}
			}
			for _, e := range pair[0].dots {
				if distance(d, e) < 0.16*b.bond {
					cost += overDot
				}
			}
		}
	}
	return cost
}

// meet reports whether the segments from a to b and from p to q cross.
func meet(a, b, p, q draw.Point) bool {
	turn := func(a, b, c draw.Point) float64 { return (b.X-a.X)*(c.Y-a.Y) - (b.Y-a.Y)*(c.X-a.X) }
	return turn(a, b, p)*turn(a, b, q) < 0 && turn(p, q, a)*turn(p, q, b) < 0
}

// nearLine is the distance from a point to the segment from p to q.
func nearLine(c, p, q draw.Point) float64 {
	d := minus(q, p)
	l := d.X*d.X + d.Y*d.Y
	if l == 0 {
		return distance(c, p)
	}
	t := min(max(((c.X-p.X)*d.X+(c.Y-p.Y)*d.Y)/l, 0), 1)
	return distance(c, draw.Point{X: p.X + t*d.X, Y: p.Y + t*d.Y})
}
