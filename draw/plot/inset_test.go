package plot_test

import (
	"fmt"
	"strings"
	"testing"

	"ionwright/draw"
	"ionwright/draw/plot"
	"ionwright/internal/fixture"
	"ionwright/spectrum"
)

// drawing is a square with a name, as large as a small structure.
func drawing(w, h float64) draw.Figure {
	box := draw.Box{Left: 1, Top: 1, Right: w - 1, Bottom: h - 1}
	return draw.Figure{
		Scene:       draw.Scene{Width: w, Height: h, Items: []draw.Item{&draw.Group{ID: "square", Items: []draw.Item{draw.Rectangle(box, draw.NoRole, draw.Stroke{Role: draw.Ink, Width: 1})}}}},
		Description: "A square.",
	}
}

// insetFaults lists what drawings beside peaks mustn't do: lie on each other,
// on a stick or a text, or off the canvas.
func insetFaults(f draw.Figure) []string {
	var found []string
	var insets []draw.Box
	f.Scene.Walk(func(item draw.Item, within []*draw.Group) {
		if g, ok := item.(*draw.Group); ok && g.Class == "drawing" {
			box := draw.NoBox()
			for _, child := range g.Items {
				if _, line := child.(draw.Path); !line {
					box = box.Union(draw.Bounds(child))
				}
			}
			insets = append(insets, box)
		}
	})
	canvas := draw.Box{Right: f.Scene.Width, Bottom: f.Scene.Height}
	p := partsOf(f.Scene)
	for i, a := range insets {
		if !canvas.Contains(a) {
			found = append(found, fmt.Sprintf("a drawing at %v is off the canvas", a))
		}
		for _, b := range insets[:i] {
			if a.Overlaps(b) {
				found = append(found, fmt.Sprintf("drawings at %v and %v overlap", a, b))
			}
		}
		for _, list := range [][]draw.Box{p.labels, p.sticks, p.other} {
			for _, b := range list {
				if a.Overlaps(b) {
					found = append(found, fmt.Sprintf("a drawing at %v lies on %v", a, b))
				}
			}
		}
	}
	return found
}

func TestInsetsOfFixtures(t *testing.T) {
	for _, r := range fixture.Measured(t) {
		s := r.Spectrum(t)
		o := plot.Options{MolecularIon: float64(r.NominalMass)}
		for i, peak := range s.Strongest(4) {
			o.Insets = append(o.Insets, plot.Inset{MZ: peak.MZ, Figure: drawing(60+20*float64(i), 70)})
		}
		f, err := plot.Spectrum(s, o)
		if err != nil {
			t.Errorf("%s: %v", r.Name, err)
			continue
		}
		check(t, r.Name, f, s, nil)
		for _, fault := range insetFaults(f) {
			t.Errorf("%s: %s", r.Name, fault)
		}
		if n := strings.Count(f.Detail, "A square."); n != len(o.Insets) {
			t.Errorf("%s: the words tell of %d drawings of %d", r.Name, n, len(o.Insets))
		}
	}
}

// The checker sees a drawing on a label.
func TestInsetCheckSees(t *testing.T) {
	s := spectrum.MustParse("43:100 57:40 72:20")
	f, err := plot.Spectrum(s, plot.Options{Insets: []plot.Inset{{MZ: 43, Figure: drawing(60, 60)}}})
	if err != nil {
		t.Fatal(err)
	}
	if faults := insetFaults(f); len(faults) > 0 {
		t.Errorf("the figure as it is: %v", faults)
	}
	last := len(f.Scene.Items) - 1
	f.Scene.Items[last] = draw.Placed(f.Scene.Items[last:], 1, -60, 0)[0]
	moved := insetFaults(f)
	f.Scene.Items[last] = draw.Placed(f.Scene.Items[last:], 1, -2000, 0)[0]
	if len(moved)+len(insetFaults(f)) == 0 {
		t.Error("a drawing that was moved isn't seen")
	}
}

func TestInsetsAreRefused(t *testing.T) {
	s := spectrum.MustParse("43:100 57:40 72:20")
	for want, in := range map[string]plot.Inset{
		"there is no peak": {MZ: 44, Figure: drawing(50, 50)},
		"4999 by 49":       {MZ: 43, Figure: drawing(5000, 50)},
		"-Inf by -Inf":     {MZ: 43},
	} {
		if _, err := plot.Spectrum(s, plot.Options{Insets: []plot.Inset{in}}); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("the error is %v, want %q in it", err, want)
		}
	}
	f, err := plot.Spectrum(s, plot.Options{Mode: plot.Test, Insets: []plot.Inset{{MZ: 43, Figure: drawing(50, 50)}}})
	if err != nil {
		t.Fatal(err)
	}
	if strings.Contains(f.Description+f.Detail, "square") || len(insetFaults(f)) > 0 {
		t.Error("a test's figure gives the drawing away")
	}
}

// A profile has a point of the measured height at each peak that stands
// alone, and labels that touch neither each other nor the curve.
func TestProfilesOfFixtures(t *testing.T) {
	for _, r := range fixture.Measured(t) {
		s := r.Spectrum(t)
		f, err := plot.Spectrum(s, plot.Options{MolecularIon: float64(r.NominalMass), PeakWidth: 0.5})
		if err != nil {
			t.Errorf("%s: %v", r.Name, err)
			continue
		}
		check(t, r.Name+" as a profile", f, s, nil)
		var curve []draw.Point
		f.Scene.Walk(func(item draw.Item, within []*draw.Group) {
			if p, ok := item.(draw.Path); ok && within[len(within)-1].Class == "profile" {
				curve = p.Flatten(0.1)[0]
			}
		})
		labels := partsOf(f.Scene).labels
		for k, p := range curve {
			if k == 0 {
				continue
			}
			for _, b := range labels {
				if b.CrossedBy(curve[k-1], p) {
					t.Errorf("%s: the label at %v lies on the curve at %v", r.Name, b, p)
				}
			}
		}
		if !strings.HasPrefix(f.Description, "Profile spectrum, ") {
			t.Errorf("%s: described as %q", r.Name, f.Description)
		}
	}
}
