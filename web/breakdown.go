package web

import (
	"context"
	"fmt"
	"html/template"
	"net/http"
	"slices"
	"strings"

	"ionwright/draw"
	"ionwright/draw/plot"
	"ionwright/ionize"
	"ionwright/mol"
)

type curveKey struct{ text string }

// curves are the relative intensities of a structure's main ions against the
// energy of the electrons.
type curves struct {
	energies []float64
	series   []plot.Series
}

// breakdownEnergies are where the curves are computed, in eV: close together
// where they change.
var breakdownEnergies = []float64{10, 11, 12, 13, 14, 15, 16, 18, 20, 22, 25, 30, 35, 40, 50, 60, 70, 85, 100}

// lowestCurve is the m/z below which nothing was fitted, as in computed
// spectra.
const lowestCurve = 26

// mostCurves of a figure; more can't be told apart.
const mostCurves = 7

// breakdownCurves computes the curves of a structure, or remembers them.
func (s *Server) breakdownCurves(ctx context.Context, text string) (*curves, error) {
	text = strings.TrimSpace(text)
	return s.curves.get(curveKey{text}, func() (c *curves, err error) {
		m, err := molecule(text)
		if err != nil {
			return nil, err
		}
		err = s.heavy(ctx, func() error {
			c, err = curvesOf(ctx, m)
			return err
		})
		if err != nil && ctx.Err() == nil {
			return nil, badRequest(err)
		}
		return c, err
	})
}

// curvesOf computes the structure at each energy above its ionization energy.
// The curves are of the peaks that are the strongest at some energy or other.
func curvesOf(ctx context.Context, m *mol.Mol) (*curves, error) {
	threshold, err := ionize.Threshold(m)
	if err != nil {
		return nil, err
	}
	c := &curves{energies: slices.DeleteFunc(slices.Clone(breakdownEnergies), func(eV float64) bool { return eV <= threshold })}
	b, err := ionize.BreakDown(ctx, m, c.energies)
	if err != nil {
		return nil, err
	}
	shares, highest := make([]map[int]float64, len(c.energies)), map[int]float64{} // by m/z, in % of all ions
	for k := range c.energies {
		at, total := map[int]float64{}, 0.0
		for i, ion := range b.Ions {
			if ion.MZ >= lowestCurve {
				at[ion.MZ] += b.Shares[i][k]
				total += b.Shares[i][k]
			}
		}
		for mz := range at {
			at[mz] *= 100 / total
			highest[mz] = max(highest[mz], at[mz])
		}
		shares[k] = at
	}
	var mzs []int
	for mz := range highest {
		mzs = append(mzs, mz)
	}
	slices.SortFunc(mzs, func(a, b int) int {
		if highest[a] != highest[b] {
			if highest[a] > highest[b] {
				return -1
			}
			return 1
		}
		return a - b
	})
	mzs = mzs[:min(len(mzs), mostCurves)]
	slices.Sort(mzs)
	for _, mz := range mzs {
		series := plot.Series{Name: "m/z " + plot.MZ(float64(mz), 0), X: c.energies}
		for i := range c.energies {
			series.Y = append(series.Y, shares[i][mz])
		}
		c.series = append(c.series, series)
	}
	return c, nil
}

// breakdown draws the curves, with a mark at the energy that is asked for.
func (s *Server) breakdown(ctx context.Context, ask explained, narrow bool) (draw.Figure, error) {
	c, err := s.breakdownCurves(ctx, ask.Q)
	if err != nil {
		return draw.Figure{}, err
	}
	o := plot.LinesOptions{Width: 720, Height: 320, Title: "Breakdown of " + strings.TrimSpace(ask.Q),
		XTitle: draw.Plain("energy of the electrons (eV)"), YTitle: draw.Words("share of the ions from m/z 26 on (%)")}
	if narrow {
		o.Width, o.Height = narrowWidth, narrowHeight
	}
	o.Marks = []plot.Mark{{X: min(ask.EV, c.energies[len(c.energies)-1]), Text: draw.Plain(fmt.Sprintf("%g eV", ask.EV)), Dot: true}}
	return plot.Lines(c.series, o)
}

// breakdownPart answers with the figure alone, which takes longer than the
// page and comes after it.
func (s *Server) breakdownPart(w http.ResponseWriter, r *http.Request) error {
	ask, err := readExplained(r)
	if err != nil {
		return err
	}
	f, err := showBoth("breakdown", func(narrow bool) (draw.Figure, error) { return s.breakdown(r.Context(), ask, narrow) }, ask.figureAddress)
	if err != nil {
		return err
	}
	return s.renderPage(w, http.StatusOK, "part", page{Content: f})
}

// formulaHTML sets a formula. Its text needs no escaping.
func formulaHTML(ion ionize.Ion) template.HTML {
	var out strings.Builder
	for _, run := range ionText(ion) {
		text := template.HTMLEscapeString(run.Text)
		switch run.Script {
		case draw.Sub:
			text = "<sub>" + text + "</sub>"
		case draw.Super:
			text = "<sup>" + text + "</sup>"
		}
		out.WriteString(text)
	}
	return template.HTML(out.String())
}
