package sector

import (
	"fmt"
	"math"
)

// Decay is a stream of ions that form from heavier ones between acceleration
// and magnet: metastable ions. They are recorded at the apparent m/z
// After^2/Before, and the energy that the decay releases makes their peak
// diffuse.
type Decay struct {
	Before, After float64 // m/z of precursor and product, of the same charge
	Charge        int     // charge number of both; 0 is 1
	Intensity     float64 // current of the products, in the unit of Ion.Intensity
	Release       float64 // kinetic energy that the decay sets free, eV
}

// check returns an error that names the first value that can't be.
func (d Decay) check() error {
	if _, err := Metastable(d.Before, d.After); err != nil {
		return err
	}
	switch {
	case !(d.Intensity >= 0) || math.IsInf(d.Intensity, 0):
		return &SettingError{"intensity", d.Intensity, "", fmt.Sprintf("the current of the decay of m/z %v to %v is a finite number of zero or more", d.Before, d.After)}
	case !(d.Release >= 0) || d.Release > 100:
		return &SettingError{"kinetic energy release", d.Release, "eV", "expected 0 to 100 eV; most decays release less than 1 eV"}
	case d.Charge < 0:
		return charge(d.Charge).error()
	}
	return nil
}

// apparent is the m/z at which the products are recorded.
func (d Decay) apparent() float64 { return d.After * d.After / d.Before }

// tooMuch is the error for a release that nothing is left of the beam with.
func (d Decay) tooMuch() error {
	return &SettingError{"kinetic energy release", d.Release, "eV", "so much that the products fly in all directions"}
}

// spread returns by how much of the momentum, to either side, the products of
// the decay are faster or slower than without release.
//
// In the frame of the precursor the product leaves, in any direction alike,
// with the momentum sqrt(2 T m2 m3 / m1), m3 being the mass lost. The part along
// the beam is then evenly spread, which over the momentum m2 v1 is
//
//	sqrt(T m3 / (z e V m2))
//
// to either side. Products that leave sideways and miss the slits aren't taken
// out, so the peak has a flat top where a real one can have a dip.
func (d Decay) spread(v Volt) float64 {
	z := float64(max(d.Charge, 1))
	return math.Sqrt(d.Release * (d.Before - d.After) / (z * float64(v) * d.After))
}

// ReleaseFromWidth returns the kinetic energy release in eV that gives a
// metastable peak, at apparent m/z m*, the full width in m/z, its own and the
// instrument's widths aside:
//
//	T = (m2 / m3) z e V (width / (4 m*))^2
//
// since m/z goes with the square of the momentum, the width is 4 m* times the
// relative spread of momentum to either side.
func ReleaseFromWidth(before, after float64, z int, v Volt, width float64) (float64, error) {
	apparent, err := Metastable(before, after)
	if err != nil {
		return 0, err
	}
	if err := check(charge(z), voltage(v), quantity{"width of the metastable peak", width, "", "a peak has a width"}); err != nil {
		return 0, err
	}
	part := width / (4 * apparent)
	release := after / (before - after) * float64(z) * float64(v) * part * part
	return release, result("kinetic energy release", release, "eV")
}

// DecayShare returns the share of ions of m/z mz that decay, at the rate per
// second, in the field-free region before the magnet, of those that leave the
// source undecayed:
//
//	exp(-rate t1) - exp(-rate t2)
//
// with the flight times to the beginning and to the end of that region. With
// an electric sector it is the drift between the sectors: the products of
// decays before it have too little energy to pass it. Decays in a field add to
// the background.
func (i Instrument) DecayShare(mz, rate float64) (float64, error) {
	if err := check(quantity{"rate", rate, "1/s", "a decay has a positive rate"}); err != nil {
		return 0, err
	}
	begin, end, err := i.FreeFlight(mz)
	if err != nil {
		return 0, err
	}
	return math.Exp(-rate*float64(begin)) * -math.Expm1(-rate*float64(end-begin)), nil
}

// FreeFlight returns when, after leaving the source slit, an ion of m/z mz
// enters and leaves the field-free region before the magnet: what decays
// between gives metastable peaks. It fails where there is no such region.
func (i Instrument) FreeFlight(mz float64) (begin, end Second, err error) {
	speed, err := Velocity(mz, i.Voltage)
	if err != nil {
		return 0, 0, err
	}
	before, free, name := Metre(0), i.Before, "drift before the magnet"
	if e := i.Electric; e != nil {
		before, free, name = i.Before+e.Radius*Metre(e.Angle), e.Between, "drift from electric sector to magnet"
	}
	if !(free > 0) {
		return 0, 0, &SettingError{name, float64(free), "m", "without a field-free way before the magnet there are no metastable peaks"}
	}
	return Second(float64(before) / float64(speed)), Second(float64(before+free) / float64(speed)), nil
}
