package smiles

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"ionwright/chem"
	"ionwright/mol"
)

// Write returns a SMILES of m in which the atoms come in the order of their
// indexes as far as the bonds allow. What is read again is the same graph,
// with these limits: unpaired electrons are written only as far as the open
// valence of a bracket atom says them (see [mol.UnpairedElectrons]), and of
// double-bond arrangements in rings of double bonds those that the marks / and
// \ can express.
func Write(m *mol.Mol) string {
	w := writers.Get().(*writer)
	defer writers.Put(w)
	w.begin(m, nil)
	w.all()
	return string(w.out)
}

// Canonical returns the canonical SMILES of m: the same for any numbering of
// the atoms and for Kekule and aromatic form, different for different
// molecules. It follows the specification's standard form: aromatic symbols,
// organic-subset atoms without brackets, ring numbers not reused within a part, start at an
// end atom and a heteroatom where there are some, short branches first. Parts
// are sorted. Marks of arrangements that are none are left out
// ([mol.Mol.Canonical]).
func Canonical(m *mol.Mol) string {
	w := writers.Get().(*writer)
	defer writers.Put(w)
	clean, ranks := m.Canonical()
	w.begin(clean, ranks)
	w.all()
	if clean.NumParts() > 1 {
		parts := strings.Split(string(w.out), ".")
		slices.Sort(parts)
		return strings.Join(parts, ".")
	}
	return string(w.out)
}

// writers holds idle writers, for their buffers.
var writers = sync.Pool{New: func() any { return new(writer) }}

// writer writes one molecule. It first walks the graph depth first, so that
// each bond is either of the tree or closes a ring between an atom and one
// above it in the tree; then it writes the tree, small branches first.
type writer struct {
	m     *mol.Mol
	ranks []int32 // nil = in the order of the indexes
	out   []byte

	nearAt   []int32        // by atom: where its neighbors begin in near
	near     []mol.Neighbor // neighbors of all atoms, in the order to walk
	cursor   []int32        // by atom: next neighbor to look at
	visit    []int32        // by atom: number in the walk, 0 = not yet
	parent   []int32        // by atom: the bond to the atom above, -1 = root
	weight   []int32        // by atom: atoms of its branch
	order    []int32        // atoms in the order of the walk
	closures []closure      // ring bonds
	first    []int32        // by atom: its first entry in ends, -1 = none
	ends     []end          // ring bonds as their atoms see them, linked
	stack    []step
	slants   []slant // by bond, then by hydrogen of an atom: direction from the upper atom of the tree to the lower; empty where there are no marks
	taken    []int32 // ring bonds of the atom being written
	numbers  []bool  // by ring number: in use now
	next     int     // lowest ring number never used
}

// closure is a bond that closes a ring.
type closure struct {
	bond   int32
	above  int32 // the atom of the two that comes first
	below  int32
	number int32 // 0 = not open yet
}

// end is a ring bond at one of its atoms.
type end struct {
	closure int32
	next    int32 // in the list of the atom, -1 = last
}

// step is an item of the list of what is still to be written: an atom, or a
// parenthesis.
type step struct {
	atom int32 // -1 = write ')'
	open bool  // write '(' before
}

func (w *writer) begin(m *mol.Mol, ranks []int32) {
	w.m, w.ranks = m, ranks
	n := m.NumAtoms()
	w.out, w.order, w.closures, w.ends, w.stack = w.out[:0], w.order[:0], w.closures[:0], w.ends[:0], w.stack[:0]
	w.visit, w.parent, w.weight, w.first = sized(w.visit, n), sized(w.parent, n), sized(w.weight, n), sized(w.first, n)
	w.nearAt, w.cursor = sized(w.nearAt, n+1), sized(w.cursor, n)
	w.sortNeighbors()
	clear(w.visit)
	for i := range w.first {
		w.first[i] = -1
	}
	clear(w.numbers)
	w.slants = w.slants[:0]
}

func sized(s []int32, n int) []int32 {
	if cap(s) < n {
		return make([]int32, n, n+n/2)
	}
	return s[:n]
}

// rank is the place of an atom in the order to write by.
func (w *writer) rank(at int32) int32 {
	if w.ranks == nil {
		return at
	}
	return w.ranks[at]
}

