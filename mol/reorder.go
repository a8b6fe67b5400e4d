package mol

// maxLigands is the most neighbors that a chirality class has.
const maxLigands = 6

// Reorder returns the chirality that says the same of the same ligands in
// another order: order[k] is the place that the ligand now at place k had
// before. Where order doesn't have as many places as the class has ligands,
// the result is [NotChiral].
func (c Chirality) Reorder(order []int8) Chirality {
	if len(order) != c.ligands() {
		return NotChiral
	}
	switch {
	case c < SP1:
		if odd(order) {
			return c.mirrored()
		}
		return c
	case c < TB1:
		return c.reorderSquare(order)
	case c < OH1:
		return c.reorderBipyramid(order)
	}
	return c.reorderOctahedron(order)
}

// ligands returns how many ligands the class has, a hydrogen or lone pair
// counted.
func (c Chirality) ligands() int {
	switch {
	case c == NotChiral || c > OH30:
		return 0
	case c < TB1:
		return 4
	case c < OH1:
		return 5
	}
	return 6
}

// odd tells whether the permutation is odd.
func odd(order []int8) bool {
	result := false
	for i := range order {
		for j := range order[:i] {
			if order[j] > order[i] {
				result = !result
			}
		}
	}
	return result
}

// mirrored returns the mirror image of a tetrahedral or allene-like
// arrangement.
func (c Chirality) mirrored() Chirality {
	switch c {
	case TH1:
		return TH2
	case TH2:
		return TH1
	case AL1:
		return AL2
	case AL2:
		return AL1
	}
	return c
}

// now returns where the ligand is now that was at place before.
func now(order []int8, before int8) int8 {
	for k, was := range order {
		if was == before {
			return int8(k)
		}
	}
	return -1
}

// reorderSquare: what a square planar arrangement says is which ligand is
// opposite to the first: the third (SP1, the shape U), the second (SP2, the
// shape 4) or the fourth (SP3, the shape Z).
func (c Chirality) reorderSquare(order []int8) Chirality {
	opposite := [...][4]int8{{2, 3, 0, 1}, {1, 0, 3, 2}, {3, 2, 1, 0}}[c-SP1]
	switch now(order, opposite[order[0]]) {
	case 1:
		return SP1 + 1
	case 2:
		return SP1
	}
	return SP3
}

// bipyramids is the specification's table of trigonal bipyramidal numbers:
// the places at the ends of the axis, and whether the other three, seen along
// it, are clockwise.
var bipyramids = [20]struct {
	from, to  int8
	clockwise bool
}{
	{0, 4, false}, {0, 4, true}, {0, 3, false}, {0, 3, true}, // TB1 to TB4
	{0, 2, false}, {0, 2, true}, {0, 1, false}, {0, 1, true}, // TB5 to TB8
	{1, 4, false}, {1, 3, false}, {1, 4, true}, {1, 3, true}, // TB9 to TB12
	{1, 2, false}, {1, 2, true}, {2, 4, false}, {2, 3, false}, // TB13 to TB16
	{3, 4, false}, {3, 4, true}, {2, 3, true}, {2, 4, true}, // TB17 to TB20
}

func (c Chirality) reorderBipyramid(order []int8) Chirality {
	row := bipyramids[c-TB1]
	from, to, clockwise := now(order, row.from), now(order, row.to), row.clockwise
	// The three others in their old order, by their new places: sorting them
	// turns the sense once for each exchange.
	var others [3]int8
	n := 0
	for was := range int8(5) {
		if was != row.from && was != row.to {
			others[n] = now(order, was)
			n++
		}
	}
	if odd(others[:]) {
		clockwise = !clockwise
	}
	if from > to {
		from, to, clockwise = to, from, !clockwise
	}
	for k, other := range bipyramids {
		if other.from == from && other.to == to && other.clockwise == clockwise {
			return TB1 + Chirality(k)
		}
	}
	return NotChiral
}

// octahedra is the specification's table of octahedral numbers: the place
// opposite to the first, the shape that the others draw in their order, and
// whether it is drawn clockwise, seen from the first.
var octahedra = [30]struct {
	opposite  int8
	shape     byte
	clockwise bool
}{
	{5, 'U', false}, {5, 'U', true}, {4, 'U', false}, {5, 'Z', false}, {4, 'Z', false}, // OH1 to OH5
	{3, 'U', false}, {3, 'Z', false}, {5, '4', true}, {4, '4', true}, {5, '4', false}, // OH6 to OH10
	{4, '4', false}, {3, '4', true}, {3, '4', false}, {5, 'Z', true}, {4, 'Z', true}, // OH11 to OH15
	{4, 'U', true}, {3, 'Z', true}, {3, 'U', true}, {2, 'U', false}, {2, 'Z', false}, // OH16 to OH20
	{2, '4', true}, {2, '4', false}, {2, 'Z', true}, {2, 'U', true}, {1, 'U', false}, // OH21 to OH25
	{1, 'Z', false}, {1, '4', true}, {1, '4', false}, {1, 'Z', true}, {1, 'U', true}, // OH26 to OH30
}

// axis is a direction in space: an axis 0 to 2 and its sense.
type axis struct {
	line     int8
	negative bool
}

func (a axis) opposite() axis { return axis{a.line, !a.negative} }

// cross is the vector product of two perpendicular directions.
func (a axis) cross(b axis) axis {
	product := axis{line: 3 - a.line - b.line}
	product.negative = (b.line-a.line+3)%3 != 1
	product.negative = product.negative != (a.negative != b.negative)
	return product
}

// turnOrder returns which of the four places beside an axis come one after
// the other, by the shape they draw: U follows the circle, Z crosses it
// between its second and third, 4 between its first and second and its third
// and fourth. The turn is that of the first two of U and Z and of the middle
// two of 4.
func turnOrder(shape byte) [4]int8 {
	switch shape {
	case 'Z':
		return [4]int8{0, 1, 3, 2}
	case '4':
		return [4]int8{1, 2, 0, 3}
	}
	return [4]int8{0, 1, 2, 3}
}

func (c Chirality) reorderOctahedron(order []int8) Chirality {
	// Put the ligands on axes: the first up, and the four beside it round it.
	row := octahedra[c-OH1]
	up, side := axis{line: 2}, axis{line: 0}
	var at [6]axis // by old place
	at[0], at[row.opposite] = up, up.opposite()
	beside := without(0, row.opposite)
	for _, k := range turnOrder(row.shape) {
		at[beside[k]] = side
		if row.clockwise {
			side = side.cross(up)
		} else {
			side = up.cross(side)
		}
	}
	// Read the same from the new first.
	var seen [6]axis // by new place
	for k, was := range order {
		seen[k] = at[was]
	}
	up = seen[0]
	opposite := int8(1)
	for seen[opposite] != up.opposite() {
		opposite++
	}
	beside = without(0, opposite)
	shape, from := byte('U'), int8(0)
	switch seen[beside[0]].opposite() {
	case seen[beside[1]]:
		shape, from = '4', 1
	case seen[beside[3]]:
		shape = 'Z'
	}
	clockwise := up.cross(seen[beside[from]]) != seen[beside[from+1]]
	for k, other := range octahedra {
		if other.opposite == opposite && other.shape == shape && other.clockwise == clockwise {
			return OH1 + Chirality(k)
		}
	}
	return NotChiral
}

// without lists the places 0 to 5 without two of them.
func without(a, b int8) [4]int8 {
	var rest [4]int8
	n := 0
	for k := range int8(6) {
		if k != a && k != b {
			rest[n] = k
			n++
		}
	}
	return rest
}
