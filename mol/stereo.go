package mol

// Chirality is the arrangement of an atom's neighbors in space, in the
// classes and numbers of the OpenSMILES specification. It refers to the order
// of [Mol.Neighbors]; a hydrogen that isn't in the graph, or a lone pair,
// counts as the first.
//
// TH1 means: seen from the first neighbor, the others follow
// counterclockwise ("@"). AL1 says the same of the four substituents at the
// ends of a chain of double bonds whose middle atom carries the mark: those of
// the end that the middle atom's first neighbor leads to come first.
type Chirality uint8

// The chirality classes: tetrahedral, allene-like, square planar, trigonal
// bipyramidal, octahedral. Within a class the number counts on from its
// first.
const (
	NotChiral Chirality = 0
	TH1       Chirality = 1
	TH2       Chirality = 2
	AL1       Chirality = 3
	AL2       Chirality = 4
	SP1       Chirality = 5
	SP3       Chirality = 7
	TB1       Chirality = 8
	TB20      Chirality = 27
	OH1       Chirality = 28
	OH30      Chirality = 57
)

// BondStereo is the arrangement at a double bond: of the first neighbor of
// one end and the first neighbor of the other end, each in the order of
// [Mol.Neighbors] without the double bond's own atoms. In a chain of an odd
// number of double bonds the middle one carries it, and the neighbors are
// those of the chain's ends.
type BondStereo uint8

// The arrangements at a double bond.
const (
	NoStereo BondStereo = iota
	Cis                 // on the same side
	Trans               // on opposite sides
)
