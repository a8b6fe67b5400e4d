package sector_test

import (
	"errors"
	"math"
	"slices"
	"strings"
	"testing"

	"ionwright/internal/fixture"
	"ionwright/sector"
	"ionwright/spectrum"
)

func TestPresets(t *testing.T) {
	presets := sector.Presets()
	if len(presets) != 3 {
		t.Fatalf("%d presets", len(presets))
	}
	for _, i := range presets {
		if err := i.Check(); err != nil {
			t.Errorf("%s: %v", i.Name, err)
		}
		back, err := sector.ReadDescription([]byte(i.Description()))
		if err != nil {
			t.Errorf("%s: %v, of\n%s", i.Name, err, i.Description())
			continue
		}
		if back.Description() != i.Description() {
			t.Errorf("%s comes back as\n%s, was\n%s", i.Name, back.Description(), i.Description())
		}
		b1, err := i.Budget()
		b2, err2 := back.Budget()
		if err != nil || err2 != nil || math.Abs(b1.All/b2.All-1) > 1e-9 {
			t.Errorf("%s: the description has a resolving power of %v, the preset %v (%v, %v)", i.Name, b2.All, b1.All, err, err2)
		}
	}
	double := presets[2]
	between, err := double.EnergyFocus()
	if err != nil || math.Abs(float64(between-double.Electric.Between)) > 1e-5 {
		t.Errorf("double focusing needs a drift of %v m, %v; the preset has %v", between, err, double.Electric.Between)
	}
	// In the double focusing instrument ten times the spread of energies makes
	// next to no difference; in a single focusing one it takes the resolving
	// power (common practice, no source).
	for at, i := range presets {
		before, err := i.Budget()
		i.EnergySpread *= 10
		after, err2 := i.Budget()
		if err != nil || err2 != nil {
			t.Fatal(err, err2)
		}
		if lost := 1 - after.All/before.All; (at == 2) != (lost < 0.05) {
			t.Errorf("%s: ten times the spread of energies takes %.0f %% of the resolving power", i.Name, 100*lost)
		}
	}
	if _, err := presets[0].EnergyFocus(); err == nil || !strings.Contains(err.Error(), "an electric sector too") {
		t.Errorf("energy focus without electric sector: %v", err)
	}
}

// What is measured from the trace agrees with what the budget adds up: between
// the slits alone and everything added at the base.
func TestMeasuredResolution(t *testing.T) {
	for _, i := range sector.Presets() {
		rec := must[*sector.Recording](t)(sector.Sweep(i, []sector.Ion{{MZ: 100, Intensity: 1}}, sector.SweepSettings{Steps: 100_000}))
		r, err := i.Resolution(rec.Trace, 100)
		if err != nil {
			t.Fatalf("%s: %v", i.Name, err)
		}
		b := must[sector.Budget](t)(i.Budget())
		// The width at 5 % is a little less than that at the base.
		if !(r.Valley10 > b.All && r.Valley10 < 1.3*b.Slits) {
			t.Errorf("%s: 10 %% valley %v, by the budget %v to %v", i.Name, r.Valley10, b.All, b.Slits)
		}
		// Gross and others: the 10 % valley value is about half of that by half
		// height (oracles 59, a rule).
		if ratio := r.HalfHeight / r.Valley10; ratio < 1.4 || ratio > 2.1 {
			t.Errorf("%s: the value by half height is %v times that by the valley", i.Name, ratio)
		}
		if b.Contributions[0].Cause != b.LargestHinders {
			t.Errorf("%s: the largest is %q", i.Name, b.LargestHinders)
		}
		for at := 1; at < len(b.Contributions); at++ {
			if b.Contributions[at].Width > b.Contributions[at-1].Width {
				t.Errorf("%s: contribution %d is larger than the one before", i.Name, at+1)
			}
		}
		// Two equal peaks apart by the measured width have a valley of 10 %.
		apart := 100 / r.Valley10
		pair := must[*sector.Recording](t)(sector.Sweep(i, []sector.Ion{{MZ: 100, Intensity: 1}, {MZ: 100 + apart, Intensity: 1}}, sector.SweepSettings{Steps: 200_000}))
		against := must[spectrum.Trace](t)(i.MZTrace(pair.Trace))
		low := 1.0
		for at, x := range against.X {
			if x > r.MZ && x < r.MZ+apart {
				low = min(low, against.Y[at])
			}
		}
		if math.Abs(low-0.1) > 0.02 {
			t.Errorf("%s: peaks %v apart leave a valley of %.3f, want 0.1", i.Name, apart, low)
		}
	}
	// Slits alone: the trapezoid's own widths. R = 500 at the base, width at half
	// height is the wider slit: 0.25 / 0.0003.
	rec := must[*sector.Recording](t)(sector.Sweep(half, []sector.Ion{{MZ: 100, Intensity: 1}}, sector.SweepSettings{Steps: 100_000}))
	r := must[sector.Resolution](t)(half.Resolution(rec.Trace, 100))
	if math.Abs(r.HalfHeight/(0.25/0.0003)-1) > 0.002 || math.Abs(r.Valley10/(0.25/(0.0005-0.1*0.0002))-1) > 0.002 {
		t.Errorf("measured %v", r)
	}
	close := must[*sector.Recording](t)(sector.Sweep(half, []sector.Ion{{MZ: 100, Intensity: 1}, {MZ: 100.18, Intensity: 1}}, sector.SweepSettings{Steps: 100_000}))
	if _, err := half.Resolution(close.Trace, 100); err == nil || !strings.Contains(err.Error(), "isn't isolated") {
		t.Errorf("two peaks in one: %v", err)
	}
	if _, err := half.Resolution(spectrum.Trace{X: []float64{1, 2}, Y: []float64{0, 0}, XUnit: "T"}, 100); err == nil || !strings.Contains(err.Error(), "no signal") {
		t.Errorf("no peak: %v", err)
	}
}

