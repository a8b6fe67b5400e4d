// Package pdf writes figures as PDF, one a page: lines and areas as such, text
// as text in the figures' own font, of which the letters used are embedded.
//
// Call [Write]. The page has the figure's size, one pixel being 0.75 point
// (1/96 inch). Equal figures give equal bytes: the document carries a fixed
// date. Title and description become the document's title and subject. The
// document is tagged: each page is a figure with its description and detail as
// alternative text. The figure's table isn't in it, and it makes no claim to
// PDF/UA, against which it wasn't checked.
package pdf

import (
	"bytes"
	"fmt"
	"io"
	"math"
	"strings"

	"codeberg.org/go-pdf/fpdf"

	"ionwright/draw"
	"ionwright/draw/typeface"
)

// Options say how figures are written. The zero value gives the print palette.
type Options struct {
	Palette draw.Palette // the zero palette means draw.Print()
}

// pointsPerPixel: 72 points and 96 pixels are an inch.
const pointsPerPixel = 0.75

// Write writes one page a figure. It fails without figures, for a canvas that
// is empty or larger than PDF allows (14,400 points), if a coordinate isn't
// finite, or if w fails.
func Write(w io.Writer, figures []draw.Figure, o Options) error {
	if len(figures) == 0 {
		return fmt.Errorf("writing a PDF: there is no figure")
	}
	if o.Palette == (draw.Palette{}) {
		o.Palette = draw.Print()
	}
	document := fpdf.NewCustom(&fpdf.InitType{UnitStr: "pt", Size: fpdf.SizeType{Wd: 100, Ht: 100}})
	document.SetCatalogSort(true)
	// A date that is always the same: the zero time would mean now.
	fixed := document.GetCreationDate().AddDate(2000, 0, 0)
	document.SetCreationDate(fixed)
	document.SetModificationDate(fixed)
	document.SetTitle(figures[0].Title, true)
	document.SetSubject(figures[0].Description, true)
	document.SetCreator("Ionwright", true)
	document.SetLang("en")
	document.SetAutoPageBreak(false, 0)
	document.SetMargins(0, 0, 0)
	for style := range typeface.NumStyles {
		if runes := used(figures, style); len(runes) > 0 {
			document.AddUTF8FontFromBytes(typeface.Family, styleName(style), typeface.Of(style).Subset(runes))
		}
	}
	for _, f := range figures {
		width, height := f.Scene.Width*pointsPerPixel, f.Scene.Height*pointsPerPixel
		const largest = 14400
		if !(width > 0 && height > 0 && width <= largest && height <= largest) {
			return fmt.Errorf("writing the figure %q as PDF: the page would be %v by %v points; expected up to %d", f.Title, width, height, largest)
		}
		document.AddPageFormat("P", fpdf.SizeType{Wd: width, Ht: height})
		r := &renderer{document: document, palette: o.Palette}
		document.RawWriteStr("/Artifact BMC")
		r.Path(draw.Rectangle(draw.Box{Right: f.Scene.Width, Bottom: f.Scene.Height}, draw.Paper, draw.Stroke{}))
		document.RawWriteStr("EMC\n/Figure <</MCID 0>> BDC")
		f.Scene.Render(r)
		document.RawWriteStr("EMC")
		if r.err != nil {
			return fmt.Errorf("writing the figure %q as PDF: %w", f.Title, r.err)
		}
	}
	var plain bytes.Buffer
	err := document.Output(&plain)
	if err == nil {
		var out []byte
		if out, err = tagged(plain.Bytes(), figures); err == nil {
			_, err = w.Write(out)
		}
	}
	if err != nil {
		return fmt.Errorf("writing the figure %q as PDF: %w", figures[0].Title, err)
	}
	return nil
}

// used lists the runes that figures set in a style.
func used(figures []draw.Figure, style typeface.Style) []rune {
	var runes []rune
	for _, f := range figures {
		f.Scene.Walk(func(item draw.Item, _ []*draw.Group) {
			if t, ok := item.(draw.Text); ok {
				for _, r := range t.Runs {
					if r.Style() == style {
						runes = append(runes, []rune(r.Text)...)
					}
				}
			}
		})
	}
	return runes
}

