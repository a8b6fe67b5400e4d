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
	b := g.bearingOf(part, center)
	best, bestScore := 0, math.Inf(-1)
	for k := range 24 {
		if score := b.posture(orientation(k, offset)); score > bestScore+1e-6 { // among equals the first
			best, bestScore = k, score
		}
	}
	for _, a := range part {
		g.pos[a] = orientation(best, offset).apply(g.pos[a].minus(center))
	}
}

// turn is a turn about the origin, and then perhaps a mirroring left to right.
type turn struct {
	sin, cos float64
	mirror   bool
}

// orientation is the k-th of 12 turns and then of their 12 mirror images.
func orientation(k int, offset float64) turn {
	sin, cos := math.Sincos(float64(k%12)*math.Pi/6 - offset)
	return turn{sin, cos, k >= 12}
}

func (t turn) apply(p Point) Point {
	if p = p.turned(t.sin, t.cos); t.mirror {
		p.X = -p.X
	}
	return p
}

// grid is the angle, 0 to 30 degrees in radians, that most bonds have beyond
// a multiple of 30 degrees.
func (g *graph) grid(part []int32) float64 {
	const sector = math.Pi / 6
	best, bestVotes := 0.0, -1.0
	const enough = 400 // atoms; more don't change the vote
	angles, weights := make([]float64, 0, len(g.bonds)), make([]float64, 0, len(g.bonds))
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

// bearing is what the posture of a part depends on: sums over its atoms and
// bonds that turn with it.
type bearing struct {
	xx, yy, xy float64 // of the atoms' places
	atoms      float64
	hetero     Point   // sum of the places of what isn't carbon
	up         Point   // sum of the directions to =O and =S
	carbonyls  float64 // how many these are
	cubes      []Point // of the bonds as complex numbers
	fives      []Point // unit vectors from the rings of six to those of five, one a system
}

// bearingOf takes the sums about a center.
func (g *graph) bearingOf(part []int32, center Point) *bearing {
	b := &bearing{atoms: float64(len(part)), cubes: make([]Point, 0, len(g.bonds))}
	for _, a := range part {
		p := g.pos[a].minus(center)
		b.xx += p.X * p.X
		b.yy += p.Y * p.Y
		b.xy += p.X * p.Y
		if e := g.m.Atom(int(g.atom[a])).Element; e != chem.C && e != chem.H {
			b.hetero = b.hetero.plus(p)
		}
		for k := g.start[a]; k < g.start[a+1]; k++ {
			to := g.adj[k]
			d := g.pos[to].minus(g.pos[a])
			if g.terminalDouble[to] {
				if e := g.m.Atom(int(g.atom[to])).Element; e == chem.O || e == chem.S {
					b.up = b.up.plus(d)
					b.carbonyls++
				}
			}
			if to > a {
				b.cubes = append(b.cubes, Point{d.X * (d.X*d.X - 3*d.Y*d.Y), d.Y * (3*d.X*d.X - d.Y*d.Y)})
			}
		}
	}
	b.fives = g.fives(part)
	return b
}

// posture judges how a part lies when it is turned; higher is better.
func (b *bearing) posture(t turn) float64 {
	xx := t.cos*t.cos*b.xx - 2*t.sin*t.cos*b.xy + t.sin*t.sin*b.yy
	yy := b.xx + b.yy - xx
	if yy < 1e-6*xx {
		return 10 // all in one line: lying
	}
	// A bond stands at 30, 90 or 150 degrees where the cosine of three times
	// its angle is 0: the real part of its cube, if it has length 1.
	cubed := Point{t.cos, t.sin}
	cubed = Point{cubed.X * (cubed.X*cubed.X - 3*cubed.Y*cubed.Y), cubed.Y * (3*cubed.X*cubed.X - cubed.Y*cubed.Y)}
	upright := 0
	for _, c := range b.cubes {
		if math.Abs(c.X*cubed.X-c.Y*cubed.Y) < 0.1 {
			upright++
		}
	}
	score := weightFlat*(xx-yy)/(xx+yy+1e-9) + weightUpright*float64(upright)/float64(max(len(b.cubes), 1))
	if b.carbonyls > 0 {
		score += weightCarbonyl * t.apply(b.up).Y / b.carbonyls
	}
	reach := math.Sqrt(xx/b.atoms) + 0.5
	score += weightRight * t.apply(b.hetero).X / b.atoms / reach
	if len(b.fives) > 0 {
		sum := 0.0
		for _, d := range b.fives {
			d = t.apply(d)
			sum += d.X + 0.7*d.Y
		}
		score += weightFive * sum / float64(len(b.fives))
	}
	return score
}

// fives are the directions from the rings of six to the rings of five of each
// system that has both.
func (g *graph) fives(part []int32) []Point {
	var out []Point
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
			out = append(out, five.times(1/fives).minus(six.times(1/sixes)).unit())
		}
	}
	return out
}

// contains reports whether an ascending list holds a.
func contains(list []int32, a int32) bool {
	_, ok := slices.BinarySearch(list, a)
	return ok
}
