package ionize

import (
	"context"
	"slices"
	"sync"
)

// node is an ion met in the search.
type node struct {
	piece
	arriving Distribution
	arrived  float64 // ions that come here, of one molecular ion
	stayed   float64 // of these, those that reach the detector
	queued   bool
	id       int32 // of the piece
	latest   int32 // place, counted from 1, of the last channel to it of the ion being followed; 0 for none
}

// flow is one step of the search with the ions that take it.
type flow struct {
	proposal
	from, to int32
	lost     int32   // the piece that leaves
	e0       float64 // critical energy, eV
	ions     float64 // of one molecular ion
}

// search follows the ions from the molecular ion down. Every step loses mass,
// so taking the heaviest waiting ion first means that all its sources are
// done: the flows are exact, without iteration.
type search struct {
	pieces
	settings Settings
	nodes    []node
	flows    []flow
	waiting  [][]int32 // nodes to follow, by nominal mass
	here     node      // the one being followed
	followed int
	record   bool                // keep every step offered, for fitting
	known    map[int32]workedOut // steps worked out before, where the kinetics are done more than once; else nil
	flowing  float64             // ions that took a step, and of them those whose step the fit has seen
	familiar float64
	offered  []offer
	root     *Row         // corrections as the molecular ion, with the bias
	breaking surroundings // of the ion whose steps are worked out
	open     []channel
	order    []uint64
	rates    []float64
	current  []float64 // ions that stay, by nominal m/z
}

// Bounds of every search. After mostFollowed ions the share of the molecular
// ions asked for is ten times the usual one.
const (
	mostFollowed = 100
	leastFlow    = 1e-8 // of the molecular ions; a step that fewer take is left out
	highestE0    = 9.0  // eV; no step above it is open at 70 eV
)

// bounds of a search that cost time.
type bounds struct {
	followed float64 // share of the molecular ions; what arrives at an ion that fewer reach counts as staying there
	// steps that are worked out of an ion: of a frequent one, of others, of a rare one
	frequent, other, rare int
}

// The networks that the fit is done on are a little wider than the search of a
// prediction: the difference is worth 0.003 of figure A, and a tenth of the time.
var (
	predicting = bounds{followed: 10e-3, frequent: 60, other: 20, rare: 8}
	recording  = bounds{followed: 8e-3, frequent: 60, other: 25, rare: 12}
)

func (s *search) bounds() *bounds {
	if s.record {
		return &recording
	}
	return &predicting
}

// searches keeps the memory of searches that are over: a stream of molecules
// works in the same few hundred kilobytes.
var searches = sync.Pool{New: func() any {
	return &search{}
}}

// newSearch starts a search at the fitted values, or at those of the handbook
// where fitted is nil.
func newSearch(m *molecule, settings Settings, fitted *Corrections) *search {
	s := searches.Get().(*search)
	s.settings = settings
	s.pieces.start(m, fitted)
	s.nodes, s.flows, s.offered = s.nodes[:0], s.flows[:0], nil
	s.followed, s.flowing, s.familiar = 0, 0, 0
	s.record, s.known, s.root = false, nil, nil
	return s
}

// release hands the memory on; nothing of the search may be used afterwards but
// its molecule.
func (s *search) release() {
	s.m = nil
	searches.Put(s)
}

// run works through the ions; it stops with the context's error when that is
// cancelled.
func (s *search) run(ctx context.Context) error {
	whole := s.m.whole()
	root := s.node(&whole)
	n := &s.nodes[root]
	arriving, stay := Arriving(s.settings.EnergyEV, n.energies.ionization)
	if s.fitted != nil {
		properties := s.m.properties(&n.piece)
		arriving.Warm(s.fitted.Warmth.Of(&properties))
	}
	n.arriving, n.arrived = arriving, 1-stay
	mass := n.mass
	s.waiting = slices.Grow(s.waiting[:0], mass+1)[:mass+1]
	for i := range s.waiting {
		s.waiting[i] = s.waiting[i][:0]
	}
	s.enqueue(root)
	for ; mass >= 0; mass-- {
		slices.Sort(s.waiting[mass]) // among equals the one found first, so that a run repeats itself
		for _, id := range s.waiting[mass] {
			if err := ctx.Err(); err != nil {
				return err
			}
			s.follow(id)
		}
	}
	if s.fitted != nil {
		s.settle(1 - stay)
	}
	s.nodes[root].arrived, s.nodes[root].stayed = 1, s.nodes[root].stayed+stay
	return nil
}

func (s *search) enqueue(id int32) {
	if !s.nodes[id].queued {
		s.nodes[id].queued = true
		mass := s.nodes[id].mass
		s.waiting[mass] = append(s.waiting[mass], id)
	}
}

// node returns the ion with the skeleton, making it when it is new.
func (s *search) node(shape *skeleton) int32 {
	id := s.piece(shape)
	if at := s.ions[id]; at >= 0 {
		return at
	}
	at := int32(len(s.nodes))
	s.ions[id] = at
	s.nodes = append(s.nodes, node{piece: s.list[id], id: id})
	return at
}

// follow parts the ions that arrived at a node between staying and its steps.
func (s *search) follow(id int32) {
	least, most := s.bounds().followed, mostFollowed
	if s.nodes[0].skeleton.hasDeuterium() { // the ions of a kind are parted between isotopologues
		least, most = least/variants, most*variants
	}
	if s.followed >= most {
		least *= 10
	}
	if arrived := s.nodes[id].arrived; arrived < least {
		s.nodes[id].stayed = arrived
		return
	}
	s.followed++
	here := &s.here
	*here = s.nodes[id] // a copy: the slice grows below
	channels := s.offeredBy(id, here)
	s.react(id, here, channels)
	for i := range channels {
		c := &channels[i]
		if c.ions < leastFlow {
			continue
		}
		s.flowing += c.ions
		s.familiar += c.ions * c.known
		s.flows = append(s.flows, flow{proposal: c.proposal, from: id, to: c.to, lost: c.lost, e0: c.e0, ions: c.ions})
		s.enqueue(c.to)
	}
}
