package pack

import (
	"fmt"
	"strings"

	"ionwright/draw"
	"ionwright/draw/plot"
	"ionwright/draw/svg"
	"ionwright/lesson/check"
	"ionwright/lesson/load"
	"ionwright/lesson/notation"
)

// size is the room for a figure, in pixels.
type size struct {
	width  float64
	height float64 // of a spectrum; 0: as the drawing likes it
	few    bool    // there is room for few labels
}

// The sizes of figures: in the pages on a desk and on a telephone, and on a
// slide, which is low and wide and read from afar.
var (
	wideSize   = size{width: 720}
	narrowSize = size{width: 350, height: 300, few: true}
	slideSize  = size{width: 600, height: 260}
)

// slideScale is the number of pixels of a slide's picture to one of its figure.
const slideScale = 3

// figure is a drawn figure of the lesson. The students' view is the key's, but
// for the spectrum of an unknown: theirs gives nothing away.
type figure struct {
	*check.Figure
	student, key *view
}

// view is a figure as one page shows it.
type view struct {
	File         string      // in the pack
	Wide, Narrow string      // SVG for the pages, which bring the font
	Drawn        draw.Figure // for a desk
	drawing      func(size) (draw.Figure, error)
	scenes       []draw.Scene
	standalone   []byte // SVG with its font
}

// views are the figure's views, each once.
func (f *figure) views() []*view {
	if f.key == f.student {
		return []*view{f.student}
	}
	return []*view{f.student, f.key}
}

// of is the view of the students' page or the key's.
func (f *figure) of(key bool) *view {
	if key {
		return f.key
	}
	return f.student
}

// drawFigures draws every figure and sweep of the lesson.
func drawFigures(r *check.Report) ([]*figure, error) {
	var all []*figure
	for _, source := range r.Figures {
		f := &figure{Figure: source}
		if err := f.drawViews(r.Source.Notation); err != nil {
			return nil, fmt.Errorf("drawing the figure %q: %w", source.ID, err)
		}
		all = append(all, f)
	}
	return all, nil
}

func (f *figure) drawViews(n notation.Profile) error {
	name := fmt.Sprintf("%d-%s", f.Number, f.ID)
	mode := plot.Teaching
	if f.tests() {
		mode = plot.Test
	}
	draws := func(mode plot.Mode) func(size) (draw.Figure, error) {
		return func(s size) (draw.Figure, error) {
			drawn, err := f.draw(s, mode)
			return n.Figure(drawn), err
		}
	}
	var err error
	if f.student, err = newView("figures/"+name+".svg", fmt.Sprintf("f%d", f.Number), draws(mode)); err != nil {
		return err
	}
	f.key = f.student
	if mode == plot.Test {
		f.key, err = newView("figures/"+name+"-key.svg", fmt.Sprintf("f%d", f.Number), draws(plot.Teaching))
	}
	return err
}

// newView draws for a desk and for a telephone. The prefix keeps the ids of one
// drawing apart from those of another in the page.
func newView(file, prefix string, drawing func(size) (draw.Figure, error)) (*view, error) {
	v := &view{File: file, drawing: drawing}
	for _, s := range []size{wideSize, narrowSize} {
		drawn, err := drawing(s)
		if err != nil {
			return nil, err
		}
		name := "desk"
		if s == narrowSize {
			name = "phone"
		}
		text, err := svg.Marshal(drawn, svg.Options{
			Palette: draw.Light(), Dark: draw.Dark(), LinkFont: true, Transparent: true, Prefix: prefix + "-" + name,
		})
		if err != nil {
			return nil, err
		}
		v.scenes = append(v.scenes, drawn.Scene)
		if s == narrowSize {
			v.Narrow = string(text)
			continue
		}
		v.Wide, v.Drawn = string(text), drawn
		if v.standalone, err = svg.Marshal(drawn, svg.Options{}); err != nil {
			return nil, err
		}
	}
	return v, nil
}

// draw draws the figure.
func (f *figure) draw(s size, mode plot.Mode) (draw.Figure, error) {
	switch {
	case f.Sweep != nil:
		return f.drawSweep(s)
	case f.Paths != nil:
		return f.drawPaths(s)
	case f.Structure != nil:
		return f.drawStructure(s)
	case f.Mechanism != nil:
		return f.drawMechanism(s)
	case f.Map != nil:
		return f.drawMap(s)
	}
	return f.drawSpectrum(s, mode)
}

// tests reports whether the figure shows the spectrum of an unknown.
func (f *figure) tests() bool {
	return f.Spectrum != nil && (unknown(f.Compound) || unknown(f.Against))
}

// unknown reports whether students must find the compound's structure.
func unknown(c *load.Compound) bool { return c != nil && !c.Source.Unknown.IsZero() }

// computed reports whether the figure shows what was computed rather than
// measured.
func (f *figure) computed() bool {
	return f.Structure == nil && (f.Compound == nil || !f.Compound.Measured || f.Mechanism != nil || f.Map != nil || f.Against != nil && !f.Against.Measured)
}

// Origin says where the figure's spectrum comes from, for its caption. An
// unknown's identifier would name it, so it stands on the key page only.
func (f *figure) Origin(key bool) string {
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
		return "Above: " + lowerFirst(originOf(c, key)) + " Below: " + lowerFirst(originOf(f.Against, key))
	}
	return originOf(c, key)
}

func lowerFirst(s string) string { return strings.ToLower(s[:1]) + s[1:] }

// originOf says where a compound's spectrum comes from.
func originOf(c *load.Compound, key bool) string {
	if !c.Measured {
		return "Computed from the structure, not measured: no substitute for a measured spectrum."
	}
	r := check.RightsOf(c)
	if unknown(c) && !key {
		r.SourceID = ""
	}
	parts := []string{"Measured"}
	for _, more := range []string{r.SourceID, r.Origin, r.License} {
		if more != "" {
			parts = append(parts, more)
		}
	}
	return strings.Join(parts, ", ") + "."
}
