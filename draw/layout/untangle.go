package layout

import (
	"math"
	"math/rand/v2"
	"slices"
)

// untangle flips and bends branches while that makes collisions fewer.
func (g *graph) untangle(part []int32) {
	u := &untangler{graph: g, part: part, bonds: g.bonds}
	if len(part) < len(g.atom) {
		u.bonds = nil
		for _, e := range g.bonds {
			if contains(part, e.a) {
				u.bonds = append(u.bonds, e)
			}
		}
	}
	cost := u.collisions()
	if cost < tolerated {
		return
	}
	u.listBranches()
	if len(u.moves) == 0 {
		return
	}
	cost = u.descend(cost)
	for seed, patience := range []int{500_000, 500_000, 2_000_000, 2_000_000, 2_000_000, 8_000_000, 8_000_000} {
		if cost < hardCost || u.work > mostWork || seed > 1 && !u.touching() || !u.movable() {
			return
		}
		if seed == 2 && u.stretch() {
			return
		}
		steps := min(patience*4/(len(part)*len(part)), 25_000)
		before := cost
		u.anneal(cost, uint64(seed+1), steps)
		if cost = u.descend(u.collisions()); cost > before-0.1 && !u.touching() {
			return // bonds that cross may have to
		}
	}
}

// mostWork bounds the search, in pairs of atoms looked at: about a second.
const mostWork = 40_000_000

// touching reports whether atoms come nearer than half a bond, which is worse
// than bonds that cross: that may have to be.
func (u *untangler) touching() bool {
	for i, a := range u.part {
		for _, b := range u.part[:i] {
			if u.pos[a].squared(u.pos[b]) < 0.5*0.5 {
				return true
			}
		}
	}
	return false
}

// stretch draws the bond by which a branch hangs at a bridged system longer,
// where the branch has no room inside. It reports whether that helped.
func (u *untangler) stretch() bool {
	for _, factor := range []float64{0.5, 1, 1.5, 2} {
		for i := range u.branches {
			b := &u.branches[i]
			if b.spiro || !slices.ContainsFunc(u.hints, func(h hint) bool { return h.atom == b.a && h.neighbor == b.b }) {
				continue
			}
			if u.between(b, math.Inf(1)) < hardCost {
				continue
			}
			u.save(b)
			shift := u.pos[b.b].minus(u.pos[b.a]).times(factor)
			for _, x := range b.inside {
				u.pos[x] = u.pos[x].plus(shift)
			}
			if !u.touching() {
				return true
			}
			u.restore(b)
		}
	}
	return false
}

// movable reports whether a branch collides with the rest: inside a ring
// system nothing can be moved.
func (u *untangler) movable() bool {
	for i := range u.branches {
		if u.between(&u.branches[i], math.Inf(1)) >= hardCost {
			return true
		}
	}
	return false
}

// Costs below which a drawing is good enough, and which no drawing has in
// which atoms or bonds really collide.
const (
	tolerated = 0.3
	hardCost  = 3.5
)

// untangler searches for a better drawing of one part.
type untangler struct {
	*graph
	part      []int32
	bonds     []edge
	branches  []branch
	moves     []move
	saved     []Point
	near      []int32 // scratch of between
	nearBonds []edge
	work      int // pairs of atoms looked at so far
}

// gain is by how much a move lowers the cost; it is taken back. before is the
// cost between the branch and the rest as it is; gains of less than least may
// come out as any such value.
func (u *untangler) gain(m move, before, least float64) float64 {
	b := &u.branches[m.branch]
	u.save(b)
	u.apply(m)
	after := u.between(b, before-least)
	u.restore(b)
	return before - after
}

// descend makes the move that helps most, or the pair of moves where none
// does, until nothing helps. It returns the cost that is left.
func (u *untangler) descend(cost float64) float64 {
	const least = 1e-6
	for range 40 {
		if u.work > mostWork {
			break
		}
		best, bestGain := u.bestMove()
		if bestGain > least {
			u.apply(best)
			cost -= bestGain
		} else {
			pair, gain := u.bestPair()
			if gain <= least {
				break
			}
			u.apply(pair[0])
			u.apply(pair[1])
			cost -= gain
		}
		if cost < tolerated/4 {
			break
		}
	}
	return cost
}

// bestMove finds the move with the greatest gain. Only branches that collide
// with the rest can gain anything.
func (u *untangler) bestMove() (move, float64) {
	var best move
	bestGain := 0.0
	current, before := -1, 0.0
	for _, m := range u.moves {
		if u.work > mostWork {
			break
		}
		if m.branch != current {
			current, before = m.branch, u.between(&u.branches[m.branch], math.Inf(1))
		}
		if before < 0.01 || before < bestGain {
			continue
		}
		if gain := u.gain(m, before, bestGain); gain > bestGain+1e-9 {
			best, bestGain = m, gain
		}
	}
	return best, bestGain
}

// bestPair finds the two moves, the first a mirroring, that together gain
// most.
func (u *untangler) bestPair() ([2]move, float64) {
	var best [2]move
	bestGain := 0.0
	var start []Point
	for _, first := range u.moves {
		if !first.mirror || u.work > mostWork {
			continue
		}
		b := &u.branches[first.branch]
		before := u.between(b, math.Inf(1))
		start = append(start[:0], u.pos...)
		u.apply(first)
		gained := before - u.between(b, math.Inf(1))
		if second, gain := u.bestMove(); gained+gain > bestGain+1e-9 {
			best, bestGain = [2]move{first, second}, gained+gain
		}
		copy(u.pos, start)
	}
	return best, bestGain
}

// anneal walks through drawings at random, less and less willing to take a
// worse one (Metropolis et al. 1953), and keeps the best it meets. It is for
// the few crowded structures in which one or two moves don't help. The random
// numbers are always the same.
func (u *untangler) anneal(cost float64, seed uint64, steps int) {
	random := rand.New(rand.NewPCG(seed, 2))
	best, bestCost := append([]Point(nil), u.pos...), cost
	known := make([]float64, len(u.branches)) // costs between branches and the rest, -1: to be counted
	forget := func() {
		for i := range known {
			known[i] = -1
		}
	}
	forget()
	for step := range steps {
		temperature := 3 * math.Pow(0.05, float64(step)/float64(steps))
		m := u.moves[random.IntN(len(u.moves))]
		if !m.mirror {
			m.angle *= random.Float64()
		}
		b := &u.branches[m.branch]
		if known[m.branch] < 0 {
			known[m.branch] = u.between(b, math.Inf(1))
		}
		before := known[m.branch]
		worst := before - temperature*math.Log(1-random.Float64()) // that is accepted
		u.save(b)
		u.apply(m)
		after := u.between(b, worst)
		if after > worst {
			u.restore(b)
			continue
		}
		forget()
		gain := before - after
		if cost -= gain; cost < bestCost-1e-9 {
			bestCost = cost
			copy(best, u.pos)
		}
		if bestCost < hardCost/2 || u.work > mostWork {
			break
		}
	}
	copy(u.pos, best)
}
