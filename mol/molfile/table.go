package molfile

import (
	"errors"
	"fmt"
	"math"

	"ionwright/chem"
	"ionwright/mol"
)

// table is a connection table while it is read.
type table struct {
	*Reader
	flat    bool // the header doesn't say that the coordinates are three-dimensional
	placed  bool // some coordinate isn't 0
	atoms   []mol.Atom
	points  []Point
	parity  []int8 // by atom: 1 odd, 2 even, 0 none
	valence []int8 // by atom: valence given, -1 = none
	given   []bool // by atom: unpaired electrons are given
	bonds   []mol.Bond
	wedges  []wedge // by bond
	lines   []int   // by atom: its line
	bondAt  []int   // by bond: its line
	texts   []string
}

// wedge is how a bond is drawn.
type wedge int8

const (
	plain  wedge = 0
	up     wedge = 1
	down   wedge = 2
	either wedge = 3 // a wavy bond, or a double bond of unknown arrangement
)

// maxAtoms bounds what a counts line may announce.
const maxAtoms = mol.MaxAtoms

// addAtom takes an atom with its symbol.
func (t *table) addAtom(symbol string, p Point) error {
	a := mol.Atom{}
	switch symbol {
	case "D":
		a.Element, a.Isotope = chem.H, 2
	case "T":
		a.Element, a.Isotope = chem.H, 3
	default:
		e, ok := chem.ElementBySymbol(symbol)
		if !ok {
			return t.fail(symbol, "no element has this symbol", "query atoms, atom lists and R groups aren't supported: every atom needs a known element")
		}
		a.Element = e
	}
	if p.X != 0 || p.Y != 0 || p.Z != 0 {
		t.placed = true
	}
	t.atoms, t.points = append(t.atoms, a), append(t.points, p)
	t.parity, t.valence, t.given = append(t.parity, 0), append(t.valence, -1), append(t.given, false)
	t.lines, t.texts = append(t.lines, t.number), append(t.texts, t.text)
	return nil
}

// addBond takes a bond between 1-based atoms.
func (t *table) addBond(begin, end, order int, drawn wedge) error {
	if begin < 1 || begin > len(t.atoms) || end < 1 || end > len(t.atoms) {
		return t.fail(t.text, fmt.Sprintf("the bond joins atoms %d and %d, but there are %d", begin, end, len(t.atoms)), "atoms are numbered from 1")
	}
	if begin == end {
		return t.fail(t.text, fmt.Sprintf("the bond joins atom %d to itself", begin), "")
	}
	var o mol.Order
	switch order {
	case 1:
		o = mol.Single
	case 2:
		o = mol.Double
	case 3:
		o = mol.Triple
	case 4:
		o = mol.Aromatic
	default:
		return t.fail(t.text, fmt.Sprintf("the bond type %d isn't supported", order), "bond types are 1 single, 2 double, 3 triple and 4 aromatic; query, coordination and hydrogen bonds can't be read")
	}
	t.bonds = append(t.bonds, mol.Bond{Begin: int32(begin - 1), End: int32(end - 1), Order: o})
	t.wedges, t.bondAt = append(t.wedges, drawn), append(t.bondAt, t.number)
	return nil
}

// setRadical takes a radical code: 1 singlet, 2 doublet, 3 triplet.
func (t *table) setRadical(atom, code int) error {
	if code < 0 || code > 3 {
		return t.fail(t.text, fmt.Sprintf("the radical code %d isn't known", code), "0 none, 1 singlet, 2 doublet, 3 triplet")
	}
	t.atoms[atom].Radical = uint8(max(code-1, 0))
	t.given[atom] = code != 0
	return nil
}

// setIsotope takes a mass number.
func (t *table) setIsotope(atom, mass int) error {
	e := t.atoms[atom].Element
	if _, ok := e.Isotope(mass); !ok {
		return t.fail(t.text, fmt.Sprintf("no nuclide %d%s is known, so it has no mass", mass, e), "leave the mass out for the natural mixture")
	}
	t.atoms[atom].Isotope = uint16(mass)
	return nil
}

