package web

import (
	"fmt"
	"html/template"
	"net/http"
	"strconv"
	"strings"

	"ionwright/spectrum/file"
)

// explained is what the place Explain is asked: everything that its address
// says.
type explained struct {
	Q     string  // SMILES or name
	EV    float64 // energy of the electrons
	Peak  int     // m/z chosen; 0: none
	Bond  int     // bond chosen, 1-based; 0: none
	Peaks string  // measured spectrum; empty: none
	Title string  // of the measured spectrum
}

const lowestEV, highestEV = 10, 100

func readExplained(r *http.Request) (explained, error) {
	v := r.URL.Query()
	e := explained{Q: strings.TrimSpace(v.Get("q")), EV: usualEV, Peaks: strings.TrimSpace(v.Get("peaks")), Title: v.Get("title")}
	if text := v.Get("ev"); text != "" {
		ev, err := strconv.ParseFloat(text, 64)
		if err != nil || !(ev >= lowestEV && ev <= highestEV) {
			return e, badRequest(fmt.Errorf("the energy %q isn't a number of eV from %d to %d", text, lowestEV, highestEV))
		}
		e.EV = ev
	}
	for name, into := range map[string]*int{"peak": &e.Peak, "bond": &e.Bond} {
		if text := v.Get(name); text != "" {
			n, err := strconv.Atoi(text)
			if err != nil || n < 0 {
				return e, badRequest(fmt.Errorf("the %s %q isn't a whole number", name, text))
			}
			*into = n
		}
	}
	return e, nil
}

// Address is where the same can be seen again.
func (e explained) Address() string { return address("/explain", e.parameters()...) }

func (e explained) parameters() [][2]string {
	number := func(n int) string {
		if n == 0 {
			return ""
		}
		return strconv.Itoa(n)
	}
	ev := ""
	if e.EV != usualEV {
		ev = strconv.FormatFloat(e.EV, 'g', -1, 64)
	}
	return [][2]string{{"q", e.Q}, {"ev", ev}, {"peak", number(e.Peak)}, {"bond", number(e.Bond)}, {"peaks", e.Peaks}, {"title", e.Title}}
}

func (e explained) WithPeak(mz int) string { e.Peak, e.Bond = mz, 0; return e.Address() }
func (e explained) WithBond(b int) string  { e.Bond, e.Peak = b, 0; return e.Address() }

func (e explained) figureAddress(name string) string { return e.addressAt("/explain/figure/" + name) }

func (e explained) addressAt(path string) string { return address(path, e.parameters()...) }

// explainPage is what the template shows.
type explainPage struct {
	Ask              explained
	Problem          problem
	Examples         []string
	Endings          string
	Formula          template.HTML
	Mass             int
	Summary          string
	Confidence       string
	Structure        *shownFigure
	Spectrum         *shownFigure
	Breakdown        *shownFigure
	Match            string
	Peaks            []peakRow
	Bonds            []bondRow
	Chosen           *chosenPeak
	ChosenBond       *chosenBond
	BreakdownAddress string
}

// explain shows a structure with its spectrum and the routes to its ions.
func (s *Server) explain(w http.ResponseWriter, r *http.Request) error {
	ask, err := readExplained(r)
	page := &explainPage{Ask: ask, Endings: strings.Join(file.Endings(), ","),
		Examples: []string{"butan-2-one", "toluene", "pentan-1-ol", "1-chlorobutane", "cyclohexene", "CCCC(=O)OC"}}
	if err == nil && ask.Q != "" {
		err = s.fillExplain(r, page)
	}
	if page.Problem, err = problemOf(err); err != nil {
		return err
	}
	title := "Explain"
	if ask.Q != "" {
		title = ask.Q + " – Explain"
	}
	return s.renderStatus(w, r, page.Problem.status, "explain", "/explain", title, page)
}
