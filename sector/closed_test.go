package sector_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"ionwright/sector"
)

// must returns a value or ends the test.
func must[T any](t *testing.T) func(T, error) T {
	return func(value T, err error) T {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		return value
	}
}

// CODATA 2022, kg: what worked examples in kg are turned into u with.
const u = float64(sector.Dalton)

// Worked examples. "printed" is an answer of the source; "input" means that the
// source gives the input and the value was computed from it.
func TestWorkedExamples(t *testing.T) {
	m, v, b := must[sector.Metre](t), must[sector.MetrePerSecond](t), must[sector.Tesla](t)
	kg, volt, s, f := must[sector.Kilogram](t), must[sector.Volt](t), must[sector.Second](t), must[float64](t)
	const (
		O16 = 2.66e-26 // kg, OSX-CP
		O18 = O16 * 18 / 16
	)
	// OSX-CP gives the heavier oxygen by the ratio of mass numbers.
	bainbridge := v(sector.SelectorVelocity(1.2e5, 0.500))
	selected := v(sector.SelectorVelocity(160, 3.18e-2))
	h2o, ch4 := 18.010, 16.031 // monoisotopic, as the problem's solution takes them
	// A charge of 1.6e-19 C, as the homework page takes it.
	const roundedCharge = 1.6e-19 / sector.ElementaryCharge
	tests := []struct {
		what      string
		got, want float64
		tolerance float64
	}{
		{"16O and 18O after half a circle, m", float64(m(sector.SemicircleSeparation(O16, O18, 1, 5.00e6, 1.20))), 0.173, 0.001},                    // OSX-CP, printed
		{"charge of 16O at 0.231 m, C", f(sector.CircleCharge(O16, 0.231, 5.00e6, 1.20)), 4.80e-19, 0.02e-19},                                       // OSX-CP, input
		{"235U3+ and 238U3+ after half a circle, m", float64(m(sector.SemicircleSeparation(3.90e-25, 3.95e-25, 3, 3.00e5, 0.250))), 0.0250, 0.0002}, // OSX-CP, input
		{"velocity selector, V/m", float64(must[sector.VoltPerMetre](t)(sector.SelectorField(4.00e6, 0.100))), 4.00e5, 1e-6},                        // OSX-CP, input
		{"across 1.00 cm, V", float64(volt(sector.PlateVoltage(4.00e5, 0.0100))), 4.00e3, 1e-9},                                                     // OSX-CP, input
		{"Li+ behind a selector, kg", float64(kg(sector.CircleMass(0.0232, 1, bainbridge, 0.750))), 1.16e-26, 0.02e-26},                             // OSX-UP, input
		{"Li+ behind a selector, u", float64(kg(sector.CircleMass(0.0232, 1, bainbridge, 0.750))) / u, 7.0, 0.02},                                   // OSX-UP, input
		{"34 kV, 0.82 T, 0.13 m: kg", float64(kg(sector.AcceleratedMass(1, 0.82, 0.13, 3.4e4))), 2.68e-26, 0.02e-26},                                // homework page, input
		{"34 kV, 0.82 T, 0.13 m: u", float64(kg(sector.AcceleratedMass(1, 0.82, 0.13, 3.4e4))) / u, 16.1, 0.05},                                     // homework page, input
		{"160 V/m and 31.8 mT, m/s", float64(selected), 5031, 0.5},                                                                                  // homework page, printed
		{"then 17.5 mT and 17.5 cm, kg", float64(kg(sector.CircleMass(0.175, 1, selected, 1.75e-2))) * roundedCharge, 9.74e-26, 0.02e-26},           // homework page, printed
		{"voltage scan, 69.00 at the ratio 0.965035", f(sector.MZAtVoltage(69.00, 1, 0.965035)), 71.50, 0.01},                                       // SKOOG-IM 20-14, printed
		{"peak matching of P and P+1, 0.987753", f(sector.MZFromNeighbor(0.987753, 1.00335)), 80.92, 0.02},                                          // SKOOG-IM, ratio given
		{"peak matching of P and P+1, 0.976542", f(sector.MZFromNeighbor(0.976542, 1.00335)), 41.77, 0.02},                                          // SKOOG-IM, ratio given
		{"H2O+, 0.240 T, 12.7 cm: V", float64(volt(sector.Voltage(h2o, 0.240, 0.127))), 2.49e3, 0.01e3},                                             // Skoog example, from memory
		{"CH4+, 3 kV, 0.126 T: radius, m", float64(m(sector.Radius(ch4, 0.126, 3000))), 0.2506, 0.0001},                                             // Skoog problem, from memory
		{"m/z 250 at that radius by field, T", float64(b(sector.Field(250, 3000, m(sector.Radius(ch4, 0.126, 3000))))), 0.498, 0.001},               // Skoog problem, from memory
		{"m/z 250 at that radius by voltage, V", float64(volt(sector.Voltage(250, 0.126, m(sector.Radius(ch4, 0.126, 3000))))), 192, 0.5},           // Skoog problem, from memory
		{"0.5 T, 0.30 m, 4 kV: m/z", f(sector.MZ(0.5, 0.30, 4000)), 271.36, 0.01},                                                                   // computed from the constants
		{"m/z 100, 0.25 m, 4 kV: T", float64(b(sector.Field(100, 4000, 0.25))), 0.36423, 1e-5},                                                      // computed from the constants
		{"m/z 28, 3 kV: m/s", float64(v(sector.Velocity(28, 3000))), 1.4379e5, 10},                                                                  // computed from the constants
		{"one more u at m/z 100 and 0.25 m: m", float64(m(sector.RadiusShift(100, 1, 0.25))), 1.247e-3, 1e-6},                                       // computed
		{"81Br+ where 79Br+ takes 669 us, s", float64(s(sector.FlightTimeRatio(6.69e-4, 78.918, 80.916))), 6.77e-4, 0.01e-4},                        // AQA-TOF, input
		{"123Sb+ where 121Sb+ takes 593 us, s", float64(s(sector.FlightTimeRatio(5.93e-4, 120.904, 122.904))), 5.98e-4, 0.01e-4},                    // AQA-TOF, input
		{"the handy constant, T2 m2/V", f(sector.MZ(1, 1, 1e12)) * 1e12, 4.82427e7, 50},                                                             // computed from the constants
		{"u in kg", u, 1.66053907e-27, 1e-35}, // CODATA, as quoted in public tables
	}
	for _, test := range tests {
		if math.Abs(test.got-test.want) > test.tolerance {
			t.Errorf("%s: %.6g, want %g within %g", test.what, test.got, test.want, test.tolerance)
		}
	}
}

