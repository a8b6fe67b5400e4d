package ionize

import (
	"slices"
)

// react shares the ions of each energy level out between the channels and
// those that don't decay within the residence time.
func (s *search) react(id int32, here *node, channels []channel) {
	oscillators := oscillators(here.facts.atoms)
	s.rates = slices.Grow(s.rates[:0], len(channels))[:len(channels)]
	rates := s.rates
	whole, broken := 1.0, 1.0 // weights of the ions that stay and that decay
	if id == 0 && s.fitted != nil {
		whole, broken = s.remaining(here, channels)
	}
	stayed := 0.0
	for i, ions := range here.arriving {
		if ions <= here.arrived*1e-7 {
			stayed += ions * whole
			continue
		}
		e := level(i)
		total := s.fillRates(channels, e, oscillators)
		survive := survival(total)
		stayed += ions * survive * whole
		decayed := ions * (1 - survive) * broken
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

// fillRates puts the rate constants of the channels at internal energy e into
// s.rates and returns their sum.
func (s *search) fillRates(channels []channel, e, oscillators float64) float64 {
	total := 0.0
	for k := range channels {
		s.rates[k] = rate(channels[k].lnFrequency, channels[k].e0, e, oscillators)
		total += s.rates[k]
	}
	return total
}

// remaining returns by how much to weight the molecular ions that stay whole
// and those that break, so that their odds are the corrected ones.
func (s *search) remaining(here *node, channels []channel) (whole, broken float64) {
	oscillators := oscillators(here.facts.atoms)
	stay := 0.0
	for i, ions := range here.arriving {
		stay += ions * survival(s.fillRates(channels, level(i), oscillators))
	}
	stay /= here.arrived
	if stay <= 0 || stay >= 1 {
		return 1, 1
	}
	corrected := Remain(stay, s.fitted.Staying.LnOdds(s.molecule(), stay))
	return corrected / stay, (1 - corrected) / (1 - stay)
}
