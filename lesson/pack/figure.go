package pack

import (
	"fmt"
	"strings"

	"ionwright/draw"
	"ionwright/draw/svg"
	"ionwright/lesson/check"
	"ionwright/lesson/load"
)

// Widths of a figure in the pages, in pixels: on a desk and on a telephone.
const (
	wide   = 720
	narrow = 350
)

// figure is a drawn figure of the lesson.
type figure struct {
	*check.Figure
	File         string // in the pack
	Wide, Narrow string // SVG for the pages, which bring the font
	Table        draw.Table
	scenes       []draw.Scene
	standalone   []byte // SVG with its font
}

// drawFigures draws every figure and sweep of the lesson.
func drawFigures(r *check.Report) ([]*figure, error) {
	var all []*figure
	for _, source := range r.Figures {
		f, err := drawFigure(source)
		if err != nil {
			return nil, fmt.Errorf("drawing the figure %q: %w", source.ID, err)
		}
		all = append(all, f)
	}
	return all, nil
}

func drawFigure(source *check.Figure) (*figure, error) {
	f := &figure{Figure: source, File: fmt.Sprintf("figures/%d-%s.svg", source.Number, source.ID)}
	for _, width := range []float64{wide, narrow} {
		drawn, err := f.draw(width)
		if err != nil {
			return nil, err
		}
		name := "desk"
		if width == narrow {
			name = "phone"
		}
		text, err := svg.Marshal(drawn, svg.Options{
			Palette: draw.Light(), Dark: draw.Dark(), LinkFont: true, Transparent: true,
			Prefix: fmt.Sprintf("f%d-%s", source.Number, name),
		})
		if err != nil {
			return nil, err
		}
		f.scenes = append(f.scenes, drawn.Scene)
		if width == narrow {
			f.Narrow = string(text)
			continue
		}
		f.Wide, f.Table = string(text), drawn.Table
		if f.standalone, err = svg.Marshal(drawn, svg.Options{}); err != nil {
			return nil, err
		}
	}
	return f, nil
}

// draw draws the figure at a width in pixels.
func (f *figure) draw(width float64) (draw.Figure, error) {
	switch {
	case f.Sweep != nil:
		return f.drawSweep(width)
	case f.Paths != nil:
		return f.drawPaths(width)
	case f.Structure != nil:
		return f.drawStructure(width)
	case f.Mechanism != nil:
		return f.drawMechanism(width)
	case f.Map != nil:
		return f.drawMap(width)
	}
	return f.drawSpectrum(width)
}

// computed reports whether the figure shows what was computed rather than
// measured.
func (f *figure) computed() bool {
	return f.Structure == nil && (f.Compound == nil || !f.Compound.Measured || f.Mechanism != nil || f.Map != nil || f.Against != nil && !f.Against.Measured)
}

// Origin says where the figure's spectrum comes from, for its caption.
func (f *figure) Origin() string {
	c := f.Compound
	if c == nil {
		return "Computed from the instrument's data, to scale."
	}
	if f.Structure != nil {
		return "Drawn from the lesson's structure."
	}
	if f.Mechanism != nil || f.Map != nil {
		return "Steps computed from the structure: the likely ones by the program's model, not an observation."
	}
	if f.Against != nil {
		return "Above: " + lowerFirst(originOf(c)) + " Below: " + lowerFirst(originOf(f.Against))
	}
	return originOf(c)
}

func lowerFirst(s string) string { return strings.ToLower(s[:1]) + s[1:] }

// originOf says where a compound's spectrum comes from.
func originOf(c *load.Compound) string {
	if !c.Measured {
		return "Computed from the structure, not measured: crude, and no substitute for a measured spectrum."
	}
	parts := []string{"Measured"}
	if id := c.Spectrum.Info.SourceID; id != "" {
		parts = append(parts, id)
	}
	if owner := c.Spectrum.Info.Owner; owner != "" {
		parts = append(parts, owner)
	}
	if license := c.Spectrum.Info.License; license != "" {
		parts = append(parts, license)
	}
	return strings.Join(parts, ", ") + "."
}
