package sector

import "math"

// voltsPerMZ is the Dalton over the elementary charge, in V s^2/m^2: an ion of
// m/z 1 and velocity v has crossed v^2/2 times this in volts.
const voltsPerMZ = float64(Dalton) / ElementaryCharge

// MZ returns the m/z that the field b bends with radius r after acceleration
// by v:
//
//	m/z = e b^2 r^2 / (2 v u)
func MZ(b Tesla, r Metre, v Volt) (float64, error) {
	if err := check(field(b), radius(r), voltage(v)); err != nil {
		return 0, err
	}
	br := float64(b) * float64(r)
	mz := br * br / (2 * float64(v) * voltsPerMZ)
	return mz, result("m/z", mz, "")
}

// Field returns the field that bends ions of this m/z with radius r after
// acceleration by v:
//
//	B = sqrt(2 v u (m/z) / e) / r
func Field(mz float64, v Volt, r Metre) (Tesla, error) {
	if err := check(massToCharge(mz), voltage(v), radius(r)); err != nil {
		return 0, err
	}
	if _, err := Velocity(mz, v); err != nil {
		return 0, err
	}
	b := rigidity(mz, v) / float64(r)
	return Tesla(b), result("magnetic field", b, "T")
}

// Radius returns the radius of the path of ions of this m/z in the field b
// after acceleration by v:
//
//	r = sqrt(2 v u (m/z) / e) / B
func Radius(mz float64, b Tesla, v Volt) (Metre, error) {
	if err := check(massToCharge(mz), field(b), voltage(v)); err != nil {
		return 0, err
	}
	if _, err := Velocity(mz, v); err != nil {
		return 0, err
	}
	r := rigidity(mz, v) / float64(b)
	return Metre(r), result("radius", r, "m")
}

// Voltage returns the accelerating voltage after which the field b bends ions
// of this m/z with radius r:
//
//	V = e b^2 r^2 / (2 u (m/z))
func Voltage(mz float64, b Tesla, r Metre) (Volt, error) {
	if err := check(massToCharge(mz), field(b), radius(r)); err != nil {
		return 0, err
	}
	br := float64(b) * float64(r)
	v := br * br / (2 * mz * voltsPerMZ)
	if err := result("accelerating voltage", v, "V"); err != nil {
		return 0, err
	}
	_, err := Velocity(mz, Volt(v))
	return Volt(v), err
}

// rigidity is B r in T m: momentum over charge.
func rigidity(mz float64, v Volt) float64 { return math.Sqrt(2 * float64(v) * mz * voltsPerMZ) }

// Velocity returns the speed of ions of this m/z after acceleration by v from
// rest:
//
//	v = sqrt(2 e V / (u m/z))
//
// It fails above a tenth of the speed of light.
func Velocity(mz float64, v Volt) (MetrePerSecond, error) {
	if err := check(massToCharge(mz), voltage(v)); err != nil {
		return 0, err
	}
	speed := math.Sqrt(2 * float64(v) / (mz * voltsPerMZ))
	if err := result("velocity", speed, "m/s"); err != nil {
		return 0, err
	}
	return MetrePerSecond(speed), slow(MetrePerSecond(speed))
}

// RadiusShift returns how much the radius grows for ions of m/z mz+difference
// where those of mz have radius r, field and voltage the same:
//
//	r (sqrt(1 + difference/mz) - 1)
//
// difference may be negative, but not to m/z 0.
func RadiusShift(mz, difference float64, r Metre) (Metre, error) {
	if err := check(massToCharge(mz), massToCharge(mz+difference), radius(r)); err != nil {
		return 0, err
	}
	ratio := difference / mz
	// (1+x)-1 without the cancellation of small x.
	return Metre(float64(r) * ratio / (math.Sqrt(1+ratio) + 1)), nil
}

// MZAtVoltage returns the m/z that arrives with voltage v where m/z known
// arrives with voltage at, field and radius the same (a voltage sweep, or peak
// matching):
//
//	m/z = known at / v
func MZAtVoltage(known float64, at, v Volt) (float64, error) {
	if err := check(massToCharge(known), voltage(at), voltage(v)); err != nil {
		return 0, err
	}
	mz := known * (float64(at) / float64(v))
	return mz, result("m/z", mz, "")
}

// MZFromNeighbor returns the m/z of an ion from the ratio of the voltages that
// bring it and its neighbor, heavier by difference, to the same place: with
// ratio = V(neighbor) / V(ion), below 1,
//
//	m/z = difference ratio / (1 - ratio)
func MZFromNeighbor(ratio, difference float64) (float64, error) {
	if err := check(quantity{"difference of m/z", difference, "", "the neighbor is heavier"},
		quantity{"voltage ratio", ratio, "", "voltages are positive"}); err != nil {
		return 0, err
	}
	if ratio >= 1 {
		return 0, &SettingError{"voltage ratio", ratio, "", "the heavier neighbor needs the lower voltage, so the ratio is below 1"}
	}
	mz := difference * ratio / (1 - ratio)
	return mz, result("m/z", mz, "")
}
