package sector_test

import (
	"math"
	"strings"
	"testing"

	"ionwright/sector"
)

func distance(a, b sector.Point) float64 { return math.Hypot(a.X-b.X, a.Y-b.Y) }

func TestLayout(t *testing.T) {
	l := must[sector.Layout](t)(half.Layout())
	// Half a circle of radius 0.25 to the left: the collector is 0.5 m away, and
	// the path comes back.
	if distance(l.Collector, sector.Point{X: 0, Y: 0.5}) > 1e-12 || math.Abs(math.Abs(float64(l.ToCollector))-math.Pi) > 1e-12 {
		t.Errorf("collector at %v, direction %v", l.Collector, l.ToCollector)
	}
	if distance(l.Magnet.Center, sector.Point{X: 0, Y: 0.25}) > 1e-12 || l.Electric != nil {
		t.Errorf("magnet %+v", l.Magnet)
	}
	for _, i := range sector.Presets() {
		l := must[sector.Layout](t)(i.Layout())
		if r := distance(l.Magnet.Center, l.Magnet.Start); math.Abs(r-float64(i.Radius)) > 1e-12 {
			t.Errorf("%s: the arc starts %v from its center", i.Name, r)
		}
		if r := distance(l.Magnet.Center, l.Magnet.End); math.Abs(r-float64(i.Radius)) > 1e-12 {
			t.Errorf("%s: the arc ends %v from its center", i.Name, r)
		}
		if (l.Electric != nil) != (i.Electric != nil) {
			t.Errorf("%s: electric sector %v", i.Name, l.Electric)
		}
	}
}

// The central ray goes from slit to slit through the ends of all parts, and so
// does one of every m/z at its own field.
func TestCentralRays(t *testing.T) {
	other := sector.Presets()[2]
	e := *other.Electric
	e.Opposite = true
	other.Electric = &e
	other.After = 0.1
	for _, i := range append(sector.Presets(), half, sixty, other) {
		l := must[sector.Layout](t)(i.Layout())
		for _, mz := range []float64{18, 100, 300} {
			b := must[sector.Tesla](t)(sector.Field(mz, i.Voltage, i.Radius))
			ray := must[sector.Ray](t)(i.Ray(mz, b, 0, 0))
			if ray.End != sector.Collected || math.Abs(float64(ray.Beside)) > 1e-9 {
				t.Errorf("%s, m/z %v ends %v, %v beside", i.Name, mz, ray.End, ray.Beside)
				continue
			}
			if d := distance(ray.Points[len(ray.Points)-1], l.Collector); d > 1e-9 {
				t.Errorf("%s: the central ray ends %v from the collector", i.Name, d)
			}
			for _, part := range []sector.Point{l.Source, l.Magnet.Start, l.Magnet.End} {
				nearest := 1.0
				for _, p := range ray.Points {
					nearest = min(nearest, distance(p, part))
				}
				if nearest > 1e-9 {
					t.Errorf("%s: the central ray passes %v from %v", i.Name, nearest, part)
				}
			}
			for at := 1; at < len(ray.Points); at++ {
				if math.IsNaN(ray.Points[at].X + ray.Points[at].Y) {
					t.Fatalf("%s: point %d is %v", i.Name, at, ray.Points[at])
				}
			}
		}
	}
}

// common practice, no source: at a fixed field lighter ions bend more and end
// inward, heavier ones outward.
func TestWrongMassesMiss(t *testing.T) {
	for _, i := range []sector.Instrument{half, sixty} {
		b := must[sector.Tesla](t)(i.Field(100))
		light := must[sector.Ray](t)(i.Ray(99, b, 0, 0))
		heavy := must[sector.Ray](t)(i.Ray(101, b, 0, 0))
		if light.End != sector.SlitPlate || heavy.End != sector.SlitPlate || light.Beside >= 0 || heavy.Beside <= 0 {
			t.Errorf("%s: m/z 99 ends %v at %v, 101 %v at %v", i.Name, light.End, light.Beside, heavy.End, heavy.Beside)
		}
		// One unit at m/z 100 is 1.25 mm of dispersion (oracles 75, twice the
		// radius shift after half a circle and at the symmetric image).
		if math.Abs(float64(heavy.Beside)-2*1.247e-3) > 2e-5 {
			t.Errorf("%s: m/z 101 lands %v beside", i.Name, heavy.Beside)
		}
	}
	walled := sixty
	walled.Chamber = 0.04
	b := must[sector.Tesla](t)(walled.Field(100))
	for _, mz := range []float64{1, 20, 50, 200, 1000} {
		ray := must[sector.Ray](t)(walled.Ray(mz, b, 0, 0))
		if ray.End == sector.Collected || ray.End == sector.SlitPlate {
			t.Errorf("m/z %v at the field of 100 ends %v", mz, ray.End)
		}
		if len(ray.Points) < 3 {
			t.Errorf("m/z %v has %d points", mz, len(ray.Points))
		}
	}
	if ray := must[sector.Ray](t)(half.Ray(1, must[sector.Tesla](t)(half.Field(100)), 0, 0)); ray.End != sector.SlitPlate && ray.End != sector.Turned {
		t.Errorf("m/z 1 ends %v", ray.End)
	}
}

