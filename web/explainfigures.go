package web

import (
	"context"
	"fmt"
	"io/fs"
	"net/http"
	"path"
	"slices"
	"strings"

	"ionwright/draw"
	"ionwright/draw/mechanism"
	"ionwright/draw/plot"
	"ionwright/draw/structure"
	"ionwright/ionize"
	"ionwright/spectrum"
)

// Sizes of figures in wide and narrow windows, in pixels.
const (
	wideWidth, wideHeight     = 600, 360
	narrowWidth, narrowHeight = 350, 300
)

// explainedFigures are the figures of the place Explain for one question.
type explainedFigures struct {
	ask        explained
	prediction *ionize.Prediction
	computed   spectrum.Spectrum
	measured   spectrum.Spectrum // without peaks where none was given
	broken     brokenBy          // where a bond is chosen
}

func (s *Server) explainedFigures(ctx context.Context, ask explained) (*explainedFigures, error) {
	p, err := s.predict(ctx, ask.Q, ask.EV)
	if err != nil {
		return nil, err
	}
	f := &explainedFigures{ask: ask, prediction: p, computed: p.Spectrum()}
	if ask.Peaks != "" {
		if f.measured, err = typedPeaks(ask.Peaks); err != nil {
			return nil, err
		}
	}
	if b := ask.Bond; b != 0 {
		if b < 0 || b > p.Mol.NumBonds() {
			return nil, badRequest(fmt.Errorf("the structure has %d bonds; there is no bond %d", p.Mol.NumBonds(), b))
		}
		if f.broken, err = s.brokenBonds(ctx, ask, p); err != nil {
			return nil, err
		}
	}
	return f, nil
}

func (f *explainedFigures) name() string {
	return strings.TrimSpace(f.ask.Q)
}

// highlighted are the m/z that the choice of a peak or bond lights up.
func (f *explainedFigures) highlighted() []float64 {
	if f.ask.Peak != 0 {
		return []float64{float64(f.ask.Peak)}
	}
	var out []float64
	if f.ask.Bond != 0 {
		for _, mz := range f.bondPeaks() {
			out = append(out, float64(mz))
		}
	}
	return out
}

// spectrum draws the computed spectrum, or the measured one head to tail with
// it.
func (f *explainedFigures) spectrum(narrow bool) (draw.Figure, error) {
	o := plot.Options{
		Name: f.name(), Width: wideWidth, Height: wideHeight,
		Highlight: f.highlighted(), MolecularIon: float64(f.prediction.MolecularIon().MZ),
	}
	labels := 8
	if narrow {
		o.Width, o.Height, labels = narrowWidth, narrowHeight, 4
		o.Strongest = 5
	}
	o.Assignments = f.assignments(labels)
	if len(f.measured.Peaks) == 0 {
		return plot.Spectrum(f.computed, o)
	}
	measured := "measured"
	if f.ask.Title != "" && !narrow {
		measured = "measured: " + f.ask.Title
	}
	return plot.Compare(f.measured, f.computed, plot.CompareOptions{
		Width: o.Width, Height: o.Height * 1.35, Upper: measured, Lower: "computed", Options: o,
	})
}

// assignments give the strongest peaks, and the chosen one, the formula of
// their most abundant ion.
func (f *explainedFigures) assignments(most int) []plot.Assignment {
	var out []plot.Assignment
	peaks := f.computed.Strongest(most)
	if f.ask.Peak != 0 {
		peaks = append(peaks, spectrum.Peak{MZ: float64(f.ask.Peak)})
	}
	for _, p := range peaks {
		ions := f.prediction.At(spectrum.UnitMZ(p.MZ))
		if len(ions) > 0 && !slices.ContainsFunc(out, func(a plot.Assignment) bool { return a.MZ == p.MZ }) {
			out = append(out, plot.Assignment{MZ: p.MZ, Text: ionText(ions[0])})
		}
	}
	return out
}

func ionText(ion ionize.Ion) []draw.Run {
	if ion.OddElectron {
		return draw.Ion(ion.Formula)
	}
	return draw.Formula(ion.Formula)
}

// structure draws the structure, with the chosen bond set off.
func (f *explainedFigures) structure() (draw.Figure, error) {
	o := structure.Options{Name: f.name(), BondIDs: true}
	if b := f.ask.Bond; b != 0 {
		o.Bonds, o.Numbers = []int{b - 1}, true
	}
	return structure.Draw(f.prediction.Mol, o)
}

// route draws how the electrons go on the way to an ion.
func (f *explainedFigures) route(ion ionize.Ion, width float64) (draw.Figure, error) {
	return mechanism.Route(f.prediction, ion.ID, mechanism.Options{Name: f.name(), Width: width, Bond: 24})
}

// shownRoute is the drawing beside the sentence of the number-th ion.
func (f *explainedFigures) shownRoute(number int, ion ionize.Ion) (*shownFigure, error) {
	const width = 350
	figure, err := f.route(ion, width)
	if err != nil {
		return nil, err
	}
	return show(fmt.Sprintf("route-%d", number+1), figure, f.ask.figureAddress)
}

// explainFigure sends a figure as a file.
func (s *Server) explainFigure(w http.ResponseWriter, r *http.Request) error {
	ask, err := readExplained(r)
	if err != nil {
		return err
	}
	figures, err := s.explainedFigures(r.Context(), ask)
	if err != nil {
		return err
	}
	name := r.PathValue("name")
	var f draw.Figure
	switch strings.TrimSuffix(name, path.Ext(name)) {
	case "spectrum":
		f, err = figures.spectrum(false)
	case "structure":
		f, err = figures.structure()
	case "map":
		f, err = mechanism.Map(figures.prediction, mechanism.MapOptions{Name: figures.name()})
	case "route-1", "route-2", "route-3":
		ions := figures.prediction.At(ask.Peak)
		number := int(name[len("route-")] - '1')
		if number >= len(ions) {
			return fs.ErrNotExist
		}
		f, err = figures.route(ions[number], 0)
	case "breakdown":
		f, err = s.breakdown(r.Context(), ask, false)
	default:
		return fs.ErrNotExist
	}
	if err != nil {
		return badRequest(fmt.Errorf("drawing the figure: %w", err))
	}
	return sendFigure(w, name, f)
}
