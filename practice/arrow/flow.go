package arrow

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"ionwright/chem"
	"ionwright/mol"
	"ionwright/practice/answer"
)

// valence returns how many electrons an atom of the element has for bonds and
// lone pairs, and the most that it can have round it; 0 for an element beyond
// the engine.
func valence(e chem.Element) (electrons, most int) {
	switch e {
	case chem.H:
		return 1, 2
	case chem.B:
		return 3, 8
	case chem.C:
		return 4, 8
	case chem.N:
		return 5, 8
	case chem.O:
		return 6, 8
	case chem.F:
		return 7, 8
	case chem.Si:
		return 4, 12
	case chem.P:
		return 5, 12
	case chem.S:
		return 6, 12
	case chem.Cl, chem.Br, chem.I:
		return 7, 12
	}
	return 0, 0
}

// flow are the electrons of a structure, and how many arrows take from where.
type flow struct {
	m      *mol.Mol
	loose  []int                // by atom: in lone pairs and unpaired
	shared map[answer.Place]int // by pair of atoms
	taken  map[answer.Place]int
}

func newFlow(m *mol.Mol) (*flow, error) {
	f := &flow{m: m, loose: make([]int, m.NumAtoms()), shared: map[answer.Place]int{}, taken: map[answer.Place]int{}}
	for v := range m.NumAtoms() {
		a := m.Atom(v)
		n, _ := valence(a.Element)
		if n == 0 {
			return nil, fmt.Errorf("the electrons of atom %d, %s, aren't known here", v+1, a.Element)
		}
		f.loose[v] = n - int(a.Charge) - int(a.Hydrogens)
	}
	for i := range m.NumBonds() {
		b := m.Bond(i)
		order := int(m.KekuleOrder(i))
		f.shared[pair(int(b.Begin), int(b.End))] = 2 * order
		f.loose[b.Begin] -= order
		f.loose[b.End] -= order
	}
	for v, n := range f.loose {
		if n < 0 {
			return nil, fmt.Errorf("atom %d has more bonds than electrons for them", v+1)
		}
	}
	return f, nil
}

// pair is the place of a bond between two atoms, given by index.
func pair(v, w int) answer.Place { return answer.Place{A: min(v, w) + 1, B: max(v, w) + 1} }

// reading is an arrow as this package reads it: one that ends at another atom
// than it begins at makes a bond between the two.
func (f *flow) reading(a answer.Arrow) answer.Arrow {
	switch {
	case !a.To.IsAtom():
	case a.From.IsAtom() && a.From.A != a.To.A:
		a.To = answer.Place{A: min(a.From.A, a.To.A), B: max(a.From.A, a.To.A)}
	case !a.From.IsAtom() && a.To.A != a.From.A && a.To.A != a.From.B:
		// Towards the end of the bond that the atom is bound to.
		x, y := pair(a.From.A-1, a.To.A-1), pair(a.From.B-1, a.To.A-1)
		if (f.shared[x] > 0) != (f.shared[y] > 0) {
			if f.shared[x] == 0 {
				x = y
			}
			a.To = x
		}
	}
	return a
}

// move lets an arrow take its electrons. It fails where they aren't there, and
// where the arrow leads away from where it begins.
func (f *flow) move(a answer.Arrow, gained map[answer.Place]int) error {
	n := f.m.NumAtoms()
	for _, p := range []answer.Place{a.From, a.To} {
		if p.A > n || p.B > n {
			return fmt.Errorf("the arrow %s names atom %d, and %d are drawn", a, max(p.A, p.B), n)
		}
	}
	a = f.reading(a)
	electrons := 2
	if a.Half {
		electrons = 1
	}
	there := f.shared[a.From]
	if a.From.IsAtom() {
		there = f.loose[a.From.A-1]
	}
	if f.taken[a.From] += electrons; f.taken[a.From] > there {
		return fmt.Errorf("the arrow %s takes electrons that aren't there", a)
	}
	if !touch(a.From, a.To) {
		return fmt.Errorf("the arrow %s ends away from where it begins", a)
	}
	gained[a.From] -= electrons
	gained[a.To] += electrons
	return nil
}

