package web

import (
	"context"
	"fmt"
	"io/fs"
	"net/http"
	"path"
	"strconv"
	"strings"

	"ionwright/chem"
	"ionwright/draw"
	"ionwright/draw/plot"
	"ionwright/reading"
	"ionwright/reading/candidate"
	"ionwright/spectrum"
	"ionwright/spectrum/file"
)

// readAsk is what the place Read is asked: everything that its address says.
type readAsk struct {
	Peaks      string
	Title      string
	Mass       string // nominal, Da, if it is told
	Formula    string // if it is told
	Class      bool   // the view for students: what comes next isn't there
	Step       int    // of the argument, 1-based; 0: none yet
	Hint       bool   // of the next step, in the view for students
	Candidates string // structures to compare, one a line
}

func readReadAsk(r *http.Request) (readAsk, error) {
	v := r.URL.Query()
	ask := readAsk{Peaks: strings.TrimSpace(v.Get("peaks")), Title: v.Get("title"), Mass: strings.TrimSpace(v.Get("mass")),
		Formula: strings.TrimSpace(v.Get("formula")), Class: v.Get("view") == "class", Hint: v.Get("hint") == "1", Candidates: strings.TrimSpace(v.Get("candidates"))}
	if text := v.Get("step"); text != "" {
		n, err := strconv.Atoi(text)
		if err != nil || n < 0 {
			return ask, badRequest(fmt.Errorf("the step %q isn't a whole number", text))
		}
		ask.Step = n
	}
	return ask, nil
}

func (a readAsk) addressAt(path string) string {
	view, step, hint := "", "", ""
	if a.Class {
		view = "class"
	}
	if a.Step > 0 {
		step = strconv.Itoa(a.Step)
	}
	if a.Hint {
		hint = "1"
	}
	return address(path, [][2]string{{"peaks", a.Peaks}, {"title", a.Title}, {"mass", a.Mass}, {"formula", a.Formula},
		{"view", view}, {"step", step}, {"hint", hint}, {"candidates", a.Candidates}}...)
}

// Address is where the same can be seen again.
func (a readAsk) Address() string               { return a.addressAt("/read") }
func (a readAsk) At(step int) string            { a.Step, a.Hint = step, false; return a.Address() }
func (a readAsk) WithHint() string              { a.Hint = true; return a.Address() }
func (a readAsk) ForClass() string              { a.Class, a.Step, a.Hint = true, 0, false; return a.Address() }
func (a readAsk) ForTeacher() string            { a.Class, a.Hint = false, false; return a.Address() }
func (a readAsk) figureAddress(n string) string { return a.addressAt("/read/figure/" + n) }

// given is what the reader is told beside the peaks.
func (a readAsk) given() (reading.Given, error) {
	var g reading.Given
	if a.Formula != "" {
		f, err := chem.ParseFormula(a.Formula)
		if err != nil {
			return g, badRequest(err)
		}
		g.Formula = f
	}
	if a.Mass != "" {
		const highest = 5000
		m, err := strconv.Atoi(a.Mass)
		if err != nil || m < 1 || m > highest {
			return g, badRequest(fmt.Errorf("the nominal mass %q isn't a whole number of Da from 1 to %d", a.Mass, highest))
		}
		g.NominalMass = m
	}
	return g, nil
}

type readingKey struct{ peaks, mass, formula string }

// readSpectrum reads a spectrum, or remembers what it read.
func (s *Server) readSpectrum(ctx context.Context, ask readAsk) (spectrum.Spectrum, reading.Reading, error) {
	typed, err := typedPeaks(ask.Peaks)
	if err != nil {
		return typed, reading.Reading{}, err
	}
	given, err := ask.given()
	if err != nil {
		return typed, reading.Reading{}, err
	}
	r, err := s.readings.get(readingKey{ask.Peaks, ask.Mass, ask.Formula}, func() (r reading.Reading, err error) {
		err = s.heavy(ctx, func() error {
			r = reading.Read(typed, given)
			return nil
		})
		return r, err
	})
	return typed, r, err
}

// readPage is what the template shows.
type readPage struct {
	Ask         readAsk
	Problem     problem
	Endings     string
	Examples    []exampleSpectrum
	Reading     *reading.Reading
	Spectrum    *shownFigure
	Steps       []readStep
	Next        string // hint of the next step, in the view for students
	More        bool   // there is a next step
	Total       int
	Ranking     *candidate.Ranking
	RankProblem string
}

