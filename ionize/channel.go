package ionize

import (
	"math"
	"slices"
)

// channel is an open step of the ion being followed.
type channel struct {
	proposal
	to          int32
	earlier     int32 // place, counted from 1, of the channel to the same ion met before; 0 for none
	lost        int32 // the piece that leaves
	e0          float64
	lnFrequency float64
	ways        float64 // equal steps counted as one channel, isotopic variants in part
	known       float64 // share of the codes of the step that the fit has seen
	share       float64 // of the energy above e0 that the ion keeps
	ions        float64
}

// offer is a step kept for fitting.
type offer struct {
	from int32
	lost int32       // the piece that leaves
	step NetworkStep // To holds a node
}

// common is the share of the molecular ions below which an ion is rare: fewer
// of its steps are looked at.
const common = 1.0 / 64

// variants is about how many isotopic variants a step of a labelled ion has,
// each a channel of its own.
const variants = 4

// mostChannels is how many steps of an ion are worked out, by the share of the
// molecular ions that arrives at it.
func (s *search) mostChannels(arrived float64) int {
	switch b := s.bounds(); {
	case arrived > 1.0/16:
		return b.frequent
	case arrived > common:
		return b.other
	default:
		return b.rare
	}
}

// workOut returns the steps of an ion at fitted values, where there are any;
// the slice is good until the next call.
func (s *search) workOut(id int32, here *node) []channel {
	most := s.mostChannels(here.arrived)
	if here.skeleton.hasDeuterium() {
		most *= variants
	}
	channels := s.channels(here, highestE0, most)
	if s.record {
		s.keep(id, here, channels)
	}
	if s.fitted != nil {
		s.correct(here, channels)
	}
	return channels
}

// channels lists the steps of an ion whose handbook critical energy is below
// the ceiling: the most of lowest critical energy where there are more. Steps
// of one kind to one ion are one channel, as often as they are there.
func (s *search) channels(here *node, ceiling float64, most int) []channel {
	open := s.open[:0]
	before := here.energies.binding - here.energies.ionization
	s.m.steps(&here.skeleton, here.arrived <= common, func(p *proposal) {
		if p.ion.atoms == 0 {
			return
		}
		to := s.node(&p.ion) // first, as ring closures have paired its electrons already
		lost := s.lost(p)
		left, after := &s.list[lost], &s.nodes[to]
		// A rearrangement needs some tenths of an eV even downhill.
		e0 := before - (after.energies.binding - after.energies.ionization) - left.energies.binding
		e0 = max(e0, 0.2) + p.barrier() + p.heavier
		if !here.odd && after.odd {
			e0 += radicalFromEE
		}
		if e0 > ceiling {
			return
		}
		for k := after.latest; k > 0; k = open[k-1].earlier {
			if open[k-1].kind == p.kind {
				open[k-1].ways += p.weight
				return
			}
		}
		open = append(open, channel{
			proposal: *p, to: to, earlier: after.latest, lost: lost, e0: e0, lnFrequency: traits[p.kind].logFrequency * math.Ln10, ways: p.weight,
			share: kept(after.facts.atoms, here.facts.atoms-after.facts.atoms),
		})
		after.latest = int32(len(open))
	})
	s.open = open
	for i := range open {
		s.nodes[open[i].to].latest = 0
	}
	if len(open) > most {
		open = s.lowest(open, most)
	}
	for i := range open {
		open[i].lnFrequency += math.Log(open[i].ways)
	}
	return open
}

// lowest returns the most channels of lowest critical energy.
func (s *search) lowest(open []channel, most int) []channel {
	s.order = s.order[:0]
	for i := range open { // energies are positive, so that their bits sort like them
		s.order = append(s.order, uint64(math.Float32bits(float32(open[i].e0)))<<32|uint64(i))
	}
	slices.Sort(s.order)
	kept := s.order[:most]
	for k, v := range kept {
		kept[k] = v & math.MaxUint32
	}
	slices.Sort(kept)
	for to, from := range kept { // each goes to its own place or further down
		open[to] = open[from]
	}
	return open[:most]
}

// lowestFitted is the lowest m/z that is fitted to. What comes below it in the
// spectra of light compounds, which begin there, the corrections may make rarer
// than the handbook, but not more frequent.
const lowestFitted = 29

// lowestCritical is the least critical energy a correction can lead to, in eV.
const lowestCritical = 0.05

// correct moves the channels from handbook to fitted values.
func (s *search) correct(here *node, channels []channel) {
	var d description
	var x Row
	light := s.nodes[0].mass < lightMass
	s.m.look(&here.skeleton, &s.breaking)
	source := *s.row(here.id, asSource)
	source.Add(Term{1, s.molecule()})
	dense := &s.fitted.Dense
	for i := range channels {
		c := &channels[i]
		to := &s.nodes[c.to]
		s.describe(&d, here, &s.breaking, &c.proposal, &to.facts, &s.list[c.lost].facts, c.e0)
		s.row(to.id, asProduct) // first, as it may move the other
		neutral, product := s.row(c.lost, asNeutral), s.row(to.id, asProduct)
		s.found = s.fitted.find(s.found, d.codes[:d.n])
		s.fitted.sum(&x, s.found, 1)
		x.Add(Term{1, &source}, Term{1, product}, Term{1, neutral}, Term{d.critical, &dense[denseCritical]}, Term{d.kept, &dense[denseKept]})
		out := Activate(&x, &s.fitted.Out)
		lnFrequency, critical := float64(out[0]), float64(out[1])
		if light && to.mass < lowestFitted {
			lnFrequency, critical = min(lnFrequency, 0), max(critical, 0)
		}
		c.lnFrequency += lnFrequency
		c.e0 = max(c.e0+critical, lowestCritical)
		c.known = float64(len(s.found)) / float64(max(d.n, 1))
	}
}

// molecule is the sum of the corrections of the molecular ion and the bias.
func (s *search) molecule() *Row {
	if s.root == nil {
		row := *s.row(s.nodes[0].id, asMolecule)
		row.Add(Term{1, &s.fitted.Bias})
		s.root = &row
	}
	return s.root
}

// keep records the channels of the ion for fitting.
func (s *search) keep(id int32, here *node, channels []channel) {
	var d description
	s.m.look(&here.skeleton, &s.breaking)
	for i := range channels {
		c := &channels[i]
		s.describe(&d, here, &s.breaking, &c.proposal, &s.nodes[c.to].facts, &s.list[c.lost].facts, c.e0)
		s.offered = append(s.offered, offer{id, c.lost, NetworkStep{
			To: int(c.to), Critical: c.e0, LogFrequency: c.lnFrequency / math.Ln10, Share: c.share,
			Dense: [NumStepDense]float32{denseCritical: d.critical, denseKept: d.kept}, Codes: slices.Clone(d.codes[:d.n]),
		}})
	}
}