func touch(p, q answer.Place) bool {
	return p.A == q.A || p.A == q.B || !p.IsAtom() && (p.B == q.A || p.B == q.B)
}

// Lead returns what the arrows lead to: the structure after the electrons have
// moved, its atoms in the same order. It fails for an arrow that takes
// electrons that aren't there, and where an atom would have too many electrons,
// or a bond half a pair.
func Lead(m *mol.Mol, arrows []answer.Arrow) (*mol.Mol, error) {
	f, err := newFlow(m)
	if err != nil {
		return nil, err
	}
	gained := map[answer.Place]int{}
	for _, a := range arrows {
		if err := f.move(a, gained); err != nil {
			return nil, err
		}
	}
	for p, n := range gained {
		if p.IsAtom() {
			f.loose[p.A-1] += n
		} else {
			f.shared[p] += n
		}
	}
	return f.structure()
}

// structure is the graph with the electrons where they are.
func (f *flow) structure() (*mol.Mol, error) {
	bonds := make([]int, f.m.NumAtoms()) // sum of orders
	b := mol.NewBuilder()
	var places []answer.Place
	for p, n := range f.shared {
		if n%2 != 0 || n > 6 {
			return nil, fmt.Errorf("the bond %s would have %d electrons", p, n)
		}
		if n > 0 {
			bonds[p.A-1] += n / 2
			bonds[p.B-1] += n / 2
			places = append(places, p)
		}
	}
	for v := range f.m.NumAtoms() {
		a := f.m.Atom(v)
		electrons, most := valence(a.Element)
		if round := f.loose[v] + 2*bonds[v] + 2*int(a.Hydrogens); round > most {
			return nil, fmt.Errorf("atom %d, %s, would have %d electrons round it", v+1, a.Element, round)
		}
		a.Charge = int8(electrons - f.loose[v] - bonds[v] - int(a.Hydrogens))
		a.Radical = uint8(f.loose[v] % 2)
		a.Aromatic = false
		b.AddAtom(a)
	}
	slices.SortFunc(places, func(p, q answer.Place) int { return cmp.Or(cmp.Compare(p.A, q.A), cmp.Compare(p.B, q.B)) })
	for _, p := range places {
		b.AddBond(p.A-1, p.B-1, mol.Order(f.shared[p]/2))
	}
	return b.Mol()
}

// ErrSame is what Same fails with where both lead somewhere, but not to the
// same ion and neutral.
var ErrSame = errors.New("the arrows lead to something else")

// Same tells whether two sets of arrows on a structure lead to the same pieces:
// equal atoms joined in the same way, with equal charges and numbers of
// unpaired electrons in each. So other resonance forms, equivalent atoms, and
// arrows to an atom instead of to the bond that forms are the same. The error
// says what is wrong with given, ErrSame if only the outcome.
func Same(m *mol.Mol, key, given []answer.Arrow) error {
	want, err := Lead(m, key)
	if err != nil {
		return err
	}
	have, err := Lead(m, given)
	if err != nil {
		return err
	}
	x, err := pieces(want)
	if err != nil {
		return err
	}
	y, err := pieces(have)
	if err != nil {
		return err
	}
	if !slices.Equal(x, y) || apart(have) > apart(want) {
		return ErrSame
	}
	return nil
}

// pieces describes each connected part: skeleton, charge, unpaired electrons.
func pieces(m *mol.Mol) ([]string, error) {
	var out []string
	for _, atoms := range m.Components() {
		part, err := m.Induced(atoms)
		if err != nil {
			return nil, err
		}
		charge, unpaired := 0, 0
		for v := range part.NumAtoms() {
			charge += int(part.Atom(v).Charge)
			unpaired += int(part.Atom(v).Radical)
		}
		out = append(out, fmt.Sprintf("%s %d %d", answer.Skeleton(part, true), charge, unpaired))
	}
	slices.Sort(out)
	return out, nil
}

// apart is the sum of all charges without their signs.
func apart(m *mol.Mol) int {
	n := 0
	for v := range m.NumAtoms() {
		z := int(m.Atom(v).Charge)
		n += max(z, -z)
	}
	return n
}
