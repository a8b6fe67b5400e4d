package png_test

import (
	"bytes"
	"image"
	imagepng "image/png"
	"math"
	"strings"
	"testing"

	"ionwright/draw"
	"ionwright/draw/png"
	"ionwright/draw/typeface"
)

func scene(items ...draw.Item) draw.Scene { return draw.Scene{Width: 100, Height: 60, Items: items} }

// ink is how much of the picture is covered, in pixels of the figure.
func ink(t *testing.T, s draw.Scene, scale float64) float64 {
	t.Helper()
	picture, err := png.Image(s, png.Options{Palette: draw.Print(), Scale: scale})
	if err != nil {
		t.Fatal(err)
	}
	sum := 0.0
	for y := range picture.Rect.Dy() {
		for x := range picture.Rect.Dx() {
			sum += 1 - float64(picture.RGBAAt(x, y).G)/255
		}
	}
	return sum / scale / scale
}

// Areas by geometry.
func TestAreas(t *testing.T) {
	black := draw.Stroke{Role: draw.Ink, Width: 4}
	round := draw.Stroke{Role: draw.Ink, Width: 4, Round: true}
	dashes := draw.Stroke{Role: draw.Ink, Width: 2, Dash: []float64{6, 4}}
	box := draw.Box{Left: 20, Top: 10, Right: 60, Bottom: 40}
	p, q, r := draw.Point{X: 10, Y: 10}, draw.Point{X: 60, Y: 10}, draw.Point{X: 60, Y: 50}
	tests := []struct {
		name string
		item draw.Item
		want float64
	}{
		{"filled rectangle", draw.Rectangle(box, draw.Ink, draw.Stroke{}), 40 * 30},
		{"frame with mitred corners", draw.Rectangle(box, draw.NoRole, black), 44*34 - 36*26},
		{"line", draw.Polyline(black, p, q), 50 * 4},
		{"line with round ends", draw.Polyline(round, p, q), 50*4 + math.Pi*4},
		// The two arms share a quarter of the square that the miter completes.
		{"right angle, mitred", draw.Polyline(black, p, q, r), 50*4 + 40*4},
		// The overlap off, a quarter disk at the corner, two half disks.
		{"right angle, round", draw.Polyline(round, p, q, r), 50*4 + 40*4 - 4 + math.Pi*4*0.25 + math.Pi*4},
		{"circle", draw.Circle(draw.Point{X: 50, Y: 30}, 20, draw.Ink, draw.Stroke{}), math.Pi * 400},
		{"ring", draw.Circle(draw.Point{X: 50, Y: 30}, 20, draw.NoRole, black), math.Pi * (22*22 - 18*18)},
		{"dashes", draw.Polyline(dashes, p, q), 5 * 6 * 2},
	}
	for _, test := range tests {
		if got := ink(t, scene(test.item), 4); math.Abs(got-test.want) > 0.01*test.want+0.3 {
			t.Errorf("%s: %.1f pixels of ink, want %.1f", test.name, got, test.want)
		}
	}
}

// A text must cover the same place as its measured box, whatever its angle.
func TestTextIsWhereItIsMeasured(t *testing.T) {
	for _, angle := range []float64{0, -90, 35} {
		text := draw.Text{At: draw.Point{X: 50, Y: 35}, Anchor: draw.Middle, Size: 13, Role: draw.Ink, Angle: angle, Runs: []draw.Run{
			{Text: "H"}, {Text: "28", Script: draw.Sub}, {Text: "H", Italic: true}, {Text: "+", Script: draw.Super}, {Text: "H", Bold: true},
		}}
		picture, err := png.Image(scene(text), png.Options{Palette: draw.Print(), Scale: 4})
		if err != nil {
			t.Fatal(err)
		}
		box := draw.NoBox()
		for y := range picture.Rect.Dy() {
			for x := range picture.Rect.Dx() {
				if picture.RGBAAt(x, y).G < 128 {
					box = box.Include(draw.Point{X: (float64(x) + 0.5) / 4, Y: (float64(y) + 0.5) / 4})
				}
			}
		}
		measured := text.Bounds()
		slack := 2.2 // side bearings
		if angle != 0 && angle != -90 {
			slack = 9 // the box around a turned box
		}
		if !measured.Grow(0.6).Contains(box) || !box.Grow(slack).Contains(measured) {
			t.Errorf("at %v degrees the ink is in %v, measured %v", angle, box, measured)
		}
	}
}

