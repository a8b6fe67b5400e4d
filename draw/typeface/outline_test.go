package typeface

import (
	"math"
	"testing"

	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// moments sums up, over the curves of an outline, what doesn't depend on where
// contours start: twice the area, and the length of the control polygon.
type moments struct{ startX, startY, x, y, area, length float64 }

func (m *moments) MoveTo(x, y float64) { m.startX, m.startY, m.x, m.y = x, y, x, y }
func (m *moments) LineTo(x, y float64) {
	m.area += m.x*y - x*m.y
	m.length += math.Hypot(x-m.x, y-m.y)
	m.x, m.y = x, y
}
func (m *moments) QuadTo(cx, cy, x, y float64) {
	m.area += 2.0/3*((cx-m.x)*(y-m.y)-(x-m.x)*(cy-m.y)) + m.x*y - x*m.y
	m.length += math.Hypot(cx-m.x, cy-m.y) + math.Hypot(x-cx, y-cy)
	m.x, m.y = x, y
}
func (m *moments) Close() { m.LineTo(m.startX, m.startY) }

// The witness is golang.org/x/image's own reader of the same file.
func TestOutlinesAgreeWithSfnt(t *testing.T) {
	ref, err := sfnt.Parse(goregular.TTF)
	if err != nil {
		t.Fatal(err)
	}
	var buf sfnt.Buffer
	upem := float64(ref.UnitsPerEm())
	for _, r := range figureText + "éÄçÅ½" { // some are composite
		g, err := ref.GlyphIndex(&buf, r)
		if err != nil {
			t.Fatal(err)
		}
		segments, err := ref.LoadGlyph(&buf, g, fixed.Int26_6(ref.UnitsPerEm())<<6, nil)
		if err != nil {
			t.Fatal(err)
		}
		var want, got moments
		em := func(p fixed.Point26_6) (x, y float64) { return float64(p.X) / 64 / upem, -float64(p.Y) / 64 / upem }
		open := false
		for _, s := range segments {
			x, y := em(s.Args[0])
			switch s.Op {
			case sfnt.SegmentOpMoveTo:
				if open {
					want.Close()
				}
				want.MoveTo(x, y)
				open = true
			case sfnt.SegmentOpLineTo:
				want.LineTo(x, y)
			case sfnt.SegmentOpQuadTo:
				x2, y2 := em(s.Args[1])
				want.QuadTo(x, y, x2, y2)
			default:
				t.Fatalf("%q has a cubic curve", r)
			}
		}
		if open {
			want.Close()
		}
		Of(Regular).Outline(r, &got)
		if math.Abs(got.area-want.area) > 5e-4 || math.Abs(got.length-want.length) > 1e-3 {
			t.Errorf("%q: area %.5f and length %.4f em, sfnt says %.5f and %.4f", r, got.area/2, got.length, want.area/2, want.length)
		}
	}
}
