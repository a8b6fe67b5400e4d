package mol

import (
	"math/rand/v2"
	"slices"
	"testing"

	"ionwright/chem"
)

// Where equivalent says so, all ways to split a partition have one code. The
// graphs have up to 8 atoms, one or two elements and bond orders, and are made
// regular rather than at random, so that refinement leaves large cells.
func TestEquivalentLeaves(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	claimed, branching := 0, 0
	for range 3000 {
		n := 4 + r.IntN(5)
		m := circulant(t, r, n)
		if m == nil {
			continue
		}
		s := acquire()
		c := newCanonizer(m, s)
		all := make([]int32, n)
		for i := range all {
			all[i] = int32(i)
		}
		c.take(all, nil)
		c.findCore()
		if c.equivalent(c.whole()) {
			claimed++
			var codes [][]int32
			leaves(c, &codes)
			for _, code := range codes {
				if !slices.Equal(code, codes[0]) {
					t.Errorf("two codes of %d from %v", len(codes), m.bonds)
					break
				}
			}
			if len(codes) > 1 {
				branching++
			}
		}
		s.release()
	}
	if branching < 200 {
		t.Errorf("only %d of %d claims had more than one way", branching, claimed)
	}
}

// circulant makes a connected graph by joining atoms at random distances round
// a circle, then perhaps spoils its symmetry a little.
func circulant(t *testing.T, r *rand.Rand, n int) *Mol {
	t.Helper()
	atoms := make([]Atom, n)
	for i := range atoms {
		atoms[i].Element = chem.U
	}
	order := map[[2]int]Order{}
	for d := 1; d <= n/2; d++ {
		if r.IntN(2) == 0 {
			for i := range n {
				order[[2]int{min(i, (i+d)%n), max(i, (i+d)%n)}] = Order(1 + r.IntN(8)/7)
			}
		}
	}
	if r.IntN(2) == 0 {
		atoms[r.IntN(n)].Element = chem.Th
	}
	var bonds []Bond
	for i := range n {
		for j := range i {
			if o, ok := order[[2]int{j, i}]; ok && r.IntN(20) > 0 {
				bonds = append(bonds, Bond{Begin: int32(i), End: int32(j), Order: o})
			}
		}
	}
	m, err := New(atoms, bonds)
	if err != nil {
		t.Fatal(err)
	}
	if m.NumParts() != 1 {
		return nil
	}
	return m
}

// leaves collects the codes of all ways to split what is left.
func leaves(c *canonizer, codes *[][]int32) {
	if c.discrete() {
		*codes = append(*codes, c.code(c.whole()))
		return
	}
	here := c.save(c.whole())
	var first int32 = -1
	c.cellsOf(c.whole(), func(cell int32) {
		if first < 0 {
			first = cell
		}
	})
	for _, at := range append([]int32(nil), c.lab[first:first+c.size[first]]...) {
		c.restore(here)
		c.individualize(at)
		c.settle()
		leaves(c, codes)
	}
}
