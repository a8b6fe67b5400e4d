package smarts

// features holds what the atom primitives ask of one atom, packed so that a
// whole conjunction of primitives is two masked comparisons; a third, wordSize,
// has what follows from the smallest rings, which few patterns ask for.
type features [3]uint64

const wordSize = 2

// A field is one property's place in features.
type field struct {
	word  uint8
	shift uint8
	width uint8
}

// Where the fields start in their word.
const (
	shiftElement  = 0
	shiftAromatic = 7
	shiftInRing   = 8
	shiftCharge   = 9
	shiftHs       = 17
	shiftHidden   = 25
	shiftDegree   = 33
	shiftTotal    = 41
	shiftHidesH   = 49
	shiftRingBond = 50

	shiftValence = 0
	shiftIsotope = 8

	shiftRings    = 0
	shiftSmallest = 16
)

// The fields. A count that exceeds its field is stored as the field's largest
// value, which no primitive can ask for (see count).
var (
	fieldElement  = field{0, shiftElement, 7}          // atomic number
	fieldAromatic = field{0, shiftAromatic, 1}         // 1 in an aromatic atom
	fieldInRing   = field{0, shiftInRing, 1}           // 1 in a ring atom
	fieldCharge   = field{0, shiftCharge, 8}           // formal charge, two's complement
	fieldHs       = field{0, shiftHs, 8}               // hydrogens of all kinds: H
	fieldHidden   = field{0, shiftHidden, 8}           // hydrogens that aren't atoms of the graph: h
	fieldDegree   = field{0, shiftDegree, 8}           // neighbors in the graph: D
	fieldTotal    = field{0, shiftTotal, 8}            // neighbors with the hidden hydrogens: X
	fieldHidesH   = field{0, shiftHidesH, 1}           // 1 where fieldHidden > 0
	fieldRingBond = field{0, shiftRingBond, 8}         // ring bonds: x
	fieldValence  = field{1, shiftValence, 8}          // sum of bond orders with hydrogens: v
	fieldIsotope  = field{1, shiftIsotope, 16}         // mass number, 0 where natural
	fieldRings    = field{wordSize, shiftRings, 16}    // rings of the smallest set through the atom: R
	fieldSmallest = field{wordSize, shiftSmallest, 16} // atoms of the smallest of them, 0 in no ring: r

	fieldSymbol = field{0, shiftElement, 8} // fieldElement and fieldAromatic together
)

// mask has ones in the field's place.
func (f field) mask() uint64 { return (1<<f.width - 1) << f.shift }

// limit is the field's largest value: it stands for itself and all above.
func (f field) limit() int { return 1<<f.width - 1 }

// with returns the features with the field set to value, at most its limit.
func (a features) with(f field, value int) features {
	value = min(value, f.limit())
	a[f.word] = a[f.word]&^f.mask() | uint64(value)<<f.shift&f.mask()
	return a
}

// A literal asks for values of some fields: it holds for an atom whose
// features agree with want wherever mask has a one. The zero literal holds
// for every atom.
type literal struct {
	mask, want features
}

// is returns the literal that asks for one value of one field. A value below
// zero is asked for in two's complement.
func is(f field, value int) literal {
	var l literal
	l.mask[f.word] = f.mask()
	l.want[f.word] = uint64(value) << f.shift & f.mask()
	return l
}

// both returns the literal that asks for what a and b ask for; false where no
// atom can have both.
func both(a, b literal) (literal, bool) {
	for w := range a.mask {
		if common := a.mask[w] & b.mask[w]; a.want[w]&common != b.want[w]&common {
			return literal{}, false
		}
		a.mask[w] |= b.mask[w]
		a.want[w] |= b.want[w]
	}
	return a, true
}

// plain says whether the literal asks nothing of wordSize.
func (l *literal) plain() bool { return l.mask[wordSize] == 0 }

// holds says whether the literal is true of an atom.
func (l *literal) holds(a *features) bool {
	return l.holdsPlain(a) && a[wordSize]&l.mask[wordSize] == l.want[wordSize]
}

// holdsPlain is holds for a plain literal.
func (l *literal) holdsPlain(a *features) bool {
	return a[0]&l.mask[0] == l.want[0] && a[1]&l.mask[1] == l.want[1]
}

// get returns the field's value.
func (a *features) get(f field) int { return int(a[f.word] & f.mask() >> f.shift) }
