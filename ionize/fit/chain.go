package fit

import (
	"math"

	"ionwright/ionize"
)

// The chain is the kinetics of ionize on a fixed network, with its gradient.
// Per level of internal energy the ions at a node part between leaving the
// source and the steps, in proportion to the rates; see ionize/kinetics.go.

// chainStep is a step with the parameters as corrected.
type chainStep struct {
	to    int32
	share float32
	base  float32 // handbook critical energy, eV
	logA  float32 // handbook natural logarithm of the frequency factor
}

// graph is a network laid out for the chain.
type graph struct {
	first, last []int32   // steps of each ion
	oscillators []float32 // of each ion
	steps       []chainStep
	arrive      ionize.Distribution
	cold        float64 // share of the molecular ions that have no energy to break
}

// state is the scratch of one pass over a graph.
type state struct {
	population [][ionize.Levels]float64
	adjoint    [][ionize.Levels]float64
	total      []float64 // arrived at each ion
	stayed     []float64
	gStayed    []float64
	active     []bool // the ion's steps were worked out
	lnA, e0    []float64
	gLnA, gE0  []float64
	rates      []float64
}

func (s *state) reset(ions, steps int) {
	s.population = grow(s.population, ions)
	s.adjoint = grow(s.adjoint, ions)
	s.total = grow(s.total, ions)
	s.stayed = grow(s.stayed, ions)
	s.gStayed = grow(s.gStayed, ions)
	s.active = grow(s.active, ions)
	s.lnA = grow(s.lnA, steps)
	s.e0 = grow(s.e0, steps)
	s.gLnA = grow(s.gLnA, steps)
	s.gE0 = grow(s.gE0, steps)
	clear(s.population)
	clear(s.adjoint)
	clear(s.total)
	clear(s.gLnA)
	clear(s.gE0)
	clear(s.active)
}

func grow[T any](s []T, n int) []T {
	if cap(s) < n {
		return make([]T, n)
	}
	return s[:n]
}

const (
	least     = 2e-5 // share of the molecular ions below which an ion isn't followed
	leastStep = 0.05 // eV; no critical energy is lower
)

var lnResidence = math.Log(ionize.Residence)

func energy(level int) float64 { return (float64(level) + 0.5) * ionize.LevelStep }

// forward follows the ions; correct fills lnA and e0 of an ion's steps when
// the ion is reached.
func (g *graph) forward(s *state, correct func(ion int)) {
	s.population[0] = g.arrive
	s.total[0] = 1 - g.cold
	for i := range g.first {
		if s.total[i] < least || g.first[i] == g.last[i] {
			s.stayed[i] = s.total[i]
			continue
		}
		s.active[i] = true
		correct(i)
		first, last := g.first[i], g.last[i]
		s.rates = grow(s.rates, int(last-first))
		power := float64(g.oscillators[i]) - 1
		stayed := 0.0
		for l := range ionize.Levels {
			n := s.population[i][l]
			if n < 1e-9 {
				stayed += n
				continue
			}
			sum := g.fill(s, int(first), int(last), energy(l), power)
			stayed += n / (1 + sum)
			for k := first; k < last; k++ {
				x := s.rates[k-first]
				if x == 0 {
					continue
				}
				ions := n * x / (1 + sum)
				st := &g.steps[k]
				s.total[st.to] += ions
				at, f := place((energy(l) - s.e0[k]) * float64(st.share))
				s.population[st.to][at] += ions * (1 - f)
				if f > 0 {
					s.population[st.to][at+1] += ions * f
				}
			}
		}
		s.stayed[i] = stayed
	}
	s.stayed[0] += g.cold
}

// fill puts rate times residence of each step at energy e into s.rates and
// returns their sum.
func (g *graph) fill(s *state, first, last int, e, power float64) float64 {
	sum := 0.0
	for k := first; k < last; k++ {
		x := 0.0
		if open := 1 - s.e0[k]/e; open > 0 {
			if ln := s.lnA[k] + lnResidence + power*math.Log(open); ln > -20 {
				x = math.Exp(min(ln, 40))
			}
		}
		s.rates[k-first] = x
		sum += x
	}
	return sum
}

// place is the level below an energy and how far it is to the next.
func place(e float64) (int, float64) {
	x := e/ionize.LevelStep - 0.5
	switch {
	case x <= 0:
		return 0, 0
	case x >= ionize.Levels-1:
		return ionize.Levels - 1, 0
	}
	at := int(x)
	return at, x - float64(at)
}

// backward turns gStayed, the gradient of the loss with respect to the ions
// that stay at each ion, into gLnA and gE0.
func (g *graph) backward(s *state) {
	for i := len(g.first) - 1; i >= 0; i-- {
		if !s.active[i] {
			for l := range ionize.Levels {
				s.adjoint[i][l] = s.gStayed[i]
			}
			continue
		}
		first, last := g.first[i], g.last[i]
		s.rates = grow(s.rates, int(last-first))
		power := float64(g.oscillators[i]) - 1
		for l := range ionize.Levels {
			n := s.population[i][l]
			if n < 1e-9 {
				s.adjoint[i][l] = s.gStayed[i]
				continue
			}
			e := energy(l)
			sum := g.fill(s, int(first), int(last), e, power)
			mean := s.gStayed[i]
			for k := first; k < last; k++ {
				if x := s.rates[k-first]; x > 0 {
					mean += x * g.value(s, int(k), e)
				}
			}
			mean /= 1 + sum
			s.adjoint[i][l] = mean
			for k := first; k < last; k++ {
				x := s.rates[k-first]
				if x == 0 {
					continue
				}
				ions := n * x / (1 + sum)
				gain := ions * (g.value(s, int(k), e) - mean)
				s.gLnA[k] += gain
				s.gE0[k] -= gain * power / max(e-s.e0[k], 0.05)
				st := &g.steps[k]
				if at, f := place((e - s.e0[k]) * float64(st.share)); f > 0 {
					slope := s.adjoint[st.to][at+1] - s.adjoint[st.to][at]
					s.gE0[k] -= ions * slope * float64(st.share) / ionize.LevelStep
				}
			}
		}
	}
}

// value is the gradient with respect to one ion taking step k at energy e.
func (g *graph) value(s *state, k int, e float64) float64 {
	st := &g.steps[k]
	at, f := place((e - s.e0[k]) * float64(st.share))
	v := s.adjoint[st.to][at]
	if f > 0 {
		v += f * (s.adjoint[st.to][at+1] - v)
	}
	return v
}
