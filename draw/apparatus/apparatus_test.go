package apparatus_test

import (
	"math"
	"strings"
	"testing"

	"ionwright/draw"
	"ionwright/draw/apparatus"
	"ionwright/draw/svg"
	"ionwright/sector"
)

// half is a 180-degree instrument of 20 cm radius and 2000 V without walls.
func half() sector.Instrument {
	return sector.Instrument{Name: "half circle", Radius: 0.2, Voltage: 2000, CollectorSlit: 0.001}
}

// rays are the drawn paths of an ion's group, and the scale bar's pixels per m.
func rays(t *testing.T, f draw.Figure) map[string][]draw.Point {
	t.Helper()
	out := map[string][]draw.Point{}
	f.Scene.Walk(func(item draw.Item, _ []*draw.Group) {
		g, ok := item.(*draw.Group)
		if !ok || g.Class != "ray" {
			return
		}
		name := strings.Join(strings.Fields(g.Title)[:2], " ")
		out[name] = g.Items[0].(draw.Path).Flatten(0.1)[0]
	})
	return out
}

// pixelsPerMetre reads the scale bar.
func pixelsPerMetre(t *testing.T, f draw.Figure) float64 {
	t.Helper()
	var length, metres float64
	f.Scene.Walk(func(item draw.Item, within []*draw.Group) {
		if len(within) == 0 || within[len(within)-1].Class != "scale" {
			return
		}
		switch it := item.(type) {
		case draw.Path:
			b := draw.Bounds(it)
			length = b.Width() - it.Stroke.Width
		case draw.Text:
			number, _, _ := strings.Cut(it.String(), " ")
			for _, digit := range number {
				if digit == '.' {
					t.Fatalf("the scale bar says %q", it.String())
				}
				metres = metres*10 + float64(digit-'0')
			}
			metres /= 100
		}
	})
	if length == 0 || metres == 0 {
		t.Fatal("there is no scale bar")
	}
	return length / metres
}

// After half a circle an ion is twice its radius from where it started: the
// drawing must show that to scale, the radius being sector's closed form
// r = sqrt(2 V m/z u / e) / B.
func TestRaysAreToScale(t *testing.T) {
	i := half()
	field, err := i.Field(57)
	if err != nil {
		t.Fatal(err)
	}
	f, err := apparatus.Rays(i, apparatus.RayOptions{MZ: []float64{43, 57, 72}, Field: field})
	if err != nil {
		t.Fatal(err)
	}
	scale := pixelsPerMetre(t, f)
	paths := rays(t, f)
	for name, mz := range map[string]float64{"m/z 43": 43, "m/z 57": 57, "m/z 72": 72} {
		path := paths[name]
		if len(path) < 10 {
			t.Fatalf("%s has no path: %v", name, path)
		}
		first, last := path[0], path[len(path)-1]
		r, err := sector.Radius(mz, field, i.Voltage)
		if err != nil {
			t.Fatal(err)
		}
		if got, want := math.Hypot(last.X-first.X, last.Y-first.Y)/scale, 2*float64(r); math.Abs(got-want) > 0.002*want {
			t.Errorf("%s lands %.4f m from the source, want %.4f m", name, got, want)
		}
		// All of it lies on the circle.
		c := draw.Point{X: (first.X + last.X) / 2, Y: (first.Y + last.Y) / 2}
		for _, p := range path {
			if off := math.Abs(math.Hypot(p.X-c.X, p.Y-c.Y)/scale - float64(r)); off > 0.003*float64(r) {
				t.Errorf("%s leaves its circle by %.5f m", name, off)
				break
			}
		}
	}
}

// Facts of the trade (common practice, no source): at one field lighter ions
// bend more, heavier ones less.
func TestWhatBecomesOfTheIons(t *testing.T) {
	f, err := apparatus.Rays(half(), apparatus.RayOptions{MZ: []float64{57, 43, 72}})
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"m/z 43 misses the collector slit on the inner side", "m/z 57 reaches the collector", "m/z 72 misses the collector slit on the outer side", "0.243 T"} {
		if !strings.Contains(f.Description, want) {
			t.Errorf("the description lacks %q: %s", want, f.Description)
		}
	}
	walled := half()
	walled.Chamber = 0.03
	f, err = apparatus.Rays(walled, apparatus.RayOptions{MZ: []float64{57, 29, 100}})
	if err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"m/z 29 hits the inner wall", "m/z 100 hits the outer wall"} {
		if !strings.Contains(f.Description, want) {
			t.Errorf("the description lacks %q: %s", want, f.Description)
		}
	}
	if len(f.Table.Rows) != 3 || f.Table.Rows[1][0] != "57" || f.Table.Rows[1][1] != "0.200" {
		t.Errorf("the table: %q", f.Table.Rows)
	}
}

