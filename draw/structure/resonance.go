package structure

import (
	"ionwright/chem"
	"ionwright/mol"
)

// lewis is one resonance form of a graph: where the electrons are.
type lewis struct {
	order  []int8 // of the bonds
	charge []int8 // of the atoms, formal
	pairs  []int8 // lone pairs of the atoms
	odd    []int8 // unpaired electrons of the atoms, 0 or 1
}

func (l *lewis) copied() *lewis {
	return &lewis{
		append([]int8(nil), l.order...), append([]int8(nil), l.charge...),
		append([]int8(nil), l.pairs...), append([]int8(nil), l.odd...),
	}
}

// key tells forms apart.
func (l *lewis) key() string {
	var b []byte
	for _, list := range [][]int8{l.order, l.charge, l.odd} {
		for _, v := range list {
			b = append(b, byte(v))
		}
	}
	return string(b)
}

// resonance finds the forms of a graph.
type resonance struct {
	m     *mol.Mol
	known []bool // by atom: takes part; not halogens, which textbooks leave out, and elements without a count of valence electrons
}

// start is the form that the graph is written in; false where an atom has more
// than one unpaired electron.
func (r *resonance) start() (*lewis, bool) {
	n := r.m.NumAtoms()
	l := &lewis{order: make([]int8, r.m.NumBonds()), charge: make([]int8, n), pairs: make([]int8, n), odd: make([]int8, n)}
	r.known = make([]bool, n)
	for i := range l.order {
		l.order[i] = int8(r.m.KekuleOrder(i))
	}
	for i := range n {
		at := r.m.Atom(i)
		if at.Radical > 1 {
			return nil, false
		}
		l.charge[i], l.odd[i] = at.Charge, int8(at.Radical)
		if valence, ok := valenceElectrons(at.Element); ok && valence < 7 {
			r.known[i] = true
			l.pairs[i] = int8(max(0, (valence-int(at.Charge)-r.m.Valence(i)-int(at.Radical))/2))
		}
	}
	return l, true
}

// electrons are those around an atom.
func (r *resonance) electrons(l *lewis, a int) int {
	n := 2*int(r.m.Atom(a).Hydrogens) + 2*int(l.pairs[a]) + int(l.odd[a])
	for _, nb := range r.m.Neighbors(a) {
		n += 2 * int(l.order[nb.Bond])
	}
	return n
}

// pi is the number of an atom's bonds beyond the single ones.
func (r *resonance) pi(l *lewis, a int) int {
	n := 0
	for _, nb := range r.m.Neighbors(a) {
		n += int(l.order[nb.Bond]) - 1
	}
	return n
}

// vacant reports whether a charged atom has room for a pair.
func (r *resonance) vacant(l *lewis, a int) bool {
	return l.charge[a] > 0 && l.odd[a] == 0 && r.electrons(l, a) <= 6
}

// meets reports whether an empty or half-filled orbital of atom a lies along
// those of the double bonds at its neighbor b: not where a has a double bond
// itself, as in a phenyl cation, unless b is the middle of two.
func (r *resonance) meets(l *lewis, a int, bond int32, b int) bool {
	pi := r.pi(l, a)
	return pi == 0 || pi == 1 && l.order[bond] == 2 && r.pi(l, b) == 2
}

// next are the forms that one move leads to.
func (r *resonance) next(l *lewis) []*lewis {
	var out []*lewis
	move := func(change func(to *lewis)) {
		to := l.copied()
		change(to)
		out = append(out, to)
	}
	for a := range l.charge {
		if !r.known[a] {
			continue
		}
		vacant := r.vacant(l, a)
		for _, nb := range r.m.Neighbors(a) {
			b, ab := int(nb.Atom), nb.Bond
			if !r.known[b] {
				continue
			}
			if (vacant || l.odd[a] == 1) && r.meets(l, a, ab, b) {
				for _, far := range r.m.Neighbors(b) {
					c, bc := int(far.Atom), far.Bond
					switch {
					case c == a || !r.known[c] || l.order[bc] < 2:
					case vacant && l.charge[c] <= 0 && l.odd[c] == 0: // a pair of the double bond moves over
						move(func(to *lewis) {
							to.order[bc]--
							to.order[ab]++
							to.charge[a]--
							to.charge[c]++
						})
					case l.odd[a] == 1 && l.odd[c] == 0: // the unpaired electron pairs with one of the double bond
						move(func(to *lewis) {
							to.order[bc]--
							to.order[ab]++
							to.odd[a], to.odd[c] = 0, 1
						})
					}
				}
			}
			if vacant && r.pi(l, a) == 0 && l.pairs[b] > 0 && l.charge[b] <= 0 { // a lone pair becomes a bond
				move(func(to *lewis) {
					to.order[ab]++
					to.pairs[b]--
					to.charge[a]--
					to.charge[b]++
				})
			}
			if l.odd[a] == 1 && l.charge[a] == 0 && r.vacant(l, b) && r.pi(l, a) == r.pi(l, b) { // an ionized double bond
				move(func(to *lewis) {
					to.odd[a], to.odd[b] = 0, 1
					to.charge[a]++
					to.charge[b]--
				})
			}
			if l.charge[a] > 0 && l.order[ab] >= 2 && r.m.Atom(a).Element != chem.C && l.charge[b] == 0 && l.odd[a] == 0 { // a bond becomes a lone pair
				move(func(to *lewis) {
					to.order[ab]--
					to.pairs[a]++
					to.charge[a]--
					to.charge[b]++
				})
			}
		}
	}
	return out
}

// mostForms bounds the search; larger systems have their first forms compared.
const mostForms = 3000

// forms are all that the moves lead to, the graph's own first.
func (r *resonance) forms() []*lewis {
	first, ok := r.start()
	if !ok {
		return nil
	}
	all, seen := []*lewis{first}, map[string]bool{first.key(): true}
	for k := 0; k < len(all) && len(all) < mostForms; k++ {
		for _, to := range r.next(all[k]) {
			if key := to.key(); !seen[key] {
				seen[key] = true
				all = append(all, to)
			}
		}
	}
	return all
}

// rank orders forms as textbooks weigh them; the lowest is the best: few
// charges, complete octets, and lacking electrons and charge at the less
// electronegative atoms (common practice, no source).
func (r *resonance) rank(l *lewis) [4]int {
	var k [4]int
	for a, known := range r.known {
		if !known {
			continue
		}
		q := int(l.charge[a])
		k[0] += max(q, -q)
		if lacking := 8 - r.electrons(l, a); lacking > 0 {
			k[1] += lacking
			k[2] += lacking * electronegativity(r.m.Atom(a).Element)
		}
		k[3] += q * electronegativity(r.m.Atom(a).Element)
	}
	return k
}

// electronegativity is Pauling's, times 100 (values from memory).
func electronegativity(e chem.Element) int {
	switch e {
	case chem.B:
		return 204
	case chem.C:
		return 255
	case chem.N:
		return 304
	case chem.O:
		return 344
	case chem.Al:
		return 161
	case chem.Si:
		return 190
	case chem.P:
		return 219
	case chem.S:
		return 258
	case chem.Ge:
		return 201
	case chem.As:
		return 218
	case chem.Se:
		return 255
	case chem.Sn:
		return 196
	case chem.Te:
		return 210
	}
	return 0
}