func TestFan(t *testing.T) {
	i := sector.Presets()[1]
	b := must[sector.Tesla](t)(i.Field(100))
	fan := must[[]sector.Ray](t)(i.Fan(100, b, 9))
	second := must[sector.Metre](t)(i.Aberration())
	for k, ray := range fan {
		slope := float64(i.Divergence) * (2*float64(k)/8 - 1)
		want := float64(second) * slope * slope
		if ray.End != sector.Collected || math.Abs(float64(ray.Beside)-want) > 1e-7 { // the third order is of this size
			t.Errorf("ray %d ends %v at %v, want %v", k, ray.End, ray.Beside, want)
		}
	}
	if _, err := i.Fan(100, b, 0); err == nil || !strings.Contains(err.Error(), "number of rays of 0") {
		t.Errorf("no rays: %v", err)
	}
	if _, err := i.Ray(0, b, 0, 0); err == nil || !strings.Contains(err.Error(), "m/z of 0") {
		t.Errorf("m/z 0: %v", err)
	}
}

func TestFollowRefuses(t *testing.T) {
	presets := sector.Presets()
	b := must[sector.Tesla](t)(presets[1].Field(100))
	if track, err := presets[1].Follow(100, b, 0, 0, 1e-10); err != nil || !track.Reached || math.Abs(float64(track.Beside)) > 1e-3 || len(track.Points) < 10 {
		t.Errorf("%v, %v beside", err, track.Beside)
	}
	if track, err := presets[1].Follow(5, b, 0, 0, 1e-10); err != nil || track.Reached {
		t.Errorf("m/z 5 at the field of 100: %v, reached %v", err, track.Reached)
	}
	if _, err := presets[2].Follow(100, b, 0, 0, 1e-10); err == nil || !strings.Contains(err.Error(), "take the electric sector out") {
		t.Errorf("with an electric sector: %v", err)
	}
	if _, err := presets[1].Follow(100, b, 0, 0, 1); err == nil || !strings.Contains(err.Error(), "tolerance of 1") {
		t.Errorf("a tolerance of 1: %v", err)
	}
}

// BenchmarkFrame times what a live view draws: the full paths of 300 ions, and
// what of them the detector records.
func BenchmarkFrame(b *testing.B) {
	for _, i := range sector.Presets() {
		var ions []sector.Ion
		for mz := 90.0; mz < 120; mz += 3 {
			ions = append(ions, sector.Ion{MZ: mz, Intensity: 1})
		}
		b.Run(strings.Fields(i.Name)[0], func(b *testing.B) {
			for b.Loop() {
				frame, err := i.Frame(ions, sector.FrameSettings{Rays: 30})
				if err != nil {
					b.Fatal(err)
				}
				points := 0
				for _, beam := range frame.Beams {
					for _, ray := range beam.Rays {
						points += len(ray.Points)
					}
				}
				if points < 300*5 {
					b.Fatalf("%d points", points)
				}
			}
		})
	}
}

// BenchmarkMillionIons times a million ions through a sweep of 500 fields.
func BenchmarkMillionIons(b *testing.B) {
	for _, i := range sector.Presets() {
		i.SourceSlit, i.CollectorSlit = i.Radius/500, i.Radius/500 // so that 500 fields meet all ions
		ions := []sector.Ion{{MZ: 98, Intensity: 1}, {MZ: 99, Intensity: 2}, {MZ: 100, Intensity: 3}, {MZ: 101, Intensity: 1}}
		b.Run(strings.Fields(i.Name)[0], func(b *testing.B) {
			for b.Loop() {
				swarm, err := sector.FlySwarm(i, ions, sector.SweepSettings{Steps: 500}, 1_000_000, 1)
				if err != nil || swarm.Flown != 1_000_000 {
					b.Fatal(err)
				}
			}
		})
	}
}

// BenchmarkSweep times a sweep of a spectrum's ions over 4000 fields.
func BenchmarkSweep(b *testing.B) {
	i := sector.Presets()[1]
	var ions []sector.Ion
	for mz := 15.0; mz < 115; mz++ {
		ions = append(ions, sector.Ion{MZ: mz, Intensity: mz})
	}
	for b.Loop() {
		if _, err := sector.Sweep(i, ions, sector.SweepSettings{Steps: 8000}); err != nil {
			b.Fatal(err)
		}
	}
}
