package smiles

import (
	"slices"
	"strconv"
	"strings"
	"sync"

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