// The charge in the example of 16O is three elementary charges.
func TestChargeNumber(t *testing.T) {
	q := must[float64](t)(sector.CircleCharge(2.66e-26, 0.231, 5.00e6, 1.20))
	if z := q / sector.ElementaryCharge; math.Round(z) != 3 || math.Abs(z-3) > 0.02 { // OSX-CP, input
		t.Errorf("%.3f elementary charges, want 3", z)
	}
}

// A half-integer m/z is a doubly charged ion of odd mass: 71.50 of M 143, which
// by the nitrogen rule has an odd number of nitrogens (SKOOG-IM 20-14).
func TestHalfInteger(t *testing.T) {
	mz := must[float64](t)(sector.MZAtVoltage(69.00, 1, 0.965035))
	if m := 2 * mz; math.Abs(m-143) > 0.02 {
		t.Errorf("twice m/z %.2f is %.2f, want 143", mz, m)
	}
}

// The formulas are one relation solved for each of its parts.
func TestClosedFormsAgree(t *testing.T) {
	for _, mz := range []float64{1.00728, 18, 45.5, 100, 1000} {
		for _, v := range []sector.Volt{200, 4000, 8000} {
			for _, r := range []sector.Metre{0.05, 0.25, 1} {
				b := must[sector.Tesla](t)(sector.Field(mz, v, r))
				back := must[float64](t)(sector.MZ(b, r, v))
				rBack := must[sector.Metre](t)(sector.Radius(mz, b, v))
				vBack := must[sector.Volt](t)(sector.Voltage(mz, b, r))
				speed := must[sector.MetrePerSecond](t)(sector.Velocity(mz, v))
				circle := must[sector.Metre](t)(sector.CircleRadius(sector.Kilogram(mz*u), 1, speed, b))
				time := must[sector.Second](t)(sector.FlightTime(mz, v, r))
				energy := must[float64](t)(sector.KineticEnergy(sector.Kilogram(mz*u), speed))
				for what, ratio := range map[string]float64{
					"m/z": back / mz, "radius": float64(rBack / r), "voltage": float64(vBack / v), "circle": float64(circle / r),
					"flight": float64(time) * float64(speed) / float64(r), "energy": energy / (sector.ElementaryCharge * float64(v)),
				} {
					if math.Abs(ratio-1) > 1e-12 {
						t.Errorf("m/z %v, %v V, %v m: the %s comes back as %v of itself", mz, v, r, what, ratio)
					}
				}
			}
		}
	}
}

