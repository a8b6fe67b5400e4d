package layout

import (
	"math"
	"slices"
)

// addNeighbors adds the neighbors of the block's atoms that aren't in it.
func (s *system) addNeighbors() {
	for i, a := range s.b.atoms {
		first, firstNode := int32(-1), 0
		for _, n := range s.g.neighbors(a) {
			if s.b.place(n) < 0 {
				k := s.addNode(i)
				switch {
				case s.g.m.RingBond(int(s.g.bond(a, n))):
					// Both neighbors in a spiro ring stand at its angle.
					if size := s.g.smallestRing(a, first, n); size > 0 {
						s.spiros = append(s.spiros, spring{firstNode, k, across(size), 1})
					}
					first, firstNode = n, k
				case s.g.inRing[n] > 0: // a ring needs room to both sides
					s.addNode(k)
					s.addNode(k)
				case s.g.branchSize(a, n) > 2:
					s.addNode(k)
				}
			}
		}
	}
}

// smallestRing is the size of the smallest ring in which b, a and c follow
// each other, 0 if there is none.
func (g *graph) smallestRing(a, b, c int32) int {
	for _, ring := range g.rings { // ascending size
		i := slices.Index(ring, a)
		if i < 0 {
			continue
		}
		before, after := ring[(i+len(ring)-1)%len(ring)], ring[(i+1)%len(ring)]
		if before == b && after == c || before == c && after == b {
			return len(ring)
		}
	}
	return 0
}

// across is the distance of the two neighbors of an atom in a regular ring.
func across(size int) float64 { return 2 * math.Sin(math.Pi*(0.5-1/float64(size))) }

func (s *system) addNode(bonded int) int {
	k := len(s.pos)
	s.pos, s.placed = append(s.pos, Point{}), append(s.placed, false)
	s.adj = append(s.adj, []int{bonded})
	s.adj[bonded] = append(s.adj[bonded], k)
	return k
}

// placeNeighbors places them in the widest gaps between their atoms' bonds.
func (s *system) placeNeighbors() {
	for i := range s.size {
		var taken []float64
		var outside []int
		for _, n := range s.adj[i] {
			if n < s.size {
				taken = append(taken, s.pos[n].minus(s.pos[i]).angle())
			} else {
				outside = append(outside, n)
			}
		}
		if len(outside) == 0 {
			continue
		}
		from, gap := widestGap(taken)
		for k, d := range spread(from, gap, len(outside), true) {
			n := outside[k]
			s.pos[n], s.placed[n] = s.pos[i].plus(d), true
			next := s.adj[n][1:]
			for j, turn := range spreadTurns(len(next)) {
				s.pos[next[j]], s.placed[next[j]] = s.pos[n].plus(d.turned(math.Sincos(turn))), true
			}
		}
	}
}

// spreadTurns are the angles by which what follows a neighbor turns aside.
func spreadTurns(n int) []float64 {
	if n == 2 {
		return []float64{math.Pi / 3, -math.Pi / 3}
	}
	return make([]float64, n)
}

// hints are the directions of the neighbors outside, in the order of
// addNeighbors.
func (s *system) hints() []hint {
	var out []hint
	for i, a := range s.b.atoms {
		k := 0
		for _, n := range s.g.neighbors(a) {
			if s.b.place(n) >= 0 {
				continue
			}
			for ; s.adj[i][k] < s.size; k++ {
			}
			out = append(out, hint{a, n, s.pos[s.adj[i][k]].minus(s.pos[i]).unit()})
			k++
		}
	}
	return out
}