func TestPresetsAreDrawn(t *testing.T) {
	for _, i := range sector.Presets() {
		f, err := apparatus.Rays(i, apparatus.RayOptions{MZ: []float64{57, 29, 43, 72}})
		if err != nil {
			t.Errorf("%s: %v", i.Name, err)
			continue
		}
		if _, err := svg.Marshal(f, svg.Options{}); err != nil {
			t.Errorf("%s: %v", i.Name, err)
		}
		if !strings.Contains(f.Description, "m/z 57 reaches the collector") {
			t.Errorf("%s: %s", i.Name, f.Description)
		}
		canvas := draw.Box{Right: f.Scene.Width, Bottom: f.Scene.Height}
		var texts []draw.Box
		f.Scene.Walk(func(item draw.Item, _ []*draw.Group) {
			if text, ok := item.(draw.Text); ok {
				texts = append(texts, text.Bounds())
			}
			if _, ok := item.(*draw.Group); !ok && !canvas.Contains(draw.Bounds(item)) {
				t.Errorf("%s: something at %v is off the canvas", i.Name, draw.Bounds(item))
			}
		})
		for k, a := range texts {
			for _, b := range texts[:k] {
				if a.Overlaps(b) {
					t.Errorf("%s: texts at %v and %v overlap", i.Name, a, b)
				}
			}
		}
	}
}

func TestFieldCurve(t *testing.T) {
	f, err := apparatus.FieldCurve(half(), []float64{57, 15}, 0, 0)
	if err != nil {
		t.Fatal(err)
	}
	// B = sqrt(2 V u m/z / e) / r with V = 2000 V, r = 0.2 m.
	if want := "m/z 15 needs 0.125 T, m/z 57 needs 0.243 T"; !strings.Contains(f.Description, want) {
		t.Errorf("description %q lacks %q", f.Description, want)
	}
}

func TestRecordingIsLabelled(t *testing.T) {
	r, err := sector.Sweep(sector.Presets()[0], []sector.Ion{{MZ: 29, Intensity: 20}, {MZ: 43, Intensity: 100}, {MZ: 72, Intensity: 25}, {MZ: 73, Intensity: 0.5}}, sector.SweepSettings{})
	if err != nil {
		t.Fatal(err)
	}
	f, err := apparatus.Recording(r, "2-butanone")
	if err != nil {
		t.Fatal(err)
	}
	var labels []string
	f.Scene.Walk(func(item draw.Item, within []*draw.Group) {
		if text, ok := item.(draw.Text); ok && within[len(within)-1].Class == "label" {
			labels = append(labels, text.String())
		}
	})
	if got := strings.Join(labels, " "); got != "29 43 72" {
		t.Errorf("labels %q, want 29 43 72", got)
	}
}

func TestWhatCantBeDrawn(t *testing.T) {
	tests := []struct {
		i    sector.Instrument
		o    apparatus.RayOptions
		want string
	}{
		{half(), apparatus.RayOptions{}, "the paths of 0 ions"},
		{half(), apparatus.RayOptions{MZ: make([]float64, 9)}, "the paths of 9 ions"},
		{half(), apparatus.RayOptions{MZ: []float64{-1}}, "m/z"},
		{half(), apparatus.RayOptions{MZ: []float64{43}, Field: -1}, "field"},
		{half(), apparatus.RayOptions{MZ: []float64{43}, Width: 5}, "the width is 5 pixels"},
		{sector.Instrument{}, apparatus.RayOptions{MZ: []float64{43}}, "radius"},
	}
	for _, test := range tests {
		if _, err := apparatus.Rays(test.i, test.o); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%+v: error %v, want one with %q", test.o, err, test.want)
		}
	}
	if _, err := apparatus.FieldCurve(half(), nil, 0, 0); err == nil {
		t.Error("a curve without ions is drawn")
	}
}
