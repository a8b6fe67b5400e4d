package pack

import (
	"fmt"
	"html/template"

	"ionwright/draw"
	"ionwright/draw/plot"
	"ionwright/lesson/check"
	"ionwright/lesson/load"
	"ionwright/lesson/notation"
)

// questionFigure is the spectrum that a question is answered from, drawn for a
// test: axes and peaks, in the drawing, its words and its table. It has no
// other name than the question's number, since a compound's name may be the
// answer.
type questionFigure struct {
	*view
	number   int
	compound *load.Compound
}

// drawQuestions draws the spectra of the questions that need one.
func drawQuestions(r *check.Report) (map[*check.Question]*questionFigure, error) {
	all := map[*check.Question]*questionFigure{}
	for _, q := range r.Questions {
		compound := r.Lesson.Compound(q.Source.About.Value)
		if compound == nil || !q.Practice.ShowsSpectrum() {
			continue
		}
		v, err := newView(fmt.Sprintf("figures/question-%d.svg", q.Number), fmt.Sprintf("q%d", q.Number), func(s size) (draw.Figure, error) {
			return testFigure(q, s, r.Source.Notation)
		})
		if err != nil {
			return nil, fmt.Errorf("drawing the spectrum of the question %q: %w", q.Source.ID.Value, err)
		}
		all[q] = &questionFigure{v, q.Number, compound}
	}
	return all, nil
}

func testFigure(q *check.Question, s size, n notation.Profile) (draw.Figure, error) {
	o := plot.Options{Mode: plot.Test, Width: s.width, Height: s.height, Alias: testName(q)}
	if s.few {
		o.Strongest = 5
	}
	drawn, err := plot.Spectrum(q.Practice.Facts.Spectrum, o)
	return n.Figure(drawn), err
}

// data is the figure for a page.
func (f *questionFigure) data(key bool) *figureData {
	return &figureData{
		ID: fmt.Sprintf("question-%d", f.number), Label: fmt.Sprintf("The spectrum of question %d", f.number),
		Wide: template.HTML(f.Wide), Narrow: template.HTML(f.Narrow), Table: f.Drawn.Table,
		Origin: testOrigin(f.compound, key), Computed: !f.compound.Measured,
	}
}

// testOrigin says where the spectrum of a question comes from. The source's
// identifier would name the compound, so it stands on the key page only.
func testOrigin(c *load.Compound, key bool) string {
	hidden := *c
	if !key {
		hidden.Spectrum.Info.SourceID = ""
	}
	return originOf(&hidden, key)
}