// The swarm, flown ion by ion, draws the peak that the response computes.
func TestSwarmAgreesWithResponse(t *testing.T) {
	wide := half // where slopes and energies matter as much as the slits
	wide.Divergence, wide.EnergySpread, wide.Temperature = 0.03, 3, 3000
	wide.After = 0.01 // and out of focus
	for _, i := range append(sector.Presets(), wide) {
		ions := []sector.Ion{{MZ: 100, Intensity: 2}, {MZ: 104, Intensity: 1}}
		set := sector.SweepSettings{Steps: 3000, Exponential: true, From: 0.99 * must[sector.Tesla](t)(i.Field(100)), To: 1.01 * must[sector.Tesla](t)(i.Field(104))}
		const n = 600_000
		rec := must[*sector.Recording](t)(sector.Sweep(i, ions, set))
		swarm := must[*sector.Swarm](t)(sector.FlySwarm(i, ions, set, n, 1))
		if swarm.Flown != n {
			t.Errorf("%s: %d ions flown", i.Name, swarm.Flown)
		}
		if lost := swarm.OnWalls + swarm.Scattered; lost > n/1000 {
			t.Errorf("%s: %d ions lost", i.Name, lost)
		}
		worst := 0.0
		for at, y := range rec.Trace.Y {
			expected := y / 3 * n
			off := math.Abs(swarm.Trace.Y[at]-expected) / math.Sqrt(expected+25)
			worst = max(worst, off)
		}
		// Six standard deviations for 3000 points, and what the table rounds.
		if worst > 7 {
			t.Errorf("%s: the swarm is %.1f standard deviations off", i.Name, worst)
		}
	}
}

func TestSwarmLosses(t *testing.T) {
	i := sector.Presets()[1]
	i.Divergence = 0.06 // 0.433 m * 0.06 is wider than half the chamber of 4 cm
	ions := []sector.Ion{{MZ: 100, Intensity: 1}}
	swarm := must[*sector.Swarm](t)(sector.FlySwarm(i, ions, sector.SweepSettings{}, 10_000, 1))
	if share := float64(swarm.OnWalls) / 10_000; share < 0.2 || share > 0.5 {
		t.Errorf("%v of a beam wider than the chamber hits the wall", share)
	}
	// What the walls take, the response leaves out too.
	share := must[float64](t)(i.Share(100, must[sector.Tesla](t)(i.Field(100))))
	open := i
	open.Chamber = 0
	if free := must[float64](t)(open.Share(100, must[sector.Tesla](t)(i.Field(100)))); share > free+1e-9 {
		t.Errorf("%v get through between walls, %v without", share, free)
	}
	rec := must[*sector.Recording](t)(sector.Sweep(i, ions, sector.SweepSettings{}))
	back := must[spectrum.Spectrum](t)(i.Centroids(rec.Trace, 0))
	if lost := float64(swarm.OnWalls) / 10_000; math.Abs(back.TotalIonCurrent()-(1-lost)) > 0.02 {
		t.Errorf("the trace holds %v of the beam, %v of which hit the walls", back.TotalIonCurrent(), lost)
	}
	i = sector.Presets()[1]
	path := must[sector.Metre](t)(sector.MeanFreePath(1e-2))
	if math.Abs(float64(path)-0.405) > 0.001 { // 1.380649e-23 * 293.15 / (1e-18 * 1e-2), by hand
		t.Errorf("mean free path at 0.01 Pa %v m", path)
	}
	i.Pressure = 1e-2
	length := 0.433 + 0.25*math.Pi/3 + float64(must[sector.Metre](t)(i.ImageDistance()))
	want := math.Exp(-length / float64(path))
	swarm = must[*sector.Swarm](t)(sector.FlySwarm(i, ions, sector.SweepSettings{}, 100_000, 1))
	if got := 1 - float64(swarm.Scattered)/100_000; math.Abs(got-want) > 0.01 {
		t.Errorf("%v of the ions get through the gas, want %v", got, want)
	}
	with := must[*sector.Recording](t)(sector.Sweep(i, ions, sector.SweepSettings{}))
	i.Pressure = 0
	without := must[*sector.Recording](t)(sector.Sweep(i, ions, sector.SweepSettings{}))
	if got := with.Trace.Area() / without.Trace.Area(); math.Abs(got-want) > 1e-9 {
		t.Errorf("the trace keeps %v, want %v", got, want)
	}
}

