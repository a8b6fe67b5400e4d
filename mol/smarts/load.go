package smarts

import (
	"sync"

	"ionwright/chem"
	"ionwright/mol"
)

// A tally is what an atom and its bonds add up to.
type tally struct {
	hs, valence, ringBonds int32
	class                  uint8 // by symbol
	hydrogen               bool
}

// load fills t from a molecule, reusing what it has.
func (t *Target) load(m *mol.Mol) {
	t.mol = m
	t.sizes = sync.Once{}
	t.census = census{}
	t.loadSymbols()
	t.loadBonds()
	t.loadAtoms()
}

// loadSymbols counts the atoms by class and starts their tallies.
func (t *Target) loadSymbols() {
	t.tallies = resized(t.tallies, t.mol.NumAtoms())
	t.classes = [numSymbolClasses + 1]int32{}
	for i := range t.tallies {
		a := t.mol.Atom(i)
		class := symbolClass[symbolOf(a.Element, a.Aromatic)]
		hs := int32(a.Hydrogens)
		t.tallies[i] = tally{hs: hs, valence: hs, class: class, hydrogen: a.Element == chem.H}
		t.classes[class+1]++
		t.census[0] = plus(t.census[0], 1<<(class*countWidth))
	}
	for class := range numSymbolClasses {
		t.classes[class+1] += t.classes[class]
	}
}

// loadBonds sets the kinds of the bonds, counts them, and adds them to the
// tallies of their atoms.
func (t *Target) loadBonds() {
	t.kinds = resized(t.kinds, t.mol.NumBonds())
	counts := uint64(0)
	for i := range t.kinds {
		b := t.mol.Bond(i)
		begin, end := &t.tallies[b.Begin], &t.tallies[b.End]
		kind := bondKind(b.Order - mol.Single)
		if t.mol.RingBond(i) {
			kind += kindInRing
			begin.ringBonds++
			end.ringBonds++
		}
		order := int32(t.mol.KekuleOrder(i))
		begin.valence += order
		end.valence += order
		if begin.hydrogen {
			end.hs++
		}
		if end.hydrogen {
			begin.hs++
		}
		t.kinds[i] = kind
		counts = plus(counts, bondCounts[pairKind(begin.class, end.class, kind)])
	}
	t.census[2] = counts
}

// loadAtoms sets the features of the atoms except wordSize, and their
// neighbors, and sorts them by class.
func (t *Target) loadAtoms() {
	n := t.mol.NumAtoms()
	t.atoms = resized(t.atoms, n)
	t.start = resized(t.start, n+1)
	t.byClass = resized(t.byClass, n)
	t.neighbors = resized(t.neighbors, 2*len(t.kinds))
	next := t.classes
	counts, at := uint64(0), 0
	for i := range t.atoms {
		t.start[i] = int32(at)
		neighbors := t.mol.Neighbors(i)
		for _, nb := range neighbors {
			t.neighbors[at] = neighbor{nb.Atom, t.kinds[nb.Bond]}
			at++
		}
		tally := &t.tallies[i]
		a := t.mol.Atom(i)
		t.atoms[i][0], t.atoms[i][1] = pack(a, tally, len(neighbors))
		ring := min(int(tally.ringBonds), 1)
		counts = plus(counts, atomCounts[atomKind(tally.class, int(tally.hs), ring, a.Charge)])
		place := &next[tally.class]
		t.byClass[*place] = int32(i)
		*place++
	}
	t.start[n] = int32(at)
	t.census[1] = counts
}

// pack makes the first two words of an atom's features.
func pack(a mol.Atom, tally *tally, degree int) (uint64, uint64) {
	hidden := uint64(a.Hydrogens)
	word := uint64(a.Element)<<shiftElement |
		uint64(uint8(a.Charge))<<shiftCharge |
		saturated(int(tally.hs))<<shiftHs |
		hidden<<shiftHidden |
		saturated(degree)<<shiftDegree |
		saturated(degree+int(hidden))<<shiftTotal |
		saturated(int(tally.ringBonds))<<shiftRingBond
	if a.Aromatic {
		word |= 1 << shiftAromatic
	}
	if tally.ringBonds > 0 {
		word |= 1 << shiftInRing
	}
	if hidden > 0 {
		word |= 1 << shiftHidesH
	}
	return word, saturated(int(tally.valence))<<shiftValence | uint64(a.Isotope)<<shiftIsotope
}

// saturated is a count for a field of 8 bits.
func saturated(count int) uint64 { return uint64(min(count, 1<<8-1)) }
