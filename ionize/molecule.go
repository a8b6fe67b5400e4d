package ionize

import (
	"cmp"
	"fmt"
	"math/bits"
	"slices"

	"ionwright/chem"
	"ionwright/mol"
)

// Limits of what the engine takes. The atom limit is the width of the set
// type; the bond limit leaves room for bonds that rearrangements form.
const (
	MaxAtoms = 64  // atoms other than hydrogen
	maxBonds = 128 // bonds of the molecule and those formed on the way
)

// Elements the rules know, in the order of their index in compact counts.
var elements = [...]chem.Element{chem.C, chem.N, chem.O, chem.F, chem.Si, chem.P, chem.S, chem.Cl, chem.Br, chem.I}

const (
	iC = iota
	iN
	iO
	iF
	iSi
	iP
	iS
	iCl
	iBr
	iI
	numElements
	iH = numElements // hydrogen's place in counts
	iD = iH + 1      // deuterium's
)

// A StructureError says why the engine can't take a structure, and at which
// atom (1-based in the order of the graph; 0 when it isn't about one atom).
type StructureError struct {
	Atom   int
	Reason string
}

func (e *StructureError) Error() string {
	if e.Atom > 0 {
		return fmt.Sprintf("ionizing the structure: atom %d: %s", e.Atom, e.Reason)
	}
	return "ionizing the structure: " + e.Reason
}

// atomSet is a set of atom indices.
type atomSet uint64

func (s atomSet) has(i int) bool          { return s>>uint(i)&1 != 0 }
func (s atomSet) with(i int) atomSet      { return s | 1<<uint(i) }
func (s atomSet) without(i int) atomSet   { return s &^ (1 << uint(i)) }
func (s atomSet) len() int                { return bits.OnesCount64(uint64(s)) }
func (s atomSet) first() int              { return bits.TrailingZeros64(uint64(s)) }
func (s atomSet) minus(t atomSet) atomSet { return s &^ t }

// bondSet is a set of bond indices.
type bondSet [2]uint64

func (s bondSet) has(i int) bool { return s[i>>6]>>uint(i&63)&1 != 0 }
func (s bondSet) with(i int) bondSet {
	s[i>>6] |= 1 << uint(i&63)
	return s
}

func (s bondSet) without(i int) bondSet {
	s[i>>6] &^= 1 << uint(i&63)
	return s
}
func (s bondSet) and(t bondSet) bondSet   { return bondSet{s[0] & t[0], s[1] & t[1]} }
func (s bondSet) minus(t bondSet) bondSet { return bondSet{s[0] &^ t[0], s[1] &^ t[1]} }
func (s bondSet) len() int                { return bits.OnesCount64(s[0]) + bits.OnesCount64(s[1]) }

// first is the least bond of the set, which mustn't be empty.
func (s bondSet) first() int {
	if s[0] != 0 {
		return bits.TrailingZeros64(s[0])
	}
	return 64 + bits.TrailingZeros64(s[1])
}

// atom is what the rules ask of one atom of the molecule.
type atom struct {
	element  uint8 // index into elements
	valence  int8  // bonds it has in the neutral molecule, hydrogens counted
	aromatic bool
	inRing   bool
}

// halfBond is a bond seen from one of its atoms.
type halfBond struct{ to, bond uint8 }

// molecule is the structure prepared for fragmentation. The bond table grows
// when a rearrangement forms a bond the molecule didn't have.
type molecule struct {
	atoms     []atom
	ends      [][2]uint8 // the two atoms of each bond
	ownBonds  int        // bonds of the molecule itself; later ones were formed
	adjacency [][]halfBond
	touching  [MaxAtoms]bondSet // bonds at each atom
	mass      []int             // nominal mass of each atom without its hydrogens, Da
	label     []uint16
	aromatic  []ring          // smallest aromatic rings
	strained  []ring          // small rings that aren't aromatic
	hydrogens [MaxAtoms]uint8 // packed, see skeleton.hydrogens
	labelled  bool            // an atom has a label
	formulas  map[counts]chem.Formula
	paired    bonding   // scratch of energies and ring closures
	expanding expansion // scratch of plainSteps
	expanded  bonding
}

// ring is one ring of the molecule as sets.
type ring struct {
	atoms atomSet
	bonds bondSet
}

