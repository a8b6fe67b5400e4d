package structure

import (
	"math"
	"slices"

	"ionwright/chem"
	"ionwright/draw"
)

// valenceElectrons are those of the main-group elements that organic
// structures hold, by their group in the periodic table.
func valenceElectrons(e chem.Element) (int, bool) {
	switch e {
	case chem.B, chem.Al:
		return 3, true
	case chem.C, chem.Si, chem.Ge, chem.Sn:
		return 4, true
	case chem.N, chem.P, chem.As:
		return 5, true
	case chem.O, chem.S, chem.Se, chem.Te:
		return 6, true
	case chem.F, chem.Cl, chem.Br, chem.I:
		return 7, true
	}
	return 0, false
}

// LonePairs is the number of an atom's lone pairs: half of the valence
// electrons that neither bonds, nor the charge, nor unpaired electrons use up.
// 0 for elements outside groups 13 to 17 and where the count makes no sense.
func (a *Artist) LonePairs(i int) int {
	at := a.m.Atom(i)
	valence, ok := valenceElectrons(at.Element)
	if !ok {
		return 0
	}
	return max(0, (valence-int(at.Charge)-a.m.Valence(i)-int(at.Radical))/2)
}

// lonePairs draws them as pairs of dots in the widest gaps between the bonds.
func (a *Artist) lonePairs(i int) []draw.Item {
	if a.short != nil && a.short.group[i].Name != "" {
		return nil // a label that stands for several atoms has no place for them
	}
	n := a.LonePairs(i)
	if n == 0 {
		return nil
	}
	var items []draw.Item
	for _, d := range a.pairDirections(i, n) {
		c := a.beside(i, d, 0.22*a.size)
		side := draw.Point{X: -d.Y, Y: d.X}
		for _, k := range []float64{-1, 1} {
			p := draw.Point{X: c.X + side.X*k*0.15*a.size, Y: c.Y + side.Y*k*0.15*a.size}
			items = append(items, draw.Circle(p, 0.075*a.size, draw.Ink, draw.Stroke{}))
		}
	}
	return items
}

// PairPlace is where the k-th lone pair of an atom is drawn, for an arrow to
// start at; k counts from 0. Without such a pair it is the free side of the
// atom.
func (a *Artist) PairPlace(i, k int) draw.Point {
	n := max(a.LonePairs(i), k+1)
	return a.beside(i, a.pairDirections(i, n)[k], 0.22*a.size)
}

// Around are n places beside an atom where the bonds and the label leave most
// room, for electrons that the caller draws.
func (a *Artist) Around(i, n int) []draw.Point {
	out := make([]draw.Point, 0, n)
	for _, d := range a.pairDirections(i, n) {
		out = append(out, a.beside(i, d, 0.3*a.size))
	}
	return out
}

// beside is the point in direction d just outside the atom's label.
func (a *Artist) beside(i int, d draw.Point, air float64) draw.Point {
	p := a.at[i]
	reach := 0.2 * a.size
	if l := a.labels[i]; l != nil {
		for _, t := range l.texts {
			box := t.Bounds()
			for r := reach; r < 4*a.size; r += 0.05 * a.size {
				x, y := p.X+d.X*r, p.Y+d.Y*r
				if x > box.Left && x < box.Right && y > box.Top && y < box.Bottom {
					reach = r
				}
			}
		}
	}
	reach += air
	return draw.Point{X: p.X + d.X*reach, Y: p.Y + d.Y*reach}
}

// pairDirections are n directions for lone pairs: the gaps between bonds and
// the side of the hydrogens are halved, thirded and so on, the widest first.
func (a *Artist) pairDirections(i, n int) []draw.Point {
	angles := a.bondAngles(i)
	if a.m.Atom(i).Hydrogens > 0 && a.labels[i] != nil {
		toward := map[side]float64{right: 0, left: math.Pi, below: math.Pi / 2, above: -math.Pi / 2}
		angles = append(angles, toward[a.hydrogenSide(i)])
	}
	if len(angles) == 0 {
		angles = []float64{math.Pi / 4}
	}
	for k := range angles {
		angles[k] = math.Mod(angles[k]+4*math.Pi, 2*math.Pi)
	}
	slices.Sort(angles)
	all := gaps(angles)
	parts := make([]int, len(all))
	for range n {
		best := 0
		for k := range all {
			if all[k].width/float64(parts[k]+2) > all[best].width/float64(parts[best]+2)+1e-9 {
				best = k
			}
		}
		parts[best]++
	}
	var out []draw.Point
	for k, g := range all {
		for j := range parts[k] {
			angle := g.from + g.width*float64(j+1)/float64(parts[k]+1)
			out = append(out, draw.Point{X: math.Cos(angle), Y: math.Sin(angle)})
		}
	}
	return out
}
