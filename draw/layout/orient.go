package layout

import (
	"math"
	"slices"

	"ionwright/chem"
)

// orient turns one part: bonds at multiples of 30 degrees, and of these
// positions and their mirror images the one that lies flattest, has its ring
// and chain bonds where they usually are and its carbonyl groups up.
func (g *graph) orient(part []int32) {
	if len(part) == 1 {
		g.pos[part[0]] = Point{}
		return
	}
	var center Point
	for _, a := range part {
		center = center.plus(g.pos[a])
	}
	center = center.times(1 / float64(len(part)))
	offset := g.grid(part)
	original := make([]Point, len(part))
	for i, a := range part {
		original[i] = g.pos[a].minus(center)
	}
	bestScore := math.Inf(-1)
	best := make([]Point, len(part))
	turned := make([]Point, len(part))
	for k := range 24 {
		sin, cos := math.Sincos(float64(k%12)*math.Pi/6 - offset)
		for i, p := range original {
			if turned[i] = p.turned(sin, cos); k >= 12 {
				turned[i].X = -turned[i].X
			}
			g.pos[part[i]] = turned[i]
		}
		if score := g.posture(part); score > bestScore+1e-6 { // among equals the first
			bestScore = score
			copy(best, turned)
		}
	}
	for i, a := range part {
		g.pos[a] = best[i]
	}
}

// grid is the angle, 0 to 30 degrees in radians, that most bonds have beyond
// a multiple of 30 degrees.
func (g *graph) grid(part []int32) float64 {
	const sector = math.Pi / 6
	best, bestVotes := 0.0, -1.0
	var angles, weights []float64
	const enough = 400 // bonds; more don't change the vote
	for _, a := range part[:min(len(part), enough)] {
		for k := g.start[a]; k < g.start[a+1]; k++ {
			b := g.adj[k]
			if b < a {
				continue
			}
			angle := math.Mod(g.pos[b].minus(g.pos[a]).angle()+4*math.Pi, sector)
			weight := 1.0
			if g.m.RingBond(int(g.bondOf[k])) {
				weight = 1.2
			}
			angles, weights = append(angles, angle), append(weights, weight)
		}
	}
	for _, angle := range angles {
		votes := 0.0
		for i, other := range angles {
			d := math.Abs(angle - other)
			if d = min(d, sector-d); d < 0.02 {
				votes += weights[i]
			}
		}
		if votes > bestVotes+1e-9 {
			best, bestVotes = angle, votes
		}
	}
	return best
}

// Weights of what makes a good posture.
const (
	weightFlat     = 1.0
	weightUpright  = 0.7 // bonds at 30, 90 and 150 degrees
	weightCarbonyl = 0.6
	weightRight    = 0.12 // what isn't carbon to the right
	weightFive     = 0.35 // rings of five fused to rings of six to the right, and up
)

// posture judges how a part lies; higher is better.
func (g *graph) posture(part []int32) float64 {
	var xx, yy, hetero, up float64
	carbonyls, upright, bonds := 0, 0, 0
	for _, a := range part {
		p := g.pos[a]
		xx += p.X * p.X
		yy += p.Y * p.Y
		if e := g.m.Atom(int(g.atom[a])).Element; e != chem.C && e != chem.H {
			hetero += p.X
		}
		for k := g.start[a]; k < g.start[a+1]; k++ {
			b := g.adj[k]
			d := g.pos[b].minus(p)
			if g.terminalDouble[b] {
				if e := g.m.Atom(int(g.atom[b])).Element; e == chem.O || e == chem.S {
					up += d.Y
					carbonyls++
				}
			}
			if b < a {
				continue
			}
			bonds++
			third := math.Abs(d.X * (d.X*d.X - 3*d.Y*d.Y)) // |cos 3 angle| for a unit vector
			if third < 0.1 {
				upright++
			}
		}
	}
	if yy < 1e-6*xx {
		return 10 // all in one line: lying
	}
	score := weightFlat*(xx-yy)/(xx+yy+1e-9) + weightUpright*float64(upright)/float64(max(bonds, 1))
	if carbonyls > 0 {
		score += weightCarbonyl * up / float64(carbonyls)
	}
	reach := math.Sqrt(xx/float64(len(part))) + 0.5
	return score + weightRight*hetero/float64(len(part))/reach + weightFive*g.fives(part)
}

// fives says how far right and up rings of five lie in the systems that they
// form with rings of six: -1 to 1, 0 where there are none.
func (g *graph) fives(part []int32) float64 {
	sum, n := 0.0, 0.0
	for _, b := range g.blocks {
		if len(b.rings) < 2 || !contains(part, b.atoms[0]) {
			continue
		}
		var five, six Point
		fives, sixes := 0.0, 0.0
		for _, ring := range b.rings {
			var middle Point
			for _, a := range ring {
				middle = middle.plus(g.pos[a])
			}
			middle = middle.times(1 / float64(len(ring)))
			switch len(ring) {
			case 5:
				five = five.plus(middle)
				fives++
			case 6:
				six = six.plus(middle)
				sixes++
			}
		}
		if fives > 0 && sixes > 0 {
			d := five.times(1 / fives).minus(six.times(1 / sixes)).unit()
			sum += d.X + 0.7*d.Y
			n++
		}
	}
	if n == 0 {
		return 0
	}
	return sum / n
}

// contains reports whether an ascending list holds a.
func contains(list []int32, a int32) bool {
	_, ok := slices.BinarySearch(list, a)
	return ok
}