// all writes the parts in turn, each from its best first atom.
func (w *writer) all() {
	if w.m.NumParts() == 1 {
		w.walk(w.start())
	} else {
		for _, component := range w.m.Components() {
			w.walk(w.startOf(component))
		}
	}
	w.direct()
	for _, at := range w.order {
		if w.parent[at] < 0 {
			if len(w.out) > 0 {
				w.out = append(w.out, '.')
			}
			w.tree(at)
		}
	}
}

// start chooses the first atom of a molecule in one part.
func (w *writer) start() int32 {
	best := int32(0)
	if w.ranks == nil {
		return 0
	}
	bestKey := w.startKey(0)
	for i := int32(1); i < int32(w.m.NumAtoms()); i++ {
		if key := w.startKey(i); key < bestKey {
			best, bestKey = i, key
		}
	}
	return best
}

// startOf chooses the first atom of a part.
func (w *writer) startOf(component []int) int32 {
	if w.ranks == nil {
		return int32(component[0])
	}
	best := int32(component[0])
	for _, i := range component {
		if w.startKey(int32(i)) < w.startKey(best) {
			best = int32(i)
		}
	}
	return best
}

// startKey orders atoms as first ones: few bonds, heteroatoms before carbon
// before hydrogen, then rank.
func (w *writer) startKey(at int32) int64 {
	kind := int64(0)
	switch w.m.Atom(int(at)).Element {
	case chem.C:
		kind = 1
	case chem.H:
		kind = 2
	}
	return int64(w.m.Degree(int(at)))<<36 | kind<<32 | int64(w.rank(at))
}

// walk numbers the atoms of a part depth first and finds its ring bonds.
// Among the neighbors, those by multiple bonds come first, so that a single
// bond closes the ring.
func (w *writer) walk(root int32) {
	m := w.m
	begin := len(w.order)
	w.parent[root] = -1
	w.enter(root)
	for at := root; ; {
		next, end := w.cursor[at], w.nearAt[at+1]
		for next < end && w.visit[w.near[next].Atom] != 0 {
			next++
		}
		w.cursor[at] = next + 1
		if next < end {
			to := w.near[next]
			w.parent[to.Atom] = to.Bond
			w.enter(to.Atom)
			at = to.Atom
			continue
		}
		if at == root {
			break
		}
		up := w.above(at)
		w.weight[up] += w.weight[at]
		at = up
	}
	if len(w.order)-begin == m.NumAtoms() && m.NumBonds() == m.NumAtoms()-1 {
		return // a tree
	}
	// Each bond that isn't of the tree closes a ring. It is listed from its
	// lower end, which comes later.
	for _, at := range w.order[begin:] {
		for _, nb := range m.Neighbors(int(at)) {
			if w.visit[nb.Atom] < w.visit[at] && nb.Bond != w.parent[at] && w.parent[nb.Atom] != nb.Bond {
				c := int32(len(w.closures))
				w.closures = append(w.closures, closure{bond: nb.Bond, above: nb.Atom, below: at})
				w.ends = append(w.ends, end{c, w.first[nb.Atom]}, end{c, w.first[at]})
				w.first[nb.Atom], w.first[at] = int32(len(w.ends)-2), int32(len(w.ends)-1)
			}
		}
	}
}

// sortNeighbors lists the neighbors of each atom in the order to walk: by
// multiple bonds first, then by rank.
func (w *writer) sortNeighbors() {
	m := w.m
	w.near = w.near[:0]
	for i := range m.NumAtoms() {
		begin := len(w.near)
		w.nearAt[i], w.cursor[i] = int32(begin), int32(begin)
		list := m.Neighbors(i)
		if len(list) > manyNeighbors {
			w.near = append(w.near, list...)
			slices.SortFunc(w.near[begin:], func(a, b mol.Neighbor) int { return cmp.Compare(w.walkKey(a), w.walkKey(b)) })
			continue
		}
		for _, nb := range list {
			w.near = append(w.near, nb)
			k, key := len(w.near)-1, w.walkKey(nb)
			for ; k > begin && w.walkKey(w.near[k-1]) > key; k-- {
				w.near[k] = w.near[k-1]
			}
			w.near[k] = nb
		}
	}
	w.nearAt[m.NumAtoms()] = int32(len(w.near))
}

// manyNeighbors is the number of neighbors up to which insertion sorts them.
const manyNeighbors = 16

