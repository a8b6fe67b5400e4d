package mechanism

import (
	"cmp"
	"slices"

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

// mostWays is the number of curves kept for each arrow to choose from.
const mostWays = 36

// choose gives each arrow the curve that is least in the way. The arrows start
// from several beginnings, each with one of them held in one of its best
// curves, and change one at a time while that helps; the best outcome stays.
func (b *board) choose() {
	for _, a := range b.arrows {
		for i := range a.ways {
			a.ways[i].own += b.clashes(&a.ways[i])
		}
		slices.SortStableFunc(a.ways, func(x, y curve) int { return cmp.Compare(x.own, y.own) })
		a.ways = a.ways[:min(len(a.ways), mostWays)]
	}
	c := chooser{arrows: b.arrows, board: b, costs: map[[4]int]float64{}}
	best := c.descend(make([]int, len(b.arrows)), 0)
	least := c.total(best)
	for k, a := range b.arrows {
		for w := 1; w < min(len(a.ways), 10); w++ {
			from := make([]int, len(b.arrows))
			from[k] = w
			if found := c.descend(from, k+1); c.total(found) < least-1e-9 {
				best, least = found, c.total(found)
			}
		}
	}
	for k, w := range best {
		b.arrows[k].curve = b.arrows[k].ways[w]
	}
}

// chooser is the choice of one curve for each arrow.
type chooser struct {
	arrows []*arrow
	board  *board
	costs  map[[4]int]float64 // of two curves beside each other
}

// pair is what curve w of arrow k and curve v of arrow j cost each other.
func (c *chooser) pair(k, w, j, v int) float64 {
	if k > j {
		k, w, j, v = j, v, k, w
	}
	key := [4]int{k, w, j, v}
	cost, known := c.costs[key]
	if !known {
		cost = c.board.between(&c.arrows[k].ways[w], &c.arrows[j].ways[v])
		c.costs[key] = cost
	}
	return cost
}

// of is what curve w of arrow k costs beside the others.
func (c *chooser) of(choice []int, k, w int) float64 {
	cost := c.arrows[k].ways[w].own
	for j, v := range choice {
		if j != k {
			cost += c.pair(k, w, j, v)
		}
	}
	return cost
}

func (c *chooser) total(choice []int) float64 {
	cost := 0.0
	for k, w := range choice {
		cost += c.arrows[k].ways[w].own
		for j := range k {
			cost += c.pair(k, w, j, choice[j])
		}
	}
	return cost
}

// descend changes one arrow at a time, beginning with the given one, while the
// whole gets better.
func (c *chooser) descend(choice []int, first int) []int {
	for range 6 {
		changed := false
		for i := range choice {
			k := (first + i) % len(choice)
			best, least := choice[k], c.of(choice, k, choice[k])
			for w := range c.arrows[k].ways {
				if c.arrows[k].ways[w].own >= least {
					break // sorted by it
				}
				if cost := c.of(choice, k, w); cost < least-1e-9 {
					best, least = w, cost
				}
			}
			changed = changed || best != choice[k]
			choice[k] = best
		}
		if !changed {
			break
		}
	}
	return choice
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
func (b *board) clashes(c *curve) float64 {
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
	meeting := c.makes == o.makes && c.makes[0] != c.makes[1] // heads meet where they make a bond
	if meeting && b.headsCross(c, o) {
		cost += crossing
	}
	for i := 3; i < len(u); i++ {
		for j := 3; j < len(v); j++ {
			if meeting && distance(u[i], u[samples]) < 0.3*b.bond && distance(v[j], v[samples]) < 0.3*b.bond {
				continue
			}
			if distance(u[i], v[j]) < 0.19*b.bond {
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

// headsCross reports whether the head of one of two arrows that make a bond, of
// one electron each, lies across the other arrow.
func (b *board) headsCross(c, o *curve) bool {
	for _, pair := range [2][2]*curve{{c, o}, {o, c}} {
		head, _ := pair[0].head(b.bond, 1)
		other, _ := pair[1].head(b.bond, 1)
		line := pair[1].sampled()
		lines := [][]draw.Point{line[:], append(other, other[0])}
		for i, p := range head {
			q := head[(i+1)%len(head)]
			for _, l := range lines {
				for k := 1; k < len(l); k++ {
					if meet(p, q, l[k-1], l[k]) {
						return true
					}
				}
			}
		}
	}
	return false
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