// TOF: the masses of the examples from their times need the kinetic energy, so
// the example's pair of mass and time gives it, and it is the same for both.
func TestFlightOfIsotopes(t *testing.T) {
	tests := []struct {
		kg     sector.Kilogram
		length sector.Metre
		time   sector.Second
	}{
		{1.312e-25, 0.950, 6.69e-4}, // AQA-TOF, 79Br+
		{2.009e-25, 1.05, 5.93e-4},  // AQA-TOF, 121Sb+
	}
	for _, test := range tests {
		speed := sector.MetrePerSecond(float64(test.length) / float64(test.time))
		energy := must[float64](t)(sector.KineticEnergy(test.kg, speed))
		volts := sector.Volt(energy / sector.ElementaryCharge)
		got := must[sector.Second](t)(sector.FlightTime(float64(test.kg)/u, volts, test.length))
		if math.Abs(float64(got/test.time)-1) > 1e-12 {
			t.Errorf("%v kg: %v s, want %v", test.kg, got, test.time)
		}
	}
}

func TestMetastable(t *testing.T) {
	tests := []struct {
		before, after, want, tolerance float64
	}{
		{91, 65, 46.4, 0.05},   // META-SL, loss of C2H2
		{123, 108, 94.8, 0.05}, // META-SL, p-anisidine
		{108, 80, 59.2, 0.1},   // META-SL
		{105, 77, 56.5, 0.1},   // ZHCH15, observed
		{77, 51, 33.8, 0.1},    // ZHCH15, observed
	}
	for _, test := range tests {
		if got := must[float64](t)(sector.Metastable(test.before, test.after)); math.Abs(got-test.want) > test.tolerance {
			t.Errorf("%v to %v: m* %.2f, want %v", test.before, test.after, got, test.want)
		}
	}
	// ZHCH15: base peak 105, molecular ion 136, metastable peaks 56.5 and 33.8.
	peaks := []float64{136, 105, 77, 51, 50}
	for observed, want := range map[float64][2]float64{56.5: {105, 77}, 33.8: {77, 51}} {
		found, err := sector.Transitions(observed, peaks, 0.1)
		if err != nil || len(found) == 0 || found[0].Before != want[0] || found[0].After != want[1] {
			t.Errorf("m* %v: %v, %v; want %v", observed, found, err, want)
		}
	}
	if found, err := sector.Transitions(20, peaks, 0.1); err != nil || len(found) != 0 {
		t.Errorf("m* 20: %v, %v; want none", found, err)
	}
	// Every pair is found from its own m*, nearest first.
	for _, before := range peaks {
		for _, after := range peaks {
			if after >= before {
				continue
			}
			apparent := must[float64](t)(sector.Metastable(before, after))
			found := must[[]sector.Transition](t)(sector.Transitions(apparent, peaks, 5))
			if len(found) == 0 || found[0].Before != before || found[0].After != after {
				t.Errorf("m* %v of %v to %v gives %v", apparent, before, after, found)
			}
		}
	}
}