func (w *writer) walkKey(nb mol.Neighbor) int64 {
	key := int64(w.rank(nb.Atom))
	if w.ranks != nil {
		if o := w.m.Bond(int(nb.Bond)).Order; o == mol.Single || o == mol.Aromatic {
			key += 1 << 32
		}
	}
	return key
}

// enter takes an atom into the walk.
func (w *writer) enter(at int32) {
	w.order = append(w.order, at)
	w.visit[at] = int32(len(w.order))
	w.weight[at] = 1
}

// above is the atom above at in the tree.
func (w *writer) above(at int32) int32 {
	return w.m.Bond(int(w.parent[at])).Other(at)
}

// tree writes the part below root.
func (w *writer) tree(root int32) {
	w.stack = append(w.stack[:0], step{atom: root})
	w.next = 1 // parts are written independently of each other
	for len(w.stack) > 0 {
		s := w.stack[len(w.stack)-1]
		w.stack = w.stack[:len(w.stack)-1]
		if s.atom < 0 {
			w.out = append(w.out, ')')
			continue
		}
		if s.open {
			w.out = append(w.out, '(')
			w.stack = append(w.stack, step{atom: -1})
		}
		at := s.atom
		if up := w.parent[at]; up >= 0 {
			w.bond(up)
		}
		begin := len(w.stack)
		w.stack = w.branches(w.stack, at)
		if begin < len(w.stack) {
			w.stack[begin].open = false // the last branch is the main chain
		}
		w.atom(at)
		w.taken = w.ringBonds(w.taken[:0], at)
		for _, c := range w.taken {
			w.ringBond(at, &w.closures[c])
		}
		if direction := w.hydrogenSlant(at); direction != level {
			w.out = append(w.out, '(')
			w.slant(direction)
			w.out = append(w.out, "[H])"...)
		}
	}
}

// branches appends the atoms below at, the one to be written last first.
func (w *writer) branches(stack []step, at int32) []step {
	begin := len(stack)
	list := w.m.Neighbors(int(at))
	if len(list) > manyNeighbors {
		for _, nb := range list {
			if w.parent[nb.Atom] == nb.Bond && w.visit[nb.Atom] > w.visit[at] {
				stack = append(stack, step{atom: nb.Atom, open: true})
			}
		}
		slices.SortFunc(stack[begin:], func(a, b step) int {
			if w.later(a.atom, b.atom) {
				return -1
			}
			return 1
		})
		return stack
	}
	for _, nb := range list {
		if w.parent[nb.Atom] != nb.Bond || w.visit[nb.Atom] < w.visit[at] {
			continue
		}
		stack = append(stack, step{})
		k := len(stack) - 1
		for ; k > begin && w.later(nb.Atom, stack[k-1].atom); k-- {
			stack[k] = stack[k-1]
		}
		stack[k] = step{atom: nb.Atom, open: true}
	}
	return stack
}

// later tells whether branch a is written after branch b: large branches and
// high ranks are.
func (w *writer) later(a, b int32) bool {
	if w.ranks != nil && w.weight[a] != w.weight[b] {
		return w.weight[a] > w.weight[b]
	}
	return w.rank(a) > w.rank(b)
}

// ringBonds appends the ring bonds of an atom in the order to be written:
// those that close first, each kind in the order of the walk.
func (w *writer) ringBonds(list []int32, at int32) []int32 {
	begin := len(list)
	for i := w.first[at]; i >= 0; i = w.ends[i].next {
		c := w.ends[i].closure
		list = append(list, c)
		k := len(list) - 1
		for ; k > begin && w.closureKey(c, at) < w.closureKey(list[k-1], at); k-- {
			list[k] = list[k-1]
		}
		list[k] = c
	}
	return list
}

func (w *writer) closureKey(c, at int32) int32 {
	if w.closures[c].below == at {
		return w.visit[w.closures[c].above]
	}
	return w.visit[w.closures[c].below]
}

// ringBond writes one end of a ring bond, the bond symbol where it opens.
func (w *writer) ringBond(at int32, c *closure) {
	if c.above == at {
		c.number = w.freeNumber()
		w.bond(c.bond)
	} else {
		w.numbers[c.number] = false
	}
	switch n := int64(c.number); {
	case n < 10:
		w.out = append(w.out, byte('0'+n))
	case n < 100:
		w.out = append(w.out, '%', byte('0'+n/10), byte('0'+n%10))
	default:
		w.out = append(w.out, '%', '(')
		w.out = strconv.AppendInt(w.out, n, 10)
		w.out = append(w.out, ')')
	}
}

