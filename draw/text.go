package draw

import (
	"math"
	"strings"

	"ionwright/draw/typeface"
)

// Subscripts and superscripts: their size as a part of the text's, and how
// far below or above the baseline they stand, in em of the text.
const (
	ScriptSize = 0.72
	SubDrop    = 0.17
	SuperRise  = 0.36
)

// Plain is text in the regular style.
func Plain(s string) []Run { return []Run{{Text: s}} }

// Style is the member of the font family that the run is set in.
func (r Run) Style() typeface.Style {
	switch {
	case r.Bold:
		return typeface.Bold
	case r.Italic:
		return typeface.Italic
	}
	return typeface.Regular
}

// Size is the run's own size in a text of the given size.
func (r Run) Size(text float64) float64 {
	if r.Script != Normal {
		return ScriptSize * text
	}
	return text
}

// Rise is how far the run's baseline stands above the text's, in pixels,
// negative below.
func (r Run) Rise(text float64) float64 {
	switch r.Script {
	case Sub:
		return -SubDrop * text
	case Super:
		return SuperRise * text
	}
	return 0
}

// Width is the run's advance in pixels in a text of the given size.
func (r Run) Width(text float64) float64 {
	return typeface.Of(r.Style()).Width(r.Text) * r.Size(text)
}

// Width is the text's length along its baseline in pixels.
func (t Text) Width() float64 { return RunsWidth(t.Runs, t.Size) }

// RunsWidth is the length of runs set one after the other, in pixels, in a
// text of the given size.
func RunsWidth(runs []Run, size float64) float64 {
	w := 0.0
	for _, r := range runs {
		w += r.Width(size)
	}
	return w
}

// Left is the x where the text starts, before it is turned.
func (t Text) Left() float64 {
	switch t.Anchor {
	case Middle:
		return t.At.X - t.Width()/2
	case End:
		return t.At.X - t.Width()
	}
	return t.At.X
}

// Bounds is the smallest upright box around the text's ink: the advance
// widths of its letters, from the lowest to the highest of their outlines.
// Letters of a fallback font, for runes that ours lacks, may reach further.
func (t Text) Bounds() Box {
	left, width := t.Left(), t.Width()
	if width == 0 {
		return NoBox()
	}
	top, bottom := 0.0, 0.0
	for _, r := range t.Runs {
		face, size, rise := typeface.Of(r.Style()), r.Size(t.Size), r.Rise(t.Size)
		for _, c := range r.Text {
			if ink := face.Ink(c); ink != (typeface.Box{}) {
				top = min(top, -rise-ink.YMax*size)
				bottom = max(bottom, -rise-ink.YMin*size)
			}
		}
	}
	box := Box{left, t.At.Y + top, left + width, t.At.Y + bottom}
	if t.Angle == 0 {
		return box
	}
	turned := NoBox()
	sin, cos := math.Sincos(t.Angle * math.Pi / 180)
	for _, p := range [4]Point{{box.Left, box.Top}, {box.Right, box.Top}, {box.Right, box.Bottom}, {box.Left, box.Bottom}} {
		dx, dy := p.X-t.At.X, p.Y-t.At.Y
		turned = turned.Include(Point{t.At.X + dx*cos - dy*sin, t.At.Y + dx*sin + dy*cos})
	}
	return turned
}

// String is the text without its styles, for words about the drawing.
func (t Text) String() string { return RunsString(t.Runs) }

// RunsString is the runs' text without their styles.
func RunsString(runs []Run) string {
	var b strings.Builder
	for _, r := range runs {
		b.WriteString(r.Text)
	}
	return b.String()
}

// Words returns s with every "m/z" in italics, as IUPAC's recommendations of
// 2013 print the quantity, and the rest in the regular style.
func Words(s string) []Run {
	const quantity = "m/z"
	var runs []Run
	for {
		before, after, found := strings.Cut(s, quantity)
		if before != "" {
			runs = append(runs, Run{Text: before})
		}
		if !found {
			return runs
		}
		runs = append(runs, Run{Text: quantity, Italic: true})
		s = after
	}
}