func TestHaloClearsWhatIsBehind(t *testing.T) {
	line := draw.Polyline(draw.Stroke{Role: draw.Ink, Width: 20}, draw.Point{X: 0, Y: 30}, draw.Point{X: 100, Y: 30})
	text := draw.Text{At: draw.Point{X: 50, Y: 34}, Anchor: draw.Middle, Size: 12, Role: draw.Ink, Runs: draw.Plain("72")}
	without := ink(t, scene(line, text), 2)
	text.Halo = draw.Paper
	if with := ink(t, scene(line, text), 2); with > without-30 {
		t.Errorf("%.0f pixels of ink with a halo, %.0f without", with, without)
	}
}

func TestWrite(t *testing.T) {
	f := draw.Figure{Title: "A line", Scene: scene(draw.Polyline(draw.Stroke{Role: draw.Accent, Width: 2}, draw.Point{X: 0, Y: 0}, draw.Point{X: 100, Y: 60}))}
	var out, again bytes.Buffer
	if err := png.Write(&out, f, png.Options{Scale: 3}); err != nil {
		t.Fatal(err)
	}
	picture, err := imagepng.Decode(bytes.NewReader(out.Bytes()))
	if err != nil {
		t.Fatal(err)
	}
	if picture.Bounds() != image.Rect(0, 0, 300, 180) {
		t.Errorf("the picture is %v", picture.Bounds())
	}
	if err := png.Write(&again, f, png.Options{Scale: 3}); err != nil || !bytes.Equal(out.Bytes(), again.Bytes()) {
		t.Errorf("the same figure gives other bytes the second time (%v)", err)
	}
	for _, bad := range []struct {
		scene draw.Scene
		o     png.Options
		want  string
	}{
		{draw.Scene{}, png.Options{}, "it would be 0 by 0 pixels"},
		{scene(), png.Options{Scale: 1000}, "it would be 100000 by 60000 pixels"},
		{scene(draw.Polyline(draw.Stroke{Role: draw.Ink, Width: 1}, draw.Point{X: math.NaN()}, draw.Point{X: 1})), png.Options{}, "a path goes through (NaN"},
		{draw.Scene{Width: math.NaN(), Height: 1}, png.Options{}, "it would be NaN"},
	} {
		err := png.Write(&out, draw.Figure{Title: "bad", Scene: bad.scene}, bad.o)
		if err == nil || !strings.Contains(err.Error(), bad.want) {
			t.Errorf("error %v, want one with %q", err, bad.want)
		}
	}
}

// Every glyph of the figures' alphabet has ink where its outline says.
func TestGlyphsHaveTheirArea(t *testing.T) {
	face := typeface.Of(typeface.Regular)
	for _, c := range "0123456789HCNOeégm%+−•(/" {
		text := draw.Text{At: draw.Point{X: 10, Y: 50}, Size: 50, Role: draw.Ink, Runs: draw.Plain(string(c))}
		got := ink(t, scene(text), 2)
		area := areaPen{}
		face.Outline(c, &area)
		want := math.Abs(area.sum) / 2 * 2500
		if math.Abs(got-want) > 0.02*want+1 {
			t.Errorf("%q: %.1f pixels of ink, its outline encloses %.1f", c, got, want)
		}
	}
}

// areaPen adds up twice the signed area inside contours; a quadratic curve
// adds 2/3 of the triangle of its points to its chord.
type areaPen struct{ startX, startY, x, y, sum float64 }

func (p *areaPen) MoveTo(x, y float64) { p.startX, p.startY, p.x, p.y = x, y, x, y }
func (p *areaPen) LineTo(x, y float64) { p.sum += p.x*y - x*p.y; p.x, p.y = x, y }
func (p *areaPen) QuadTo(cx, cy, x, y float64) {
	p.sum += 2.0 / 3 * ((cx-p.x)*(y-p.y) - (x-p.x)*(cy-p.y))
	p.LineTo(x, y)
}
func (p *areaPen) Close() { p.LineTo(p.startX, p.startY) }
