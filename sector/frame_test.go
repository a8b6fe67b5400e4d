package sector_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"ionwright/sector"
)

// A frame says the same as Share, Ray and Layout do, each on its own.
func TestFrame(t *testing.T) {
	ions := []sector.Ion{{MZ: 43, Intensity: 100}, {MZ: 57, Intensity: 8}, {MZ: 72, Intensity: 25}, {MZ: 22.5, Intensity: 3}}
	for _, i := range sector.Presets() {
		b := must[sector.Tesla](t)(i.Field(57))
		f := must[*sector.Frame](t)(i.Frame(ions, sector.FrameSettings{Field: b, Rays: 5}))
		if math.Abs(f.MZ-57) > 1e-9 || f.Voltage != i.Voltage || f.Field != b || len(f.Beams) != len(ions) {
			t.Fatalf("%s: m/z %v, %v V, %v T, %d beams", i.Name, f.MZ, f.Voltage, f.Field, len(f.Beams))
		}
		var sum float64
		for k, beam := range f.Beams {
			share := must[float64](t)(i.Share(ions[k].MZ, b))
			if beam.MZ != ions[k].MZ || math.Abs(beam.Share-share) > 1e-12 || math.Abs(beam.Current-share*ions[k].Intensity) > 1e-9 {
				t.Errorf("%s: beam %d is %v with a share of %v, want %v", i.Name, k, beam.MZ, beam.Share, share)
			}
			if beam.Reaches() != (ions[k].MZ == 57) {
				t.Errorf("%s: m/z %v reaches the detector: %v", i.Name, beam.MZ, beam.Reaches())
			}
			for n, ray := range beam.Rays {
				alone := must[sector.Ray](t)(i.Ray(beam.MZ, b, 0, i.Divergence*sector.Radian(n-2)/2))
				if ray.End != alone.End || ray.Beside != alone.Beside || len(ray.Points) != len(alone.Points) {
					t.Errorf("%s: ray %d of m/z %v ends %v at %v, alone %v at %v", i.Name, n, beam.MZ, ray.End, ray.Beside, alone.End, alone.Beside)
				}
				// common practice, no source: lighter ions bend more.
				if ray.End != sector.Collected && ray.Inner != (beam.MZ < 57) {
					t.Errorf("%s: m/z %v ends inward: %v", i.Name, beam.MZ, ray.Inner)
				}
			}
			sum += beam.Current
		}
		if math.Abs(f.Signal-sum) > 1e-9 {
			t.Errorf("%s: signal %v of %v", i.Name, f.Signal, sum)
		}
	}
}

// Settings of the view stand above the instrument's own.
func TestFrameSettings(t *testing.T) {
	i := sector.Presets()[1]
	ions := []sector.Ion{{MZ: 100, Intensity: 1}}
	f := must[*sector.Frame](t)(i.Frame(ions, sector.FrameSettings{}))
	if math.Abs(f.MZ-100) > 1e-9 || !f.Beams[0].Reaches() || len(f.Beams[0].Rays) != 1 {
		t.Errorf("without settings m/z %v is on the path", f.MZ)
	}
	// At twice the voltage the same field brings half the m/z (m/z = e B^2 r^2 / 2 V).
	g := must[*sector.Frame](t)(i.Frame(ions, sector.FrameSettings{Field: f.Field, Voltage: 2 * i.Voltage}))
	if math.Abs(g.MZ-50) > 1e-9 || g.Beams[0].Reaches() {
		t.Errorf("at twice the voltage m/z %v is on the path", g.MZ)
	}
	// Slits of 3 mm let m/z 101 in too, whose image lies 2.5 mm beside.
	pair := []sector.Ion{{MZ: 100, Intensity: 1}, {MZ: 101, Intensity: 1}}
	h := must[*sector.Frame](t)(i.Frame(pair, sector.FrameSettings{SourceSlit: 0.003, CollectorSlit: 0.003}))
	if !h.Beams[1].Reaches() || h.Beams[1].Share >= h.Beams[0].Share {
		t.Errorf("wide slits let %v and %v through", h.Beams[0].Share, h.Beams[1].Share)
	}
}