// setCharge takes a charge.
func (t *table) setCharge(atom, charge int) error {
	if charge < -15 || charge > 15 {
		return t.fail(t.text, fmt.Sprintf("the charge %d is out of range", charge), "charges from -15 to +15 can be given")
	}
	t.atoms[atom].Charge = int8(charge)
	return nil
}

// molecule makes the graph.
func (t *table) molecule() (*mol.Mol, error) {
	t.fillHydrogens()
	m, err := mol.New(t.atoms, t.bonds)
	if err != nil {
		return nil, t.explain(err)
	}
	for i := range m.NumAtoms() {
		a := m.Atom(i)
		if mol.TooManyBonds(a.Element, int(a.Charge), m.Valence(i)) {
			return nil, &Error{Line: t.lines[i], Text: t.texts[i],
				Problem: fmt.Sprintf("atom %d, %s, has bonds of order %d in sum, more than its valence allows", i+1, a.Element.Name(), m.Valence(i)),
				Hint:    "check the bonds and the charge of the atom"}
		}
	}
	b := m.Edit()
	for i := range m.NumAtoms() {
		a := m.Atom(i)
		if !t.given[i] && t.valence[i] >= 0 {
			a.Radical = uint8(mol.UnpairedElectrons(a.Element, int(a.Charge), m.Valence(i)))
			b.SetAtom(i, a)
		}
	}
	t.arrange(m, b)
	if m, err = b.Mol(); err != nil {
		return nil, t.explain(err)
	}
	m, kept := m.FoldHydrogens()
	for i, was := range kept {
		t.points[i] = t.points[was]
	}
	t.points = t.points[:len(kept)]
	m = m.Aromatize()
	if t.placed {
		// Coordinates speak of every center and double bond: keep what means
		// something.
		m, _ = m.Canonical()
	}
	return m, nil
}

// explain gives an error of the graph its line.
func (t *table) explain(err error) error {
	var kekule *mol.KekuleError
	var doubled *mol.DoubledError
	switch {
	case errors.As(err, &kekule):
		return &Error{Line: t.lines[kekule.Atom], Text: t.texts[kekule.Atom],
			Problem: fmt.Sprintf("the aromatic bonds have no arrangement of double bonds that gives atom %d one", kekule.Atom+1),
			Hint:    "write the hydrogen of an aromatic nitrogen as an atom, or use single and double bonds"}
	case errors.As(err, &doubled):
		return &Error{Line: t.bondAt[doubled.Bond], Problem: "the bond joins two atoms that another bond joins already"}
	}
	return &Error{Line: max(t.number, 1), Problem: err.Error()}
}

// fillHydrogens counts the hydrogens that the table leaves out.
func (t *table) fillHydrogens() {
	sums := make([]int, len(t.atoms))
	aromatic := make([]bool, len(t.atoms))
	for _, b := range t.bonds {
		order := int(b.Order)
		if b.Order == mol.Aromatic {
			order = 1
			aromatic[b.Begin], aromatic[b.End] = true, true
		}
		sums[b.Begin] += order
		sums[b.End] += order
	}
	for i := range t.atoms {
		a := &t.atoms[i]
		if t.valence[i] >= 0 {
			sum := sums[i]
			if aromatic[i] && sum < int(t.valence[i]) {
				sum++ // the double bond of the Kekule form
			}
			a.Hydrogens = uint8(max(int(t.valence[i])-sum, 0))
			continue
		}
		a.Hydrogens = uint8(defaultHydrogens(*a, sums[i], aromatic[i]))
	}
}

// defaultHydrogens is what fills an atom up to its next normal valence.
func defaultHydrogens(a mol.Atom, sum int, aromatic bool) int {
	used := sum + int(a.Radical)
	if aromatic {
		if valence, ok := mol.NextValence(a.Element, int(a.Charge), 0); ok && used+1 <= valence {
			return valence - used - 1
		}
		return 0
	}
	if valence, ok := mol.NextValence(a.Element, int(a.Charge), used); ok {
		return valence - used
	}
	return 0
}

// finite refuses coordinates that are no numbers.
func finite(p Point) bool {
	for _, x := range [3]float64{p.X, p.Y, p.Z} {
		if math.IsNaN(x) || math.IsInf(x, 0) {
			return false
		}
	}
	return true
}
