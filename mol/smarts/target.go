package smarts

import (
	"sync"

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
	tallies   []tally
	kinds     []bondKind // of the bonds
	sizes     sync.Once  // writes wordSize of the atoms
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