func TestSwarmRefuses(t *testing.T) {
	ions := []sector.Ion{{MZ: 43, Intensity: 1}}
	for want, call := range map[string]func() (*sector.Swarm, error){
		"number of ions of 0": func() (*sector.Swarm, error) { return sector.FlySwarm(half, ions, sector.SweepSettings{}, 0, 1) },
		"intensity of 0": func() (*sector.Swarm, error) {
			return sector.FlySwarm(half, []sector.Ion{{MZ: 43}}, sector.SweepSettings{}, 9, 1)
		},
		"radius of 0 m": func() (*sector.Swarm, error) {
			return sector.FlySwarm(sector.Instrument{}, ions, sector.SweepSettings{}, 9, 1)
		},
		"none of the 9 ions": func() (*sector.Swarm, error) {
			return sector.FlySwarm(half, ions, sector.SweepSettings{From: 0.5, To: 0.6}, 9, 1)
		},
		"there is nothing to sweep over": func() (*sector.Swarm, error) { return sector.FlySwarm(half, nil, sector.SweepSettings{}, 9, 1) },
	} {
		if _, err := call(); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want one with %q", err, want)
		}
	}
}

// Counted within the error of counting, the trace gives the spectrum back.
func TestCounted(t *testing.T) {
	s := fixture.ByName(t, "2-butanone").Spectrum(t)
	i := sector.Presets()[0]
	rec := must[*sector.Recording](t)(sector.Sweep(i, sector.Ions(s), sector.SweepSettings{Steps: 20_000, Exponential: true}))
	set := sector.Counting{Duration: 10, IonRate: 1000, Seed: 7} // base 1000: a million ions a second
	counted := must[*sector.Counted](t)(rec.Count(set))
	if off := math.Abs(counted.Ions-counted.Expect) / math.Sqrt(counted.Expect); off > 5 {
		t.Errorf("%v ions counted, %v expected", counted.Ions, counted.Expect)
	}
	again := must[*sector.Counted](t)(rec.Count(set))
	for at := range again.Trace.Y {
		if again.Trace.Y[at] != counted.Trace.Y[at] {
			t.Fatal("the same seed gives other counts")
		}
	}
	back := must[spectrum.Spectrum](t)(rec.Spectrum(counted, set))
	if len(back.Peaks) != len(s.Peaks) {
		t.Fatalf("%d peaks of %d: %v", len(back.Peaks), len(s.Peaks), back.Notation())
	}
	for at, p := range back.Peaks {
		want := s.Peaks[at]
		ions := want.Intensity / s.TotalIonCurrent() * counted.Expect
		if math.Abs(p.Intensity/want.Intensity-1) > 0.02+5/math.Sqrt(ions) || math.Abs(p.MZ/want.MZ-1) > 1e-3 {
			t.Errorf("m/z %.3f with %.1f, want %v with %v (%.0f ions)", p.MZ, p.Intensity, want.MZ, want.Intensity, ions)
		}
	}
	// Fewer ions scatter more: a thousand times faster, weak peaks are in doubt.
	quick := must[*sector.Counted](t)(rec.Count(sector.Counting{Duration: 0.01, IonRate: 1000, Seed: 7}))
	if quick.Ions > counted.Ions/500 {
		t.Errorf("a sweep a thousand times faster counts %v ions, the slow one %v", quick.Ions, counted.Ions)
	}
	for want, set := range map[string]sector.Counting{
		"so fast that only":             {Duration: 1e-9, IonRate: 1},
		"duration of the sweep of 0 s":  {IonRate: 1},
		"ion rate of 0 1/s":             {Duration: 1},
		"more ions than can be counted": {Duration: 1e10, IonRate: 1e20},
	} {
		if _, err := rec.Count(set); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want one with %q", err, want)
		}
	}
}

