package ionize

import (
	"cmp"
	"container/heap"
	"context"
	"math"
	"slices"
)

// node is an ion met in the search.
type node struct {
	skeleton skeleton
	mass     int // nominal, Da
	atoms    int // hydrogens counted
	energies energies
	facts    facts
	odd      bool
	arriving Distribution
	arrived  float64 // ions that come here, of one molecular ion
	stayed   float64 // of these, those that reach the detector
	queued   bool
	product  Row // corrections as the ion that comes out
}

// flow is one step of the search with the ions that take it.
type flow struct {
	proposal
	from, to int32
	e0       float64 // critical energy, eV
	ions     float64 // of one molecular ion
}

// search follows the ions from the molecular ion down. Every step loses mass,
// so taking the heaviest waiting ion first means that all its sources are
// done: the flows are exact, without iteration.
type search struct {
	m        *molecule
	settings Settings
	nodes    []node
	flows    []flow
	byShape  map[skeleton]int32
	byWhole  map[identity]int32
	neutrals []neutralPiece // what was lost somewhere; first H and H2
	lost     map[skeleton]int32
	lostOf   map[identity]int32
	queue    byMass
	follows  float64 // an ion is followed when at least this share arrives
	most     int     // ions followed before the share asked for rises tenfold
	followed int
	record   bool                // keep every step offered, for fitting
	known    map[int32][]channel // steps worked out before, where the kinetics are done more than once; else nil
	fitted   *Corrections        // nil: handbook values alone
	flowing  float64             // ions that took a step, and of them those whose step the fit has seen
	familiar float64
	offered  []offer
	root     Row // corrections as the molecular ion, with the bias
	codes    []uint32
	around   surroundings
	open     []channel
	order    []int32
	sofar    map[channelKey]int32
	rates    []float64
}

// identity tells ions apart: equal for two skeletons that are the same ion
// made of different atoms of the molecule, such as the ethyl cations of
// triethylamine.
type identity struct {
	whole uint64
	mass  int
}

// neutralPiece is what the search knows of a lost neutral.
type neutralPiece struct {
	energies energies
	facts    facts
	codes    []uint32 // what it is made of, when the search is recorded
	row      Row      // corrections as the neutral lost
}

// offer is a step kept for fitting.
type offer struct {
	from int32
	step NetworkStep // To holds a node
}

// byMass is the heap of waiting nodes, heaviest first; among equals the one
// found first, so that a run repeats itself.
type byMass struct {
	search *search
	ids    []int32
}

func (q *byMass) Len() int { return len(q.ids) }
func (q *byMass) Less(i, j int) bool {
	a, b := q.ids[i], q.ids[j]
	ma, mb := q.search.nodes[a].mass, q.search.nodes[b].mass
	return ma > mb || ma == mb && a < b
}
func (q *byMass) Swap(i, j int) { q.ids[i], q.ids[j] = q.ids[j], q.ids[i] }
func (q *byMass) Push(x any)    { q.ids = append(q.ids, x.(int32)) }
func (q *byMass) Pop() any {
	last := q.ids[len(q.ids)-1]
	q.ids = q.ids[:len(q.ids)-1]
	return last
}

// Bounds of the search. An ion is followed when at least followShare of the
// molecular ions arrive at it; what arrives at a lesser one counts as staying
// there.
const (
	followShare  = 2e-3
	mostFollowed = 400
	mostChannels = 75   // of one ion
	leastFlow    = 1e-9 // of the molecular ions; a step that fewer take is left out
	highestE0    = 9.0  // eV; no step above it is open at 70 eV
)

func newSearch(m *molecule, settings Settings) *search {
	s := &search{
		m: m, settings: settings, byShape: map[skeleton]int32{}, byWhole: map[identity]int32{}, lost: map[skeleton]int32{}, lostOf: map[identity]int32{},
		follows: followShare, most: mostFollowed,
	}
	s.queue.search = s
	s.sofar = map[channelKey]int32{}
	s.nodes = make([]node, 0, 512)
	s.flows = make([]flow, 0, 1024)
	return s
}

// run works through the ions; it stops with the context's error when that is
// cancelled.
func (s *search) run(ctx context.Context) error {
	root := s.node(s.m.whole())
	if len(s.neutrals) == 0 {
		s.addNeutral(&skeleton{}, energies{radical: true}, facts{whole: 1, formula: 1, hetero: 19})
		s.addNeutral(&skeleton{}, energies{binding: sigma[iH][iH]}, facts{whole: 2, formula: 2, hetero: 19})
	}
	n := &s.nodes[root]
	n.arriving = Deposited(s.settings.EnergyEV, n.energies.ionization)
	stay := undecaying(s.settings.EnergyEV, n.energies.ionization)
	n.arriving.scale(1 - stay)
	n.arrived = 1 - stay
	s.enqueue(root)
	for s.queue.Len() > 0 {
		if err := ctx.Err(); err != nil {
			return err
		}
		s.follow(heap.Pop(&s.queue).(int32))
	}
	s.nodes[root].arrived, s.nodes[root].stayed = 1, s.nodes[root].stayed+stay
	return nil
}

