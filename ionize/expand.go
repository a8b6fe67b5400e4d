package ionize

// proposal is a step that a family of rules offers for an ion: the skeleton of
// the ion it leads to, that of the neutral, and what moved. It is a value;
// whether the step is energetically open is decided by the search.
type proposal struct {
	kind          Kind
	ion           skeleton
	neutral       skeleton // empty atoms for the loss of H or H2
	cut           [2]int16 // bonds broken, -1 for none
	formed        int16    // bond formed, -1 for none
	moves         [2]move  // hydrogens moved
	gone          int8     // hydrogens that leave as H or H2
	ontoSaturated bool     // the hydrogen moved to a carbon without lone pair or double bond
	weight        float64  // share of the step's frequency factor: less than 1 for one of several isotopic variants
	heavier       float64  // what deuterium in place of protium adds to the critical energy, eV
}

// move is a hydrogen going from one atom to another; count 0 for none.
type move struct {
	from, to  uint8
	count     uint8
	deuterium bool
	ring      uint8 // members of the ring of the transition state, hydrogen counted
}

// expansion is one ion whose steps are being worked out.
type expansion struct {
	m    *molecule
	s    *skeleton
	b    *bonding
	odd  bool // odd-electron
	rare bool // few of the molecular ions arrive here

	sides []counts // what breaking one bond splits off
	diels []counts // what a retro-Diels-Alder reaction splits off
	ways  []transfer
	take  func(p *proposal)
	made  proposal // the last one offered
}

// emit offers the step.
func (x *expansion) emit(p proposal) {
	x.made = p
	x.made.weight = 1
	x.take(&x.made)
}

// families is the visible list of step families; each offers its steps.
var families = []struct {
	name    string
	propose func(x *expansion)
}{
	{"cleavage of a bond between two parts, with up to two hydrogens moved", proposeCleavages},
	{"cleavage of two bonds of a ring", proposeRingCleavages},
	{"loss of hydrogen", proposeHydrogenLosses},
	{"loss of a group from between two others", proposeExtrusions},
	{"nitro-nitrite rearrangement", proposeNitro},
}

// steps calls emit for every step of the ion s that a rule offers; for a rare
// one, cleavages of two ring bonds are offered without moving a hydrogen.
func (m *molecule) steps(s *skeleton, rare bool, emit func(p *proposal)) {
	if s.hasDeuterium() {
		m.labelledSteps(s, rare, emit)
		return
	}
	m.plainSteps(s, rare, emit)
}

// plainSteps is steps for an ion without deuterium.
func (m *molecule) plainSteps(s *skeleton, rare bool, emit func(p *proposal)) {
	x := &m.expanding
	x.m, x.s, x.b, x.odd, x.rare, x.take = m, s, &m.expanded, m.oddElectron(s), rare, emit
	x.sides, x.diels = x.sides[:0], x.diels[:0]
	m.bond(s, x.b)
	for _, family := range families {
		family.propose(x)
	}
}

// distances returns the number of bonds from the nearest of the atoms from to
// each atom of set along bonds of s inside set; 255 where there is no way, and
// 0 for atoms outside.
func (x *expansion) distances(from, set atomSet) (d [MaxAtoms]uint8) {
	for rest := set; rest != 0; rest &= rest - 1 {
		d[rest.first()] = 255
	}
	frontier, seen := from, from
	for depth := uint8(0); frontier != 0; depth++ {
		var next atomSet
		for rest := frontier; rest != 0; rest &= rest - 1 {
			i := rest.first()
			d[i] = depth
			for _, half := range x.b.at(i) {
				next = next.with(int(half.to))
			}
		}
		frontier = next & set &^ seen
		seen |= frontier
	}
	return d
}

// takeHydrogen moves a hydrogen from atom d of donor to atom c of acceptor.
func takeHydrogen(donor, acceptor *skeleton, d, c int, ring uint8) move {
	donor.hydrogens[d]--
	acceptor.hydrogens[c]++
	return move{from: uint8(d), to: uint8(c), count: 1, ring: ring}
}