// A slow amplifier smears a fast sweep: the peaks get wider and come later.
func TestTimeConstant(t *testing.T) {
	i := half
	i.Detector = sector.Detector{TimeConst: 0.002, Gain: 100}
	rec := must[*sector.Recording](t)(sector.Sweep(i, []sector.Ion{{MZ: 100, Intensity: 1}}, sector.SweepSettings{Steps: 20_000}))
	var last float64
	for _, duration := range []sector.Second{10, 1, 0.03} {
		counted := must[*sector.Counted](t)(rec.Count(sector.Counting{Duration: duration, IonRate: 1e9, Seed: 1}))
		r := must[sector.Resolution](t)(i.Resolution(counted.Trace, 100))
		if last > 0 && r.HalfHeight > last {
			t.Errorf("swept in %v s, the resolving power is %v, slower it was %v", duration, r.HalfHeight, last)
		}
		last = r.HalfHeight
	}
	if ideal := 0.25 / 0.0003; last > ideal/2 {
		t.Errorf("in 0.03 s the resolving power is still %v of %v", last, ideal)
	}
}

func TestMetastablePeak(t *testing.T) {
	// META-SL: 91 to 65 at 46.4, recorded beside the normal ions.
	ions := []sector.Ion{{MZ: 91, Intensity: 100}, {MZ: 65, Intensity: 10}}
	decay := sector.Decay{Before: 91, After: 65, Intensity: 1, Release: 0.1}
	rec := must[*sector.Recording](t)(sector.Sweep(half, ions, sector.SweepSettings{Steps: 200_000, Decays: []sector.Decay{decay}}))
	if w := rec.Windows[0]; !w.Decay || w.Ion != 0 {
		t.Errorf("first comes %+v, want the metastable ion", w)
	}
	s := must[spectrum.Spectrum](t)(half.Centroids(rec.Trace, 0))
	if len(s.Peaks) != 3 || math.Abs(s.Peaks[0].MZ-46.43) > 0.01 || math.Abs(s.Peaks[0].Intensity-1) > 0.01 {
		t.Fatalf("peaks %v", s.Notation())
	}
	// Diffuse: its width gives the energy released back, the instrument's own
	// width aside.
	against := must[spectrum.Trace](t)(half.MZTrace(rec.Trace))
	var x, y []float64
	for at := range against.X {
		if against.X[at] < 50 {
			x, y = append(x, against.X[at]), append(y, against.Y[at])
		}
	}
	peak := spectrum.Trace{X: x, Y: y, XUnit: "m/z"}
	top := 0.0
	for _, v := range y {
		top = max(top, v)
	}
	width := widthAt(peak, top/2)
	release := must[float64](t)(sector.ReleaseFromWidth(91, 65, 1, 4000, width))
	if math.Abs(release-0.1) > 0.005 {
		t.Errorf("the width of %v gives back a release of %v eV, want 0.1", width, release)
	}
	normal := 46.43 * 0.0003 / 0.25
	if width < 3*normal {
		t.Errorf("the metastable peak has a width of %v, a normal one %v", width, normal)
	}
	arrivals := rec.At(rec.Windows[0].Center)
	if len(arrivals) != 1 || !arrivals[0].Decay {
		t.Errorf("at its center arrive %v", arrivals)
	}
	for want, d := range map[string]sector.Decay{
		"m/z of the product of 91":     {Before: 65, After: 91, Intensity: 1},
		"kinetic energy release of -1": {Before: 91, After: 65, Intensity: 1, Release: -1},
		"intensity of -1":              {Before: 91, After: 65, Intensity: -1},
		"charge number of -1":          {Before: 91, After: 65, Charge: -1},
	} {
		if _, err := sector.Sweep(half, ions, sector.SweepSettings{Decays: []sector.Decay{d}}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want one with %q", err, want)
		}
	}
	share := must[float64](t)(sixty.DecayShare(91, 1e5))
	// 0.433 m at 92100 m/s are 4.70 us: 1 - exp(-0.470) = 0.375, by hand.
	if math.Abs(share-0.375) > 0.001 {
		t.Errorf("share that decays %v", share)
	}
	if _, err := half.DecayShare(91, 1e5); err == nil || !strings.Contains(err.Error(), "drift before the magnet of 0 m") {
		t.Errorf("no drift: %v", err)
	}
}