type exampleSpectrum struct{ Name, Address string }

type readStep struct {
	Number  int
	Text    string
	Peaks   []int
	Address string
	Chosen  bool
}

// read unfolds what a spectrum says.
func (s *Server) read(w http.ResponseWriter, r *http.Request) error {
	ask, err := readReadAsk(r)
	page := &readPage{Ask: ask, Endings: strings.Join(file.Endings(), ",")}
	if err == nil && ask.Peaks != "" {
		err = s.fillRead(r.Context(), page)
	} else if err == nil {
		page.Examples, err = s.exampleSpectra(r.Context())
	}
	if page.Problem, err = problemOf(err); err != nil {
		return err
	}
	return s.renderStatus(w, r, page.Problem.status, "read", "/read", "Read", page)
}

// exampleSpectra are spectra to try. They are computed, under names that give
// nothing away.
func (s *Server) exampleSpectra(ctx context.Context) ([]exampleSpectrum, error) {
	var out []exampleSpectrum
	for i, text := range []string{"ethyl propanoate", "1-bromobutane", "pentan-3-one"} {
		p, err := s.predict(ctx, text, usualEV)
		if err != nil {
			return nil, err
		}
		name := fmt.Sprintf("computed spectrum %c", 'A'+i)
		out = append(out, exampleSpectrum{name, readAsk{Peaks: carriedPeaks(p.Spectrum()), Title: name}.Address()})
	}
	return out, nil
}

func (s *Server) fillRead(ctx context.Context, page *readPage) error {
	ask := page.Ask
	typed, r, err := s.readSpectrum(ctx, ask)
	if err != nil {
		return err
	}
	page.Total = len(r.Argument)
	page.Ask.Step = min(ask.Step, page.Total)
	ask = page.Ask
	depth := reading.Full
	if ask.Class {
		depth = reading.Step
	}
	for i, statement := range r.Argument {
		if ask.Class && i >= ask.Step {
			page.More = true
			if ask.Hint {
				page.Next = statement.Text(reading.Hint)
			}
			break
		}
		page.Steps = append(page.Steps, readStep{i + 1, statement.Text(depth), statement.Peaks, ask.At(i + 1), i+1 == ask.Step})
	}
	if !ask.Class {
		page.Reading = &r
	}
	if page.Spectrum, err = showBoth("spectrum", func(narrow bool) (draw.Figure, error) { return readFigure(typed, r, ask, narrow) }, ask.figureAddress); err != nil {
		return badRequest(err)
	}
	if ask.Candidates != "" && !ask.Class {
		s.rank(ctx, page, typed)
	}
	return nil
}

// readFigure draws the spectrum with the peaks of the step; for students
// without words that give anything away.
func readFigure(typed spectrum.Spectrum, r reading.Reading, ask readAsk, narrow bool) (draw.Figure, error) {
	o := plot.Options{Width: wideWidth, Height: wideHeight, Name: ask.Title, Alias: ask.Title}
	if o.Name == "" {
		o.Name, o.Alias = "an unknown", "unknown"
	}
	if narrow {
		o.Width, o.Height, o.Strongest = narrowWidth, narrowHeight, 6
	}
	if ask.Class && ask.Step == 0 {
		o.Mode = plot.Test // later, what the steps say may be seen
	}
	if ask.Step > 0 && ask.Step <= len(r.Argument) {
		for _, mz := range r.Argument[ask.Step-1].Peaks {
			o.Highlight = append(o.Highlight, float64(mz))
		}
	}
	return plot.Spectrum(typed.Unit(), o)
}

func (s *Server) readFigure(w http.ResponseWriter, r *http.Request) error {
	ask, err := readReadAsk(r)
	if err != nil {
		return err
	}
	name := r.PathValue("name")
	if strings.TrimSuffix(name, path.Ext(name)) != "spectrum" {
		return fs.ErrNotExist
	}
	typed, told, err := s.readSpectrum(r.Context(), ask)
	if err != nil {
		return err
	}
	f, err := readFigure(typed, told, ask, false)
	if err != nil {
		return badRequest(err)
	}
	return sendFigure(w, name, f)
}

// readFile takes a spectrum file and leads to the address that reads it.
func (s *Server) readFile(w http.ResponseWriter, r *http.Request) error {
	measured, err := uploaded(r)
	if err != nil {
		return err
	}
	http.Redirect(w, r, readAsk{Peaks: carriedPeaks(measured), Title: measured.Title}.Address(), http.StatusSeeOther)
	return nil
}
