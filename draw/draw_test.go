package draw_test

import (
	"math"
	"testing"

	"ionwright/chem"
	"ionwright/draw"
)

// The bounds are WCAG 2.2's: 4.5:1 for text (1.4.3), 3:1 for graphics
// (1.4.11). Every colour that may carry text or a peak is held to the first.
func TestPalettesHaveContrast(t *testing.T) {
	for _, palette := range draw.Palettes() {
		for _, ground := range []draw.Role{draw.Paper, draw.Panel} {
			for _, role := range draw.Roles() {
				if role == draw.Paper || role == draw.Panel || role == draw.Faint {
					continue
				}
				if ratio := draw.Contrast(palette.Color(role), palette.Color(ground)); ratio < 4.5 {
					t.Errorf("%s: %v on %v has a contrast of %.2f, less than 4.5", palette.Name, role, ground, ratio)
				}
			}
		}
	}
}

func TestContrast(t *testing.T) {
	black, white := draw.Color{}, draw.Color{R: 255, G: 255, B: 255}
	if c := draw.Contrast(black, white); math.Abs(c-21) > 1e-9 { // WCAG 2.2, definition of contrast ratio
		t.Errorf("black on white: %v, want 21", c)
	}
	if c := draw.Contrast(white, white); c != 1 { // the same
		t.Errorf("white on white: %v, want 1", c)
	}
	grey := draw.Color{R: 0x76, G: 0x76, B: 0x76}
	if c := draw.Contrast(grey, white); math.Abs(c-4.54) > 0.005 { // common practice: #767676 is the lightest grey that passes on white
		t.Errorf("#767676 on white: %v, want 4.54", c)
	}
}

func TestArcStaysOnItsCircle(t *testing.T) {
	c := draw.Point{X: 10, Y: 20}
	for _, span := range []float64{0.3, 1, math.Pi / 2, 3, 2 * math.Pi, -1, -5} {
		var p draw.Path
		p.MoveTo(c.X+100*math.Cos(0.7), c.Y+100*math.Sin(0.7))
		p.ArcTo(c, 100, 0.7, 0.7+span)
		for _, part := range p.Flatten(1e-4) {
			for _, q := range part {
				if off := math.Abs(math.Hypot(q.X-c.X, q.Y-c.Y) - 100); off > 5e-4 {
					t.Fatalf("span %v: (%v, %v) is %v off the circle", span, q.X, q.Y, off)
				}
			}
			end := part[len(part)-1]
			if want := (draw.Point{X: c.X + 100*math.Cos(0.7+span), Y: c.Y + 100*math.Sin(0.7+span)}); math.Hypot(end.X-want.X, end.Y-want.Y) > 1e-9 {
				t.Errorf("span %v: ends at %v, want %v", span, end, want)
			}
		}
	}
}

func TestCrossedBy(t *testing.T) {
	box := draw.Box{Left: 0, Top: 0, Right: 10, Bottom: 10}
	tests := []struct {
		p, q draw.Point
		want bool
	}{
		{draw.Point{X: -5, Y: 5}, draw.Point{X: 15, Y: 5}, true},   // through
		{draw.Point{X: 5, Y: 5}, draw.Point{X: 6, Y: 6}, true},     // inside
		{draw.Point{X: -5, Y: 0}, draw.Point{X: 15, Y: 0}, false},  // along the edge
		{draw.Point{X: -5, Y: 5}, draw.Point{X: -1, Y: 5}, false},  // stops before
		{draw.Point{X: -5, Y: 16}, draw.Point{X: 16, Y: -5}, true}, // cuts the corner
		{draw.Point{X: -5, Y: 26}, draw.Point{X: 26, Y: -5}, false},
	}
	for _, test := range tests {
		if got := box.CrossedBy(test.p, test.q); got != test.want {
			t.Errorf("from %v to %v: %v, want %v", test.p, test.q, got, test.want)
		}
		if got := box.CrossedBy(test.q, test.p); got != test.want {
			t.Errorf("from %v to %v: %v, want %v", test.q, test.p, got, test.want)
		}
	}
}

func TestTextBounds(t *testing.T) {
	text := draw.Text{At: draw.Point{X: 100, Y: 50}, Size: 10, Runs: draw.Plain("72")}
	b := text.Bounds()
	// Digits of the Go font are 0.556 em wide and 0.741 em high (its tables).
	if math.Abs(b.Width()-11.12) > 0.02 || math.Abs(b.Top-42.59) > 0.05 || b.Bottom < 50 || b.Bottom > 50.2 {
		t.Errorf("bounds of 72 at size 10: %v", b)
	}
	text.Anchor = draw.End
	if got := text.Bounds(); math.Abs(got.Right-100) > 1e-9 {
		t.Errorf("anchored at its end, the text ends at %v, want 100", got.Right)
	}
	text.Anchor, text.Angle = draw.Middle, -90
	if got := text.Bounds(); math.Abs(got.Height()-11.12) > 0.02 || math.Abs(got.Center().Y-50) > 0.01 || got.Right < 100 {
		t.Errorf("turned upright: %v", got)
	}
}

func TestIonRuns(t *testing.T) {
	ion := draw.Ion(chem.MustFormula("C4H8O+"))
	want := []draw.Run{ // IUPAC recommendations 2013: the radical dot follows the charge
		{Text: "C"}, {Text: "4", Script: draw.Sub}, {Text: "H"}, {Text: "8", Script: draw.Sub}, {Text: "O"},
		{Text: "+", Script: draw.Super}, {Text: "•", Script: draw.Super},
	}
	if len(ion) != len(want) {
		t.Fatalf("C4H8O+ is set as %v", ion)
	}
	for i := range want {
		if ion[i] != want[i] {
			t.Errorf("run %d of C4H8O+ is %v, want %v", i+1, ion[i], want[i])
		}
	}
	if even := draw.RunsString(draw.Ion(chem.MustFormula("C2H3O+"))); even != "C2H3O+" { // an even-electron ion has no dot
		t.Errorf("C2H3O+ is set as %q", even)
	}
}

func TestPlacedScalesEverything(t *testing.T) {
	items := []draw.Item{&draw.Group{ID: "g", Items: []draw.Item{
		draw.Polyline(draw.Stroke{Role: draw.Ink, Width: 2, Dash: []float64{3, 1}}, draw.Point{X: 0, Y: 0}, draw.Point{X: 10, Y: 0}),
		draw.Text{At: draw.Point{X: 5, Y: 5}, Size: 12, Runs: draw.Plain("x")},
	}}}
	before := draw.Bounds(items[0])
	placed := draw.Placed(items, 2, 100, 50)
	after := draw.Bounds(placed[0])
	if math.Abs(after.Left-(2*before.Left+100)) > 1e-9 || math.Abs(after.Bottom-(2*before.Bottom+50)) > 1e-9 {
		t.Errorf("bounds %v became %v", before, after)
	}
	if draw.Bounds(items[0]) != before {
		t.Error("Placed changed its argument")
	}
}
