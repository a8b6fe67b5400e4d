package eval

import (
	"fmt"
	"math"

	"ionwright/sector"
)

// physics is a function of numbers that sector computes; where one can't be,
// sector says which and why.
func physics(name string, result Kind, doc, example, prints string, params []string, compute func(x []float64) (float64, error)) Function {
	form := make(Form, len(params))
	for i, p := range params {
		form[i] = Param{p, "number"}
	}
	return Function{
		Name: name, Forms: []Form{form}, Result: "decimal", Kind: result, Doc: doc, Example: example, Prints: prints,
		bind: func(_ *run, a args) (any, error) {
			x := make([]float64, len(a))
			for i := range a {
				var err error
				if x[i], err = a.number(i); err != nil {
					return nil, err
				}
			}
			return number64(compute(x))
		},
	}
}

// charged calls compute with the charge number that x[at] is.
func charged(x []float64, at int, compute func(z int) (float64, error)) (float64, error) {
	if z := x[at]; z != math.Trunc(z) || math.Abs(z) > 1000 {
		return 0, fmt.Errorf("argument %d is a charge number, a whole number, not %g", at+1, z)
	}
	return compute(int(x[at]))
}

// physicsFunctions are what courses ask beside the sector: velocities, circles
// in a field, the velocity selector, times of flight, voltage sweeps and
// metastable ions. Masses are in kg where a velocity is given, as in physics.
var physicsFunctions = []Function{
	physics("velocity", Velocity, "The speed in m/s of ions of an m/z after acceleration by a voltage (V).",
		"velocity(28, 3000)", "143800\u00a0m/s", []string{"mz", "volts"},
		func(x []float64) (float64, error) { return plain(sector.Velocity(x[0], sector.Volt(x[1]))) }),
	physics("radiusShift", Length, "How much the radius (m) of the path grows where the m/z grows by a difference, field and voltage the same.",
		"radiusShift(100, 1, 0.25)", "1.25\u00a0mm", []string{"mz", "difference", "radius"},
		func(x []float64) (float64, error) { return plain(sector.RadiusShift(x[0], x[1], sector.Metre(x[2]))) }),
	physics("mzAtVoltage", Plain, "The m/z that arrives at a voltage where a known m/z arrives at another, field and radius the same: known · at / volts.",
		"mzAtVoltage(69, 1, 0.965035)", "71.5", []string{"known", "at", "volts"},
		func(x []float64) (float64, error) {
			return sector.MZAtVoltage(x[0], sector.Volt(x[1]), sector.Volt(x[2]))
		}),
	physics("mzFromNeighbor", Plain, "The m/z of an ion from the ratio of voltages V(neighbor) / V(ion), below 1, that bring it and a neighbor, heavier by a difference, to the same place.",
		"mzFromNeighbor(0.987753, 1.00335)", "80.92", []string{"ratio", "difference"},
		func(x []float64) (float64, error) { return sector.MZFromNeighbor(x[0], x[1]) }),
	physics("metastable", Plain, "The apparent m/z at which an ion is recorded that formed from a heavier one before the magnet: after² / before.",
		"metastable(91, 65)", "46.43", []string{"before", "after"},
		func(x []float64) (float64, error) { return sector.Metastable(x[0], x[1]) }),
	physics("kilograms", Kilograms, "A mass in u as kg.",
		"kilograms(235.0439)", "3.903×10⁻²⁵\u00a0kg", []string{"mass"},
		func(x []float64) (float64, error) { return plain(sector.Kilograms(x[0])) }),
	physics("daltons", Plain, "A mass in kg as u.",
		"daltons(2.68e-26)", "16.14", []string{"kg"},
		func(x []float64) (float64, error) { return sector.Daltons(sector.Kilogram(x[0])) }),
	physics("circleRadius", Length, "The radius in m of the circle of an ion of a mass (kg) and charge number at a speed (m/s) across a magnetic field (T): m v / (z e B).",
		"circleRadius(2.66e-26, 1, 5e6, 1.2)", "0.692\u00a0m", []string{"kg", "charge", "velocity", "tesla"},
		func(x []float64) (float64, error) {
			return charged(x, 1, func(z int) (float64, error) {
				return plain(sector.CircleRadius(sector.Kilogram(x[0]), z, sector.MetrePerSecond(x[2]), sector.Tesla(x[3])))
			})
		}),
	physics("circleMass", Kilograms, "The mass in kg of an ion of a charge number that flies a circle of a radius (m) at a speed (m/s) across a magnetic field (T): z e B r / v.",
		"circleMass(0.0232, 1, selectorVelocity(120000, 0.5), 0.75)", "1.162×10⁻²⁶\u00a0kg", []string{"radius", "charge", "velocity", "tesla"},
		func(x []float64) (float64, error) {
			return charged(x, 1, func(z int) (float64, error) {
				return plain(sector.CircleMass(sector.Metre(x[0]), z, sector.MetrePerSecond(x[2]), sector.Tesla(x[3])))
			})
		}),
	physics("circleCharge", Coulombs, "The charge in C of an ion of a mass (kg) that flies a circle of a radius (m) at a speed (m/s) across a magnetic field (T): m v / (B r).",
		"circleCharge(2.66e-26, 0.231, 5e6, 1.2)", "4.798×10⁻¹⁹\u00a0C", []string{"kg", "radius", "velocity", "tesla"},
		func(x []float64) (float64, error) {
			return sector.CircleCharge(sector.Kilogram(x[0]), sector.Metre(x[1]), sector.MetrePerSecond(x[2]), sector.Tesla(x[3]))
		}),
	physics("acceleratedMass", Kilograms, "The mass in kg of an ion of a charge number that a magnetic field (T) bends with a radius (m) after acceleration by a voltage (V): z e B² r² / (2 V).",
		"acceleratedMass(1, 0.82, 0.13, 34000)", "2.677×10⁻²⁶\u00a0kg", []string{"charge", "tesla", "radius", "volts"},
		func(x []float64) (float64, error) {
			return charged(x, 0, func(z int) (float64, error) {
				return plain(sector.AcceleratedMass(z, sector.Tesla(x[1]), sector.Metre(x[2]), sector.Volt(x[3])))
			})
		}),
	physics("semicircleSeparation", Length, "How far apart in m two ions of masses in kg, of the same charge number and speed (m/s), hit a plate after half a circle in a magnetic field (T): 2 (r2 - r1), positive where the second is heavier.",
		"semicircleSeparation(3.90e-25, 3.95e-25, 3, 3e5, 0.25)", "25\u00a0mm", []string{"kg1", "kg2", "charge", "velocity", "tesla"},
		func(x []float64) (float64, error) {
			return charged(x, 2, func(z int) (float64, error) {
				return plain(sector.SemicircleSeparation(sector.Kilogram(x[0]), sector.Kilogram(x[1]), z, sector.MetrePerSecond(x[3]), sector.Tesla(x[4])))
			})
		}),
	physics("selectorField", ElectricField, "The electric field in V/m that lets ions of a speed (m/s) straight through the crossed magnetic field (T) of a velocity selector: v B.",
		"selectorField(4e6, 0.1)", "400000\u00a0V/m", []string{"velocity", "tesla"},
		func(x []float64) (float64, error) {
			return plain(sector.SelectorField(sector.MetrePerSecond(x[0]), sector.Tesla(x[1])))
		}),
	physics("selectorVelocity", Velocity, "The speed in m/s that passes straight through crossed electric (V/m) and magnetic (T) fields: E / B, whatever the ion's mass and charge.",
		"selectorVelocity(160, 0.0318)", "5031\u00a0m/s", []string{"voltsPerMetre", "tesla"},
		func(x []float64) (float64, error) {
			return plain(sector.SelectorVelocity(sector.VoltPerMetre(x[0]), sector.Tesla(x[1])))
		}),
	physics("plateVoltage", Voltage, "The voltage in V across plates with a gap (m) that makes an electric field (V/m) between them.",
		"plateVoltage(selectorField(4e6, 0.1), 0.01)", "4000\u00a0V", []string{"voltsPerMetre", "gap"},
		func(x []float64) (float64, error) {
			return plain(sector.PlateVoltage(sector.VoltPerMetre(x[0]), sector.Metre(x[1])))
		}),
	physics("flightTime", Time, "The time in s that ions of an m/z take through a field-free tube of a length (m) after acceleration by a voltage (V).",
		"flightTime(79, 1000, 1)", "20.23\u00a0µs", []string{"mz", "volts", "length"},
		func(x []float64) (float64, error) {
			return plain(sector.FlightTime(x[0], sector.Volt(x[1]), sector.Metre(x[2])))
		}),
	physics("flightTimeRatio", Time, "The flight time in s of an ion of the second mass where one of the first takes a time (s), with the same kinetic energy and tube; masses in any unit, the same for both.",
		"flightTimeRatio(6.69e-4, 79, 81)", "677.4\u00a0µs", []string{"seconds", "mass1", "mass2"},
		func(x []float64) (float64, error) {
			return plain(sector.FlightTimeRatio(sector.Second(x[0]), sector.Kilogram(x[1]), sector.Kilogram(x[2])))
		}),
}

// plain is a quantity as a number.
func plain[Q ~float64](q Q, err error) (float64, error) { return float64(q), err }