// What can't be is refused with name, value and reason, and nothing is NaN.
func TestRefused(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	one := func(_ any, err error) error { return err }
	tests := []struct {
		err  error
		want string
	}{
		{one(sector.Field(100, 0, 0.25)), "accelerating voltage of 0 V: without a positive accelerating voltage the ions don't leave the source"},
		{one(sector.Field(100, -4000, 0.25)), "accelerating voltage of -4000 V"},
		{one(sector.Field(0, 4000, 0.25)), "m/z of 0: an ion has a positive m/z"},
		{one(sector.Field(100, 4000, 0)), "radius of 0 m"},
		{one(sector.Field(nan, 4000, 0.25)), "m/z of NaN: expected a finite number"},
		{one(sector.Field(100, sector.Volt(inf), 0.25)), "accelerating voltage of +Inf V: expected a finite number"},
		{one(sector.MZ(0, 0.25, 4000)), "magnetic field of 0 T: without a positive field the ions fly straight on"},
		{one(sector.MZ(1e200, 1e200, 1e-300)), "m/z of +Inf: the settings are so large or small"},
		{one(sector.Radius(100, 0, 4000)), "magnetic field of 0 T"},
		{one(sector.Voltage(100, 0.5, 0)), "radius of 0 m"},
		{one(sector.Velocity(1, 1e9)), "more than a tenth of the speed of light"},
		{one(sector.Field(1, 1e9, 1)), "more than a tenth of the speed of light"},
		{one(sector.Voltage(1, 10, 10)), "more than a tenth of the speed of light"},
		{one(sector.RadiusShift(100, -100, 0.25)), "m/z of 0"},
		{one(sector.MZAtVoltage(69, 1, 0)), "accelerating voltage of 0 V"},
		{one(sector.MZFromNeighbor(1.01, 1)), "voltage ratio of 1.01: the heavier neighbor needs the lower voltage"},
		{one(sector.MZFromNeighbor(0.9, 0)), "difference of m/z of 0"},
		{one(sector.CircleRadius(1e-26, 0, 1e5, 1)), "charge number of 0"},
		{one(sector.CircleRadius(0, 1, 1e5, 1)), "mass of 0 kg"},
		{one(sector.CircleMass(0.1, 1, 0, 1)), "velocity of 0 m/s"},
		{one(sector.CircleMass(0.1, 1, 1e8, 1)), "more than a tenth of the speed of light"},
		{one(sector.SelectorVelocity(0, 1)), "electric field of 0 V/m"},
		{one(sector.SelectorVelocity(1e9, 1e-3)), "more than a tenth of the speed of light"},
		{one(sector.PlateVoltage(1, 0)), "gap of 0 m"},
		{one(sector.FlightTime(100, 4000, 0)), "flight length of 0 m"},
		{one(sector.FlightTimeRatio(0, 1, 1)), "flight time of 0 s"},
		{one(sector.KineticEnergy(0, 1)), "mass of 0 kg"},
		{one(sector.Metastable(65, 91)), "m/z of the product of 91: a product ion of the same charge is lighter"},
		{one(sector.Transitions(50, []float64{0, 1}, 1)), "m/z of 0"},
		{one(sector.Transitions(50, nil, 0)), "tolerance of 0"},
	}
	for i, test := range tests {
		var setting *sector.SettingError
		if !errors.As(test.err, &setting) || !strings.Contains(test.err.Error(), test.want) {
			t.Errorf("case %d: error %v, want one with %q", i+1, test.err, test.want)
		}
	}
}

func FuzzClosedForms(f *testing.F) {
	f.Add(100.0, 4000.0, 0.25, 0.36)
	f.Add(1e-300, 1e300, 1e-300, 1e300)
	f.Fuzz(func(t *testing.T, mz, v, r, b float64) {
		check := func(what string, value float64, err error) {
			if err == nil && !(value > 0 && !math.IsInf(value, 0)) {
				t.Errorf("%s is %v without an error, of %v, %v V, %v m, %v T", what, value, mz, v, r, b)
			}
		}
		x, err := sector.MZ(sector.Tesla(b), sector.Metre(r), sector.Volt(v))
		check("m/z", x, err)
		field, err := sector.Field(mz, sector.Volt(v), sector.Metre(r))
		check("field", float64(field), err)
		radius, err := sector.Radius(mz, sector.Tesla(b), sector.Volt(v))
		check("radius", float64(radius), err)
		volts, err := sector.Voltage(mz, sector.Tesla(b), sector.Metre(r))
		check("voltage", float64(volts), err)
		speed, err := sector.Velocity(mz, sector.Volt(v))
		check("velocity", float64(speed), err)
		time, err := sector.FlightTime(mz, sector.Volt(v), sector.Metre(r))
		check("time", float64(time), err)
	})
}
