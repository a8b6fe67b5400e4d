package web

import (
	"fmt"
	"html/template"
	"net/http"
	"strings"

	"ionwright/draw/plot"
	"ionwright/reading"
	"ionwright/spectrum"
	"ionwright/spectrum/file"
	"ionwright/spectrum/match"
)

// peakRow is a peak of the list beside the spectrum.
type peakRow struct {
	MZ       int
	Percent  string
	Measured string // % of the base peak, where a spectrum was given
	Ion      template.HTML
	Address  string
	Chosen   bool
}

// chosenPeak says everything about one m/z.
type chosenPeak struct {
	MZ      int
	Percent string
	Ions    []chosenIon
	None    string   // why there is no ion, where there is none
	Else    []string // other ions that have this m/z
	Losses  []string // neutrals that the molecular ion could lose to get there
}

type chosenIon struct {
	Formula  template.HTML
	Drawing  *shownFigure // the route; nil where it isn't drawn
	Share    string       // of the ions at this m/z
	Sentence string
}

// fillExplain computes what the page shows.
func (s *Server) fillExplain(r *http.Request, page *explainPage) error {
	figures, err := s.explainedFigures(r.Context(), page.Ask)
	if err != nil {
		return err
	}
	p := figures.prediction
	m := p.MolecularIon()
	neutral := p.Mol.Formula()
	page.Formula, page.Mass = template.HTML(neutral.HTML()), neutral.NominalMass()
	page.Confidence = fmt.Sprintf("Computed by a model: it shows where peaks stand and how they come about; measured heights differ. "+
		"Expect a cosine of about %.1f with a measured spectrum (1 is the same, two measurements reach 0.9).", p.Confidence)
	if len(figures.measured.Peaks) > 0 {
		page.Match = fmt.Sprintf("The cosine of the two spectra is %.2f (square roots of intensities; 1 is the same, two measurements reach 0.9).",
			match.A(figures.measured, figures.computed))
	}
	if page.Structure, err = figures.shownStructure(); err != nil {
		return err
	}
	if page.Spectrum, err = showBoth("spectrum", figures.spectrum, page.Ask.figureAddress); err != nil {
		return badRequest(err)
	}
	page.Spectrum.Controls = "Left and right arrow keys go from peak to peak."
	page.Peaks, page.Bonds = figures.peakRows(), figures.bondRows()
	switch {
	case page.Ask.Peak != 0:
		if page.Chosen, err = figures.chosen(page.Ask.Peak); err != nil {
			return badRequest(err)
		}
	case page.Ask.Bond != 0:
		page.ChosenBond = figures.chosenBond()
	}
	page.BreakdownAddress = page.Ask.addressAt("/explain/breakdown")
	base, _ := figures.computed.Base()
	page.Summary = fmt.Sprintf("%s at %g eV: base peak m/z %s, molecular ion m/z %d (%s %%).",
		page.Ask.Q, page.Ask.EV, plot.MZ(base.MZ, 0), m.MZ, plot.Percent(figures.computed.Relative(m.MZ)))
	return nil
}

func (f *explainedFigures) shownStructure() (*shownFigure, error) {
	figure, err := f.structure()
	if err != nil {
		return nil, err
	}
	return show("structure", figure, f.ask.figureAddress)
}

// peakRows lists the peaks worth choosing, by m/z: what was computed at 1 % and
// more, and what was measured at 5 % and more.
func (f *explainedFigures) peakRows() []peakRow {
	const leastComputed, leastMeasured = 1, 5
	shown := map[int]bool{f.ask.Peak: f.ask.Peak != 0}
	top := 0
	for _, p := range f.computed.AtLeast(leastComputed).Peaks {
		shown[spectrum.UnitMZ(p.MZ)] = true
		top = max(top, spectrum.UnitMZ(p.MZ))
	}
	for _, p := range f.measured.Unit().AtLeast(leastMeasured).Peaks {
		shown[spectrum.UnitMZ(p.MZ)] = true
		top = max(top, spectrum.UnitMZ(p.MZ))
	}
	var rows []peakRow
	for mz := 1; mz <= max(top, f.ask.Peak); mz++ {
		if !shown[mz] {
			continue
		}
		row := peakRow{MZ: mz, Percent: plot.Percent(f.computed.Relative(mz)), Address: f.ask.WithPeak(mz), Chosen: mz == f.ask.Peak}
		if len(f.measured.Peaks) > 0 {
			row.Measured = plot.Percent(f.measured.Relative(mz))
		}
		if ions := f.prediction.At(mz); len(ions) > 0 {
			row.Ion = formulaHTML(ions[0])
		}
		rows = append(rows, row)
	}
	return rows
}

