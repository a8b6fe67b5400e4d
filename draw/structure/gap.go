package structure

import (
	"math"
	"slices"

	"ionwright/draw"
)

// freeDirection is the middle of the widest gap between an atom's bonds, y
// down; turned a little where the label's own parts are in the way.
func (a *Artist) freeDirection(i int, turn float64) draw.Point {
	angles := a.bondAngles(i)
	if len(angles) == 0 {
		return draw.Point{X: math.Cos(-math.Pi/4 + turn), Y: math.Sin(-math.Pi/4 + turn)}
	}
	// Of gaps about as wide as the widest the one with most room: not into a
	// ring, if another is free.
	all := gaps(angles)
	var best draw.Point
	bestRoom := -1.0
	for _, g := range all {
		if g.width < all[0].width-0.2 {
			break
		}
		angle := g.from + g.width/2
		d := draw.Point{X: math.Cos(angle), Y: math.Sin(angle)}
		room := math.Inf(1)
		for k, p := range a.at {
			if k != i {
				room = min(room, math.Hypot(a.at[i].X+d.X*a.o.Bond-p.X, a.at[i].Y+d.Y*a.o.Bond-p.Y))
			}
		}
		// Ring atoms stand at equal distances; count them too.
		for k, p := range a.at {
			if k != i && math.Hypot(a.at[i].X+d.X*a.o.Bond-p.X, a.at[i].Y+d.Y*a.o.Bond-p.Y) < 1.1*a.o.Bond {
				room -= 0.1 * a.o.Bond
			}
		}
		if room > bestRoom+1e-6 || bestRoom < 0 && best == (draw.Point{}) {
			best, bestRoom = d, room
		}
	}
	return best
}

// bondAngles are the directions of an atom's bonds, ascending, y down.
func (a *Artist) bondAngles(i int) []float64 {
	var angles []float64
	for _, n := range a.m.Neighbors(i) {
		d := minus(a.at[n.Atom], a.at[i])
		angles = append(angles, math.Atan2(d.Y, d.X))
	}
	slices.Sort(angles)
	return angles
}

// gap is an angle without bonds.
type gap struct{ from, width float64 }

// gaps lists the angles between ascending directions, widest first.
func gaps(angles []float64) []gap {
	var out []gap
	for i, a := range angles {
		next := angles[(i+1)%len(angles)]
		if i+1 == len(angles) {
			next += 2 * math.Pi
		}
		out = append(out, gap{a, next - a})
	}
	slices.SortStableFunc(out, func(a, b gap) int {
		switch {
		case a.width > b.width+1e-9:
			return -1
		case b.width > a.width+1e-9:
			return 1
		}
		return 0
	})
	return out
}

func minus(p, q draw.Point) draw.Point { return draw.Point{X: p.X - q.X, Y: p.Y - q.Y} }
