package sector_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"ionwright/chem"
	"ionwright/internal/fixture"
	"ionwright/sector"
	"ionwright/spectrum"
)

// half is a half-circle instrument: R = r / (s1 + s2) = 0.25 / 0.0005 = 500.
var half = sector.Instrument{Name: "half circle", Radius: 0.25, Voltage: 4000, SourceSlit: 0.0002, CollectorSlit: 0.0003}

// sixty is a 60-degree instrument with the slits where the symmetric image
// asks them to be: r cot(30 degrees) before and after the magnet.
var sixty = sector.Instrument{Name: "60 degrees", Radius: 0.25, Voltage: 4000, SourceSlit: 0.0002, CollectorSlit: 0.0003,
	Angle: math.Pi / 3, Before: sector.Metre(0.25 / math.Tan(math.Pi/6))}

func TestOrderOfArrival(t *testing.T) {
	// Ions of chloroethane with chem's isotope masses: fragments, the molecular
	// ion, and its isotopes with 13C and with 37Cl. They start in disorder.
	var ions []sector.Ion
	for _, name := range []string{"C2H5[37Cl]+", "C2H3+", "C[13C]H5[35Cl]+", "C2H5+", "C2H5[35Cl]+", "C2H4+"} {
		ions = append(ions, sector.Ion{MZ: float64(chem.MustFormula(name).MZ()), Intensity: 1})
	}
	rec, err := sector.Sweep(half, ions, sector.SweepSettings{})
	if err != nil {
		t.Fatal(err)
	}
	var order []int
	for i, w := range rec.Windows {
		order = append(order, int(math.Round(ions[w.Ion].MZ)))
		if i > 0 && w.Center <= rec.Windows[i-1].Center {
			t.Errorf("m/z %v arrives at %v T, no stronger field than the one before", ions[w.Ion].MZ, w.Center)
		}
	}
	// common practice, no source: a weak field brings the light ions, stronger
	// fields the heavier ones in order; the molecular ion (64) arrives last
	// among the singly charged ions, its isotopes just after.
	if want := []int{27, 28, 29, 64, 65, 66}; !slices.Equal(order, want) {
		t.Errorf("the ions arrive in the order %v, want %v", order, want)
	}
}

func TestFactsOfTheTrade(t *testing.T) {
	// common practice, no source: light ions need the weaker field.
	light := must[sector.Tesla](t)(half.Field(18))
	heavy := must[sector.Tesla](t)(half.Field(180))
	if light >= heavy {
		t.Errorf("m/z 18 needs %v T, m/z 180 %v T", light, heavy)
	}
	// common practice, no source: at a fixed field lighter ions bend more.
	if r1, r2 := must[sector.Metre](t)(sector.Radius(18, 0.3, 4000)), must[sector.Metre](t)(sector.Radius(180, 0.3, 4000)); r1 >= r2 {
		t.Errorf("m/z 18 flies with radius %v, m/z 180 with %v", r1, r2)
	}
	// common practice, no source: with charge one, m/z is the mass, less the
	// electron; a doubly charged ion appears at half its mass (IUPAC Gold Book
	// M03752: C7H7 2+ at 45.5).
	single, double := chem.MustFormula("C7H7+"), chem.MustFormula("C7H7 2+")
	b1, b2 := must[sector.Tesla](t)(half.Field(float64(single.MZ()))), must[sector.Tesla](t)(half.Field(float64(double.MZ())))
	if got := must[float64](t)(half.MZ(b1)); math.Abs(got-float64(single.MonoisotopicMass())) > 1e-9 {
		t.Errorf("C7H7+ is recorded at m/z %v, its mass is %v", got, single.MonoisotopicMass())
	}
	if got := must[float64](t)(half.MZ(b2)); math.Abs(got-45.5) > 0.05 {
		t.Errorf("C7H7 2+ is recorded at m/z %v, want 45.5", got)
	}
}

