package typeface

// Pen draws the outline of a glyph: closed contours of straight lines and
// quadratic curves, coordinates in em from the glyph's origin on the baseline,
// y upward. To be filled by the nonzero winding rule.
type Pen interface {
	MoveTo(x, y float64)
	LineTo(x, y float64)
	QuadTo(controlX, controlY, x, y float64)
	Close()
}

// Outline draws the outline of r. A rune the font lacks is drawn as the font's
// box for missing glyphs.
func (f *Face) Outline(r rune, pen Pen) { f.drawGlyph(f.glyph(r), transform{1, 0, 0, 1, 0, 0}, pen, 0) }

// transform maps (x, y) to (xx x + yx y + dx, xy x + yy y + dy).
type transform struct{ xx, xy, yx, yy, dx, dy float64 }

func (t transform) apply(x, y float64) (float64, float64) {
	return t.xx*x + t.yx*y + t.dx, t.xy*x + t.yy*y + t.dy
}

// deepest bounds how far composite glyphs may refer to each other.
const deepest = 5

func (f *Face) drawGlyph(g uint16, t transform, pen Pen, depth int) {
	outline := f.outline(g)
	if len(outline) < 10 || depth > deepest {
		return
	}
	if contours := int(int16(be16(outline, 0))); contours >= 0 {
		f.drawSimple(outline, contours, t, pen)
		return
	}
	for at := 10; at+6 <= len(outline); {
		flags, component := be16(outline, at), be16(outline, at+2)
		at += 4
		part := transform{1, 0, 0, 1, 0, 0}
		if flags&argsAreWords != 0 {
			if at+4 > len(outline) {
				return
			}
			part.dx, part.dy = float64(int16(be16(outline, at))), float64(int16(be16(outline, at+2)))
			at += 4
		} else {
			part.dx, part.dy = float64(int8(outline[at])), float64(int8(outline[at+1]))
			at += 2
		}
		size := 0
		switch {
		case flags&haveScale != 0:
			size = 2
		case flags&haveXYScale != 0:
			size = 4
		case flags&haveTwoByTwo != 0:
			size = 8
		}
		if at+size > len(outline) {
			return
		}
		fraction := func(k int) float64 { return float64(int16(be16(outline, at+2*k))) / (1 << 14) }
		switch size {
		case 2:
			part.xx, part.yy = fraction(0), fraction(0)
		case 4:
			part.xx, part.yy = fraction(0), fraction(1)
		case 8:
			part.xx, part.xy, part.yx, part.yy = fraction(0), fraction(1), fraction(2), fraction(3)
		}
		at += size
		dx, dy := t.xx*part.dx+t.yx*part.dy+t.dx, t.xy*part.dx+t.yy*part.dy+t.dy
		f.drawGlyph(component, transform{
			t.xx*part.xx + t.yx*part.xy, t.xy*part.xx + t.yy*part.xy,
			t.xx*part.yx + t.yx*part.yy, t.xy*part.yx + t.yy*part.yy, dx, dy,
		}, pen, depth+1)
		if flags&moreComponents == 0 {
			return
		}
	}
}

// Flags of a simple glyph's points.
const (
	onCurve    = 1 << 0
	shortX     = 1 << 1
	shortY     = 1 << 2
	repeatFlag = 1 << 3
	sameX      = 1 << 4 // or: the short x is positive
	sameY      = 1 << 5
)

type glyphPoint struct {
	x, y float64
	on   bool
}

// drawSimple draws the contours of a glyph that is no composite.
func (f *Face) drawSimple(outline []byte, contours int, t transform, pen Pen) {
	at := 10 + 2*contours
	if contours == 0 || at+2 > len(outline) {
		return
	}
	n := int(be16(outline, at-2)) + 1
	at += 2 + int(be16(outline, at)) // instructions
	flags := make([]byte, 0, n)
	for len(flags) < n {
		if at >= len(outline) {
			return
		}
		flag, times := outline[at], 1
		at++
		if flag&repeatFlag != 0 {
			if at >= len(outline) {
				return
			}
			times += int(outline[at])
			at++
		}
		for range times {
			flags = append(flags, flag)
		}
	}
	flags = flags[:n]
	xs, at, ok := coordinates(outline, at, flags, shortX, sameX)
	if !ok {
		return
	}
	ys, _, ok := coordinates(outline, at, flags, shortY, sameY)
	if !ok {
		return
	}
	first := 0
	for c := range contours {
		last := int(be16(outline, 10+2*c))
		if last < first || last >= n {
			return
		}
		points := make([]glyphPoint, 0, last-first+1)
		for i := first; i <= last; i++ {
			x, y := t.apply(float64(xs[i]), float64(ys[i]))
			points = append(points, glyphPoint{x / f.unitsPerEm, y / f.unitsPerEm, flags[i]&onCurve != 0})
		}
		drawContour(points, pen)
		first = last + 1
	}
}

// coordinates reads the x or y of all points, each relative to the one before.
func coordinates(outline []byte, at int, flags []byte, short, same byte) ([]int, int, bool) {
	out := make([]int, len(flags))
	v := 0
	for i, flag := range flags {
		switch {
		case flag&short != 0:
			if at >= len(outline) {
				return nil, 0, false
			}
			d := int(outline[at])
			at++
			if flag&same == 0 {
				d = -d
			}
			v += d
		case flag&same == 0:
			if at+2 > len(outline) {
				return nil, 0, false
			}
			v += int(int16(be16(outline, at)))
			at += 2
		}
		out[i] = v
	}
	return out, at, true
}

// drawContour draws one closed contour; between two points off the curve the
// curve passes through their middle.
func drawContour(points []glyphPoint, pen Pen) {
	n := len(points)
	middle := func(a, b glyphPoint) glyphPoint { return glyphPoint{(a.x + b.x) / 2, (a.y + b.y) / 2, true} }
	start := points[0]
	if !start.on {
		if start = points[n-1]; !start.on {
			start = middle(points[0], points[n-1])
		}
	}
	pen.MoveTo(start.x, start.y)
	for i := range n {
		p, next := points[i], points[(i+1)%n]
		switch {
		case p.on && i > 0:
			if !points[i-1].on {
				continue // drawn as that point's end
			}
			pen.LineTo(p.x, p.y)
		case !p.on:
			end := next
			if !next.on {
				end = middle(p, next)
			}
			if i == n-1 {
				end = start
			}
			pen.QuadTo(p.x, p.y, end.x, end.y)
		}
	}
	pen.Close()
}