// styleName is fpdf's name of a style.
func styleName(s typeface.Style) string {
	switch s {
	case typeface.Italic:
		return "I"
	case typeface.Bold:
		return "B"
	}
	return ""
}

// renderer is a draw.Renderer. It keeps the first error.
type renderer struct {
	document *fpdf.Fpdf
	palette  draw.Palette
	err      error
}

// BeginGroup and EndGroup do nothing: the page has no groups.
func (r *renderer) BeginGroup(*draw.Group) {}

// EndGroup is the other end of BeginGroup.
func (r *renderer) EndGroup(*draw.Group) {}

// point converts to points, and notes what isn't finite.
func (r *renderer) point(p draw.Point) (x, y float64) {
	if math.IsNaN(p.X+p.Y) || math.IsInf(p.X+p.Y, 0) {
		if r.err == nil {
			r.err = fmt.Errorf("a path goes through (%v, %v)", p.X, p.Y)
		}
		return 0, 0
	}
	return p.X * pointsPerPixel, p.Y * pointsPerPixel
}

func (r *renderer) fillColor(role draw.Role) {
	c := r.palette.Color(role)
	r.document.SetFillColor(int(c.R), int(c.G), int(c.B))
}

func (r *renderer) lineColor(role draw.Role) {
	c := r.palette.Color(role)
	r.document.SetDrawColor(int(c.R), int(c.G), int(c.B))
}

// Path draws lines and areas.
func (r *renderer) Path(p draw.Path) {
	style := ""
	if p.Fill != draw.NoRole {
		r.fillColor(p.Fill)
		style += "F"
	}
	if s := p.Stroke; s.Role != draw.NoRole && s.Width > 0 {
		r.lineColor(s.Role)
		r.document.SetLineWidth(s.Width * pointsPerPixel)
		caps, joins := "butt", "miter"
		if s.Round {
			caps, joins = "round", "round"
		}
		r.document.SetLineCapStyle(caps)
		r.document.SetLineJoinStyle(joins)
		var dash []float64
		for _, d := range s.Dash {
			dash = append(dash, d*pointsPerPixel)
		}
		r.document.SetDashPattern(dash, 0)
		style += "D"
	}
	if style == "" || len(p.Segments) == 0 {
		return
	}
	for _, s := range p.Segments {
		switch s.Op {
		case draw.Move:
			x, y := r.point(s.P[0])
			r.document.MoveTo(x, y)
		case draw.Line:
			x, y := r.point(s.P[0])
			r.document.LineTo(x, y)
		case draw.Cubic:
			ax, ay := r.point(s.P[0])
			bx, by := r.point(s.P[1])
			x, y := r.point(s.P[2])
			r.document.CurveBezierCubicTo(ax, ay, bx, by, x, y)
		case draw.Close:
			r.document.ClosePath()
		}
	}
	r.document.DrawPath(style)
}

// Text sets each run at its own place, so that its length is what the layout
// counted with. A halo is the same text stroked beneath.
func (r *renderer) Text(t draw.Text) {
	if len(t.Runs) == 0 {
		return
	}
	if t.Angle != 0 {
		x, y := r.point(t.At)
		r.document.TransformBegin()
		r.document.TransformRotate(-t.Angle, x, y)
		defer r.document.TransformEnd()
	}
	if t.Halo != draw.NoRole {
		r.lineColor(t.Halo)
		r.document.SetLineWidth(3 * pointsPerPixel)
		r.document.SetLineJoinStyle("round")
		r.document.SetDashPattern(nil, 0)
		r.document.SetTextRenderingMode(1)
		r.runs(t)
	}
	c := r.palette.Color(t.Role)
	r.document.SetTextColor(int(c.R), int(c.G), int(c.B))
	r.document.SetTextRenderingMode(0)
	r.runs(t)
}

func (r *renderer) runs(t draw.Text) {
	left := t.Left()
	for _, run := range t.Runs {
		x, y := r.point(draw.Point{X: left, Y: t.At.Y - run.Rise(t.Size)})
		left += run.Width(t.Size)
		if strings.TrimSpace(run.Text) == "" {
			continue
		}
		r.document.SetFont(typeface.Family, styleName(run.Style()), run.Size(t.Size)*pointsPerPixel)
		r.document.Text(x, y, run.Text)
	}
}
