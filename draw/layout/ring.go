package layout

import (
	"cmp"
	"math"
	"slices"
)

// system lays out one block. Its atoms are numbered as in block.atoms; after
// them come, for bridged systems only, the neighbors outside the block, so
// that there is room for them.
type system struct {
	g      *graph
	b      *block
	size   int     // atoms of the block
	rings  [][]int // in the block's numbers
	adj    [][]int
	pos    []Point
	placed []bool
	done   []bool // rings
	spiros []spring
}

// layOutBlock gives the block's atoms coordinates of their own.
func (g *graph) layOutBlock(b *block) {
	s := &system{g: g, b: b, size: len(b.atoms), pos: make([]Point, len(b.atoms)), placed: make([]bool, len(b.atoms)), done: make([]bool, len(b.rings))}
	for _, ring := range b.rings {
		local := make([]int, len(ring))
		for i, a := range ring {
			local[i] = b.place(a)
		}
		s.rings = append(s.rings, local)
	}
	if s.macrocycle() {
		b.pos = s.pos
		return
	}
	if len(s.rings) == 1 {
		s.first(0)
		b.pos = s.pos
		return
	}
	s.connect()
	core := s.bridgedRings()
	if len(core) == 0 {
		s.fuse(s.startRing())
		if s.tangles() == 0 {
			b.pos = s.pos
			return
		}
		s.reset()
		core = nil
	}
	g.uneven = true
	s.addNeighbors()
	s.layOutBridged(core)
	b.pos = s.pos[:s.size]
	b.hints = s.hints()
}

func (s *system) reset() {
	clear(s.placed)
	clear(s.done)
}

func (s *system) connect() {
	s.adj = make([][]int, len(s.b.atoms))
	for _, ring := range s.rings {
		for i, a := range ring {
			c := ring[(i+1)%len(ring)]
			if !slices.Contains(s.adj[a], c) {
				s.adj[a] = append(s.adj[a], c)
				s.adj[c] = append(s.adj[c], a)
			}
		}
	}
}

// polygonRadius is the radius of the regular polygon of n sides of length 1.
func polygonRadius(n int) float64 { return 1 / (2 * math.Sin(math.Pi/float64(n))) }

// first places a ring as a regular polygon about the origin.
func (s *system) first(ring int) {
	atoms := s.rings[ring]
	r := polygonRadius(len(atoms))
	for i, a := range atoms {
		s.pos[a] = direction(2*math.Pi*float64(i)/float64(len(atoms)) + math.Pi/2).times(r)
		s.placed[a] = true
	}
	s.done[ring] = true
}

// startRing is the ring to begin with: the one that shares bonds with most
// others; of these the one with six atoms, the larger one, the first.
func (s *system) startRing() int {
	best, bestScore := 0, math.Inf(-1)
	for i, a := range s.b.rings {
		score := 0.0
		for j, b := range s.b.rings {
			if i != j && sharedBonds(a, b) > 0 {
				score += 10
			}
		}
		if len(a) == 6 {
			score += 5
		}
		if score += float64(len(a)) / 100; score > bestScore {
			best, bestScore = i, score
		}
	}
	return best
}

// fuse places start as a polygon, unless rings are placed already (start < 0),
// and then all others, those first that share just one bond with what is
// placed.
func (s *system) fuse(start int) {
	if start >= 0 {
		s.first(start)
	}
	for {
		next, bestScore := -1, math.Inf(-1)
		for i, ring := range s.rings {
			if s.done[i] {
				continue
			}
			run, n := s.run(ring)
			if n < 2 && n < len(ring) {
				continue
			}
			score := -float64(n)
			if n == len(ring) {
				score = 100 // nothing to do
			} else if run != n {
				score -= 50 // placed atoms in several runs: later, when more is there
			}
			if len(ring) == 6 {
				score += 0.5
			}
			if score > bestScore {
				next, bestScore = i, score
			}
		}
		if next < 0 {
			return
		}
		s.attach(next)
	}
}

// run is the length of the longest run of placed atoms round the ring, and the
// number of all placed ones.
func (s *system) run(ring []int) (longest, total int) {
	for _, a := range ring {
		if s.placed[a] {
			total++
		}
	}
	if total == len(ring) {
		return total, total
	}
	n, current := len(ring), 0
	for i := 0; i < 2*n; i++ {
		if s.placed[ring[i%n]] {
			current++
			longest = max(longest, current)
		} else {
			current = 0
		}
	}
	return longest, total
}

