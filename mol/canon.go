package mol

import "slices"

// Canonical returns the molecule as its canonical SMILES shows it, and a rank
// for each atom, 0 to NumAtoms-1. Aromaticity is perceived, and marks of
// arrangements that aren't any are removed: those on atoms and double bonds
// with two equivalent substituents, in rings of fewer than 8 atoms, and on
// three-bonded nitrogen that inverts (not in a three-membered ring nor shared
// by three rings).
//
// The ranks depend on the structure only: renumbering the atoms renumbers
// them, up to a symmetry of the molecule. Atoms of one connected part have
// ranks that follow each other.
//
// The work on one part is bounded by [canonicalWork] steps. No molecule known
// to us needs more; a part that did (many thousands of atoms of high symmetry
// without cut bonds) would get ranks that may depend on the numbering.
func (m *Mol) Canonical() (*Mol, []int32) {
	m = m.Aromatize()
	ranks := make([]int32, len(m.atoms))
	s := acquire()
	defer s.release()
	c := newCanonizer(m, s)
	if m.parts == 1 {
		all := s.ints(len(m.atoms))
		for i := range all {
			all[i] = int32(i)
		}
		c.part(all, c.everyElement())
		for i, at := range c.lab {
			ranks[at] = int32(i)
		}
	} else {
		c.manyParts(ranks)
	}
	return c.cleaned(), ranks
}

// CanonicalRanks returns the ranks of [Mol.Canonical].
func (m *Mol) CanonicalRanks() []int32 {
	_, ranks := m.Canonical()
	return ranks
}

// Classes returns a class for each atom, 0 and up, that refinement by
// neighbors finds, arrangements in space included: atoms of different classes
// are never equivalent. Atoms of one class are, but for graphs of an unusual
// regularity and for what [Mol.Canonical] can tell apart only by trying. The
// classes don't depend on the order of the atoms.
func (m *Mol) Classes() []int32 {
	m = m.Aromatize()
	classes := make([]int32, len(m.atoms))
	s := acquire()
	defer s.release()
	c := newCanonizer(m, s)
	next := int32(0)
	all := make([]int32, len(m.atoms))
	for i := range all {
		all[i] = int32(i)
	}
	c.take(all, c.everyElement())
	for i, at := range c.lab {
		if i > 0 && c.cell[at] != c.cell[c.lab[i-1]] {
			next++
		}
		classes[at] = next
	}
	return classes
}

// newCanonizer returns a canonizer of m, which is aromatized.
func newCanonizer(m *Mol, s *scratch) *canonizer {
	c := &canonizer{m: m, s: s, partition: newPartition(m, s)}
	if m.stereo {
		c.m = m.plausible()
		c.partition.m = c.m
		c.elements = c.m.stereoElements()
	}
	c.keys()
	return c
}

// take begins with the cells that refinement finds among atoms, whose
// arrangements are elements.
func (c *canonizer) take(atoms []int32, elements []int) {
	c.work = 0
	c.begin(atoms, c.key)
	c.mine = append(c.mine[:0], elements...)
	c.settle()
}

// everyElement lists all elements.
func (c *canonizer) everyElement() []int {
	list := make([]int, len(c.elements))
	for i := range list {
		list[i] = i
	}
	return list
}

// canonicalWork bounds the work on one part, in bonds looked at.
const canonicalWork = 20_000_000

// canonizer ranks the atoms of a molecule.
type canonizer struct {
	*partition
	m        *Mol
	s        *scratch
	key      []uint64 // by atom: what is known of it without its neighbors
	elements []element
	mine     []int   // elements of the part at hand
	core     []int32 // by atom: not 0 = in a ring or between rings
	// buffers
	coreQueue []int32
}

