package ionize

import (
	"fmt"

	"ionwright/isotope"
	"ionwright/spectrum"
)

// rarest is the share of an ion's isotopologues under which one is left out.
const rarest = 1e-4

// Exact returns the computed spectrum with every isotopologue at its own m/z,
// as an instrument of high resolving power would tell them apart, in % of the
// base peak at unit m/z. At unit m/z it is Spectrum, but for what is rarer than
// one in ten thousand. It fails where an ion has too many isotopologues.
func (p *Prediction) Exact() (spectrum.Spectrum, error) {
	unit := p.Spectrum()
	byFormula, order := p.compositions()
	var peaks []spectrum.Peak
	for _, f := range order {
		fine, err := isotope.Fine(f, rarest)
		if err != nil {
			return spectrum.Spectrum{}, fmt.Errorf("listing the peaks of %s: %w", f, err)
		}
		for _, i := range fine {
			mz := float64(i.Mass) / float64(max(f.Charge(), 1))
			if unit.At(i.MassNumber/max(f.Charge(), 1)) > 0 {
				peaks = append(peaks, spectrum.Peak{MZ: mz, Intensity: byFormula[f] * i.Probability})
			}
		}
	}
	s, err := spectrum.New(peaks)
	if err != nil {
		return s, err
	}
	if base, ok := s.Unit().Base(); ok {
		for k := range s.Peaks {
			s.Peaks[k].Intensity *= 100 / base.Intensity
		}
	}
	s.Title, s.Info = unit.Title, unit.Info
	return s, nil
}
