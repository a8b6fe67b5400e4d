package plot_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"ionwright/chem"
	"ionwright/draw"
	"ionwright/draw/plot"
	"ionwright/internal/fixture"
	"ionwright/internal/witness"
	"ionwright/spectrum"
)

// parts is what a test sees of a figure: everything from the scene alone.
type parts struct {
	labels []draw.Box // one a label, around all its lines
	texts  []string   // the labels' first lines
	sticks []draw.Box
	other  []draw.Box // texts that aren't labels of peaks
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

// check holds a figure to what every one must fulfil.
func check(t *testing.T, name string, f draw.Figure, s spectrum.Spectrum, wanted []string) {
	t.Helper()
	for _, fault := range faults(f, s, wanted) {
		t.Errorf("%s: %s", name, fault)
	}
}

// faults lists the rules that a figure breaks: no text on another, on a stick
// or off the canvas, and the ten strongest peaks and the wanted ones labelled.
func faults(f draw.Figure, s spectrum.Spectrum, wanted []string) []string {
	var found []string
	fault := func(format string, args ...any) { found = append(found, fmt.Sprintf(format, args...)) }
	canvas := draw.Box{Right: f.Scene.Width, Bottom: f.Scene.Height}
	p := partsOf(f.Scene)
	for i, a := range p.labels {
		if !canvas.Contains(a) {
			fault("the label %s at %v is off the canvas", p.texts[i], a)
		}
		for j, b := range p.labels[:i] {
			if a.Overlaps(b) {
				fault("the labels %s and %s overlap", p.texts[i], p.texts[j])
			}
		}
		for _, b := range p.sticks {
			if a.Overlaps(b) {
				fault("the label %s at %v lies on a stick at %v", p.texts[i], a, b)
			}
		}
		for _, b := range p.other {
			if a.Overlaps(b) {
				fault("the label %s lies on the text at %v", p.texts[i], b)
			}
		}
	}
	for i, a := range p.other {
		if !canvas.Contains(a) {
			fault("a text at %v is off the canvas", a)
		}
		for _, b := range p.other[:i] {
			if a.Overlaps(b) {
				fault("texts at %v and %v overlap", a, b)
			}
		}
	}
	for _, peak := range s.Strongest(10) {
		wanted = append(wanted, plot.MZ(peak.MZ, 0))
	}
	for _, text := range wanted {
		if !slices.Contains(p.texts, text) {
			fault("m/z %s has no label", text)
		}
	}
	return found
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

// The same with spectra that the repository carries, for a machine with only
// Go, and with everything that a figure can show.
func TestLabelsOfFixtures(t *testing.T) {
	for _, r := range fixture.Measured(t) {
		s := r.Spectrum(t)
		m := float64(r.NominalMass)
		o := plot.Options{MolecularIon: m, Highlight: []float64{s.Strongest(1)[0].MZ}}
		if i := s.Strongest(2)[1].MZ; i < m {
			o.Losses = append(o.Losses, plot.Loss{From: m, To: i, Text: draw.Plain("made up")})
			o.Assignments = append(o.Assignments, plot.Assignment{MZ: i, Text: draw.Ion(chem.MustFormula("C14H23NO2+"))})
		}
		if s.At(r.NominalMass) > 0 {
			o.Zoom = &plot.Zoom{From: m - 1, To: m + 3}
		}
		f, err := plot.Spectrum(s, o)
		if err != nil {
			t.Errorf("%s: %v", r.Name, err)
			continue
		}
		check(t, r.Name, f, s, nil)
		f, err = plot.Compare(s, s, plot.CompareOptions{Options: plot.Options{MolecularIon: m}})
		if err != nil {
			t.Errorf("%s: %v", r.Name, err)
			continue
		}
		check(t, r.Name+" head to tail", f, s, nil)
	}
}

// The checker itself must see what it is there to see.
func TestCheckSees(t *testing.T) {
	s := spectrum.MustParse("43:100 57:40 72:20")
	f, err := plot.Spectrum(s, plot.Options{})
	if err != nil {
		t.Fatal(err)
	}
	var labels *draw.Group
	f.Scene.Walk(func(item draw.Item, _ []*draw.Group) {
		if g, ok := item.(*draw.Group); ok && g.Class == "labels" {
			labels = g
		}
	})
	moved := func(dx, dy float64) int {
		one := *labels.Items[0].(*draw.Group)
		one.Items = draw.Placed(one.Items, 1, dx, dy)
		scene := f.Scene
		scene.Items = append(scene.Items[:len(scene.Items)-1:len(scene.Items)-1], &draw.Group{Class: "labels", Items: []draw.Item{&one, labels.Items[1], labels.Items[2]}})
		return len(faults(draw.Figure{Scene: scene}, s, nil))
	}
	if n := moved(0, 0); n != 0 {
		t.Errorf("the figure as it is has %d faults", n)
	}
	if moved(0, 20) == 0 {
		t.Error("a label on its stick isn't seen")
	}
	if moved(0, -200) == 0 {
		t.Error("a label off the canvas isn't seen")
	}
	second := partsOf(f.Scene)
	if moved(second.labels[1].Left-second.labels[0].Left, second.labels[1].Top-second.labels[0].Top) == 0 {
		t.Error("a label on another isn't seen")
	}
	if n := len(faults(f, s, []string{"58"})); n != 1 {
		t.Errorf("a missing label gives %d faults", n)
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