func TestBarber(t *testing.T) {
	// Barber's rule: source, center of curvature and image lie on a straight
	// line. For normal entry and exit the angles at the center are
	// atan(before/r), the magnet's, and atan(after/r), 180 degrees together.
	for _, angle := range []float64{30, 60, 90, 120, 180} {
		for _, before := range []float64{0, 0.1, 0.3, 0.433, 1, 3} {
			i := half
			i.Angle, i.Before = sector.Radian(angle*math.Pi/180), sector.Metre(before)
			rest := math.Pi - float64(i.Angle) - math.Atan(before/0.25)
			got, err := i.ImageDistance()
			if rest < -1e-12 || rest > math.Pi/2-1e-12 {
				var setting *sector.SettingError
				if rest > math.Pi/2 && (!errors.As(err, &setting) || !strings.Contains(err.Error(), "no image of the source slit forms")) {
					t.Errorf("%v degrees, %v m: image at %v, %v; want none", angle, before, got, err)
				}
				continue
			}
			want := 0.25 * math.Tan(rest)
			if err != nil || math.Abs(float64(got)-want) > 1e-9 {
				t.Errorf("%v degrees, %v m: image at %v, %v; want %v", angle, before, got, err, want)
			}
		}
	}
}

func TestPeakShape(t *testing.T) {
	for _, i := range []sector.Instrument{half, sixty} {
		r, err := i.ResolvingPower()
		if err != nil || math.Abs(r-500) > 1e-6 { // r / (s1 + s2), every textbook
			t.Errorf("%s: resolving power %v, %v; want 500", i.Name, r, err)
		}
		rec, err := sector.Sweep(i, []sector.Ion{{MZ: 100, Intensity: 1}}, sector.SweepSettings{Steps: 100_000})
		if err != nil {
			t.Fatal(err)
		}
		trace := must[spectrum.Trace](t)(i.MZTrace(rec.Trace))
		// A trapezoid: base (s1+s2)/r of m/z, top |s1-s2|/r, half height in the
		// middle; by convolution of two slits.
		for _, level := range []struct{ height, width float64 }{
			{1e-9, (0.0002 + 0.0003) / 0.25 * 100}, {0.5, 0.0003 / 0.25 * 100}, {1 - 1e-9, (0.0003 - 0.0002) / 0.25 * 100},
		} {
			if got := widthAt(trace, level.height); math.Abs(got-level.width) > 0.005*level.width+1e-4 {
				t.Errorf("%s: width %v at height %v, want %v", i.Name, got, level.height, level.width)
			}
		}
	}
	triangle := half
	triangle.SourceSlit = triangle.CollectorSlit
	rec := must[*sector.Recording](t)(sector.Sweep(triangle, []sector.Ion{{MZ: 100, Intensity: 1}}, sector.SweepSettings{Steps: 100_000}))
	trace := must[spectrum.Trace](t)(triangle.MZTrace(rec.Trace))
	if top, foot := widthAt(trace, 0.999), widthAt(trace, 1e-9); top > 0.01*foot {
		t.Errorf("equal slits give a top of %v over a foot of %v; want a triangle", top, foot)
	}
}

// widthAt returns how wide a single peak is at a height.
func widthAt(t spectrum.Trace, height float64) float64 {
	first := slices.IndexFunc(t.Y, func(y float64) bool { return y >= height })
	last := len(t.Y) - 1
	for t.Y[last] < height {
		last--
	}
	return t.X[last] - t.X[first]
}

// The trace gives the spectrum back that went in.
func TestCentroidsOfMeasured(t *testing.T) {
	for _, i := range []sector.Instrument{half, sixty} {
		for _, exponential := range []bool{false, true} {
			for _, r := range fixture.Measured(t) {
				s := r.Spectrum(t)
				rec, err := sector.Sweep(i, sector.Ions(s), sector.SweepSettings{Steps: 40_000, Exponential: exponential})
				if err != nil {
					t.Fatalf("%s: %v", r.Name, err)
				}
				back := must[spectrum.Spectrum](t)(i.Centroids(rec.Trace, 0))
				if len(back.Peaks) != len(s.Peaks) {
					t.Fatalf("%s: %d peaks of %d", r.Name, len(back.Peaks), len(s.Peaks))
				}
				for at, p := range back.Peaks {
					want := s.Peaks[at]
					if math.Abs(p.MZ-want.MZ) > 1e-4*want.MZ || math.Abs(p.Intensity/want.Intensity-1) > 0.02 {
						t.Errorf("%s: m/z %v with %v, want %v with %v", r.Name, p.MZ, p.Intensity, want.MZ, want.Intensity)
					}
				}
			}
		}
	}
}