// freeNumber takes a ring number that hasn't been used or, when there is none
// of two digits, the lowest that isn't in use.
func (w *writer) freeNumber() int32 {
	n := w.next
	if n < 100 {
		w.next++
	} else {
		n = 1
		for n < len(w.numbers) && w.numbers[n] {
			n++
		}
	}
	for n >= len(w.numbers) {
		w.numbers = append(w.numbers, false)
	}
	w.numbers[n] = true
	return int32(n)
}

// bond writes the symbol of a bond where one is needed.
func (w *writer) bond(bond int32) {
	b := w.m.Bond(int(bond))
	if len(w.slants) > 0 && w.slants[bond] != level {
		w.slant(w.slants[bond])
		return
	}
	both := func() bool { return w.m.Atom(int(b.Begin)).Aromatic && w.m.Atom(int(b.End)).Aromatic }
	switch b.Order {
	case mol.Single:
		if both() {
			w.out = append(w.out, '-')
		}
	case mol.Double:
		w.out = append(w.out, '=')
	case mol.Triple:
		w.out = append(w.out, '#')
	case mol.Quadruple:
		w.out = append(w.out, '$')
	case mol.Aromatic:
		if !both() {
			w.out = append(w.out, ':')
		}
	}
}

// slant writes the mark of a direction.
func (w *writer) slant(direction slant) {
	if direction == above {
		w.out = append(w.out, '/')
	} else {
		w.out = append(w.out, '\\')
	}
}

// hydrogenSlant is the mark of the hydrogen of an atom that is written as an
// atom for its sake.
func (w *writer) hydrogenSlant(at int32) slant {
	if len(w.slants) == 0 {
		return level
	}
	return w.slants[w.m.NumBonds()+int(at)]
}

// atom writes an atom, without brackets where the specification fills in the
// same hydrogens.
func (w *writer) atom(at int32) {
	a := w.m.Atom(int(at))
	if a.Isotope == 0 && a.Charge == 0 && a.Class == 0 && a.Radical == 0 && a.Chirality == mol.NotChiral && w.bare(at, a) {
		w.symbol(a)
		return
	}
	w.out = append(w.out, '[')
	if a.Isotope != 0 {
		w.out = strconv.AppendInt(w.out, int64(a.Isotope), 10)
	}
	w.symbol(a)
	if a.Chirality != mol.NotChiral {
		w.chirality(at, a.Chirality)
	}
	hydrogens := int64(a.Hydrogens)
	if w.hydrogenSlant(at) != level {
		hydrogens-- // written as an atom
	}
	if hydrogens > 0 {
		w.out = append(w.out, 'H')
		if hydrogens > 1 {
			w.out = strconv.AppendInt(w.out, hydrogens, 10)
		}
	}
	if a.Charge != 0 {
		sign, n := byte('+'), int64(a.Charge)
		if n < 0 {
			sign, n = '-', -n
		}
		w.out = append(w.out, sign)
		if n > 1 {
			w.out = strconv.AppendInt(w.out, n, 10)
		}
	}
	if a.Class != 0 {
		w.out = append(w.out, ':')
		w.out = strconv.AppendInt(w.out, int64(a.Class), 10)
	}
	w.out = append(w.out, ']')
}

// bare tells whether the atom reads the same without brackets.
func (w *writer) bare(at int32, a mol.Atom) bool {
	sum := 0
	for _, nb := range w.m.Neighbors(int(at)) {
		if order := w.m.Bond(int(nb.Bond)).Order; order == mol.Aromatic {
			sum++
		} else {
			sum += int(order)
		}
	}
	if a.Element == chem.H {
		return false
	}
	h, ok := mol.ImplicitHydrogens(a.Element, sum, a.Aromatic)
	return ok && h == int(a.Hydrogens)
}

// symbol writes the element's symbol, in small letters where it is aromatic.
func (w *writer) symbol(a mol.Atom) {
	symbol := a.Element.Symbol()
	if !a.Aromatic {
		w.out = append(w.out, symbol...)
		return
	}
	for i := range len(symbol) {
		w.out = append(w.out, symbol[i]|0x20)
	}
}
