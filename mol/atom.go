package mol

import "ionwright/chem"

// Atom is one atom of a graph. The zero value is no atom: Element is required.
type Atom struct {
	Class     uint32       // the author's mark, 0 = none; no chemical meaning
	Isotope   uint16       // mass number, 0 = natural mixture
	Element   chem.Element // atomic number
	Charge    int8         // formal charge in elementary charges
	Hydrogens uint8        // hydrogens bound to the atom that are not atoms of the graph
	Radical   uint8        // unpaired electrons
	Aromatic  bool         // part of an aromatic ring
	Chirality Chirality    // arrangement of the neighbors, see Chirality
}

// Species returns what the atom counts as in a formula.
func (a Atom) Species() chem.Species {
	if a.Isotope != 0 {
		return chem.LabelledSpecies(a.Element, int(a.Isotope))
	}
	return chem.NaturalSpecies(a.Element)
}

// Order is the order of a bond. The zero value is no order.
type Order uint8

// The orders of a bond. Single to Quadruple have their number as value.
const (
	Single Order = 1 + iota
	Double
	Triple
	Quadruple
	Aromatic
)

var orderNames = [...]string{"none", "single", "double", "triple", "quadruple", "aromatic"}

// String returns the order's name in lower case.
func (o Order) String() string {
	if int(o) < len(orderNames) {
		return orderNames[o]
	}
	return "unknown"
}

// Bond joins two different atoms of a graph, given by their index.
type Bond struct {
	Begin, End int32
	Order      Order
	kekule     Order      // Order, or for Aromatic the order in one Kekule form
	Stereo     BondStereo // arrangement at a double bond, see BondStereo
	ring       bool       // part of a ring
}

// Other returns the end of the bond that isn't atom.
func (b Bond) Other(atom int32) int32 { return b.Begin ^ b.End ^ atom }

// Neighbor is a bond as one of its atoms sees it.
type Neighbor struct {
	Atom, Bond int32 // the other atom, and the bond
}