func TestResolved(t *testing.T) {
	// At R = 500 m/z 200 and 201 are apart and 300.0 and 300.3 are one peak.
	rec := must[*sector.Recording](t)(sector.Sweep(half, []sector.Ion{{200, 3}, {201, 1}, {300, 1}, {300.3, 1}}, sector.SweepSettings{Steps: 100_000}))
	s := must[spectrum.Spectrum](t)(half.Centroids(rec.Trace, 0))
	if len(s.Peaks) != 3 || math.Abs(s.Peaks[2].MZ-300.15) > 0.01 || math.Abs(s.Peaks[2].Intensity-2) > 0.01 {
		t.Errorf("peaks %v, want 200, 201 and one at 300.15 with both currents", s.Peaks)
	}
	// At m/z 900 neighbors overlap by half of their foot and still show a valley.
	wide := must[*sector.Recording](t)(sector.Sweep(half, []sector.Ion{{900, 1}, {901.6, 1}}, sector.SweepSettings{Steps: 100_000}))
	if s := must[spectrum.Spectrum](t)(half.Centroids(wide.Trace, 0)); len(s.Peaks) != 2 {
		t.Errorf("peaks %v, want two with a valley between", s.Peaks)
	}
}

func TestArrivals(t *testing.T) {
	ions := []sector.Ion{{57, 1}, {43, 2}, {43.3, 1}}
	rec := must[*sector.Recording](t)(sector.Sweep(half, ions, sector.SweepSettings{}))
	b := must[sector.Tesla](t)(half.Field(43))
	got := rec.At(b)
	if len(got) != 1 || got[0] != (sector.Arrival{Ion: 1, Share: 1}) {
		t.Errorf("at %v T arrive %v, want ion 1 in full", b, got)
	}
	if got := rec.At(must[sector.Tesla](t)(half.Field(50))); len(got) != 0 {
		t.Errorf("between the peaks arrive %v", got)
	}
	if got := rec.At(0); got != nil {
		t.Errorf("without a field arrive %v", got)
	}
	for _, w := range rec.Windows {
		mz := ions[w.Ion].MZ
		for b, want := range map[sector.Tesla]bool{w.From * 0.999: false, w.From * 1.0001: true, w.Center: true, w.To * 0.9999: true, w.To * 1.001: false} {
			if reaches, err := half.Reaches(mz, b); err != nil || reaches != want {
				t.Errorf("m/z %v reaches the collector at %v T: %v, %v; want %v", mz, b, reaches, err, want)
			}
		}
	}
	if share, err := half.Share(43, b*1.0005); err != nil || !(share > 0 && share < 1) {
		t.Errorf("at the flank the share is %v, %v", share, err)
	}
}

