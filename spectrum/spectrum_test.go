package spectrum_test

import (
	"math"
	"strings"
	"testing"

	"ionwright/spectrum"
)

func TestNewSortsAndMerges(t *testing.T) {
	in := []spectrum.Peak{{MZ: 58, Intensity: 10}, {MZ: 43, Intensity: 60}, {MZ: 58, Intensity: 15}, {MZ: 29, Intensity: 0}}
	s, err := spectrum.New(in)
	if err != nil {
		t.Fatal(err)
	}
	if got, want := s.Notation(), "29:0 43:60 58:25"; got != want { // by the definition of New
		t.Errorf("peaks %q, want %q", got, want)
	}
	if in[0].MZ != 58 || in[0].Intensity != 10 {
		t.Errorf("New changed its argument to %v", in)
	}
}

func TestNewRefuses(t *testing.T) {
	tests := []struct {
		peak spectrum.Peak
		want string
	}{
		{spectrum.Peak{MZ: 0, Intensity: 1}, "peak 2 has m/z 0"},
		{spectrum.Peak{MZ: -1, Intensity: 1}, "peak 2 has m/z -1"},
		{spectrum.Peak{MZ: math.NaN(), Intensity: 1}, "peak 2 has m/z NaN"},
		{spectrum.Peak{MZ: math.Inf(1), Intensity: 1}, "peak 2 has m/z +Inf"},
		{spectrum.Peak{MZ: 43, Intensity: -1}, "peak 2 at m/z 43 has intensity -1"},
		{spectrum.Peak{MZ: 43, Intensity: math.NaN()}, "has intensity NaN"},
		{spectrum.Peak{MZ: 43, Intensity: math.Inf(1)}, "has intensity +Inf"},
	}
	for _, test := range tests {
		_, err := spectrum.New([]spectrum.Peak{{MZ: 1, Intensity: 1}, test.peak})
		if err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("New with %v: error %v, want one with %q", test.peak, err, test.want)
		}
	}
	huge := spectrum.Peak{MZ: 43, Intensity: math.MaxFloat64}
	if _, err := spectrum.New([]spectrum.Peak{huge, huge}); err == nil {
		t.Error("New added up intensities past the largest number")
	}
}

func TestViews(t *testing.T) {
	// 2-butanone's strongest ions, invented heights: the views are arithmetic.
	s := spectrum.MustParse("29:20 43.02:60 43.05:20 57:4 72:20 73:0")
	if got := s.Relative(43); got != 100 {
		t.Errorf("Relative(43) = %v, want 100: the two centroids are one unit peak", got)
	}
	if got := s.Relative(72); got != 25 { // 20 of 80
		t.Errorf("Relative(72) = %v, want 25", got)
	}
	if got := s.Relative(58); got != 0 {
		t.Errorf("Relative(58) = %v, want 0", got)
	}
	if got, want := s.Unit().Notation(), "29:20 43:80 57:4 72:20 73:0"; got != want {
		t.Errorf("Unit %q, want %q", got, want)
	}
	if got, want := s.Unit().Scaled(1000).Notation(), "29:250 43:1000 57:50 72:250 73:0"; got != want {
		t.Errorf("Scaled %q, want %q", got, want)
	}
	if got, want := s.Unit().AtLeast(25).Notation(), "29:20 43:80 72:20"; got != want {
		t.Errorf("AtLeast %q, want %q", got, want)
	}
	if got, want := s.From(57).Notation(), "57:4 72:20 73:0"; got != want {
		t.Errorf("From %q, want %q", got, want)
	}
	if got := s.TotalIonCurrent(); got != 124 {
		t.Errorf("TotalIonCurrent = %v, want 124", got)
	}
	if got := s.Strongest(3); len(got) != 3 || got[0].MZ != 43.02 || got[1].MZ != 29 || got[2].MZ != 43.05 {
		t.Errorf("Strongest(3) = %v, want 43.02, then the equals in order of m/z", got)
	}
	if got := s.Strongest(100); len(got) != 6 {
		t.Errorf("Strongest(100) has %d peaks of 6", len(got))
	}
	base, ok := s.Base()
	if !ok || base.MZ != 43.02 {
		t.Errorf("Base = %v, %v; want m/z 43.02", base, ok)
	}
}

