package isomer

import "ionwright/mol/smarts"

// filler fills cores and trees in, one after another, and hands each complete
// structure to visit. It is for one goroutine and allocates only between
// structures.
type filler struct {
	p       *problem
	matcher smarts.Matcher
	st      Structure
	visit   func(*Structure) bool
	stopped bool
	// Without visit the structures are counted, by the lengths of the lists
	// where that is enough.
	total   uint64
	visited uint64 // structures made, those left out later included
	// interrupted, where it isn't nil, is asked now and then whether to stop.
	interrupted func() bool
	// every, where it is more than 1, is the distance between the structures
	// that are looked at; the others are passed over without a test. phase, below
	// every, is where the first of a piece stands.
	every, phase uint64
	bound        bool // count what would be made, without tests

	core    *graph
	group   []perm    // of the core, without the identity
	edges   [][]uint8 // images of the edges, by automorphism
	before  [][]uint8 // by edge: earlier ones whose order isn't less
	ordered []int32   // automorphisms that keep the orders
	dealt   []int32   // those of them that keep the core atoms' options too
	rank    [MaxAtoms][]uint8
	degree  [MaxAtoms]uint8
	sum     [MaxAtoms]uint8 // of bond orders in the core
	room    [MaxAtoms + 1]int
	choice  [MaxAtoms]int32
	index   [MaxAtoms]int32 // of the forest in its class
	sites   [MaxAtoms]site
	nsites  int
	huge    *option // the forest that isn't listed
	hugeAt  int

	// Of a forest that isn't listed.
	vertices int
	shift    int  // of a vertex beyond the core to its bond
	waits    bool // deferred is to be filled in, on vertex parent
	deferred branch
	parent   int
	heaviest int // largest tree allowed
}

// site is a core atom with trees.
type site struct {
	vertex, base int
	option       *option
	data         []uint8
	size         int
}

// begin prepares for the structures of a problem.
func (f *filler) begin(p *problem) {
	f.p = p
	f.st.table, f.st.n = p.kinds, p.n
	f.heaviest = p.n
}

// emit hands the structure on.
func (f *filler) emit() {
	if f.visited++; f.visited%4096 == 0 && f.interrupted != nil && f.interrupted() {
		f.stopped = true
		return
	}
	if f.bound {
		f.total++
		return
	}
	if f.every > 1 && f.visited%f.every != f.phase {
		return
	}
	if !f.accept() {
		return
	}
	f.total++
	if f.visit != nil && !f.visit(&f.st) {
		f.stopped = true
	}
}

// setOrbits finds, for each of n points, the earlier ones to which some
// automorphism that keeps all still earlier ones can move it. A greatest
// filling has no more at a point than at those.
func setOrbits(n int, maps int, image func(g, v int) uint8, before [][]uint8, live []int32) {
	live = live[:0]
	for g := range maps {
		live = append(live, int32(g))
	}
	for v := range n {
		before[v] = before[v][:0]
	}
	for v := 0; v < n && len(live) > 0; v++ {
		var met uint64
		kept := live[:0]
		var metMore uint64
		for _, g := range live {
			w := image(int(g), v)
			if w < 64 {
				met |= 1 << w
			} else {
				metMore |= 1 << (w - 64)
			}
			if int(w) == v {
				kept = append(kept, g)
			}
		}
		for w := v + 1; w < n; w++ {
			if w < 64 && met&(1<<w) != 0 || w >= 64 && metMore&(1<<(w-64)) != 0 {
				before[w] = append(before[w], uint8(v))
			}
		}
		live = kept
	}
}
