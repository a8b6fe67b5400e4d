package smarts

import (
	"sync"

	"ionwright/chem"
	"ionwright/mol"
)

// A Target is a molecule prepared for patterns: the properties of its atoms
// packed, its bonds by kind, its atoms by class, its census. To its users it
// never changes, and any number of goroutines may use it.
type Target struct {
	mol       *mol.Mol
	atoms     []features
	start     []int32 // neighbors of atom i: neighbors[start[i]:start[i+1]]
	neighbors []neighbor
	byClass   []int32 // the atoms by class, ascending within each
	classes   [numSymbolClasses + 1]int32
	census    census
	sizes     sync.Once // writes wordSize of the atoms
}

// A neighbor is a bond as one of its atoms sees it.
type neighbor struct {
	atom int32
	kind bondKind
}

// Prepare makes a molecule ready for patterns.
func Prepare(m *mol.Mol) *Target {
	t := &Target{}
	t.load(m)
	return t
}

// Mol returns the molecule.
func (t *Target) Mol() *mol.Mol { return t.mol }

// load fills t from a molecule, reusing what it has.
func (t *Target) load(m *mol.Mol) {
	n := m.NumAtoms()
	t.mol = m
	t.sizes = sync.Once{}
	t.census = census{}
	t.atoms = resized(t.atoms, n)
	t.start = resized(t.start, n+1)
	t.neighbors = resized(t.neighbors, 2*m.NumBonds())[:0]
	for i := range n {
		t.start[i] = int32(len(t.neighbors))
		t.loadAtom(i)
	}
	t.start[n] = int32(len(t.neighbors))
	t.sort()
	t.countBonds()
}

// loadAtom sets the features of an atom except wordSize, appends its
// neighbors and counts it.
func (t *Target) loadAtom(i int) {
	a := t.mol.Atom(i)
	ringBonds, hs, ring := 0, int(a.Hydrogens), 0
	for _, nb := range t.mol.Neighbors(i) {
		kind := bondKind(t.mol.Bond(int(nb.Bond)).Order - mol.Single)
		if t.mol.RingBond(int(nb.Bond)) {
			kind += kindInRing
			ringBonds++
			ring = 1
		}
		if t.mol.Atom(int(nb.Atom)).Element == chem.H {
			hs++
		}
		t.neighbors = append(t.neighbors, neighbor{nb.Atom, kind})
	}
	degree := t.mol.Degree(i)
	aromatic, hides := 0, 0
	if a.Aromatic {
		aromatic = 1
	}
	if a.Hydrogens > 0 {
		hides = 1
	}
	f := features{}.
		with(fieldElement, int(a.Element)).with(fieldAromatic, aromatic).
		with(fieldInRing, ring).with(fieldRingBond, ringBonds).
		with(fieldCharge, int(uint8(a.Charge))).
		with(fieldHs, hs).with(fieldHidden, int(a.Hydrogens)).with(fieldHidesH, hides).
		with(fieldDegree, degree).with(fieldTotal, degree+int(a.Hydrogens)).
		with(fieldValence, t.mol.Valence(i)).
		with(fieldIsotope, int(a.Isotope))
	t.atoms[i] = f
	class := symbolClass[f.get(fieldSymbol)]
	t.census[0] = plus(t.census[0], 1<<(class*countWidth))
	t.census[1] = plus(t.census[1], atomCounts[atomKind(class, hs, ring, a.Charge)])
}

// sort fills byClass and classes.
func (t *Target) sort() {
	t.byClass = resized(t.byClass, len(t.atoms))
	var next [numSymbolClasses]int32
	for i := range t.atoms {
		next[t.class(i)]++
	}
	at := int32(0)
	for class, number := range next {
		t.classes[class], next[class] = at, at
		at += number
	}
	t.classes[numSymbolClasses] = at
	for i := range t.atoms {
		place := &next[t.class(i)]
		t.byClass[*place] = int32(i)
		*place++
	}
}

func (t *Target) class(i int) uint8 { return symbolClass[t.atoms[i].get(fieldSymbol)] }

// countBonds counts the bonds in the census.
func (t *Target) countBonds() {
	for i := range t.atoms {
		class := t.class(i)
		for _, nb := range t.neighbors[t.start[i]:t.start[i+1]] {
			if int(nb.atom) > i {
				t.census[2] = plus(t.census[2], bondCounts[pairKind(class, t.class(int(nb.atom)), nb.kind)])
			}
		}
	}
}

// needSizes fills wordSize of the atoms.
func (t *Target) needSizes() {
	t.sizes.Do(func() {
		for i := range t.atoms {
			t.atoms[i][wordSize] = 0
		}
		for _, ring := range t.mol.Rings() {
			for _, i := range ring {
				a := &t.atoms[i]
				smallest := a.get(fieldSmallest)
				if smallest == 0 {
					smallest = len(ring)
				}
				a[wordSize] = features{}.
					with(fieldRings, a.get(fieldRings)+1).
					with(fieldSmallest, min(smallest, len(ring)))[wordSize]
			}
		}
	})
}

// resized returns s with length n, its contents to be overwritten.
func resized[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n, n+n/2)
	}
	return s[:n]
}
