package sector

import "math"

// ready is an instrument that was checked, with what all its ions share.
type ready struct {
	optics   optics
	response response
	survival float64 // share of ions that hit no molecule of the residual gas
}

// ready checks the instrument, and works out what its ions share.
func (i Instrument) ready() (ready, error) {
	if err := i.Check(); err != nil {
		return ready{}, err
	}
	o, err := i.optics()
	if err != nil {
		return ready{}, err
	}
	s, err := i.response(o)
	return ready{o, s, i.survival(o)}, err
}

// readyFor is ready, for ions and decays that it checks too.
func (i Instrument) readyFor(ions []Ion, decays []Decay) (ready, error) {
	s, err := i.ready()
	if err != nil {
		return ready{}, err
	}
	if err := checkIons(ions); err != nil {
		return ready{}, err
	}
	for _, d := range decays {
		if err := d.check(); err != nil {
			return ready{}, err
		}
	}
	return s, nil
}

// share returns the share of ions that get through the collector slit, where
// excess is their relative excess of momentum over the ion on the central path.
func (s ready) share(excess float64) float64 {
	return s.response.share(s.optics.dispersion*excess) * s.survival
}

// shareAround is the mean of share over excesses up to wide to either side.
func (s ready) shareAround(excess, wide float64) float64 {
	if wide == 0 {
		return s.share(excess)
	}
	d := s.optics.dispersion
	return s.response.mean(d*(excess-wide), d*(excess+wide)) * s.survival
}

// bounds returns the excesses of momentum between which anything gets through.
// It fails where the image is so wide that nothing is separated.
func (s ready) bounds() (low, high float64, err error) {
	low, high = s.response.bounds()
	low, high = low/s.optics.dispersion, high/s.optics.dispersion
	if !(low > -0.5 && high < 0.5) {
		return 0, 0, &SettingError{"width of the image", s.response.image + s.response.collector, "m", "with slits, divergence and energies the image is as wide as the whole dispersion, so nothing is separated"}
	}
	return low, high, nil
}

// narrowest is a relative width in momentum that no peak's width at half its
// height is below: that of the wider slit.
func (s ready) narrowest() float64 {
	return max(s.response.image, s.response.collector) / math.Abs(s.optics.dispersion)
}
