package ionize

import "ionwright/chem"

// lewis is one resonance form of what takes part in a step: the ion that
// reacts, or its pieces while they part. Places are indices into a frame's
// atoms and pairs. Unlike bonding, which is made for speed, it knows where the
// charge sits, and hydrogens that move or leave are atoms.
type lewis struct {
	joined  []bool // by pair: a single bond at least
	pi      []int8 // by pair: bonds beside the first
	charge  []int8 // by atom, formal
	valence []int8 // by atom: bonds it makes in its state of charge, open ones counted
	half    int    // pair that holds one electron only, the other having been taken by ionization; -1 for none
}

// frameAtom is an atom of a frame.
type frameAtom struct {
	element   chem.Element
	group     int8 // valence electrons of the neutral atom
	valence   int8 // bonds of the uncharged atom
	hydrogens int8 // those that stay; ones that move or leave are atoms
	deuterium int8 // of these
	isotope   uint16
	source    int // atom of the engine's molecule; for a hydrogen that acts, the one that bears it
	aromatic  bool
}

// frame is what stays the same while electrons move: the atoms, and the pairs
// of them that are joined at some time.
type frame struct {
	atoms []frameAtom
	pairs [][2]int
	at    [][]halfPair // by atom: its pairs
}

// halfPair is a pair seen from one of its atoms.
type halfPair struct{ to, pair int }

func (f *frame) pair(i, j int) int {
	for _, h := range f.at[i] {
		if h.to == j {
			return h.pair
		}
	}
	p := len(f.pairs)
	f.pairs = append(f.pairs, [2]int{i, j})
	f.at[i] = append(f.at[i], halfPair{j, p})
	f.at[j] = append(f.at[j], halfPair{i, p})
	return p
}

func (f *frame) add(a frameAtom) int {
	f.atoms = append(f.atoms, a)
	f.at = append(f.at, nil)
	return len(f.atoms) - 1
}

// hole is what happens to an atom that gives an electron away: carbon and
// silicon are left with an empty orbital and make one bond less, the others
// share a lone pair and make one bond more.
func (a *frameAtom) hole(charge int8) (valence int8) {
	switch {
	case charge == 0:
		return a.valence
	case a.group == 4 || charge < 0:
		return a.valence - 1
	}
	return a.valence + 1
}

func (l *lewis) clone() *lewis {
	return &lewis{
		joined: append([]bool(nil), l.joined...), pi: append([]int8(nil), l.pi...),
		charge: append([]int8(nil), l.charge...), valence: append([]int8(nil), l.valence...), half: l.half,
	}
}

// bonds is the number of bonds that atom i has.
func (f *frame) bonds(l *lewis, i int) int8 {
	n := f.atoms[i].hydrogens
	for _, h := range f.at[i] {
		if l.joined[h.pair] {
			n += 1 + l.pi[h.pair]
		}
	}
	return n
}

// left is the number of open bonds of atom i; negative where it has too many.
func (f *frame) left(l *lewis, i int) int8 { return l.valence[i] - f.bonds(l, i) }

// loose is the number of electrons of atom i that are in no bond.
func (f *frame) loose(l *lewis, i int) int8 {
	return f.atoms[i].group - l.charge[i] - f.bonds(l, i)
}

// shared is the number of electrons in a pair.
func (l *lewis) shared(pair int) int8 {
	if !l.joined[pair] {
		return 0
	}
	n := 2 * (1 + l.pi[pair])
	if l.half == pair {
		n--
	}
	return n
}

// degree is the number of atoms of the frame joined to atom i.
func (f *frame) degree(l *lewis, i int) int {
	n := 0
	for _, h := range f.at[i] {
		if l.joined[h.pair] {
			n++
		}
	}
	return n
}

// piAt is the number of pi bonds at atom i.
func (f *frame) piAt(l *lewis, i int) int8 {
	n := int8(0)
	for _, h := range f.at[i] {
		if l.joined[h.pair] {
			n += l.pi[h.pair]
		}
	}
	return n
}

// component returns the atoms joined to atom i.
func (f *frame) component(l *lewis, i int) []bool {
	seen := make([]bool, len(f.atoms))
	seen[i] = true
	for stack := []int{i}; len(stack) > 0; {
		at := stack[len(stack)-1]
		stack = stack[:len(stack)-1]
		for _, h := range f.at[at] {
			if l.joined[h.pair] && !seen[h.to] {
				seen[h.to] = true
				stack = append(stack, h.to)
			}
		}
	}
	return seen
}

// possible reports whether the form is one that can be written: no atom with
// more bonds than its state allows, electrons for all of them, and no more than
// eight around an atom of the second period.
func (f *frame) possible(l *lewis) bool {
	for i := range f.atoms {
		a := &f.atoms[i]
		bonds := f.bonds(l, i)
		loose := a.group - l.charge[i] - bonds
		if l.valence[i] < bonds || loose < 0 {
			return false
		}
		if a.element == chem.H && bonds > 1 {
			return false
		}
		if a.element <= chem.Ne && a.element != chem.H && loose+2*bonds > 8 {
			return false
		}
	}
	return true
}
