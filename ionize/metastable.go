package ionize

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"

	"ionwright/chem"
	"ionwright/mol"
)

// Late is a decay after the ion has left the source: a metastable ion. Before,
// After, Charge, Intensity and Release are what a magnetic sector needs to
// know of it.
type Late struct {
	Kind          Kind
	From, To      int // IDs of the ions in the prediction
	Loss          chem.Formula
	Before, After float64 // m/z of precursor and product, of their principal isotopes
	Charge        int     // charge number of both
	Intensity     float64 // ions that decay so in the window, of all molecular ions formed
	Fraction      float64 // the same, of the precursor ions that leave the source
	Release       float64 // mean kinetic energy that the decay sets free, eV: an estimate
}

// Window says from when to when, in seconds after ions of an m/z have left the
// source, a decay counts: while they cross a region without field, say.
type Window func(mz float64) (from, to float64)

// Metastable computes, beside the prediction at the settings, which ions
// decay in the window instead of in the source, the most frequent first. The
// ions are those that the prediction counts as detected: the share that decays
// later is small.
//
// At each internal energy E, ions that left the source undecayed decay by a
// step of rate k, of total rate K, with the probability
//
//	(exp(-K from) - exp(-K to)) k / K
//
// The kinetic energy release is Haney and Franklin's mean (J. Chem. Phys. 48
// (1968) 4093, from memory): the energy above the products, over 0.44 times the
// number of vibrations. What is above the products holds the barrier of
// rearrangements, of which this takes no larger share; so steps that push
// their products apart (loss of nitrogen monoxide, of hydrogen from a small
// ring) release more in truth.
//
// It fails as [Predict] does, and for a window that ends before it begins.
func Metastable(ctx context.Context, m *mol.Mol, settings Settings, window Window) (*Prediction, []Late, error) {
	if settings.EnergyEV == 0 {
		settings.EnergyEV = UsualEnergy
	}
	var s *search
	s, err := s.at(ctx, m, settings.EnergyEV)
	if err != nil {
		return nil, nil, err
	}
	p := s.prediction(m)
	order := s.listed()
	place := make(map[int32]int, len(order))
	for i, id := range order {
		place[id] = i
	}
	var late []Late
	for i, id := range order {
		channels := s.known[id].channels
		if len(channels) == 0 || s.nodes[id].stayed <= 0 {
			continue
		}
		from, to := window(float64(p.Ions[i].Formula.MZ()))
		if !(from >= 0 && to >= from) || math.IsInf(to, 0) {
			return nil, nil, fmt.Errorf("computing metastable ions: the window of m/z %d is from %g to %g s; it begins at 0 or later and ends after it begins", p.Ions[i].MZ, from, to)
		}
		for _, d := range s.decaying(&s.nodes[id], channels, from, to) {
			to, ok := place[d.to]
			if !ok {
				continue // the ion isn't met in the source at all
			}
			late = append(late, Late{
				Kind: d.kind, From: i, To: to, Loss: s.lossOf(&s.nodes[id].skeleton, &d.proposal), Charge: 1,
				Before: float64(p.Ions[i].Formula.MZ()), After: float64(p.Ions[to].Formula.MZ()),
				Intensity: d.share * s.nodes[id].stayed, Fraction: d.share, Release: d.release,
			})
		}
	}
	slices.SortStableFunc(late, func(a, b Late) int { return cmp.Compare(b.Intensity, a.Intensity) })
	return p, late, nil
}

// decay is a step that ions take late.
type decay struct {
	*channel
	share   float64 // of the ions that left the source
	release float64 // mean, eV
}

// between is how many energies a level is split into: rates change by orders
// of magnitude from one level to the next.
const between = 12

// leastLate is the share of the ions leaving the source under which a late
// decay is left out.
const leastLate = 1e-6

// decaying are the steps that ions of a node take in the window.
func (s *search) decaying(here *node, channels []channel, from, to float64) []decay {
	vibrations := max(float64(3*here.facts.atoms-6), 1)
	effective := oscillators(here.facts.atoms)
	out := make([]decay, len(channels))
	rates := make([]float64, len(channels))
	left := 0.0 // ions that leave the source
	for i, ions := range here.arriving {
		if ions <= 0 {
			continue
		}
		for part := range between {
			e := level(i) + ((float64(part)+0.5)/between-0.5)*LevelStep
			total := 0.0
			for k := range channels {
				rates[k] = rate(channels[k].lnFrequency, channels[k].e0, e, effective)
				total += rates[k]
			}
			leave := ions / between * survival(total)
			left += leave
			if total == 0 {
				continue
			}
			n := leave * (math.Exp(-total*from) - math.Exp(-total*to))
			for k := range channels {
				share := n * rates[k] / total
				out[k].share += share
				out[k].release += share * (e - channels[k].e0 + channels[k].barrier()) / (0.44 * vibrations)
			}
		}
	}
	var kept []decay
	for k := range out {
		if left > 0 && out[k].share >= leastLate*left {
			out[k].channel = &channels[k]
			out[k].release /= out[k].share
			out[k].share /= left
			kept = append(kept, out[k])
		}
	}
	return kept
}

// lossOf is the composition of the neutral that a step from the ion leaves.
func (s *search) lossOf(from *skeleton, p *proposal) chem.Formula {
	if p.gone > 0 {
		return lostHydrogen(from, &p.ion)
	}
	return s.m.formulaOf(&p.neutral, 0)
}
