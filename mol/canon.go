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
		c.part(all)
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
	c.take(all)
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

// take begins with the cells that refinement finds among atoms.
func (c *canonizer) take(atoms []int32) {
	c.work = 0
	c.begin(atoms, c.key)
	c.mine = c.mine[:0]
	for i := range c.elements {
		if _, inside := slices.BinarySearch(atoms, c.elements[i].home()); inside {
			c.mine = append(c.mine, i)
		}
	}
	c.settle()
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
	mine     []int // elements of the part at hand
	core     []int32
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
	for k, component := range components {
		atoms := make([]int32, len(component))
		for i, at := range component {
			atoms[i] = int32(at)
		}
		c.part(atoms)
		parts[k].lab = append([]int32(nil), c.lab...)
		for _, at := range c.lab {
			parts[k].keys = append(parts[k].keys, c.key[at])
		}
		parts[k].code = c.code(nil)
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
func (c *canonizer) part(atoms []int32) {
	c.take(atoms)
	if len(c.mine) > 0 {
		c.dropEmptyMarks()
	}
	if c.discrete() {
		return
	}
	c.core = nil
	c.restore(c.explore().saved)
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

// leaf is a partition into single atoms, with its code: the bonds and
// arrangements as its order lists them. Leaves of one code differ by a
// symmetry of the part.
type leaf struct {
	saved
	code []int32
}

// explore returns the leaf of lowest code among those to which the present
// partition leads. Where all are known to be equivalent it takes the first.
// Else it individualizes each atom of one cell in turn, without those that a
// symmetry found on the way maps to one that has been tried.
func (c *canonizer) explore() leaf {
	if c.equivalent() {
		return c.descend()
	}
	cell := c.target()
	here := c.save(c.s)
	values := c.values()
	members := append([]int32(nil), c.lab[cell:cell+c.size[cell]]...)
	same := newOrbits(len(members))
	var best leaf
	for i, at := range members {
		if i > 0 {
			if same.find(i) != i {
				continue
			}
			if c.work > canonicalWork {
				break
			}
		}
		step := func() {
			c.restore(here)
			c.recall(values)
			c.individualize(at)
			c.settle()
		}
		step()
		if i == 0 {
			best = c.explore()
			continue
		}
		other := c.descend()
		if !slices.Equal(other.code, best.code) {
			step()
			other = c.explore()
		}
		switch slices.Compare(other.code, best.code) {
		case 0:
			same.join(members, best.lab, other.lab)
		case -1:
			best = other
		}
	}
	return best
}

// descend goes to a leaf by always taking the first atom of the first cell.
func (c *canonizer) descend() leaf {
	for start := int32(0); !c.discrete(); {
		for c.size[start] == 1 {
			start++
		}
		c.individualize(c.lab[start])
		c.settle()
	}
	return leaf{c.save(c.s), c.code(nil)}
}

// code lists the bonds of a partition into single atoms, each at its later
// atom, and the values of the arrangements.
func (c *canonizer) code(dst []int32) []int32 {
	m := c.m
	for i, at := range c.lab {
		begin := len(dst)
		for _, nb := range m.neighbors[m.start[at]:m.start[at+1]] {
			if p := c.pos[nb.Atom]; p < int32(i) {
				dst = append(dst, p<<3|int32(m.bonds[nb.Bond].Order))
			}
		}
		slices.Sort(dst[begin:])
		dst = append(dst, -1)
	}
	if len(c.mine) > 0 {
		begin := len(dst)
		for _, i := range c.mine {
			e := &c.elements[i]
			dst = append(dst, c.pos[e.home()]<<7|int32(e.value))
		}
		slices.Sort(dst[begin:])
	}
	return dst
}

// target is the cell to individualize in: the first of the smallest with
// several atoms, among those of the core unless arrangements are open.
func (c *canonizer) target() int32 {
	best := int32(-1)
	for pass := 0; best < 0; pass++ {
		for cell := int32(0); cell < int32(len(c.lab)); cell += c.size[cell] {
			if c.size[cell] == 1 || pass == 0 && c.core[c.lab[cell]] == 0 {
				continue
			}
			if best < 0 || c.size[cell] < c.size[best] {
				best = cell
			}
		}
	}
	return best
}

// equivalent tells whether all leaves from here are known to be equivalent.
// Trees hanging on the core are settled by their colors (two atoms of one cell
// carry equal trees), so the core decides. There it is so if all its cells
// with several atoms are pairs, but one triple perhaps, or if the atoms exceed
// the cells by four at most (McKay, Congr. Numer. 30 (1981) 45, lemma 2.25).
// Arrangements must all be resolved: then every symmetry keeps them.
func (c *canonizer) equivalent() bool {
	if c.open() {
		if c.core == nil {
			c.findCore()
		}
		return false
	}
	if c.core == nil {
		c.findCore()
	}
	excess, several := int32(0), int32(0)
	for cell := int32(0); cell < int32(len(c.lab)); cell += c.size[cell] {
		if size := c.size[cell]; size > 1 && c.core[c.lab[cell]] != 0 {
			excess += size - 1
			several++
		}
	}
	return excess <= several+1 || excess <= 4
}

// findCore marks what is left of the part when end atoms are cut off again
// and again: its rings and what links them.
func (c *canonizer) findCore() {
	m := c.m
	c.core = c.s.zeros(len(m.atoms))
	queue := c.s.ints(len(c.lab))[:0]
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

// orbits joins the members of a cell that symmetries map to each other.
type orbits struct{ parent []int }

func newOrbits(n int) *orbits {
	o := &orbits{make([]int, n)}
	for i := range o.parent {
		o.parent[i] = i
	}
	return o
}

// find returns the first member of the orbit of member i.
func (o *orbits) find(i int) int {
	for o.parent[i] != i {
		i = o.parent[i]
	}
	return i
}

// join takes in the symmetry that maps the order from to the order to.
func (o *orbits) join(members, from, to []int32) {
	place := make(map[int32]int, len(members))
	for i, at := range members {
		place[at] = i
	}
	for k, at := range from {
		i, ok := place[at]
		if !ok {
			continue
		}
		if j, ok := place[to[k]]; ok {
			a, b := o.find(i), o.find(j)
			o.parent[max(a, b)] = min(a, b)
		}
	}
}
