package eval

import (
	"context"
	"math"
	"strings"
	"testing"

	"ionwright/lesson/source"
)

// Worked examples of courses and textbooks, as questions of a lesson compute
// them; the numbers are rows of the collected examples (section 3.4).
func TestWorkedExamplesOfInstruments(t *testing.T) {
	e := env(t)
	for _, test := range []struct {
		expr            string
		want, tolerance float64
	}{
		{"semicircleSeparation(2.66e-26, 2.66e-26 * 18.0 / 16.0, 1, 5e6, 1.2)", 0.173, 0.001}, // 60, answer printed by OpenStax College Physics
		{"circleCharge(2.66e-26, 0.231, 5e6, 1.2)", 4.80e-19, 0.02e-19},                       // 61, input of OpenStax College Physics
		{"semicircleSeparation(3.90e-25, 3.95e-25, 3, 3e5, 0.25)", 0.025, 0.0002},             // 62, input of OpenStax College Physics
		{"selectorField(4e6, 0.1)", 4e5, 1e-6},                                                // 63
		{"plateVoltage(selectorField(4e6, 0.1), 0.01)", 4000, 1e-6},                           // 63
		{"circleMass(0.0232, 1, selectorVelocity(1.2e5, 0.5), 0.75)", 1.16e-26, 0.02e-26},     // 64, input of OpenStax University Physics
		{"acceleratedMass(1, 0.82, 0.13, 3.4e4)", 2.68e-26, 0.02e-26},                         // 65
		{"daltons(acceleratedMass(1, 0.82, 0.13, 3.4e4))", 16.1, 0.1},                         // 65
		{"selectorVelocity(160, 3.18e-2)", 5031, 1},                                           // 66
		{"circleMass(0.175, 1, selectorVelocity(160, 3.18e-2), 1.75e-2)", 9.74e-26, 0.02e-26}, // 66
		{"mzAtVoltage(69, 1, 0.965035)", 71.50, 0.01},                                         // 67, Skoog 20-14
		{"mzFromNeighbor(0.987753, 1.00335)", 80.92, 0.02},                                    // 68, the neighbor has one 13C
		{"mzFromNeighbor(0.976542, 1.00335)", 41.77, 0.02},                                    // 69
		{"voltage(18.01, 0.24, 0.127)", 2.49e3, 0.01e3},                                       // 70
		{"field(16.03, 3000, 0.2506)", 0.126, 0.001},                                          // 71
		{"field(250, 3000, 0.2506)", 0.498, 0.001},                                            // 71
		{"voltage(250, 0.126, 0.2506)", 192, 0.5},                                             // 71
		{"mzAt(0.5, 4000, 0.3)", 271.36, 0.01},                                                // 72
		{"field(100, 4000, 0.25)", 0.36423, 1e-5},                                             // 73
		{"velocity(28, 3000)", 1.4379e5, 10},                                                  // 74
		{"radiusShift(100, 1, 0.25)", 1.247e-3, 1e-6},                                         // 75
		{"flightTimeRatio(6.69e-4, 79, 81)", 6.77e-4, 0.01e-4},                                // 76, input of AQA
		{"flightTimeRatio(5.93e-4, 121, 123)", 5.98e-4, 0.01e-4},                              // 77, input of AQA
		{"metastable(91, 65)", 46.4, 0.05},                                                    // 78
		{"resolvingPower(0.25, 0.0002, 0.0003)", 500, 1e-6},                                   // r / (s1 + s2), every textbook
		{"resolvingPower(bench)", 250, 1e-6},                                                  // 0.25 m / (0.5 mm + 0.5 mm)
		{"wholeResolvingPower(bench)", 250, 1e-6},                                             // it has slits only
		{"field(ion(ketone, 43), bench) / field(43.0178, bench)", 1, 1e-5},                    // an ion stands for its exact m/z: C2H3O+, from its masses
	} {
		x, diags := e.Compile(source.Text{Value: test.expr})
		if x == nil {
			t.Errorf("%s: %v", test.expr, diags)
			continue
		}
		r, d, err := x.Eval(context.Background())
		if d != nil || err != nil {
			t.Errorf("%s: %v, %v", test.expr, d, err)
			continue
		}
		if got, ok := r.Value.(float64); !ok || math.Abs(got-test.want) > test.tolerance {
			t.Errorf("%s gives %v, want %v", test.expr, r.Value, test.want)
		}
	}
}

// What can't be is said with the name and value of the quantity.
func TestImpossibleInstruments(t *testing.T) {
	e := env(t)
	for expr, want := range map[string]string{
		"velocity(28, 0)":                                "accelerating voltage of 0 V",
		"velocity(-28, 100)":                             "m/z of -28",
		"velocity(1, 1e12)":                              "a tenth of the speed of light",
		"flightTime(28, 1000, 0)":                        "flight length of 0 m",
		"selectorVelocity(160, 0)":                       "magnetic field of 0 T",
		"selectorField(0, 1)":                            "velocity of 0 m/s",
		"circleRadius(2.66e-26, 1.5, 5e6, 1.2)":          "argument 2 is a charge number, a whole number, not 1.5",
		"circleRadius(0, 1, 5e6, 1.2)":                   "mass of 0 kg",
		"mzFromNeighbor(1.2, 1)":                         "voltage ratio of 1.2",
		"metastable(65, 91)":                             "product ion",
		"resolvingPower(0.25, 0, 0.1)":                   "argument 2 must be above zero",
		"resolvingPower(0.25, 0.3, 0.1)":                 "slit of 0.3 m",
		"semicircleSeparation(1e-26, -1e-26, 1, 1e5, 1)": "mass of -1e-26 kg",
		"field(0, bench)":                                "argument 1 must be above zero",
		"reaches(43, -1, bench)":                         "argument 2 must be above zero",
		"kilograms(0)":                                   "mass of 0 u",
		"plateVoltage(1000, 0)":                          "gap of 0 m",
		"acceleratedMass(1, 0.8, 0.1, 0)":                "accelerating voltage of 0 V",
		"radiusShift(100, -100, 0.25)":                   "m/z of 0",
		"mzAtVoltage(69, 0, 1)":                          "accelerating voltage of 0 V",
		"flightTimeRatio(0, 79, 81)":                     "flight time of 0 s",
		"circleMass(0, 1, 1e5, 1)":                       "radius of 0 m",
		"circleCharge(1e-26, 0.1, 1e5, 0)":               "magnetic field of 0 T",
		"daltons(-1)":                                    "mass of -1 kg",
	} {
		x, diags := e.Compile(source.Text{Value: expr})
		if x == nil {
			t.Errorf("%s: %v", expr, diags)
			continue
		}
		r, d, err := x.Eval(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		if d == nil || !strings.Contains(d.Message, want) {
			t.Errorf("%s gives %v and %v, want a message with %q", expr, r.Value, d, want)
		}
	}
}
