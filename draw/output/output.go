// Package output tells the formats of figure files apart by the endings of
// their names and writes figures in them. For most uses call [Write].
package output

import (
	"fmt"
	"io"
	"path"
	"strings"

	"ionwright/draw"
	"ionwright/draw/pdf"
	"ionwright/draw/png"
	"ionwright/draw/svg"
)

// Options say how a figure is written. The zero value gives each format its
// own palette: print for PDF, light for the others.
type Options struct {
	Palette     draw.Palette // the zero palette means the format's own
	Dark        draw.Palette // SVG: used where the reader's device asks for dark colours; zero: Palette everywhere
	Scale       float64      // PNG: pixels per pixel of the figure; 0: 2
	Outlines    bool         // SVG: letters as paths instead of text with its font
	Transparent bool         // SVG and PNG: without background
}

// Format is a kind of figure file.
type Format struct {
	Name   string
	Ending string // of file names, in lower case with the dot
	Type   string // the media type
	Write  func(w io.Writer, f draw.Figure, o Options) error
}

// Formats is the visible list.
func Formats() []Format {
	return []Format{
		{"SVG", ".svg", "image/svg+xml", func(w io.Writer, f draw.Figure, o Options) error {
			return svg.Write(w, f, svg.Options{Palette: o.Palette, Dark: o.Dark, Outlines: o.Outlines, Transparent: o.Transparent})
		}},
		{"PNG", ".png", "image/png", func(w io.Writer, f draw.Figure, o Options) error {
			return png.Write(w, f, png.Options{Palette: o.Palette, Scale: o.Scale, Transparent: o.Transparent})
		}},
		{"PDF", ".pdf", "application/pdf", func(w io.Writer, f draw.Figure, o Options) error {
			return pdf.Write(w, []draw.Figure{f}, pdf.Options{Palette: o.Palette})
		}},
	}
}

// FormatOf finds the format of a file by the ending of its name. It fails for
// an ending that no format has, and lists those that there are.
func FormatOf(name string) (Format, error) {
	var endings []string
	for _, f := range Formats() {
		if strings.EqualFold(path.Ext(name), f.Ending) {
			return f, nil
		}
		endings = append(endings, f.Ending)
	}
	return Format{}, fmt.Errorf("%q: figure files end with %s", name, strings.Join(endings, ", "))
}

// Write writes the figure in the format that the ending of name says; it opens
// no file. It fails for an unknown ending, for a scale that isn't 0 to 50, and
// where the format's writer does.
func Write(w io.Writer, name string, f draw.Figure, o Options) error {
	format, err := FormatOf(name)
	if err != nil {
		return err
	}
	if !(o.Scale >= 0 && o.Scale <= 50) {
		return fmt.Errorf("writing %q: a scale of %v is outside 0 to 50", name, o.Scale)
	}
	return format.Write(w, f, o)
}