func TestVoltageSweep(t *testing.T) {
	ions := []sector.Ion{{MZ: 43, Intensity: 1}, {MZ: 58, Intensity: 2}, {MZ: 86, Intensity: 1}}
	b := must[sector.Tesla](t)(half.Field(58))
	rec := must[*sector.VoltageRecording](t)(sector.SweepVoltage(half, b, ions, sector.VoltageSettings{Steps: 100_000}))
	trace := rec.Trace
	if err := trace.Check(); err != nil || trace.XUnit != "V" {
		t.Fatalf("%v, %q", err, trace.XUnit)
	}
	// m/z goes with 1/V: the maxima are at 4000 * 58/86, 4000 and 4000 * 58/43 V.
	for _, ion := range ions {
		v := 4000 * 58 / ion.MZ
		at := 0
		for trace.X[at] < v {
			at++
		}
		if math.Abs(trace.Y[at]-ion.Intensity) > 1e-6 {
			t.Errorf("m/z %v at %v V gives %v", ion.MZ, v, trace.Y[at])
		}
	}
	// Read as a field sweep, it gives the spectrum back, and the resolving power.
	atField := must[spectrum.Trace](t)(rec.FieldTrace(trace, half.Voltage))
	back := must[spectrum.Spectrum](t)(half.Centroids(atField, 0))
	if len(back.Peaks) != len(ions) {
		t.Fatalf("peaks %s", back.Notation())
	}
	for k, p := range back.Peaks {
		if math.Abs(p.MZ/ions[k].MZ-1) > 1e-5 || math.Abs(p.Intensity/ions[k].Intensity-1) > 1e-3 {
			t.Errorf("m/z %v with %v, want %v with %v", p.MZ, p.Intensity, ions[k].MZ, ions[k].Intensity)
		}
	}
	if r := must[sector.Resolution](t)(half.Resolution(atField, 58)); math.Abs(r.HalfHeight/(0.25/0.0003)-1) > 0.002 {
		t.Errorf("resolving power by half height %v", r.HalfHeight)
	}
	// Heavy ions need the lower voltage, and a metastable one that of m2^2/m1.
	meta := must[*sector.VoltageRecording](t)(sector.SweepVoltage(half, b, ions, sector.VoltageSettings{Decays: []sector.Decay{{Before: 86, After: 58, Intensity: 1, Release: 0.1}}}))
	var order []float64
	for _, w := range meta.Windows {
		order = append(order, float64(w.Center))
		if w.Decay && math.Abs(float64(w.Center)-4000*58/(58.0*58/86)) > 1e-6 {
			t.Errorf("the metastable ion arrives at %v V", w.Center)
		}
	}
	if !slices.IsSorted(order) || len(order) != 4 || meta.Windows[0].Ion != 2 {
		t.Errorf("windows %+v", meta.Windows)
	}
	nan := sector.Volt(math.NaN())
	for want, call := range map[string]func() error{
		"magnetic field of 0 T": func() error { _, err := sector.SweepVoltage(half, 0, ions, sector.VoltageSettings{}); return err },
		"start of the sweep of NaN V": func() error {
			_, err := sector.SweepVoltage(half, b, ions, sector.VoltageSettings{From: nan})
			return err
		},
		"end of the sweep of 5 V": func() error {
			_, err := sector.SweepVoltage(half, b, ions, sector.VoltageSettings{From: 10, To: 5})
			return err
		},
		"no ion reaches the collector": func() error {
			_, err := sector.SweepVoltage(half, b, ions, sector.VoltageSettings{From: 10, To: 15})
			return err
		},
		"steps over m/z": func() error {
			_, err := sector.SweepVoltage(half, b, ions, sector.VoltageSettings{Steps: 10})
			return err
		},
		"number of steps of 1": func() error {
			_, err := sector.SweepVoltage(half, b, ions, sector.VoltageSettings{Steps: 1})
			return err
		},
		"there is nothing": func() error { _, err := sector.SweepVoltage(half, b, nil, sector.VoltageSettings{}); return err },
	} {
		var setting *sector.SettingError
		if err := call(); !errors.As(err, &setting) || !strings.Contains(err.Error(), want) {
			t.Errorf("error %v, want one with %q", err, want)
		}
	}
}

