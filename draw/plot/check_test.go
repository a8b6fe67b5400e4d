package plot_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"ionwright/draw"
	"ionwright/draw/plot"
	"ionwright/internal/witness"
	"ionwright/spectrum"
)

// parts is what a test sees of a figure: everything from the scene alone.
type parts struct {
	labels  []draw.Box // one a label, around all its lines
	texts   []string   // the labels' first lines
	leaders []draw.Box
	sticks  []draw.Box
	other   []draw.Box // texts that aren't labels of peaks
}

func partsOf(s draw.Scene) parts {
	var p parts
	s.Walk(func(item draw.Item, within []*draw.Group) {
		class := ""
		if len(within) > 0 {
			class = within[len(within)-1].Class
		}
		switch it := item.(type) {
		case *draw.Group:
			if it.Class != "label" {
				return
			}
			box, first := draw.NoBox(), ""
			for _, child := range it.Items {
				if text, ok := child.(draw.Text); ok {
					box = box.Union(text.Bounds())
					if first == "" {
						first = text.String()
					}
				}
			}
			p.labels = append(p.labels, box)
			p.texts = append(p.texts, first)
		case draw.Path:
			if class == "peak" {
				p.sticks = append(p.sticks, draw.Bounds(it))
			}
		case draw.Text:
			if class != "label" {
				p.other = append(p.other, it.Bounds())
			}
		}
	})
	return p
}

// check holds a figure to what every one must fulfil, and returns how many
// rules it breaks.
func check(t *testing.T, name string, f draw.Figure, s spectrum.Spectrum, wanted []string) {
	t.Helper()
	canvas := draw.Box{Right: f.Scene.Width, Bottom: f.Scene.Height}
	p := partsOf(f.Scene)
	for i, a := range p.labels {
		if !canvas.Contains(a) {
			t.Errorf("%s: the label %s at %v is off the canvas", name, p.texts[i], a)
		}
		for j, b := range p.labels[:i] {
			if a.Overlaps(b) {
				t.Errorf("%s: the labels %s and %s overlap", name, p.texts[i], p.texts[j])
			}
		}
		for _, b := range p.sticks {
			if a.Overlaps(b) {
				t.Errorf("%s: the label %s at %v lies on a stick at %v", name, p.texts[i], a, b)
			}
		}
		for _, b := range p.other {
			if a.Overlaps(b) {
				t.Errorf("%s: the label %s lies on the text at %v", name, p.texts[i], b)
			}
		}
	}
	for i, a := range p.other {
		if !canvas.Contains(a) {
			t.Errorf("%s: a text at %v is off the canvas", name, a)
		}
		for _, b := range p.other[:i] {
			if a.Overlaps(b) {
				t.Errorf("%s: texts at %v and %v overlap", name, a, b)
			}
		}
	}
	for _, peak := range s.Strongest(10) {
		wanted = append(wanted, plot.MZ(peak.MZ, 0))
	}
	for _, text := range wanted {
		if !slices.Contains(p.texts, text) {
			t.Errorf("%s: m/z %s has no label", name, text)
		}
	}
}

func measured(t *testing.T, r witness.Record) spectrum.Spectrum {
	t.Helper()
	var peaks []spectrum.Peak
	for _, p := range r.Peaks {
		peaks = append(peaks, spectrum.Peak{MZ: p[0], Intensity: p[1]})
	}
	s, err := spectrum.New(peaks)
	if err != nil {
		t.Fatal(err)
	}
	s.Info.Name, s.Info.Origin = r.Name, spectrum.Measured
	return s
}

func TestLabelsOfMeasuredSpectra(t *testing.T) {
	records := witness.Records(t, "train")
	random := rand.New(rand.NewPCG(2, 9))
	for range 300 {
		r := records[random.IntN(len(records))]
		s := measured(t, r)
		o := plot.Options{MolecularIon: float64(r.NominalMass)}
		var wanted []string
		if random.IntN(2) == 0 { // a small figure, and labels that nobody would choose
			o.Width, o.Height = 420, 260
			for range 6 {
				mz := s.Peaks[random.IntN(len(s.Peaks))].MZ
				o.Label = append(o.Label, mz)
				wanted = append(wanted, plot.MZ(mz, 0))
			}
		}
		f, err := plot.Spectrum(s, o)
		if err != nil {
			t.Errorf("%s: %v", r.ID, err)
			continue
		}
		check(t, r.ID, f, s, wanted)
	}
}

// Spectra made up to be hard: long runs of neighbours, all about as high.
func TestLabelsOfCrowdedSpectra(t *testing.T) {
	random := rand.New(rand.NewPCG(7, 7))
	for n := range 60 {
		var peaks []spectrum.Peak
		for mz := 20 + random.IntN(40); len(peaks) < 1+random.IntN(200); mz += 1 + random.IntN(1+n%4) {
			peaks = append(peaks, spectrum.Peak{MZ: float64(mz), Intensity: math.Exp(random.Float64() * float64(n%7))})
		}
		s, err := spectrum.New(peaks)
		if err != nil {
			t.Fatal(err)
		}
		o := plot.Options{Width: 300 + float64(n)*8, Height: 200 + float64(n)*4}
		var wanted []string
		for i := range min(len(peaks), n) {
			o.Label = append(o.Label, peaks[i].MZ)
			wanted = append(wanted, plot.MZ(peaks[i].MZ, 0))
		}
		f, err := plot.Spectrum(s, o)
		if err != nil {
			t.Fatal(err)
		}
		check(t, "made up", f, s, wanted)
	}
}
