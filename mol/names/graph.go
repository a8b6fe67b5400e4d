package names

import (
	"fmt"
	"slices"

	"ionwright/chem"
	"ionwright/mol"
)

// graph is a structure under construction. Bonds have Kekule orders; hydrogens
// are those that the valence leaves free. Atoms of a ring system with the
// maximum number of noncumulative double bonds (mancude, IUPAC 2013 P-25.0)
// stay marked pool, single bonds between them, until place sets the double
// bonds.
type graph struct {
	atoms []atom
	bonds []bond
}

type atom struct {
	element chem.Element
	charge  int8
	labels  []string // the locants that name the atom; shared, never changed
	chain   int      // 1-based position on a chain or ring that counts; 0 elsewhere
	pool    bool     // still to get a double bond of the mancude ring
	open    bool     // may take a substituent that has no locant
	closed  bool     // takes no substituent at all (the hydrogen of an aldehyde)
	site    siteKind // what a class word may do with the atom
	valence int      // where it isn't the element's lowest fitting one; 0 elsewhere
}

// siteKind marks atoms that a class word completes.
type siteKind uint8

const (
	noSite    siteKind = iota
	esterSite          // oxygen of an anion name that wants an alcohol part
	acylSite           // carbon of an acyl name that wants a halide or an anhydride
)

type bond struct {
	a, b  int
	order int // 1 to 3
}

func (g *graph) clone() graph {
	return graph{slices.Clone(g.atoms), slices.Clone(g.bonds)}
}

func (g *graph) addAtom(a atom) int {
	g.atoms = append(g.atoms, a)
	return len(g.atoms) - 1
}

func (g *graph) addBond(a, b, order int) {
	g.bonds = append(g.bonds, bond{a, b, order})
}

// bondBetween returns the index of the bond between a and b, or -1.
func (g *graph) bondBetween(a, b int) int {
	return slices.IndexFunc(g.bonds, func(x bond) bool {
		return x.a == a && x.b == b || x.a == b && x.b == a
	})
}

// neighbors calls visit for each neighbor of atom i.
func (g *graph) neighbors(i int, visit func(j, order int)) {
	for _, b := range g.bonds {
		switch i {
		case b.a:
			visit(b.b, b.order)
		case b.b:
			visit(b.a, b.order)
		}
	}
}

// valences lists the valences of an element, lowest first.
func valences(e chem.Element) []int {
	switch e {
	case chem.H, chem.F, chem.Cl, chem.Br, chem.I:
		return []int{1}
	case chem.O:
		return []int{2}
	case chem.S, chem.Se, chem.Te:
		return []int{2, 4, 6}
	case chem.N:
		return []int{3}
	case chem.P, chem.As:
		return []int{3, 5}
	case chem.B, chem.Al:
		return []int{3}
	case chem.C, chem.Si, chem.Ge, chem.Sn, chem.Pb:
		return []int{4}
	case chem.Hg:
		return []int{2}
	}
	return []int{0}
}

// used is the sum of the orders of an atom's bonds, the pending double bond of
// a mancude ring counted.
func (g *graph) used(i int) int {
	sum := 0
	g.neighbors(i, func(_, order int) { sum += order })
	if g.atoms[i].pool {
		sum++
	}
	return sum
}

// shift is what the charge of atom i adds to its valence: N+ has four bonds,
// O- one, C- three.
func (g *graph) shift(i int) int {
	a := g.atoms[i]
	if a.element == chem.C {
		return -max(int(a.charge), -int(a.charge))
	}
	return int(a.charge)
}

// hydrogens is the number of hydrogens of atom i, or -1 where its bonds exceed
// every valence.
func (g *graph) hydrogens(i int) int {
	a := g.atoms[i]
	used := g.used(i)
	shift := g.shift(i)
	list := valences(a.element)
	if a.valence != 0 {
		list = []int{a.valence}
	}
	for _, v := range list {
		if v+shift >= used {
			return v + shift - used
		}
	}
	return -1
}

// join copies part into g, bonds its atom at to atom i of g, and returns the
// index that at got. The part's locants end with it.
func (g *graph) join(i int, part *graph, at, order int) int {
	offset := len(g.atoms)
	for _, a := range part.atoms {
		a.labels, a.chain, a.open, a.closed = nil, 0, false, false
		if a.site == acylSite {
			a.site = noSite // it bonds now
		}
		g.atoms = append(g.atoms, a)
	}
	for _, b := range part.bonds {
		g.bonds = append(g.bonds, bond{b.a + offset, b.b + offset, b.order})
	}
	g.addBond(i, at+offset, order)
	return at + offset
}

// removeAtom deletes atom i and its bonds.
func (g *graph) removeAtom(i int) {
	g.atoms = slices.Delete(g.atoms, i, i+1)
	g.bonds = slices.DeleteFunc(g.bonds, func(b bond) bool { return b.a == i || b.b == i })
	for k := range g.bonds {
		if g.bonds[k].a > i {
			g.bonds[k].a--
		}
		if g.bonds[k].b > i {
			g.bonds[k].b--
		}
	}
}

// mol returns the structure. It fails where an atom has more bonds than its
// element allows.
func (g *graph) mol() (*mol.Mol, error) {
	atoms := make([]mol.Atom, len(g.atoms))
	for i, a := range g.atoms {
		h := g.hydrogens(i)
		if h < 0 {
			return nil, fmt.Errorf("%s has %d bonds", a.element.Name(), g.used(i))
		}
		atoms[i] = mol.Atom{Element: a.element, Charge: a.charge, Hydrogens: uint8(h)}
	}
	bonds := make([]mol.Bond, len(g.bonds))
	for i, b := range g.bonds {
		bonds[i] = mol.Bond{Begin: int32(b.a), End: int32(b.b), Order: mol.Order(b.order)}
	}
	m, err := mol.New(atoms, bonds)
	if err != nil {
		return nil, err
	}
	return m.Aromatize(), nil
}

// fromMol takes a graph with Kekule orders.
func fromMol(m *mol.Mol) (graph, error) {
	m, err := m.Kekulize()
	if err != nil {
		return graph{}, err
	}
	var g graph
	for i := range m.NumAtoms() {
		a := m.Atom(i)
		g.addAtom(atom{element: a.Element, charge: a.Charge})
	}
	for i := range m.NumBonds() {
		b := m.Bond(i)
		g.addBond(int(b.Begin), int(b.End), int(b.Order))
	}
	for i := range m.NumAtoms() {
		a := m.Atom(i)
		if a.Isotope != 0 {
			return graph{}, fmt.Errorf("atom %d is an isotope", i+1)
		}
		if free := int(a.Hydrogens + a.Radical); g.hydrogens(i) != free {
			g.atoms[i].valence = g.used(i) + free - g.shift(i)
		}
	}
	return g, nil
}