func TestSwitch(t *testing.T) {
	ions := []sector.Ion{{MZ: 43, Intensity: 1}, {MZ: 58, Intensity: 2}, {MZ: 43.005, Intensity: 4}}
	got := must[[]sector.Dwell](t)(sector.Switch(half, ions, nil, []float64{58, 43, 50}))
	if got[0].Current != 2 || got[1].Current != 5 || got[2].Current != 0 { // 43.005 isn't told apart at R = 500
		t.Errorf("currents %v", got)
	}
	for _, d := range got {
		if b := must[sector.Tesla](t)(half.Field(d.MZ)); d.Field != b {
			t.Errorf("the field for m/z %v is %v", d.MZ, d.Field)
		}
	}
	// A diffuse metastable ion, as wide as the slit, gives less than its current.
	meta := must[[]sector.Dwell](t)(sector.Switch(half, ions, []sector.Decay{{Before: 91, After: 65, Intensity: 1, Release: 0.1}}, []float64{65. * 65 / 91}))
	if !(meta[0].Current > 0.05 && meta[0].Current < 0.5) {
		t.Errorf("at the metastable ion %v arrives", meta[0].Current)
	}
	if _, err := sector.Switch(half, ions, nil, []float64{0}); err == nil || !strings.Contains(err.Error(), "m/z of 0") {
		t.Errorf("m/z 0: %v", err)
	}
	if _, err := sector.Switch(half, ions, nil, nil); err == nil || !strings.Contains(err.Error(), "nothing to switch to") {
		t.Errorf("nothing selected: %v", err)
	}
}

func TestDescriptionErrors(t *testing.T) {
	for _, test := range []struct{ text, want string }{
		{"", "expected one mapping"},
		{"- a\n", "expected a mapping"},
		{"radius: 10 cm\nradios: 3\n", `line 2, column 1: there is no setting "radios"`},
		{"radius: 10\n", `line 1, column 1: radius: "" isn't a unit of it; expected one of m, cm, mm`},
		{"radius: 10 V\n", `"V" isn't a unit of it`},
		{"radius: ten cm\n", `"ten cm" isn't a number with a unit, such as 10 m`},
		{"radius: NaN cm\n", "isn't a number with a unit"},
		{"radius: [1]\n", `"radius" has no single value`},
		{"electric bends: up\n", `the electric sector bends "up"`},
		{"radius: 10 cm\nvoltage: 1 kV\n", "collector slit of 0 m: through a closed slit"},
		{"radius: 10 cm\nvoltage: 0 V\ncollector slit: 1 mm\n", "accelerating voltage of 0 V"},
		{"a: b: c\n", "reading an instrument"},
		{strings.Repeat("# x\n", 20000), "more than 65536 bytes"},
	} {
		if _, err := sector.ReadDescription([]byte(test.text)); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%q: error %v, want one with %q", test.text[:min(len(test.text), 40)], err, test.want)
		}
	}
	i, err := sector.ReadDescription([]byte("name: \"bench\"\nvoltage: 1 kV\nradius: 10 cm\nangle: 60 deg\ndrift before: 173 mm\ncollector slit: 200 um\ndetector gain: 1e6\n"))
	if err != nil || i.Name != "bench" || i.Voltage != 1000 || i.Radius != 0.1 || math.Abs(float64(i.Angle)-math.Pi/3) > 1e-15 || i.Before != 0.173 || i.CollectorSlit != 0.0002 || i.Detector.Gain != 1e6 {
		t.Errorf("%+v, %v", i, err)
	}
}

func FuzzDescription(f *testing.F) {
	for _, i := range sector.Presets() {
		f.Add(i.Description())
	}
	f.Add("radius: 10 cm\nelectric bends: the other way\nelectric radius: 1 m\n")
	f.Fuzz(func(t *testing.T, text string) {
		i, err := sector.ReadDescription([]byte(text))
		if err != nil {
			return
		}
		// What Check lets pass sweeps, or says why not; never NaN.
		rec, err := sector.Sweep(i, []sector.Ion{{MZ: 43, Intensity: 1}, {MZ: 58, Intensity: 1}}, sector.SweepSettings{Steps: 500})
		if err != nil {
			return
		}
		if err := rec.Trace.Check(); err != nil {
			t.Errorf("%v, of\n%s", err, text)
		}
	})
}
