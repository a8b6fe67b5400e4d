package plot

import (
	"cmp"
	"math"
	"slices"

	"ionwright/draw"
)

// label is a block of text that wants to stand at the top of a stick.
type label struct {
	tip    draw.Point // the stick's top
	width  float64
	height float64
	must   bool    // has to be shown, wherever there is room
	weight float64 // who comes first; the stronger peak
}

const (
	labelGap    = 3.0 // between a stick's top and its label
	labelMargin = 2.0 // between labels
	stickMargin = 1.0 // between a label and another peak's stick
)

// Costs in pixels of displacement, in effect: what one would rather move a
// label by than do.
const (
	costLeader       = 14.0
	costCrossStick   = 40.0
	costCrossLeader  = 60.0
	costLeaderOnText = 400.0
	costWrongOrder   = 120.0 // two labels side by side in the other order than their sticks
)

// stick is an upright obstacle from its top down to the base line.
type stick struct{ x, top, halfWidth float64 }

// block is a box that labels keep off, except the one label that it belongs
// to (an index; -1: none).
type block struct {
	box   draw.Box
	owner int
}

// placer places labels among sticks. All boxes end up inside area, no two of
// them overlap, and none overlaps a stick or a block.
//
// It is a local search: labels are placed one by one, strongest first, each at
// the cheapest free of a fan of candidate spots; then labels that stand badly
// may push the ones in their way to other spots, as long as the sum of the
// costs falls. Optional labels are placed last, at home or not at all.
type placer struct {
	area   draw.Box
	sticks []stick // ascending x
	blocks []block
	labels []label
	fans   [][][]spot // per label and ring, the candidates that were asked for
	spots  []*spot    // per label; nil: not placed
}

// place returns a spot for each label, nil for an optional one without room,
// and whether all that must be shown are.
func place(labels []label, sticks []stick, blocks []block, area draw.Box) ([]*spot, bool) {
	p := &placer{
		area: area, sticks: slices.Clone(sticks), blocks: blocks, labels: labels,
		fans: make([][][]spot, len(labels)), spots: make([]*spot, len(labels)),
	}
	slices.SortFunc(p.sticks, func(a, b stick) int { return cmp.Compare(a.x, b.x) })

	order := make([]int, len(labels))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		if labels[a].must != labels[b].must {
			if labels[a].must {
				return -1
			}
			return 1
		}
		return cmp.Compare(labels[b].weight, labels[a].weight)
	})
	musts := 0
	for musts < len(order) && labels[order[musts]].must {
		musts++
	}
	for _, i := range order[:musts] {
		if p.spots[i] = p.best(i, math.Inf(1)); p.spots[i] == nil {
			return p.spots, false
		}
	}
	for range 8 {
		if !p.improve(order[:musts]) {
			break
		}
	}
	for _, i := range order[musts:] {
		if s := p.best(i, costLeader); s != nil && !s.leader {
			p.spots[i] = s
		}
	}
	return p.spots, true
}

// improve lets each label that stands badly take a cheaper spot, moving those
// in the way elsewhere, if that lowers the sum of costs. It reports whether
// anything changed.
func (p *placer) improve(order []int) bool {
	changed := false
	for _, i := range order {
		if p.spots[i].cost <= 0 {
			continue
		}
		for c := range p.candidates(i) {
			if c.cost >= p.spots[i].cost {
				break // candidates come in order of cost
			}
			if p.push(i, c, order) {
				changed = true
				break
			}
		}
	}
	return changed
}

// push puts label i at c and finds new spots for the labels that overlap it;
// it undoes everything if the costs don't fall.
func (p *placer) push(i int, c spot, order []int) bool {
	before := p.total(order)
	saved := slices.Clone(p.spots)
	var pushed []int
	for _, j := range order {
		if j != i && p.spots[j] != nil && p.spots[j].box.Grow(labelMargin).Overlaps(c.box) {
			pushed = append(pushed, j)
			p.spots[j] = nil
		}
	}
	p.spots[i] = &c
	ok := len(pushed) <= 3
	for _, j := range pushed {
		if !ok {
			break
		}
		p.spots[j] = p.best(j, before-p.total(order))
		ok = p.spots[j] != nil
	}
	if ok && p.total(order) < before-0.5 {
		return true
	}
	copy(p.spots, saved)
	return false
}

