package smarts

// A bondMask is a truth table over the kinds of bond: bit k is set where the
// bond expression holds for kind k. Every bond expression is such a table, so
// the logical operators are those of the machine.
type bondMask uint16

// A bondKind is an order, and whether the bond is in a ring.
type bondKind uint8

const (
	kindSingle bondKind = iota
	kindDouble
	kindTriple
	kindQuadruple
	kindAromatic
	numOrders

	kindInRing = numOrders // added to an order
	numKinds   = 2 * numOrders
)

const (
	anyBond       bondMask = 1<<numKinds - 1
	ringBond      bondMask = anyBond &^ (1<<kindInRing - 1)
	singleBond    bondMask = 1<<kindSingle | 1<<(kindSingle+kindInRing)
	doubleBond    bondMask = 1<<kindDouble | 1<<(kindDouble+kindInRing)
	tripleBond    bondMask = 1<<kindTriple | 1<<(kindTriple+kindInRing)
	quadrupleBond bondMask = 1<<kindQuadruple | 1<<(kindQuadruple+kindInRing)
	aromaticBond  bondMask = 1<<kindAromatic | 1<<(kindAromatic+kindInRing)
	unwritten     bondMask = singleBond | aromaticBond // the bond between atoms with nothing between
)

func (m bondMask) has(k bondKind) bool { return m>>k&1 == 1 }

// within says whether every kind of m is one of other, and m has some.
func (m bondMask) within(other bondMask) bool { return m != 0 && m&^other == 0 }