func TestEmpty(t *testing.T) {
	var s spectrum.Spectrum
	if _, ok := s.Base(); ok {
		t.Error("an empty spectrum has a base peak")
	}
	if _, ok := spectrum.MustParse("43:0").Base(); ok {
		t.Error("a spectrum without intensity has a base peak")
	}
	if s.Relative(43) != 0 || s.TotalIonCurrent() != 0 || len(s.Unit().Peaks) != 0 || len(s.Scaled(100).Peaks) != 0 {
		t.Error("a view of the empty spectrum isn't empty")
	}
}

func TestUnitMZ(t *testing.T) {
	tests := []struct {
		mz   float64
		want int
	}{
		{43.0178, 43},          // C2H3O+, CRC masses
		{45.5, 46},             // C7H7 2+, IUPAC Gold Book M03752; the rule for halves is ours
		{78.9178, 79},          // 79Br+
		{1e300, math.MaxInt32}, // no ion
		{0.4, 0},               // no ion
		{282.3287, 282},        // icosane, still nearest
		{563.6489, 563 + 1},    // C40H82 +H: the documented limit, one too high
	}
	for _, test := range tests {
		if got := spectrum.UnitMZ(test.mz); got != test.want {
			t.Errorf("UnitMZ(%v) = %d, want %d", test.mz, got, test.want)
		}
	}
}

func TestParseRefuses(t *testing.T) {
	for text, want := range map[string]string{
		"43:100 58":    `pair 2 is "58"`,
		"43:100 a:1":   `pair 2 is "a:1"`,
		"43:100 58:b":  `pair 2 is "58:b"`,
		"43:100 58:-1": "peak 2 at m/z 58 has intensity -1",
		"NaN:1":        "peak 1 has m/z NaN",
	} {
		if _, err := spectrum.Parse(text); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("Parse(%q): error %v, want one with %q", text, err, want)
		}
	}
}

func FuzzParse(f *testing.F) {
	f.Add("43:100 58:25")
	f.Add("1e-3:1e300 45.5:0.1")
	f.Fuzz(func(t *testing.T, text string) {
		s, err := spectrum.Parse(text)
		if err != nil {
			return
		}
		again, err := spectrum.Parse(s.Notation())
		if err != nil {
			t.Fatalf("own notation of %q refused: %v", text, err)
		}
		if again.Notation() != s.Notation() {
			t.Fatalf("%q came back as %q", s.Notation(), again.Notation())
		}
		s.Relative(43)
		s.Unit().Scaled(100)
	})
}

func TestTrace(t *testing.T) {
	triangle := spectrum.Trace{X: []float64{0, 1, 2}, Y: []float64{0, 3, 0}, XUnit: "T"}
	if err := triangle.Check(); err != nil {
		t.Error(err)
	}
	if got := triangle.Area(); got != 3 { // half of base 2 times height 3
		t.Errorf("Area = %v, want 3", got)
	}
	for _, test := range []struct {
		trace spectrum.Trace
		want  string
	}{
		{spectrum.Trace{X: []float64{1}}, "1 values of x but 0 of y"},
		{spectrum.Trace{X: []float64{1, 0}, Y: []float64{0, 0}}, "x goes back from 1 to 0 at point 2"},
		{spectrum.Trace{X: []float64{math.NaN()}, Y: []float64{0}}, "point 1 is (NaN, 0)"},
	} {
		if err := test.trace.Check(); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("Check of %v: error %v, want one with %q", test.trace, err, test.want)
		}
	}
}