func TestImpossibleSettings(t *testing.T) {
	ions := []sector.Ion{{43, 1}, {58, 1}}
	with := func(change func(*sector.Instrument)) sector.Instrument {
		i := half
		change(&i)
		return i
	}
	nan := math.NaN()
	tests := []struct {
		i    sector.Instrument
		ions []sector.Ion
		set  sector.SweepSettings
		want string
	}{
		{with(func(i *sector.Instrument) { i.Voltage = 0 }), ions, sector.SweepSettings{}, "accelerating voltage of 0 V"},
		{with(func(i *sector.Instrument) { i.Radius = 0 }), ions, sector.SweepSettings{}, "radius of 0 m"},
		{with(func(i *sector.Instrument) { i.CollectorSlit = 0 }), ions, sector.SweepSettings{}, "collector slit of 0 m: through a closed slit no ion reaches the detector"},
		{with(func(i *sector.Instrument) { i.SourceSlit = -1 }), ions, sector.SweepSettings{}, "source slit of -1 m: a width is zero or more"},
		{with(func(i *sector.Instrument) { i.SourceSlit = sector.Metre(nan) }), ions, sector.SweepSettings{}, "source slit of NaN m"},
		{with(func(i *sector.Instrument) { i.SourceSlit = 1 }), ions, sector.SweepSettings{}, "slit of 1 m: a slit as wide as the radius separates nothing"},
		{with(func(i *sector.Instrument) { i.Angle = 4 }), ions, sector.SweepSettings{}, "magnet angle of 4 rad"},
		{with(func(i *sector.Instrument) { i.Angle = sector.Radian(nan) }), ions, sector.SweepSettings{}, "magnet angle of NaN rad"},
		{with(func(i *sector.Instrument) { i.EntryFace = 2 }), ions, sector.SweepSettings{}, "tilt of the entry face of 2 rad"},
		{with(func(i *sector.Instrument) { i.ExitFace = -2 }), ions, sector.SweepSettings{}, "tilt of the exit face of -2 rad"},
		{with(func(i *sector.Instrument) { i.Divergence = 1 }), ions, sector.SweepSettings{}, "divergence of 1 rad"},
		{with(func(i *sector.Instrument) { i.EnergySpread = 4000 }), ions, sector.SweepSettings{}, "energy spread of 4000 V"},
		{with(func(i *sector.Instrument) { i.Angle = math.Pi / 3 }), ions, sector.SweepSettings{}, "no image of the source slit forms behind the magnet"},
		{with(func(i *sector.Instrument) { i.MaxField = 0.2 }), ions, sector.SweepSettings{}, "the magnet reaches 0.2 T; lower the voltage"},
		{half, nil, sector.SweepSettings{}, "number of ions of 0: there is nothing to sweep over"},
		{half, []sector.Ion{{0, 1}}, sector.SweepSettings{}, "m/z of 0"},
		{half, []sector.Ion{{43, -1}}, sector.SweepSettings{}, "intensity of -1: the current of m/z 43"},
		{half, []sector.Ion{{43, nan}}, sector.SweepSettings{}, "intensity of NaN"},
		{half, ions, sector.SweepSettings{Steps: 1}, "number of steps of 1: expected 2 to"},
		{half, ions, sector.SweepSettings{Steps: -5}, "number of steps of -5"},
		{half, ions, sector.SweepSettings{Steps: 20}, "the sweep steps over m/z 43, which reaches the collector only between"},
		{half, ions, sector.SweepSettings{From: 0.5, To: 0.4}, "end of the sweep of 0.4 T: not above its start of 0.5 T"},
		{half, ions, sector.SweepSettings{From: -1}, "start of the sweep of -1 T"},
		{half, ions, sector.SweepSettings{From: 0.5, To: 0.6}, "no ion reaches the collector; the lightest needs"},
	}
	for n, test := range tests {
		rec, err := sector.Sweep(test.i, test.ions, test.set)
		var setting *sector.SettingError
		if !errors.As(err, &setting) || !strings.Contains(err.Error(), test.want) || rec != nil {
			t.Errorf("case %d: error %v, want one with %q", n+1, err, test.want)
		}
	}
	small := with(func(i *sector.Instrument) { i.MaxField = 0.2 })
	if _, err := small.Field(100); err == nil || !strings.Contains(err.Error(), "more than the magnet reaches") {
		t.Errorf("a field above the largest: %v", err)
	}
	if _, err := half.Centroids(spectrum.Trace{X: []float64{1}, Y: []float64{1}, XUnit: "V"}, 0); err == nil || !strings.Contains(err.Error(), "in T") {
		t.Errorf("a trace against volts: %v", err)
	}
	if _, err := half.Centroids(spectrum.Trace{XUnit: "T"}, -1); err == nil || !strings.Contains(err.Error(), "threshold of -1") {
		t.Errorf("a threshold of -1: %v", err)
	}
}

func TestCaution(t *testing.T) {
	for _, word := range []string{"high voltage", "implode", "magnets", "toxic", "local rules", "trained staff"} {
		if !strings.Contains(sector.Caution, word) {
			t.Errorf("the caution leaves out %q", word)
		}
	}
}
