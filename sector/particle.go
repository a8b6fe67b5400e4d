package sector

import "math"

// These work with mass in kg and charge number, as physics courses ask, where
// the ion's velocity is given and not the voltage.

// Kilograms returns a mass in Da (u) in kg.
func Kilograms(daltons float64) (Kilogram, error) {
	if err := check(quantity{"mass", daltons, "u", "an ion has a positive mass"}); err != nil {
		return 0, err
	}
	m := Kilogram(daltons) * Dalton
	return m, result("mass", float64(m), "kg")
}

// Daltons returns a mass in kg in Da (u).
func Daltons(m Kilogram) (float64, error) {
	if err := check(mass(m)); err != nil {
		return 0, err
	}
	u := float64(m / Dalton)
	return u, result("mass", u, "u")
}

// CircleRadius returns the radius of the circle that an ion of mass m and
// charge z e flies at speed v across the field b:
//
//	r = m v / (z e b)
func CircleRadius(m Kilogram, z int, v MetrePerSecond, b Tesla) (Metre, error) {
	if err := check(mass(m), charge(z), velocity(v), field(b)); err != nil {
		return 0, err
	}
	r := float64(m) * float64(v) / (float64(z) * ElementaryCharge * float64(b))
	if err := result("radius", r, "m"); err != nil {
		return 0, err
	}
	return Metre(r), slow(v)
}

// CircleMass returns the mass of an ion of charge z e that flies a circle of
// radius r at speed v across the field b:
//
//	m = z e b r / v
func CircleMass(r Metre, z int, v MetrePerSecond, b Tesla) (Kilogram, error) {
	if err := check(radius(r), charge(z), velocity(v), field(b)); err != nil {
		return 0, err
	}
	m := float64(z) * ElementaryCharge * float64(b) * float64(r) / float64(v)
	if err := result("mass", m, "kg"); err != nil {
		return 0, err
	}
	return Kilogram(m), slow(v)
}

// CircleCharge returns the charge, in C, of an ion of mass m that flies a
// circle of radius r at speed v across the field b:
//
//	q = m v / (b r)
func CircleCharge(m Kilogram, r Metre, v MetrePerSecond, b Tesla) (float64, error) {
	if err := check(mass(m), radius(r), velocity(v), field(b)); err != nil {
		return 0, err
	}
	q := float64(m) * float64(v) / (float64(b) * float64(r))
	if err := result("charge", q, "C"); err != nil {
		return 0, err
	}
	return q, slow(v)
}

// AcceleratedMass returns the mass of an ion of charge z e that flies a circle
// of radius r across the field b after acceleration by v:
//
//	m = z e b^2 r^2 / (2 v)
func AcceleratedMass(z int, b Tesla, r Metre, v Volt) (Kilogram, error) {
	if err := check(charge(z)); err != nil {
		return 0, err
	}
	mz, err := MZ(b, r, v)
	return Kilogram(mz * float64(z) * float64(Dalton)), err
}

// SemicircleSeparation returns how far apart two ions of the same charge z e
// and speed v hit a plate after half a circle in the field b, where both start
// from the same point; positive where m2 is the heavier one:
//
//	2 (r2 - r1)
func SemicircleSeparation(m1, m2 Kilogram, z int, v MetrePerSecond, b Tesla) (Metre, error) {
	r1, err := CircleRadius(m1, z, v, b)
	if err != nil {
		return 0, err
	}
	r2, err := CircleRadius(m2, z, v, b)
	return 2 * (r2 - r1), err
}

// SelectorField returns the electric field that lets ions of speed v pass
// straight through the crossed field b of a velocity selector:
//
//	E = v b
func SelectorField(v MetrePerSecond, b Tesla) (VoltPerMetre, error) {
	if err := check(velocity(v), field(b)); err != nil {
		return 0, err
	}
	e := float64(v) * float64(b)
	if err := result("electric field", e, "V/m"); err != nil {
		return 0, err
	}
	return VoltPerMetre(e), slow(v)
}

// SelectorVelocity returns the speed that passes straight through the crossed
// fields e and b, whatever mass and charge:
//
//	v = e / b
func SelectorVelocity(e VoltPerMetre, b Tesla) (MetrePerSecond, error) {
	if err := check(quantity{"electric field", float64(e), "V/m", "without it the magnetic field bends all ions"}, field(b)); err != nil {
		return 0, err
	}
	v := float64(e) / float64(b)
	if err := result("velocity", v, "m/s"); err != nil {
		return 0, err
	}
	return MetrePerSecond(v), slow(MetrePerSecond(v))
}

// PlateVoltage returns the voltage across plates with this gap that makes the
// field e between them:
//
//	V = e gap
func PlateVoltage(e VoltPerMetre, gap Metre) (Volt, error) {
	if err := check(quantity{"electric field", float64(e), "V/m", "expected a positive field"}, length("gap", gap)); err != nil {
		return 0, err
	}
	v := float64(e) * float64(gap)
	return Volt(v), result("voltage", v, "V")
}

// FlightTime returns how long ions of this m/z take for the length of a
// field-free tube after acceleration by v:
//
//	t = length sqrt(u (m/z) / (2 e v))
func FlightTime(mz float64, v Volt, tube Metre) (Second, error) {
	if err := check(length("flight length", tube)); err != nil {
		return 0, err
	}
	speed, err := Velocity(mz, v)
	if err != nil {
		return 0, err
	}
	t := float64(tube) / float64(speed)
	return Second(t), result("flight time", t, "s")
}

// FlightTimeRatio returns the flight time of an ion of mass m2 where one of
// mass m1 takes t1, with the same kinetic energy and tube:
//
//	t2 = t1 sqrt(m2 / m1)
func FlightTimeRatio(t1 Second, m1, m2 Kilogram) (Second, error) {
	if err := check(quantity{"flight time", float64(t1), "s", "a time of flight is positive"}, mass(m1), mass(m2)); err != nil {
		return 0, err
	}
	t := float64(t1) * math.Sqrt(float64(m2)/float64(m1))
	return Second(t), result("flight time", t, "s")
}

// KineticEnergy returns m v^2 / 2 in J.
func KineticEnergy(m Kilogram, v MetrePerSecond) (float64, error) {
	if err := check(mass(m), velocity(v)); err != nil {
		return 0, err
	}
	energy := float64(m) * float64(v) * float64(v) / 2
	if err := result("kinetic energy", energy, "J"); err != nil {
		return 0, err
	}
	return energy, slow(v)
}