func (s *search) enqueue(id int32) {
	if !s.nodes[id].queued {
		s.nodes[id].queued = true
		heap.Push(&s.queue, id)
	}
}

// node returns the ion with the skeleton, making it when it is new.
func (s *search) node(shape skeleton) int32 {
	if id, ok := s.byShape[shape]; ok {
		return id
	}
	around := &s.around
	s.m.look(&shape, around)
	mass := s.m.massOf(&shape)
	same := identity{around.whole, mass}
	if id, ok := s.byWhole[same]; ok {
		s.byShape[shape] = id
		return id
	}
	id := int32(len(s.nodes))
	n := node{skeleton: shape, mass: mass, odd: s.m.oddElectron(&shape), energies: s.m.energies(&shape)}
	n.facts = s.m.factsOf(&shape, around, n.energies.site)
	n.atoms = n.facts.atoms
	if s.fitted != nil {
		n.product = s.made(&shape, around, &n.facts, asProduct)
		if id == 0 {
			s.root = s.made(&shape, around, &n.facts, asMolecule)
			s.root.plus(&s.fitted.Bias)
		}
	}
	s.byWhole[same] = id
	s.nodes = append(s.nodes, n)
	s.byShape[shape] = id
	return id
}

// made is the sum of the corrections of what a piece is made of.
func (s *search) made(shape *skeleton, around *surroundings, f *facts, p part) Row {
	s.codes = s.m.makeup(s.codes[:0], shape, around, f, p)
	row, _ := s.fitted.sum(s.codes)
	for h := range row {
		row[h] *= PieceScale
	}
	return row
}

// channelKey tells the channels of an ion apart.
type channelKey struct {
	to   int32
	kind Kind
}

// channel is an open step of the ion being followed.
type channel struct {
	proposal
	to          int32
	lost        int32 // what leaves, among the neutrals
	e0          float64
	lnFrequency float64
	ways        float64 // equal steps counted as one channel, isotopic variants in part
	known       float64 // share of the codes of the step that the fit has seen
	share       float64 // of the energy above e0 that the ion keeps
	ions        float64
}

// follow parts the ions that arrived at a node between staying and its steps.
func (s *search) follow(id int32) {
	here := s.nodes[id] // a copy: the slice grows below
	least := s.follows
	if s.followed >= s.most {
		least *= 10
	}
	if here.arrived < least {
		s.nodes[id].stayed = here.arrived
		return
	}
	s.followed++
	channels := s.offeredBy(id, &here)
	s.react(id, &here, channels)
	for i := range channels {
		c := &channels[i]
		if c.ions < leastFlow {
			continue
		}
		s.flowing += c.ions
		s.familiar += c.ions * c.known
		s.flows = append(s.flows, flow{proposal: c.proposal, from: id, to: c.to, e0: c.e0, ions: c.ions})
		s.enqueue(c.to)
	}
}

// workOut returns the steps of an ion at fitted values, where there are any;
// the slice is good until the next call.
func (s *search) workOut(id int32, here *node) []channel {
	channels := s.channels(here, highestE0)
	if s.record {
		s.keep(id, here, channels)
	}
	if s.fitted != nil {
		s.correct(here, channels)
	}
	return channels
}

// channels lists the steps of an ion whose handbook critical energy is below
// the ceiling, those of lowest critical energy where there are more than
// mostChannels. Steps of one kind to one ion are one channel, as often as they
// are there.
func (s *search) channels(here *node, ceiling float64) []channel {
	open, known := s.open[:0], s.sofar
	clear(known)
	before := here.energies.binding - here.energies.ionization
	s.m.steps(&here.skeleton, func(p *proposal) {
		if p.ion.atoms == 0 {
			return
		}
		lost := s.neutral(p)
		left := &s.neutrals[lost]
		to := s.node(p.ion)
		after := &s.nodes[to]
		// A rearrangement needs some tenths of an eV even downhill.
		e0 := before - (after.energies.binding - after.energies.ionization) - left.energies.binding
		e0 = max(e0, 0.2) + p.barrier() + p.heavier
		if !here.odd && after.odd {
			e0 += radicalFromEE
		}
		if e0 > ceiling {
			return
		}
		if i, ok := known[channelKey{to, p.kind}]; ok {
			open[i].ways += p.weight
			return
		}
		known[channelKey{to, p.kind}] = int32(len(open))
		open = append(open, channel{
			proposal: *p, to: to, lost: lost, e0: e0, lnFrequency: traits[p.kind].logFrequency * math.Ln10, ways: p.weight,
			share: kept(after.atoms, here.atoms-after.atoms),
		})
	})
	s.open = open
	if len(open) > mostChannels {
		open = s.lowest(open)
	}
	for i := range open {
		open[i].lnFrequency += math.Log(open[i].ways)
	}
	return open
}

