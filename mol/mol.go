package mol

import (
	"fmt"
	"sync/atomic"
)

// Mol is a molecular graph, of one or several connected parts. It never
// changes after it is made; the zero value is the empty graph.
type Mol struct {
	atoms     []Atom
	bonds     []Bond
	start     []int32 // neighbors of atom i: neighbors[start[i]:start[i+1]]
	neighbors []Neighbor
	parts     int                      // number of connected parts
	stereo    bool                     // some atom or bond carries an arrangement
	perceived bool                     // the aromatic marks are those that Aromatize gives
	rings     atomic.Pointer[ringInfo] // found when first asked for
}

// New makes a graph of copies of atoms and bonds. The neighbors of an atom
// are in the order of the bonds.
//
// It fails where a bond names no atom or joins an atom to itself, where two
// bonds join one pair of atoms, where an order, an element or an isotope isn't
// one, where aromatic bonds have no Kekule form (a *[KekuleError]), and where
// the graph is larger than [MaxAtoms] or its formula doesn't fit a
// [chem.Formula]. Valences are not checked: ions and radicals of any kind are
// graphs.
func New(atoms []Atom, bonds []Bond) (*Mol, error) {
	return newOwned(append(make([]Atom, 0, len(atoms)), atoms...), append(make([]Bond, 0, len(bonds)), bonds...))
}

// newOwned is New for slices that nobody else has.
func newOwned(atoms []Atom, bonds []Bond) (*Mol, error) {
	m, err := assemble(atoms, bonds)
	if err != nil {
		return nil, err
	}
	if err := m.kekulize(); err != nil {
		return nil, err
	}
	return m, nil
}

// assemble makes the graph of slices that nobody else has and marks its ring
// bonds; the Kekule orders of aromatic bonds are left open.
func assemble(atoms []Atom, bonds []Bond) (*Mol, error) {
	if err := checkAtoms(atoms); err != nil {
		return nil, err
	}
	n := len(atoms)
	m := &Mol{
		atoms:     atoms,
		bonds:     bonds,
		start:     make([]int32, n+1),
		neighbors: make([]Neighbor, 2*len(bonds)),
	}
	for i := range m.atoms {
		if m.atoms[i].Chirality != NotChiral {
			m.stereo = true
		}
	}
	for i := range m.bonds {
		b := &m.bonds[i]
		if uint32(b.Begin) >= uint32(n) || uint32(b.End) >= uint32(n) {
			return nil, fmt.Errorf("bond %d joins atoms %d and %d of a graph with %d atoms", i+1, b.Begin+1, b.End+1, n)
		}
		if b.Begin == b.End {
			return nil, fmt.Errorf("bond %d joins atom %d to itself", i+1, b.Begin+1)
		}
		if b.Order < Single || b.Order > Aromatic {
			return nil, fmt.Errorf("bond %d has no order (%d)", i+1, b.Order)
		}
		b.kekule, b.ring = b.Order, false
		if b.Stereo != NoStereo {
			m.stereo = true
		}
		m.start[b.Begin+1]++
		m.start[b.End+1]++
	}
	for i := range m.atoms {
		m.start[i+1] += m.start[i]
	}
	// start[i] serves as the cursor of atom i while the lists are filled and
	// ends as the start of atom i+1; shifting by one restores it.
	for i := range m.bonds {
		b := &m.bonds[i]
		m.neighbors[m.start[b.Begin]] = Neighbor{b.End, int32(i)}
		m.neighbors[m.start[b.End]] = Neighbor{b.Begin, int32(i)}
		m.start[b.Begin]++
		m.start[b.End]++
	}
	copy(m.start[1:], m.start[:n])
	m.start[0] = 0
	s := acquire()
	defer s.release()
	if err := m.checkDoubled(s); err != nil {
		return nil, err
	}
	m.markRings(s)
	return m, nil
}

// checkDoubled fails where two bonds join one pair of atoms.
func (m *Mol) checkDoubled(s *scratch) error {
	seen := s.ints(len(m.atoms))
	for i := range seen {
		seen[i] = -1
	}
	for i := range m.atoms {
		for _, nb := range m.Neighbors(i) {
			if seen[nb.Atom] == int32(i) {
				return &DoubledError{Bond: int(nb.Bond)}
			}
			seen[nb.Atom] = int32(i)
		}
	}
	return nil
}

// DoubledError says which bond joins a pair of atoms that another bond joins
// already.
type DoubledError struct {
	Bond int // index
}

func (e *DoubledError) Error() string {
	return fmt.Sprintf("bond %d joins two atoms that another bond joins already", e.Bond+1)
}

// NumAtoms returns the number of atoms in the graph, without the hydrogens
// that are only counted.
func (m *Mol) NumAtoms() int { return len(m.atoms) }

// NumBonds returns the number of bonds in the graph.
func (m *Mol) NumBonds() int { return len(m.bonds) }

// Atom returns the atom with that index, 0 to NumAtoms-1; another index
// panics.
func (m *Mol) Atom(i int) Atom { return m.atoms[i] }

// Bond returns the bond with that index, 0 to NumBonds-1; another index
// panics.
func (m *Mol) Bond(i int) Bond { return m.bonds[i] }

// Neighbors returns the neighbors of atom i in the order of their bonds. The
// slice is shared: don't change it.
func (m *Mol) Neighbors(i int) []Neighbor {
	begin, end := m.start[i], m.start[i+1]
	return m.neighbors[begin:end:end]
}

// Degree returns the number of bonds of atom i in the graph.
func (m *Mol) Degree(i int) int { return int(m.start[i+1] - m.start[i]) }

// BondBetween returns the index of the bond that joins atoms i and j, and
// false where there is none.
func (m *Mol) BondBetween(i, j int) (int, bool) {
	if m.Degree(j) < m.Degree(i) {
		i, j = j, i
	}
	for _, nb := range m.Neighbors(i) {
		if nb.Atom == int32(j) {
			return int(nb.Bond), true
		}
	}
	return 0, false
}

// RingBond tells whether the bond is part of a ring.
func (m *Mol) RingBond(bond int) bool { return m.bonds[bond].ring }

// RingAtom tells whether the atom is part of a ring.
func (m *Mol) RingAtom(i int) bool {
	for _, nb := range m.Neighbors(i) {
		if m.bonds[nb.Bond].ring {
			return true
		}
	}
	return false
}

// KekuleOrder returns the order of the bond in one Kekule form: its own
// order, or [Single] or [Double] for an aromatic one.
func (m *Mol) KekuleOrder(bond int) Order { return m.bonds[bond].kekule }

// Valence returns the sum of the bond orders of atom i, hydrogens counted,
// aromatic bonds as in one Kekule form.
func (m *Mol) Valence(i int) int {
	sum := int(m.atoms[i].Hydrogens)
	for _, nb := range m.Neighbors(i) {
		sum += int(m.bonds[nb.Bond].kekule)
	}
	return sum
}

// shallow returns a Mol that shares everything with m.
func (m *Mol) shallow() *Mol {
	return &Mol{
		atoms: m.atoms, bonds: m.bonds, start: m.start, neighbors: m.neighbors,
		parts: m.parts, stereo: m.stereo, perceived: m.perceived,
	}
}

// copied returns a Mol with its own atoms and bonds, to be changed before it is
// shared. The connections must stay.
func (m *Mol) copied() *Mol {
	result := m.shallow()
	result.atoms = append([]Atom(nil), m.atoms...)
	result.bonds = append([]Bond(nil), m.bonds...)
	return result
}
