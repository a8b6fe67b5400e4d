package sector

import "math"

// ElectricSector is the field between two coaxial cylinders, which bends by
// energy. It stands before the magnet.
type ElectricSector struct {
	Radius   Metre  // of the central path
	Angle    Radian // that it bends the central path
	Between  Metre  // from it to the magnet
	Gap      Metre  // between the plates; 0 is as wide as needed
	Opposite bool   // bends the other way than the magnet
}

// check returns an error that names the first setting that can't be.
func (e *ElectricSector) check() error {
	if err := check(quantity{"radius of the electric sector", float64(e.Radius), "m", "the radius of a path is positive"},
		quantity{"angle of the electric sector", float64(e.Angle), "rad", "a sector bends the beam by more than 0"}); err != nil {
		return err
	}
	switch {
	case e.Angle > math.Pi:
		return &SettingError{"angle of the electric sector", float64(e.Angle), "rad", "expected at most half a circle (3.14159 rad)"}
	case !(e.Between >= 0) || math.IsInf(float64(e.Between), 0):
		return &SettingError{"drift from electric sector to magnet", float64(e.Between), "m", "a length is zero or more"}
	case !(e.Gap >= 0) || e.Gap >= e.Radius:
		return &SettingError{"gap of the electric sector", float64(e.Gap), "m", "expected less than its radius, or 0 for as wide as needed"}
	}
	return nil
}

// PlateVoltage returns the voltage across the plates that holds ions, which
// were accelerated by v, on the central path, with potentials of equal size on
// both, by V = 2 v ln(outer radius / inner radius). It fails without a gap.
func (e *ElectricSector) PlateVoltage(v Volt) (Volt, error) {
	if err := check(voltage(v), length("gap of the electric sector", e.Gap)); err != nil {
		return 0, err
	}
	if err := e.check(); err != nil {
		return 0, err
	}
	half := float64(e.Gap) / 2
	return 2 * v * Volt(math.Log((float64(e.Radius)+half)/(float64(e.Radius)-half))), nil
}

// Bounds of the error of each integration step, in radii: for the coefficients
// of images, which come from differences of rays, and for rays to look at.
const (
	opticalTolerance = 1e-13
	visibleTolerance = 1e-8
)

// fly takes a ray through the sector. At the edges, which are sharp, the
// potential changes the forward speed and leaves the sideways speed; inside,
// angular momentum and energy stay. Speeds are in units of that on the central
// path, lengths in radii. It returns false for a ray that hits a plate or turns
// back. It calls watch, which may be nil, with points of the way, a few degrees
// apart: the angle from the entry and the distance beside the central path.
//
// With u the inverse of the distance from the center and l the angular
// momentum, the path is u” = 1/(l^2 u) - u.
func (e *ElectricSector) fly(p ray, tolerance float64, watch func(angle, beside float64)) (ray, bool) {
	sign := 1.0
	if e.Opposite {
		sign = -1
	}
	radius := float64(e.Radius)
	limit := math.Inf(1)
	if e.Gap > 0 {
		limit = float64(e.Gap) / 2 / radius
	}
	rho := 1 + sign*p.x/radius
	if rho <= 0 || math.Abs(rho-1) > limit {
		return p, false
	}
	sideways := math.Sqrt(p.energy) * math.Sin(sign*p.angle)
	forward := p.energy - 2*math.Log(rho) - sideways*sideways
	if forward <= 0 {
		return p, false
	}
	l := rho * math.Sqrt(forward)
	y := state{1 / rho, -sideways / l}
	hit := false
	path := func(_ float64, y state) state {
		return state{y[1], 1/(l*l*y[0]) - y[0]}
	}
	// Where the way is watched, it goes piece by piece, so that there are points
	// enough to look round.
	pieces := 1
	if watch != nil {
		pieces = int(math.Ceil(float64(e.Angle) / arcStep))
	}
	step := float64(e.Angle) / float64(pieces)
	for k := range pieces {
		var err error
		var reached float64
		y, err = integrate(path, 0, step, y, tolerance, func(angle float64, y state) bool {
			reached = angle
			hit = !(y[0] > 0) || math.Abs(1/y[0]-1) > limit
			return !hit
		})
		if watch != nil && y[0] > 0 {
			watch(float64(k)*step+reached, sign*min(max(1/y[0]-1, -limit), limit)*radius)
		}
		if err != nil || hit {
			return p, false
		}
	}
	rho = 1 / y[0]
	sideways = -l * y[1]
	forward = l * y[0]
	p.x = sign * (rho - 1) * radius
	out := forward*forward + 2*math.Log(rho) // the potential gives the energy back
	if out <= 0 {
		return p, false
	}
	p.angle = sign * math.Atan2(sideways, math.Sqrt(out))
	p.energy = out + sideways*sideways // as before, but for the error of the integration
	return p, true
}
