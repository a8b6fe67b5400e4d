package molfile

import (
	"fmt"

	"ionwright/mol"
)

// drawing is a molecule to be written with its wedges.
type drawing struct {
	m       *mol.Mol
	points  []Point
	spatial bool    // some Z isn't 0
	wedges  []wedge // by bond
	from    []int32 // by bond with a wedge: 1 + the atom at its narrow end
}

// draw chooses the wedges and checks the points.
func (d *drawing) draw() error {
	if len(d.points) == 0 {
		return nil
	}
	for i, p := range d.points {
		if !finite(p) {
			return fmt.Errorf("the point of atom %d isn't a finite number", i+1)
		}
		d.spatial = d.spatial || p.Z != 0
	}
	for i := range d.m.NumAtoms() {
		mark := d.m.Atom(i).Chirality
		if mark != mol.TH1 && mark != mol.TH2 || !center(d.m, i) {
			continue
		}
		if d.spatial {
			if got := handedness(d.rays(i, -1)); got != mark {
				return fmt.Errorf("the points contradict the arrangement at atom %d", i+1)
			}
		} else if !d.wedge(i, mark) {
			return fmt.Errorf("the points leave no bond for a wedge at atom %d", i+1)
		}
	}
	var classes []int32
	for i := range d.m.NumBonds() {
		if !d.m.CanBeCisTrans(i) {
			continue
		}
		stereo := d.m.Bond(i).Stereo
		if stereo == mol.NoStereo {
			if classes == nil {
				classes = d.m.Classes()
			}
			if d.uneven(i, classes) {
				d.wedges[i] = either
			}
			continue
		}
		ends, refs, _ := d.m.Flank(i)
		if got := sides(d.points, ends, refs); got != stereo {
			return fmt.Errorf("the points contradict the arrangement at bond %d", i+1)
		}
	}
	return nil
}

// uneven tells whether the substituents at each end of a double bond differ,
// so that there are two arrangements.
func (d *drawing) uneven(bond int, classes []int32) bool {
	ends, refs, _ := d.m.Flank(bond)
	for k, end := range ends {
		for _, nb := range d.m.Neighbors(end) {
			other := int(nb.Atom)
			if other != refs[k] && d.m.KekuleOrder(int(nb.Bond)) != mol.Double && classes[other] == classes[refs[k]] {
				return false
			}
		}
	}
	return true
}

// rays returns the directions of the neighbors of atom i, with neighbor
// number lifted raised out of the plane.
func (d *drawing) rays(i, lifted int) []Point {
	var rays []Point
	for k, nb := range d.m.Neighbors(i) {
		ray := unit(minus(d.points[nb.Atom], d.points[i]))
		if k == lifted {
			ray.Z = 1
		}
		rays = append(rays, ray)
	}
	return rays
}

// wedge chooses a bond of atom i for the wedge: to an end atom rather than in
// a ring or to another center.
func (d *drawing) wedge(i int, mark mol.Chirality) bool {
	best, bestCost := -1, 0
	for k, nb := range d.m.Neighbors(i) {
		if d.from[nb.Bond] != 0 || d.m.KekuleOrder(int(nb.Bond)) != mol.Single || handedness(d.rays(i, k)) == mol.NotChiral {
			continue
		}
		cost := d.m.Degree(int(nb.Atom))
		if d.m.RingBond(int(nb.Bond)) {
			cost += 10
		}
		if d.m.Atom(int(nb.Atom)).Chirality != mol.NotChiral {
			cost += 20
		}
		if best < 0 || cost < bestCost {
			best, bestCost = k, cost
		}
	}
	if best < 0 {
		return false
	}
	bond := d.m.Neighbors(i)[best].Bond
	d.from[bond] = int32(i) + 1
	d.wedges[bond] = down
	if handedness(d.rays(i, best)) == mark {
		d.wedges[bond] = up
	}
	return true
}

// ends returns the atoms of a bond, the narrow end of a wedge first.
func (d *drawing) ends(bond int) (from, to int32) {
	b := d.m.Bond(bond)
	if d.from[bond] == b.End+1 {
		return b.End, b.Begin
	}
	return b.Begin, b.End
}

// point is the place of atom i.
func (d *drawing) point(i int) Point {
	if len(d.points) == 0 {
		return Point{}
	}
	return d.points[i]
}

// parity is the parity of atom i: 1 odd, 2 even, 0 none.
func (d *drawing) parity(i int) int {
	mark := d.m.Atom(i).Chirality
	if mark != mol.TH1 && mark != mol.TH2 || !center(d.m, i) {
		return 0
	}
	// The permutation is the same whichever way it is read, as far as its
	// sign goes.
	if mark.Reorder(parityOrder(d.m, i)) == mol.TH1 {
		return 1
	}
	return 2
}

// chiralFlag is 1 where the arrangements are meant absolutely.
func (d *drawing) chiralFlag() int {
	for i := range d.m.NumAtoms() {
		if d.parity(i) != 0 {
			return 1
		}
	}
	return 0
}