// prepare checks that the engine can take the structure and lays it out in
// canonical order, so that no choice among equals depends on how it was
// written.
func prepare(source *mol.Mol) (*molecule, error) {
	source, ranks := source.Canonical()
	if hasLabels(source) {
		var err error
		if ranks, err = plainRanks(source, ranks); err != nil {
			return nil, fmt.Errorf("ionizing the structure: %w", err)
		}
	}
	place, heavy, err := countHeavy(source, ranks)
	if err != nil {
		return nil, err
	}
	m := &molecule{
		atoms:     make([]atom, heavy),
		adjacency: make([][]halfBond, heavy),
		mass:      make([]int, heavy),
		label:     make([]uint16, heavy),
		formulas:  map[counts]chem.Formula{},
	}
	charges := make([]int8, heavy)
	for i := range source.NumAtoms() {
		at := source.Atom(i)
		if place[i] < 0 {
			continue
		}
		element, ok := elementIndex(at.Element)
		if !ok {
			return nil, &StructureError{i + 1, fmt.Sprintf("the rules don't cover %s; they cover C, H, N, O, S, P, Si and the halogens", at.Element.Name())}
		}
		if at.Radical != 0 {
			return nil, &StructureError{i + 1, "it is a radical; the engine starts from a molecule with all electrons paired (is a hydrogen missing?)"}
		}
		p := place[i]
		m.atoms[p] = atom{element: element, valence: int8(at.Hydrogens), aromatic: at.Aromatic}
		m.hydrogens[p] = at.Hydrogens
		m.label[p] = at.Isotope
		m.labelled = m.labelled || at.Isotope != 0
		if at.Isotope != 0 {
			m.mass[p] = int(at.Isotope)
		} else {
			m.mass[p] = at.Element.Principal().MassNumber
		}
		charges[p] = at.Charge
	}
	if err := m.addBonds(source, place, charges); err != nil {
		return nil, err
	}
	for i := range source.NumAtoms() {
		if p := place[i]; p >= 0 && charges[p] != 0 {
			return nil, &StructureError{i + 1, "it is charged; the engine takes neutral molecules (a salt doesn't evaporate as such: give the free acid or base)"}
		}
	}
	if err := m.check(source, place); err != nil {
		return nil, err
	}
	m.markRings()
	m.markSpecialRings()
	return m, nil
}

// countHeavy gives each atom that isn't a hydrogen its place, by rank, and -1
// to labelled hydrogens that stand in the graph.
func countHeavy(source *mol.Mol, ranks []int32) (place []int, heavy int, err error) {
	byRank := make([]int, len(ranks))
	for i, r := range ranks {
		byRank[r] = i
	}
	place = make([]int, len(ranks))
	for _, i := range byRank {
		at := source.Atom(i)
		if at.Element == chem.H {
			if at.Isotope > 2 {
				return nil, 0, &StructureError{i + 1, "tritium isn't covered; use deuterium for labels"}
			}
			place[i] = -1
			continue
		}
		place[i] = heavy
		heavy++
	}
	switch {
	case heavy == 0:
		return nil, 0, &StructureError{0, "it has no atom other than hydrogen"}
	case heavy > MaxAtoms:
		return nil, 0, &StructureError{0, fmt.Sprintf("it has %d atoms other than hydrogen; the engine takes up to %d", heavy, MaxAtoms)}
	}
	return place, heavy, nil
}

func elementIndex(e chem.Element) (uint8, bool) {
	for i, known := range elements {
		if known == e {
			return uint8(i), true
		}
	}
	return 0, false
}

// addBonds lays out the bonds. A bond between a positive and a negative atom
// (nitro groups, N-oxides, isocyanides, azides) is written as one order more
// between neutral atoms: the rules count valences, and the two forms are the
// same molecule.
func (m *molecule) addBonds(source *mol.Mol, place []int, charges []int8) error {
	type link struct{ i, j, order int }
	var links []link
	for b := range source.NumBonds() {
		bond := source.Bond(b)
		i, j := place[bond.Begin], place[bond.End]
		if i < 0 || j < 0 {
			if err := m.addLabelledHydrogen(source, bond, i, j); err != nil {
				return err
			}
			continue
		}
		order := bondOrder(source.KekuleOrder(b))
		if order == 0 {
			return &StructureError{int(bond.Begin) + 1, "it has a bond of an order the rules don't know"}
		}
		for charges[i]*charges[j] < 0 {
			order++
			step := int8(1)
			if charges[i] > 0 {
				step = -1
			}
			charges[i] += step
			charges[j] -= step
		}
		m.atoms[i].valence += int8(order)
		m.atoms[j].valence += int8(order)
		links = append(links, link{min(i, j), max(i, j), order})
	}
	if len(links) > maxBonds-16 {
		return &StructureError{0, "it has too many bonds"}
	}
	slices.SortFunc(links, func(a, b link) int { return cmp.Or(cmp.Compare(a.i, b.i), cmp.Compare(a.j, b.j)) })
	for _, l := range links {
		m.link(l.i, l.j)
	}
	m.ownBonds = len(m.ends)
	return nil
}

func bondOrder(o mol.Order) int {
	switch o {
	case mol.Single:
		return 1
	case mol.Double:
		return 2
	case mol.Triple:
		return 3
	}
	return 0
}

func (m *molecule) link(i, j int) int {
	b := len(m.ends)
	m.ends = append(m.ends, [2]uint8{uint8(i), uint8(j)})
	m.adjacency[i] = append(m.adjacency[i], halfBond{uint8(j), uint8(b)})
	m.adjacency[j] = append(m.adjacency[j], halfBond{uint8(i), uint8(b)})
	m.touching[i], m.touching[j] = m.touching[i].with(b), m.touching[j].with(b)
	return b
}

