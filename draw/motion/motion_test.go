package motion_test

import (
	"encoding/xml"
	"errors"
	"io"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"ionwright/draw/apparatus"
	"ionwright/draw/motion"
	"ionwright/sector"
)

func recorded(t *testing.T, i sector.Instrument, set sector.SweepSettings) *sector.Recording {
	t.Helper()
	r, err := sector.Sweep(i, []sector.Ion{{MZ: 29, Intensity: 40}, {MZ: 43, Intensity: 100}, {MZ: 57, Intensity: 8}, {MZ: 72, Intensity: 28}, {MZ: 73, Intensity: 1}}, set)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// animation is an animate element.
type animation struct {
	parent, attribute string
	times             []float64
	values            []string
}

// animations reads the document, which must be well formed.
func animations(t *testing.T, text []byte) []animation {
	t.Helper()
	var out []animation
	d := xml.NewDecoder(strings.NewReader(string(text)))
	var within []string
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return out
		}
		if err != nil {
			t.Fatal(err)
		}
		switch e := token.(type) {
		case xml.StartElement:
			if e.Name.Local == "animate" {
				a := animation{parent: within[len(within)-1]}
				for _, attr := range e.Attr {
					switch attr.Name.Local {
					case "attributeName":
						a.attribute = attr.Value
					case "keyTimes":
						for _, s := range strings.Split(attr.Value, ";") {
							v, err := strconv.ParseFloat(s, 64)
							if err != nil {
								t.Fatal(err)
							}
							a.times = append(a.times, v)
						}
					case "values":
						a.values = strings.Split(attr.Value, ";")
					}
				}
				out = append(out, a)
			}
			within = append(within, e.Name.Local)
		case xml.EndElement:
			within = within[:len(within)-1]
		}
	}
}

func TestSVG(t *testing.T) {
	for _, i := range sector.Presets() {
		r := recorded(t, i, sector.SweepSettings{})
		f, err := motion.New(r, motion.Options{Name: "2-butanone"})
		if err != nil {
			t.Fatalf("%s: %v", i.Name, err)
		}
		text, err := f.SVG()
		if err != nil {
			t.Fatal(err)
		}
		stage, err := apparatus.NewStage(i, 720, 540)
		if err != nil {
			t.Fatal(err)
		}
		l, err := i.Layout()
		if err != nil {
			t.Fatal(err)
		}
		collector := stage.At(l.Collector)
		paths := 0
		for _, a := range animations(t, text) {
			if len(a.times) != len(a.values) || a.times[0] != 0 || !slices.IsSorted(a.times) || a.times[len(a.times)-1] > 1 {
				t.Errorf("%s: %s of %s has %d times from %v and %d values", i.Name, a.attribute, a.parent, len(a.times), a.times[0], len(a.values))
			}
			if a.attribute != "points" {
				continue
			}
			paths++
			// Each ion's path ends at the collector in one picture at least, and
			// every picture has as many points, so that they go over into each other.
			nearest := math.Inf(1)
			for _, way := range a.values {
				points := strings.Fields(way)
				if len(points) != len(strings.Fields(a.values[0])) {
					t.Fatalf("%s: pictures of %d and %d points", i.Name, len(points), len(strings.Fields(a.values[0])))
				}
				x, y, _ := strings.Cut(points[len(points)-1], ",")
				px, _ := strconv.ParseFloat(x, 64)
				py, _ := strconv.ParseFloat(y, 64)
				nearest = min(nearest, math.Hypot(px-collector.X, py-collector.Y))
			}
			if nearest > 0.5 {
				t.Errorf("%s: a path stays %v pixels away from the collector", i.Name, nearest)
			}
		}
		if paths != 4 { // 73 is too near to 72
			t.Errorf("%s: %d paths", i.Name, paths)
		}
		for _, want := range []string{"prefers-reduced-motion", "reaches the detector at", "pauseAnimations"} {
			if !strings.Contains(string(text), want) {
				t.Errorf("%s: the document lacks %q", i.Name, want)
			}
		}
	}
}

var address = regexp.MustCompile(`(?i)(src|href)\s*=\s*"[^#"]|url\(["']?https?:|@import|fetch\(`)

func TestHTML(t *testing.T) {
	f, err := motion.New(recorded(t, sector.Presets()[0], sector.SweepSettings{Exponential: true}), motion.Options{Name: "a <b> & c", MZ: []float64{43, 72}})
	if err != nil {
		t.Fatal(err)
	}
	text, err := f.HTML()
	if err != nil {
		t.Fatal(err)
	}
	page := string(text)
	if found := address.FindString(page); found != "" {
		t.Errorf("the page asks for something else: %q", found)
	}
	for _, want := range []string{`<button type="button" id="play">`, "a &lt;b&gt; &amp; c", "m/z 43 at 0.299 T", sector.Caution[:40], "prefers-reduced-motion", "const duration = "} {
		if !strings.Contains(page, want) {
			t.Errorf("the page lacks %q", want)
		}
	}
	again, err := f.HTML()
	if err != nil || string(again) != page {
		t.Error("written twice, the page differs")
	}
}

func TestRefuses(t *testing.T) {
	r := recorded(t, sector.Presets()[0], sector.SweepSettings{})
	for want, o := range map[string]motion.Options{
		"the paths of 7 ions":         {MZ: []float64{1, 2, 3, 4, 5, 6, 7}},
		"it is to take -1 seconds":    {Seconds: -1},
		"it is to take NaN seconds":   {Seconds: math.NaN()},
		"m/z 200 needs":               {MZ: []float64{200}},
		"m/z of -4":                   {MZ: []float64{-4}},
		"more than the magnet reach":  {MZ: []float64{1e6}},
		"it is to take 10000 seconds": {Seconds: 10000},
	} {
		if _, err := motion.New(r, o); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%+v: error %v, want one with %q", o, err, want)
		}
	}
}
