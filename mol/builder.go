package mol

import (
	"fmt"
	"slices"
)

// Builder makes a graph step by step, from nothing or from a copy of another
// graph. Indexes stay as they are until [Builder.Mol]: removed atoms and bonds
// leave a gap there, and what follows moves down. A wrong call is remembered
// and reported by Mol. A Builder is for one goroutine.
type Builder struct {
	atoms       []Atom
	bonds       []Bond
	goneAtoms   []bool // nil as long as none is removed
	goneBonds   []bool
	arrangement []arranged // what the stereo marks of the original refer to
	err         error
}

// NewBuilder returns a Builder of the empty graph.
func NewBuilder() *Builder { return &Builder{} }

// Edit returns a Builder that begins with a copy of m. The arrangements in
// space stay with their neighbors: they are rewritten when the order of
// neighbors changes, and dropped where a neighbor is lost or gained.
func (m *Mol) Edit() *Builder {
	b := &Builder{
		atoms: append(make([]Atom, 0, len(m.atoms)+4), m.atoms...),
		bonds: append(make([]Bond, 0, len(m.bonds)+4), m.bonds...),
	}
	if m.stereo {
		b.arrangement = m.arrangements()
	}
	return b
}

// NumAtoms returns the number of atoms, removed ones included.
func (b *Builder) NumAtoms() int { return len(b.atoms) }

// NumBonds returns the number of bonds, removed ones included.
func (b *Builder) NumBonds() int { return len(b.bonds) }

// Atom returns atom i as it is now.
func (b *Builder) Atom(i int) Atom { return b.atoms[i] }

// Bond returns bond i as it is now.
func (b *Builder) Bond(i int) Bond { return b.bonds[i] }

// BondBetween returns the index of the bond that joins atoms i and j, and
// false where there is none.
func (b *Builder) BondBetween(i, j int) (int, bool) {
	for at := range b.bonds {
		bond := &b.bonds[at]
		if (int(bond.Begin) == i && int(bond.End) == j || int(bond.Begin) == j && int(bond.End) == i) && !b.goneBond(at) {
			return at, true
		}
	}
	return 0, false
}

// AddAtom adds an atom and returns its index.
func (b *Builder) AddAtom(a Atom) int {
	b.atoms = append(b.atoms, a)
	if b.goneAtoms != nil {
		b.goneAtoms = append(b.goneAtoms, false)
	}
	return len(b.atoms) - 1
}

// SetAtom replaces atom i. Its bonds stay; hydrogens and charge are what the
// new atom says.
func (b *Builder) SetAtom(i int, a Atom) {
	if b.live(i, "set") {
		if a.Chirality != b.atoms[i].Chirality {
			b.forget(i, false)
		}
		b.atoms[i] = a
	}
}

// AddBond joins atoms i and j and returns the index of the bond. Hydrogens
// are not adjusted.
func (b *Builder) AddBond(i, j int, order Order) int {
	if b.live(i, "join") && b.live(j, "join") {
		if _, ok := b.BondBetween(i, j); ok {
			b.fail("joining atoms %d and %d: they are joined already", i+1, j+1)
		}
	}
	b.bonds = append(b.bonds, Bond{Begin: int32(i), End: int32(j), Order: order})
	if b.goneBonds != nil {
		b.goneBonds = append(b.goneBonds, false)
	}
	return len(b.bonds) - 1
}

// SetBond changes the order of bond i.
func (b *Builder) SetBond(i int, order Order) {
	if i < 0 || i >= len(b.bonds) || b.goneBond(i) {
		b.fail("setting bond %d: there is none", i+1)
		return
	}
	b.bonds[i].Order = order
	if order != Double {
		b.SetStereo(i, NoStereo)
	}
}

// SetStereo sets the arrangement at double bond i. It refers to the order of
// neighbors that the finished molecule has.
func (b *Builder) SetStereo(i int, stereo BondStereo) {
	if i < 0 || i >= len(b.bonds) || b.goneBond(i) {
		b.fail("setting the arrangement of bond %d: there is none", i+1)
		return
	}
	b.forget(i, true)
	b.bonds[i].Stereo = stereo
}