func (m *molecule) addLabelledHydrogen(source *mol.Mol, bond mol.Bond, i, j int) error {
	at, h := i, int(bond.End)
	if i < 0 {
		at, h = j, int(bond.Begin)
	}
	if at < 0 {
		return &StructureError{h + 1, "hydrogen bonded to hydrogen isn't a molecule the rules know"}
	}
	m.atoms[at].valence++
	if source.Atom(h).Isotope == 2 {
		m.hydrogens[at] += 1 << 4
	} else {
		m.hydrogens[at]++
	}
	return nil
}

// check refuses structures whose valences the rules don't know, and those in
// more than one part.
func (m *molecule) check(source *mol.Mol, place []int) error {
	for i := range source.NumAtoms() {
		p := place[i]
		if p < 0 {
			continue
		}
		at := m.atoms[p]
		if !allowedValence(at.element, at.valence) {
			return &StructureError{i + 1, fmt.Sprintf("%s with %d bonds isn't a valence the rules know", elements[at.element].Name(), at.valence)}
		}
		if m.hydrogens[p]&15 > 4 || m.hydrogens[p]>>4 > 4 {
			return &StructureError{i + 1, "it has too many hydrogens"}
		}
	}
	all := m.whole()
	if part := m.reach(&all, 0, noBond, noBond); part != all.atoms {
		return &StructureError{0, "it has more than one part; give one molecule (a salt or a mixture isn't one)"}
	}
	return nil
}

func allowedValence(element uint8, v int8) bool {
	switch element {
	case iC, iSi:
		return v == 4
	case iN:
		return v == 3 || v == 5
	case iP:
		return v == 3 || v == 5
	case iO:
		return v == 2
	case iS:
		return v == 2 || v == 4 || v == 6
	case iI:
		return v == 1 || v == 3 || v == 5
	case iCl, iBr:
		return v == 1 || v == 3 || v == 5 || v == 7
	}
	return v == 1
}

// whole is the skeleton of the entire molecule, without the bonds that
// rearrangements have formed since.
func (m *molecule) whole() skeleton {
	s := skeleton{hydrogens: m.hydrogens}
	for i := range m.atoms {
		s.atoms = s.atoms.with(i)
	}
	for b := range m.ownBonds {
		s.bonds = s.bonds.with(b)
	}
	return s
}

func (m *molecule) markRings() {
	all := m.whole()
	var bridges bondSet
	m.join(&all, &m.paired.joins)
	all.bridges(&m.paired.joins, noBond, &bridges)
	for b, ends := range m.ends {
		if !bridges.has(b) {
			m.atoms[ends[0]].inRing = true
			m.atoms[ends[1]].inRing = true
		}
	}
}

// markSpecialRings keeps the smallest ring through each bond where it is
// aromatic or strained.
func (m *molecule) markSpecialRings() {
	all := m.whole()
	for b, ends := range m.ends {
		i, j := int(ends[0]), int(ends[1])
		if m.atoms[i].aromatic && m.atoms[j].aromatic {
			if r, ok := m.smallestRing(&all, b, func(k int) bool { return m.atoms[k].aromatic }); ok {
				m.aromatic = appendNew(m.aromatic, r)
			}
		} else if r, ok := m.smallestRing(&all, b, func(int) bool { return true }); ok && r.atoms.len() < len(strain) {
			m.strained = appendNew(m.strained, r)
		}
	}
}

func appendNew(rings []ring, r ring) []ring {
	if slices.Contains(rings, r) {
		return rings
	}
	return append(rings, r)
}

// smallestRing finds the smallest ring of s through the bond over atoms that
// qualify, breadth first; false where the bond is in none.
func (m *molecule) smallestRing(s *skeleton, bond int, qualifies func(atom int) bool) (ring, bool) {
	i, j := int(m.ends[bond][0]), int(m.ends[bond][1])
	var from [MaxAtoms]halfBond
	var queue [MaxAtoms]uint8
	seen := atomSet(0).with(i)
	queue[0] = uint8(i)
	for head, tail := 0, 1; head < tail && !seen.has(j); head++ {
		at := queue[head]
		for _, half := range m.adjacency[at] {
			to := int(half.to)
			if int(half.bond) == bond || seen.has(to) || !s.bonds.has(int(half.bond)) || !qualifies(to) {
				continue
			}
			seen = seen.with(to)
			from[to] = halfBond{at, half.bond}
			queue[tail] = half.to
			tail++
		}
	}
	if !seen.has(j) {
		return ring{}, false
	}
	var r ring
	r.bonds = r.bonds.with(bond)
	for at := j; ; at = int(from[at].to) {
		r.atoms = r.atoms.with(at)
		if at == i {
			return r, true
		}
		r.bonds = r.bonds.with(int(from[at].bond))
	}
}

// form returns the bond between i and j, adding it to the table when the
// molecule hasn't it; false when the table is full.
func (m *molecule) form(i, j int) (int, bool) {
	for _, half := range m.adjacency[i] {
		if int(half.to) == j {
			return int(half.bond), true
		}
	}
	if len(m.ends) >= maxBonds {
		return 0, false
	}
	return m.link(i, j), true
}