// total is the sum of the costs of the placed labels, crossings included.
func (p *placer) total(order []int) float64 {
	sum := 0.0
	for _, i := range order {
		if p.spots[i] != nil {
			sum += p.spots[i].cost + p.crossings(i, *p.spots[i])/2
		}
	}
	return sum
}

// best is the cheapest free spot of label i among those placed so far, nil if
// there is none that costs less than limit.
func (p *placer) best(i int, limit float64) *spot {
	var best *spot
	bestCost := limit
	for c := range p.candidates(i) {
		if c.cost >= bestCost {
			break
		}
		if !p.free(i, c.box) {
			continue
		}
		if cost := c.cost + p.crossings(i, c); cost < bestCost {
			best, bestCost = &c, cost
		}
	}
	return best
}

// clear reports whether the box is in the area and off the sticks and blocks.
func (p *placer) clear(i int, box draw.Box) bool {
	if !p.area.Contains(box) {
		return false
	}
	for _, b := range p.blocks {
		if b.owner != i && b.box.Overlaps(box) {
			return false
		}
	}
	const widest = 8 // no stick is wider
	from, _ := slices.BinarySearchFunc(p.sticks, box.Left-widest, func(s stick, x float64) int { return cmp.Compare(s.x, x) })
	for _, s := range p.sticks[from:] {
		if s.x-widest > box.Right {
			break
		}
		reach := s.halfWidth + stickMargin
		if s.x+reach > box.Left && s.x-reach < box.Right && s.top-stickMargin < box.Bottom {
			return false
		}
	}
	return true
}

// free reports whether the box keeps its distance from the other labels.
func (p *placer) free(i int, box draw.Box) bool {
	grown := box.Grow(labelMargin)
	for j, s := range p.spots {
		if j != i && s != nil && s.box.Overlaps(grown) {
			return false
		}
	}
	return true
}

// crossings is what it costs, if label i stands at c, that leaders cross
// sticks, labels or each other and that labels stand in the wrong order.
func (p *placer) crossings(i int, c spot) float64 {
	cost := 0.0
	var from, to draw.Point
	var reach draw.Box // of the leader
	if c.leader {
		from, to = c.line(p.labels[i].tip)
		reach = draw.NoBox().Include(from).Include(to).Grow(0.5)
		for _, s := range p.sticks {
			if s.x > min(from.X, to.X)+1 && s.x < max(from.X, to.X)-1 {
				t := (s.x - from.X) / (to.X - from.X)
				if from.Y+t*(to.Y-from.Y) > s.top-1 {
					cost += costCrossStick
				}
			}
		}
	}
	for j, s := range p.spots {
		if j == i || s == nil {
			continue
		}
		if s.box.Top < c.box.Bottom && c.box.Top < s.box.Bottom && (p.labels[j].tip.X-p.labels[i].tip.X)*(s.box.Left+s.box.Right-c.box.Left-c.box.Right) < 0 {
			cost += costWrongOrder
		}
		if c.leader && s.box.Overlaps(reach) && s.box.CrossedBy(from, to) {
			cost += costLeaderOnText
		}
		if s.leader {
			a, b := s.line(p.labels[j].tip)
			if c.box.CrossedBy(a, b) {
				cost += costLeaderOnText
			}
			if c.leader && crosses(from, to, a, b) {
				cost += costCrossLeader
			}
		}
	}
	return cost
}

// crosses reports whether the open segments ab and cd cross.
func crosses(a, b, c, d draw.Point) bool {
	side := func(p, q, r draw.Point) float64 { return (q.X-p.X)*(r.Y-p.Y) - (q.Y-p.Y)*(r.X-p.X) }
	return side(a, b, c)*side(a, b, d) < 0 && side(c, d, a)*side(c, d, b) < 0
}