// lowest returns the mostChannels channels of lowest critical energy.
func (s *search) lowest(open []channel) []channel {
	s.order = s.order[:0]
	for i := range open {
		s.order = append(s.order, int32(i))
	}
	slices.SortFunc(s.order, func(a, b int32) int { return cmp.Or(cmp.Compare(open[a].e0, open[b].e0), cmp.Compare(a, b)) })
	kept := s.order[:mostChannels]
	slices.Sort(kept)
	for to, from := range kept { // each goes to its own place or further down
		open[to] = open[from]
	}
	return open[:mostChannels]
}

// lowestCritical is the least critical energy a correction can lead to, in eV.
const lowestCritical = 0.05

// correct moves the channels from handbook to fitted values.
func (s *search) correct(here *node, channels []channel) {
	var d description
	around := &s.around
	s.m.look(&here.skeleton, around)
	source := s.made(&here.skeleton, around, &here.facts, asSource)
	source.plus(&s.root)
	for i := range channels {
		c := &channels[i]
		left, after := &s.neutrals[c.lost], &s.nodes[c.to]
		s.describe(&d, here, around, &c.proposal, &after.facts, &left.facts, after.energies.ionization, c.e0)
		x := source
		x.plus(&after.product)
		x.plus(&left.row)
		lnFrequency, critical, known := s.fitted.Correct(&d, &x)
		c.lnFrequency += lnFrequency
		c.e0 = max(c.e0+critical, lowestCritical)
		c.known = known
	}
}

// keep records the channels of the ion for fitting.
func (s *search) keep(id int32, here *node, channels []channel) {
	var d description
	around := &s.around
	s.m.look(&here.skeleton, around)
	for i := range channels {
		c := &channels[i]
		left := &s.neutrals[c.lost]
		after := &s.nodes[c.to]
		s.describe(&d, here, around, &c.proposal, &after.facts, &left.facts, after.energies.ionization, c.e0)
		s.offered = append(s.offered, offer{id, NetworkStep{
			To: int(c.to), Neutral: 1 + int(c.lost), Critical: c.e0, LogFrequency: c.lnFrequency / math.Ln10, Share: c.share,
			Dense: d.dense, Codes: append([]uint32(nil), d.codes[:d.n]...),
		}})
	}
}

// neutral is the place among the neutrals of the piece that p loses.
func (s *search) neutral(p *proposal) int32 {
	if p.gone > 0 {
		return int32(p.gone - 1)
	}
	if at, ok := s.lost[p.neutral]; ok {
		return at
	}
	s.m.look(&p.neutral, &s.around)
	same := identity{s.around.whole, s.m.massOf(&p.neutral)}
	at, ok := s.lostOf[same]
	if !ok {
		e := s.m.energies(&p.neutral)
		at = s.addNeutral(&p.neutral, e, s.m.factsOf(&p.neutral, &s.around, e.site))
		s.lostOf[same] = at
	}
	s.lost[p.neutral] = at
	return at
}

// addNeutral notes a neutral whose surroundings were looked at last.
func (s *search) addNeutral(shape *skeleton, e energies, f facts) int32 {
	piece := neutralPiece{energies: e, facts: f}
	if s.fitted != nil {
		piece.row = s.made(shape, &s.around, &f, asNeutral)
	}
	if s.record {
		piece.codes = s.m.makeup(nil, shape, &s.around, &f, asNeutral)
	}
	s.neutrals = append(s.neutrals, piece)
	return int32(len(s.neutrals) - 1)
}

// react shares the ions of each energy level out between the channels and
// those that don't decay within the residence time.
func (s *search) react(id int32, here *node, channels []channel) {
	oscillators := oscillators(here.atoms)
	s.rates = slices.Grow(s.rates[:0], len(channels))[:len(channels)]
	rates := s.rates
	stayed := 0.0
	for i, ions := range here.arriving {
		if ions <= here.arrived*1e-7 {
			stayed += ions
			continue
		}
		e := level(i)
		total := 0.0
		for k := range channels {
			rates[k] = rate(channels[k].lnFrequency, channels[k].e0, e, oscillators)
			total += rates[k]
		}
		survive := survival(total)
		stayed += ions * survive
		decayed := ions * (1 - survive)
		if decayed == 0 {
			continue
		}
		for k := range channels {
			n := decayed * rates[k] / total
			if n == 0 {
				continue
			}
			channels[k].ions += n
			to := &s.nodes[channels[k].to]
			to.arrived += n
			to.arriving.deposit((e-channels[k].e0)*channels[k].share, n)
		}
	}
	s.nodes[id].stayed = stayed
}
