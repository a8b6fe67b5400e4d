package ionize

import "slices"

// react shares the ions of each energy level out between the channels and
// those that don't decay within the residence time.
func (s *search) react(id int32, here *node, channels []channel) {
	oscillators := oscillators(here.facts.atoms)
	s.rates = slices.Grow(s.rates[:0], len(channels))[:len(channels)]
	rates := s.rates
	stayed := 0.0
	for i, ions := range here.arriving {
		if ions <= here.arrived*1e-7 {
			stayed += ions
			continue
		}
		e := level(i)
		total := s.fillRates(channels, e, oscillators)
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
