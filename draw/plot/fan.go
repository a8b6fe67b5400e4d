package plot

import (
	"cmp"
	"iter"
	"slices"

	"ionwright/draw"
)

// spot is where a label stands.
type spot struct {
	box    draw.Box
	leader bool // too far from its stick to be understood without a line
	cost   float64
}

// line is the leader, from just above the stick to the nearest place under
// the label.
func (s spot) line(tip draw.Point) (from, to draw.Point) {
	inset := min(4, s.box.Width()/2)
	x := min(max(tip.X, s.box.Left+inset), s.box.Right-inset)
	return draw.Point{X: tip.X, Y: tip.Y - 1.5}, draw.Point{X: x, Y: s.box.Bottom + 1}
}

// candidates is the fan of spots for label i in order of cost, off sticks and
// blocks: above the stick, at home or shifted sideways; if it must be shown,
// also lifted with a leader, and, as a last resort, anywhere above the stick.
// The latter two are only worked out when the search comes to them: most
// labels stand at home.
func (p *placer) candidates(i int) iter.Seq[spot] {
	return func(yield func(spot) bool) {
		for ring := range rings {
			for len(p.fans[i]) <= ring {
				p.fans[i] = append(p.fans[i], p.ring(i, len(p.fans[i])))
			}
			for _, c := range p.fans[i][ring] {
				if !yield(c) {
					return
				}
			}
		}
	}
}

// rings is the number of parts that a fan is made in, nearer ones first.
const rings = 3

// ring works out one part of a fan: 0 above the stick, 1 lifted, 2 anywhere.
// Each costs more than the one before, but for a few spots of ring 2.
func (p *placer) ring(i, ring int) []spot {
	l := p.labels[i]
	at := func(dx, dy float64) draw.Box {
		bottom := l.tip.Y - labelGap - dy
		return draw.Box{Left: l.tip.X - l.width/2 + dx, Top: bottom - l.height, Right: l.tip.X + l.width/2 + dx, Bottom: bottom}
	}
	var out []spot
	add := func(dx, dy, cost float64, leader bool) {
		if box := at(dx, dy); p.clear(i, box) {
			out = append(out, spot{box, leader, cost})
		}
	}
	lift := func(dx, dy float64) {
		cost := costLeader + dx/4 + dy/6 + max(0, dx-l.width/2-dy) // a flat leader is hard to follow
		add(dx, dy, cost, true)
		if dx > 0 {
			add(-dx, dy, cost, true)
		}
	}
	reach := max(90, 1.2*l.width)
	switch {
	case ring == 0:
		add(0, 0, 0, false)
		for _, part := range []float64{0.15, 0.3, 0.45} {
			cost := 0.4 * part * min(l.width, 30)
			add(part*l.width, 0, cost, false)
			add(-part*l.width, 0, cost, false)
		}
	case !l.must:
	case ring == 1:
		for dy := 0.0; l.tip.Y-labelGap-dy-l.height >= p.area.Top; dy += 5 {
			for dx := 0.0; dx <= reach; dx += 7 {
				if dy > 0 || dx > l.width/2 {
					lift(dx, dy)
				}
			}
		}
	case ring == 2:
		for dx := reach; dx < p.area.Width(); dx += 10 {
			for bottom := p.area.Top + l.height; bottom < l.tip.Y; bottom += l.height + 2*labelMargin {
				lift(dx, l.tip.Y-labelGap-bottom)
			}
		}
	}
	slices.SortFunc(out, func(a, b spot) int {
		return cmp.Or(cmp.Compare(a.cost, b.cost), cmp.Compare(b.box.Left, a.box.Left), cmp.Compare(b.box.Top, a.box.Top))
	})
	return out
}
