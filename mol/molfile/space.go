package molfile

import (
	"math"

	"ionwright/chem"
	"ionwright/mol"
)

// arrange finds the arrangements in space that the table tells: by wedges in
// the plane, by coordinates in space, or by parities where there are no
// coordinates.
func (t *table) arrange(m *mol.Mol, b *mol.Builder) {
	for i := range m.NumAtoms() {
		mark := mol.NotChiral
		switch {
		case !t.placed:
			mark = t.byParity(m, i)
		case t.flat && t.wedged(m, i), !t.flat && canBeCenter(m, i):
			mark = t.byPlace(m, i)
		}
		if mark != mol.NotChiral {
			a := b.Atom(i)
			a.Chirality = mark
			b.SetAtom(i, a)
		}
	}
	if !t.placed {
		return
	}
	for i := range m.NumBonds() {
		if t.wedges[i] != either && m.CanBeCisTrans(i) {
			b.SetStereo(i, t.cisTrans(m, i))
		}
	}
}

// hidden tells whether atom i has one ligand that is no atom of the table.
func hidden(m *mol.Mol, i int) bool {
	return m.Atom(i).Hydrogens == 1 || m.Atom(i).Hydrogens == 0 && m.Degree(i) == 3
}

// center tells whether atom i has four ligands, a hydrogen or lone pair
// counted, of which at most one is no atom.
func center(m *mol.Mol, i int) bool {
	return m.Degree(i) == 4 && m.Atom(i).Hydrogens == 0 || m.Degree(i) == 3 && m.Atom(i).Hydrogens <= 1
}

// canBeCenter tells whether atom i is likely tetrahedral, for tables in which
// nothing but the coordinates speaks of it.
func canBeCenter(m *mol.Mol, i int) bool {
	if !center(m, i) {
		return false
	}
	a := m.Atom(i)
	switch a.Element {
	case chem.C, chem.Si, chem.Ge, chem.Sn:
		return a.Charge == 0 && a.Radical == 0 && m.Valence(i) == m.Degree(i)+int(a.Hydrogens)
	case chem.N:
		return m.Degree(i) == 4
	case chem.S, chem.Se, chem.P, chem.As:
		return true
	}
	return false
}

// wedged tells whether a wedge begins at atom i, and no wavy bond.
func (t *table) wedged(m *mol.Mol, i int) bool {
	found := false
	for _, nb := range m.Neighbors(i) {
		if t.bonds[nb.Bond].Begin != int32(i) {
			continue
		}
		switch t.wedges[nb.Bond] {
		case up, down:
			found = true
		case either:
			return false
		}
	}
	return found && center(m, i)
}

// byPlace reads the arrangement of atom i from coordinates: in the plane a
// wedge lifts or lowers the neighbor by its bond's length.
func (t *table) byPlace(m *mol.Mol, i int) mol.Chirality {
	var rays []Point
	for _, nb := range m.Neighbors(i) {
		ray := unit(minus(t.points[nb.Atom], t.points[i]))
		if t.flat {
			ray.Z = 0
			if t.bonds[nb.Bond].Begin == int32(i) {
				switch t.wedges[nb.Bond] {
				case up:
					ray.Z = 1
				case down:
					ray.Z = -1
				}
			}
		}
		rays = append(rays, ray)
	}
	return handedness(rays)
}

// handedness returns the arrangement of three or four rays in the order of
// the graph. With three, the fourth ligand is opposite to them and counts
// first.
func handedness(rays []Point) mol.Chirality {
	if len(rays) == 3 {
		opposite := Point{}
		for _, ray := range rays {
			opposite = minus(opposite, ray)
		}
		rays = append([]Point{opposite}, rays...)
	}
	// Seen from the first, the others run counterclockwise (TH1) where the
	// volume that they span from it is negative.
	volume := triple(minus(rays[1], rays[0]), minus(rays[2], rays[0]), minus(rays[3], rays[0]))
	const flatness = 0.05 // below, the drawing says nothing
	switch {
	case volume < -flatness:
		return mol.TH1
	case volume > flatness:
		return mol.TH1 + 1
	}
	return mol.NotChiral
}

// byParity reads the parity of atom i: with the highest-numbered neighbor, or
// the hydrogen, away from the viewer, the others in ascending order run
// clockwise (1) or counterclockwise (2).
func (t *table) byParity(m *mol.Mol, i int) mol.Chirality {
	if t.parity[i] == 0 || !center(m, i) {
		return mol.NotChiral
	}
	mark := mol.TH1
	if t.parity[i] == 2 {
		mark = mol.TH2
	}
	return mark.Reorder(parityOrder(m, i))
}

// parityOrder says for each ligand in the order of the graph where it is in
// the order of parities: the highest-numbered, or the hidden one, first, then
// the others ascending.
func parityOrder(m *mol.Mol, i int) []int8 {
	neighbors := m.Neighbors(i)
	var order []int8
	if hidden(m, i) {
		order = append(order, 0)
	}
	for _, nb := range neighbors {
		lower, highest := int8(0), true
		for _, other := range neighbors {
			if other.Atom < nb.Atom {
				lower++
			}
			if other.Atom > nb.Atom {
				highest = false
			}
		}
		place := lower + 1
		if highest && !hidden(m, i) {
			place = 0
		}
		order = append(order, place)
	}
	return order
}

// cisTrans reads the arrangement of a double bond from coordinates.
func (t *table) cisTrans(m *mol.Mol, bond int) mol.BondStereo {
	ends, refs, ok := m.Flank(bond)
	if !ok {
		return mol.NoStereo
	}
	for k := range 2 {
		for _, nb := range m.Neighbors(ends[k]) {
			if t.wedges[nb.Bond] == either {
				return mol.NoStereo // wavy substituent
			}
		}
	}
	return sides(t.points, ends, refs)
}

// sides compares the sides of two substituents at the ends of a double bond.
func sides(points []Point, ends, refs [2]int) mol.BondStereo {
	axis := unit(minus(points[ends[1]], points[ends[0]]))
	var across [2]Point
	for k := range 2 {
		ray := unit(minus(points[refs[k]], points[ends[k]]))
		along := dot(ray, axis)
		across[k] = minus(ray, Point{along * axis.X, along * axis.Y, along * axis.Z})
	}
	const straightness = 0.01 // below, the drawing says nothing
	switch cosine := dot(across[0], across[1]); {
	case cosine > straightness:
		return mol.Cis
	case cosine < -straightness:
		return mol.Trans
	}
	return mol.NoStereo
}

func minus(a, b Point) Point { return Point{a.X - b.X, a.Y - b.Y, a.Z - b.Z} }

func dot(a, b Point) float64 { return a.X*b.X + a.Y*b.Y + a.Z*b.Z }

// unit scales to length 1; the zero vector stays.
func unit(a Point) Point {
	length := math.Hypot(math.Hypot(a.X, a.Y), a.Z)
	if length == 0 {
		return a
	}
	return Point{a.X / length, a.Y / length, a.Z / length}
}

// triple is the volume that three vectors span, with its sign.
func triple(a, b, c Point) float64 {
	return a.X*(b.Y*c.Z-b.Z*c.Y) - a.Y*(b.X*c.Z-b.Z*c.X) + a.Z*(b.X*c.Y-b.Y*c.X)
}