// manyParts ranks the parts one after the other, then orders them: by size,
// keys and bonds as their ranks list them.
func (c *canonizer) manyParts(ranks []int32) {
	type ranked struct {
		lab  []int32
		keys []uint64
		code []int32
	}
	components := c.m.Components()
	parts := make([]ranked, len(components))
	partOf := make([]int, len(c.m.atoms))
	for k, component := range components {
		for _, at := range component {
			partOf[at] = k
		}
	}
	elements := make([][]int, len(components))
	for i := range c.elements {
		k := partOf[c.elements[i].home()]
		elements[k] = append(elements[k], i)
	}
	var atoms []int32
	for k, component := range components {
		atoms = atoms[:0]
		for _, at := range component {
			atoms = append(atoms, int32(at))
		}
		c.part(atoms, elements[k])
		parts[k].lab = append([]int32(nil), c.lab...)
		for _, at := range c.lab {
			parts[k].keys = append(parts[k].keys, c.key[at])
		}
		parts[k].code = c.code(c.whole())
	}
	slices.SortStableFunc(parts, func(a, b ranked) int {
		if d := len(a.lab) - len(b.lab); d != 0 {
			return d
		}
		if d := slices.Compare(a.keys, b.keys); d != 0 {
			return d
		}
		return slices.Compare(a.code, b.code)
	})
	next := int32(0)
	for _, part := range parts {
		for _, at := range part.lab {
			ranks[at] = next
			next++
		}
	}
}

// keys computes the first invariant of each atom. Its order decides which
// atoms rank low: those with few bonds.
func (c *canonizer) keys() {
	m := c.m
	c.key = c.s.words(len(m.atoms))
	for i := range m.atoms {
		a := &m.atoms[i]
		ring := uint64(0)
		for _, nb := range m.neighbors[m.start[i]:m.start[i+1]] {
			if m.bonds[nb.Bond].ring {
				ring++
			}
		}
		key := uint64(min(m.Degree(i), 63))
		key = key<<3 | min(ring, 7)
		key = key<<1 | bit(a.Aromatic)
		key = key<<7 | uint64(a.Element)
		key = key<<8 | uint64(a.Hydrogens)
		key = key<<8 | uint64(uint8(a.Charge)^0x80)
		key = key<<10 | uint64(a.Isotope)
		key = key<<4 | uint64(min(a.Radical, 15))
		if a.Class != 0 {
			key ^= mix(uint64(a.Class))
		}
		c.key[i] = key
	}
}

func bit(b bool) uint64 {
	if b {
		return 1
	}
	return 0
}

// mix spreads a number over 64 bits (the finalizer of SplitMix64: Steele, Lea
// and Flood, OOPSLA 2014).
func mix(x uint64) uint64 {
	x += 0x9e3779b97f4a7c15
	x = (x ^ x>>30) * 0xbf58476d1ce4e5b9
	x = (x ^ x>>27) * 0x94d049bb133111eb
	return x ^ x>>31
}

// part brings the atoms of one connected part into canonical order, in
// c.lab.
func (c *canonizer) part(atoms []int32, elements []int) {
	c.take(atoms, elements)
	if len(c.mine) > 0 {
		c.dropEmptyMarks()
	}
	if c.discrete() {
		return
	}
	c.findCore()
	before := c.save(c.whole())
	if c.explore(c.whole()) {
		c.retrace(before)
	}
	c.descend(c.whole())
	for _, i := range c.mine {
		c.elements[i].value = c.reading(&c.elements[i])
	}
}

// settle refines, taking in each arrangement as soon as its ligands can be
// told apart.
func (c *canonizer) settle() {
	c.refine()
	for len(c.mine) > 0 && c.resolve() {
		c.refine()
	}
}

// findCore marks what is left of the part when end atoms are cut off again
// and again: its rings and what links them.
func (c *canonizer) findCore() {
	m := c.m
	if c.core == nil {
		c.core, c.coreQueue = c.s.zeros(len(m.atoms)), c.s.ints(len(m.atoms))
	}
	queue := c.coreQueue[:0]
	for _, at := range c.lab {
		c.core[at] = int32(m.Degree(int(at)))
		if c.core[at] <= 1 {
			queue = append(queue, at)
		}
	}
	for head := 0; head < len(queue); head++ {
		at := queue[head]
		c.core[at] = 0
		for _, nb := range m.Neighbors(int(at)) {
			if c.core[nb.Atom] > 0 {
				c.core[nb.Atom]--
				if c.core[nb.Atom] == 1 {
					queue = append(queue, nb.Atom)
				}
			}
		}
	}
}