// attach places the atoms of a ring that aren't yet: each run of them as an
// arc of bonds of length 1 between the placed atoms at its ends, bulging to
// the side that is free.
func (s *system) attach(index int) {
	ring := s.rings[index]
	n := len(ring)
	s.done[index] = true
	first := slices.IndexFunc(ring, func(a int) bool { return s.placed[a] })
	if first < 0 {
		return
	}
	for i := 0; i < n; {
		if s.placed[ring[(first+i)%n]] {
			i++
			continue
		}
		from := (first + i - 1 + n) % n
		length := 0
		for !s.placed[ring[(first+i+length)%n]] {
			length++
		}
		run := make([]int, length)
		for k := range run {
			run[k] = ring[(first+i+k)%n]
		}
		s.arc(ring[from], ring[(first+i+length)%n], run)
		i += length
	}
}

// arc places run between a and b as an arc on the freer side.
func (s *system) arc(a, b int, run []int) {
	var best []Point
	bestScore := math.Inf(1)
	for _, side := range []float64{1, -1} {
		points := arcPoints(s.pos[a], s.pos[b], len(run)+1, side)
		score := 0.0
		for _, p := range points {
			for i, q := range s.pos {
				if s.placed[i] && i != a && i != b {
					score += 1 / (0.05 + p.squared(q))
				}
			}
		}
		if score < bestScore-1e-9 {
			best, bestScore = points, score
		}
	}
	for i, p := range best {
		s.pos[run[i]] = p
		s.placed[run[i]] = true
	}
}

// arcPoints are the inner corners of a chain of so many bonds of length 1
// from a to b along a circle, left of the way from a to b for side 1, right
// for -1. Where the ends are too far apart the bonds are stretched along a
// nearly straight line.
func arcPoints(a, b Point, bonds int, side float64) []Point {
	d := max(a.distance(b), 1e-6) // the least for a loop
	reach := float64(bonds)
	scale := 1.0
	if d > 0.97*reach {
		scale = d / (0.97 * reach)
	}
	theta := arcTurn(reach, d/scale)
	heading := b.minus(a).angle() + side*(reach-1)*theta/2
	points := make([]Point, bonds-1)
	at := a
	for i := range points {
		at = at.plus(direction(heading).times(scale))
		heading -= side * theta
		points[i] = at
	}
	return points
}

// arcTurn is the angle by which so many bonds of length 1 must each turn to
// span a distance.
func arcTurn(bonds, d float64) float64 {
	if math.Abs(d-1) < 1e-9 { // a regular polygon
		return 2 * math.Pi / (bonds + 1)
	}
	// Bonds that each turn by theta span sin(bonds theta/2)/sin(theta/2),
	// which falls from bonds to 0 on the way to a full circle.
	lo, hi := 1e-6, 2*math.Pi/bonds
	for range 60 {
		theta := (lo + hi) / 2
		if math.Sin(bonds*theta/2)/math.Sin(theta/2) > d {
			lo = theta
		} else {
			hi = theta
		}
	}
	return (lo + hi) / 2
}

// bridgedRings lists the rings that share more than one bond with another.
func (s *system) bridgedRings() []int {
	var out []int
	for i, a := range s.b.rings {
		for j, b := range s.b.rings {
			if i != j && sharedBonds(a, b) > 1 {
				out = append(out, i)
				break
			}
		}
	}
	return out
}

// tangles counts what a drawing of the system mustn't have: bonds that cross,
// atoms too near to each other or to a bond, bonds of the wrong length.
func (s *system) tangles() int {
	n := 0
	var edges [][2]int
	for a, list := range s.adj {
		for _, b := range list {
			if a < b {
				edges = append(edges, [2]int{a, b})
			}
		}
	}
	for i := range s.pos {
		for j := range i {
			if s.pos[i].squared(s.pos[j]) < 0.6*0.6 {
				n++
			}
		}
	}
	for i, e := range edges {
		if l := s.pos[e[0]].distance(s.pos[e[1]]); l < 0.96 || l > 1.04 {
			n++
		}
		for _, f := range edges[:i] {
			if e[0] != f[0] && e[0] != f[1] && e[1] != f[0] && e[1] != f[1] && crossing(s.pos[e[0]], s.pos[e[1]], s.pos[f[0]], s.pos[f[1]]) {
				n++
			}
		}
		for a := range s.pos {
			if a != e[0] && a != e[1] {
				if d, _ := s.pos[a].toSegment(s.pos[e[0]], s.pos[e[1]]); d < 0.3*0.3 {
					n++
				}
			}
		}
	}
	return n
}

// byLength orders rings by size, longest first.
func byLength(rings [][]int) []int {
	order := make([]int, len(rings))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return cmp.Compare(len(rings[b]), len(rings[a])) })
	return order
}