// chosen tells the routes to the ions of one m/z, and what else it could be.
func (f *explainedFigures) chosen(mz int) (*chosenPeak, error) {
	const most, least = 3, 0.03
	c := &chosenPeak{MZ: mz, Percent: plot.Percent(f.computed.Relative(mz))}
	ions := f.prediction.At(mz)
	total := 0.0
	for _, ion := range ions {
		total += ion.Abundance
	}
	known := map[string]bool{}
	for i, ion := range ions {
		known[ion.Formula.String()] = true
		if i >= most || i > 0 && ion.Abundance < least*total {
			continue
		}
		one := chosenIon{Formula: formulaHTML(ion), Sentence: f.prediction.Sentence(ion)}
		if ion.ID != f.prediction.MolecularIon().ID {
			var err error
			if one.Drawing, err = f.shownRoute(i, ion); err != nil {
				return nil, err
			}
		}
		if len(ions) > 1 {
			one.Share = plot.Percent(100*ion.Abundance/total) + " % of the ions at this m/z"
		}
		c.Ions = append(c.Ions, one)
	}
	if len(ions) == 0 {
		c.None = f.unexplained(mz)
	}
	const others = 8
	for _, a := range reading.Assignments(mz) {
		if known[a.Formula.String()] || len(c.Else) == others {
			continue
		}
		text := a.Formula.Unicode()
		for _, more := range []string{a.Name, a.Context} {
			if more != "" {
				text += ", " + more
			}
		}
		c.Else = append(c.Else, text)
	}
	if lost := f.prediction.MolecularIon().MZ - mz; lost > 0 {
		for _, l := range reading.Losses(lost) {
			c.Losses = append(c.Losses, strings.TrimSpace(l.Formula.Unicode()+" "+l.Name))
		}
	}
	return c, nil
}

// unexplained says why no ion has this m/z.
func (f *explainedFigures) unexplained(mz int) string {
	for above := 1; above <= 4; above++ {
		if ions := f.prediction.At(mz - above); len(ions) > 0 && f.computed.At(mz) > 0 {
			return fmt.Sprintf("An isotope peak: ions of m/z %d in which heavier isotopes add %d.", mz-above, above)
		}
	}
	return "The model finds no ion of this structure at this m/z."
}

// explainFile takes a spectrum file and leads to the address that shows it
// beside the computed one.
func (s *Server) explainFile(w http.ResponseWriter, r *http.Request) error {
	ask := explained{Q: strings.TrimSpace(r.PostFormValue("q")), EV: usualEV}
	measured, err := uploaded(r)
	if err != nil {
		return err
	}
	ask.Peaks, ask.Title = carriedPeaks(measured), measured.Title
	http.Redirect(w, r, ask.Address(), http.StatusSeeOther)
	return nil
}

// uploaded is the spectrum of the file that a form brings.
func uploaded(r *http.Request) (spectrum.Spectrum, error) {
	in, header, err := r.FormFile("file")
	if err != nil {
		if strings.Contains(err.Error(), "request body too large") {
			return spectrum.Spectrum{}, &http.MaxBytesError{Limit: maxBody}
		}
		return spectrum.Spectrum{}, badRequest(fmt.Errorf("no file came with the form: choose one that ends with %s", strings.Join(file.Endings(), ", ")))
	}
	defer in.Close()
	all, err := file.ReadAll(header.Filename, in)
	if err != nil {
		return spectrum.Spectrum{}, badRequest(err)
	}
	if len(all) == 0 {
		return spectrum.Spectrum{}, badRequest(fmt.Errorf("%q holds no spectrum", header.Filename))
	}
	first, err := checkedPeaks(all[0], nil)
	const longest = 80
	if title := []rune(first.Title); len(title) > longest {
		first.Title = string(title[:longest])
	}
	return first, err
}