// RemoveBond removes bond i. Hydrogens and radicals of its atoms are not
// adjusted.
func (b *Builder) RemoveBond(i int) {
	if i < 0 || i >= len(b.bonds) || b.goneBond(i) {
		b.fail("removing bond %d: there is none", i+1)
		return
	}
	if b.goneBonds == nil {
		b.goneBonds = make([]bool, len(b.bonds), cap(b.bonds))
	}
	b.goneBonds[i] = true
}

// RemoveAtom removes atom i and its bonds. Hydrogens and radicals of its
// neighbors are not adjusted.
func (b *Builder) RemoveAtom(i int) {
	if !b.live(i, "remove") {
		return
	}
	if b.goneAtoms == nil {
		b.goneAtoms = make([]bool, len(b.atoms), cap(b.atoms))
	}
	b.goneAtoms[i] = true
	for at := range b.bonds {
		if bond := &b.bonds[at]; (bond.Begin == int32(i) || bond.End == int32(i)) && !b.goneBond(at) {
			b.RemoveBond(at)
		}
	}
}

func (b *Builder) goneBond(i int) bool { return b.goneBonds != nil && b.goneBonds[i] }

// live tells whether atom i is there; where it isn't the Builder fails.
func (b *Builder) live(i int, verb string) bool {
	if i < 0 || i >= len(b.atoms) || b.goneAtoms != nil && b.goneAtoms[i] {
		b.fail("%s atom %d: there is none", verb, i+1)
		return false
	}
	return true
}

// fail keeps the first mistake.
func (b *Builder) fail(format string, args ...any) {
	if b.err == nil {
		b.err = fmt.Errorf(format, args...)
	}
}

// Mol returns the graph as it is now. It fails where a call before named an
// atom or bond that isn't there, and as [New] does. The Builder may be used
// further; the graph doesn't change with it.
func (b *Builder) Mol() (*Mol, error) {
	if b.err != nil {
		return nil, fmt.Errorf("editing a molecule: %w", b.err)
	}
	m, err := newOwned(b.compacted())
	if err != nil {
		return nil, fmt.Errorf("editing a molecule: %w", err)
	}
	return m, nil
}

// compacted returns copies of atoms and bonds without gaps and with the
// arrangements of the new neighbor order.
func (b *Builder) compacted() ([]Atom, []Bond) {
	atoms := make([]Atom, 0, len(b.atoms))
	bonds := make([]Bond, 0, len(b.bonds))
	if b.goneAtoms == nil && b.arrangement == nil {
		for i, bond := range b.bonds {
			if !b.goneBond(i) {
				bonds = append(bonds, bond)
			}
		}
		return append(atoms, b.atoms...), bonds
	}
	newAtom := make([]int32, len(b.atoms))
	for i, a := range b.atoms {
		newAtom[i] = -1
		if b.goneAtoms == nil || !b.goneAtoms[i] {
			newAtom[i] = int32(len(atoms))
			atoms = append(atoms, a)
		}
	}
	newBond := make([]int32, len(b.bonds))
	for i, bond := range b.bonds {
		newBond[i] = -1
		if !b.goneBond(i) {
			newBond[i] = int32(len(bonds))
			bond.Begin, bond.End = newAtom[bond.Begin], newAtom[bond.End]
			bonds = append(bonds, bond)
		}
	}
	rearrange(atoms, bonds, b.arrangement, newAtom, newBond)
	return atoms, bonds
}

// forget drops what is remembered of the arrangement around an atom or at a
// bond, because it is set anew.
func (b *Builder) forget(center int, bond bool) {
	b.arrangement = slices.DeleteFunc(b.arrangement, func(a arranged) bool {
		return a.bond == bond && a.center == int32(center)
	})
}