func TestFrameAsJSON(t *testing.T) {
	i := sector.Presets()[2]
	f := must[*sector.Frame](t)(i.Frame([]sector.Ion{{MZ: 100, Intensity: 1}, {MZ: 90, Intensity: 1}}, sector.FrameSettings{}))
	text, err := json.Marshal(f)
	if err != nil {
		t.Fatal(err)
	}
	var back struct {
		Beams []struct {
			Rays []struct {
				Points [][2]float64
				End    string
			}
		}
		Layout struct{ Collector struct{ X, Y float64 } }
	}
	if err := json.Unmarshal(text, &back); err != nil {
		t.Fatal(err)
	}
	ray := back.Beams[0].Rays[0]
	last := ray.Points[len(ray.Points)-1]
	if math.Hypot(last[0]-back.Layout.Collector.X, last[1]-back.Layout.Collector.Y) > 2e-6 {
		t.Errorf("the central ray ends at %v, the collector is at %v", last, back.Layout.Collector)
	}
	if ray.End != "through the collector slit" || back.Beams[1].Rays[0].End == ray.End {
		t.Errorf("ends %q and %q", ray.End, back.Beams[1].Rays[0].End)
	}
}

// A ray that hits the chamber ends on its wall, not beyond.
func TestWallsAreMet(t *testing.T) {
	i := sector.Presets()[1]
	l := must[sector.Layout](t)(i.Layout())
	b := must[sector.Tesla](t)(i.Field(100))
	for _, mz := range []float64{55, 60, 180, 200} {
		ray := must[sector.Ray](t)(i.Ray(mz, b, 0, 0))
		if ray.End != sector.ChamberWall || ray.Inner != (mz < 100) {
			t.Errorf("m/z %v ends %v, inward %v", mz, ray.End, ray.Inner)
			continue
		}
		want := float64(i.Radius + i.Chamber/2)
		if ray.Inner {
			want = float64(i.Radius - i.Chamber/2)
		}
		for _, p := range ray.Points {
			off := distance(p, l.Magnet.Center)
			if p.X > l.Magnet.Start.X && math.Abs(off-float64(i.Radius)) > float64(i.Chamber)/2+1e-9 {
				t.Errorf("m/z %v is %v from the center of the bend, beyond the wall", mz, off)
				break
			}
		}
		if off := distance(ray.Points[len(ray.Points)-1], l.Magnet.Center); math.Abs(off-want) > 1e-9 {
			t.Errorf("m/z %v ends %v from the center of the bend, want %v", mz, off, want)
		}
	}
}

func TestFrameRefuses(t *testing.T) {
	i := sector.Presets()[0]
	ions := []sector.Ion{{MZ: 100, Intensity: 1}}
	for _, test := range []struct {
		ions []sector.Ion
		set  sector.FrameSettings
		want string
	}{
		{nil, sector.FrameSettings{}, "number of ions of 0"},
		{ions, sector.FrameSettings{Rays: -1}, "number of rays of -1"},
		{ions, sector.FrameSettings{Rays: 1000}, "number of rays of 1000"},
		{ions, sector.FrameSettings{Field: -0.2}, "magnetic field of -0.2 T"},
		{ions, sector.FrameSettings{Field: 2}, "the magnet reaches 0.8 T"},
		{ions, sector.FrameSettings{Voltage: -5}, "accelerating voltage of -5 V"},
		{ions, sector.FrameSettings{CollectorSlit: -1}, "collector slit of -1 m"},
		{[]sector.Ion{{MZ: math.NaN(), Intensity: 1}}, sector.FrameSettings{}, "m/z of NaN"},
		{[]sector.Ion{{MZ: 1e9, Intensity: 1}}, sector.FrameSettings{}, "more than the magnet reaches"},
	} {
		if _, err := i.Frame(test.ions, test.set); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%+v: error %v, want one with %q", test.set, err, test.want)
		}
	}
}

// FuzzFrame: whatever the settings, a frame is an error or finite.
func FuzzFrame(f *testing.F) {
	f.Add(uint8(0), 43.0, 0.2, 1000.0, 1e-4, 1e-4)
	f.Add(uint8(2), 500.0, 1.0, 4000.0, 1e-5, 1e-3)
	f.Fuzz(func(t *testing.T, preset uint8, mz, b, volts, s1, s2 float64) {
		i := sector.Presets()[int(preset)%3]
		frame, err := i.Frame([]sector.Ion{{MZ: mz, Intensity: 1}}, sector.FrameSettings{
			Field: sector.Tesla(b), Voltage: sector.Volt(volts), SourceSlit: sector.Metre(s1), CollectorSlit: sector.Metre(s2), Rays: 3})
		if err != nil {
			return
		}
		if !(frame.Signal >= 0 && frame.Signal <= 1) {
			t.Errorf("a signal of %v", frame.Signal)
		}
		for _, ray := range frame.Beams[0].Rays {
			for _, p := range ray.Points {
				if math.IsNaN(p.X+p.Y) || math.IsInf(p.X+p.Y, 0) {
					t.Fatalf("a point at %v", p)
				}
			}
		}
	})
}
