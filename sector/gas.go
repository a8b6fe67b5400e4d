package sector

import "math"

// Pascal is a pressure.
type Pascal float64

// What the residual gas is taken to be: molecules at room temperature with
// collision cross-sections of this order (common practice, no source).
const (
	gasTemperature = 293.15 // K
	crossSection   = 1e-18  // m^2
)

// MeanFreePath returns how far an ion flies on average through residual gas of
// this pressure before it hits a molecule:
//
//	k T / (sigma p)
//
// at 293.15 K with a cross-section of 1e-18 m^2: an order of magnitude.
func MeanFreePath(p Pascal) (Metre, error) {
	if err := check(quantity{"pressure", float64(p), "Pa", "without gas an ion hits nothing"}); err != nil {
		return 0, err
	}
	l := boltzmann * ElementaryCharge * gasTemperature / (crossSection * float64(p))
	return Metre(l), result("mean free path", l, "m")
}

// pathLength returns the length of the central path.
func (i Instrument) pathLength(o optics) float64 {
	l := float64(i.Before) + float64(i.Radius)*i.bend() + o.after
	if e := i.Electric; e != nil {
		l += float64(e.Radius)*float64(e.Angle) + float64(e.Between)
	}
	return l
}

// survival returns the share of ions that hit no molecule on their way.
func (i Instrument) survival(o optics) float64 {
	if i.Pressure <= 0 {
		return 1
	}
	path, err := MeanFreePath(i.Pressure)
	if err != nil {
		return 0
	}
	return math.Exp(-i.pathLength(o) / float64(path))
}
