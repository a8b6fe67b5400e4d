package web

import (
	"bytes"
	"embed"
	"encoding/json"
	"errors"
	"html/template"
	"net/http"
	"net/url"
	"strings"

	"ionwright/chem"
	"ionwright/draw"
	"ionwright/draw/plot"
)

//go:embed page/*.html
var pageFiles embed.FS

var errNotMade = errors.New("the computation broke off")

// place is one of the places of the application.
type place struct {
	Path, Name, Does string
}

// places is the visible list, in the order of the navigation.
func places() []place {
	return []place{
		{"/explain", "Explain", "From a structure to its spectrum: which peaks, by which routes."},
		{"/demonstrate", "Demonstrate", "The magnetic sector to scale, with ions in flight and the trace as it grows."},
		{"/read", "Read", "A spectrum alone, clue by clue: molecular ion, losses, formulas, candidates."},
		{"/write", "Write", "Lessons whose numbers are computed and checked while you write."},
		{"/practise", "Practise", "A lesson's questions, answered and marked on the page."},
	}
}

// page is what every template gets.
type page struct {
	Title   string
	Place   string // path of the place it belongs to, or ""
	Places  []place
	Theme   string // "light", "dark" or "" for the device's
	Locked  bool   // a password is asked for, so one can log out
	Nonce   string // of styles that a library brings; "" where none does
	Content any
}

func (s *Server) parsePages() (*template.Template, error) {
	return template.New("").Funcs(template.FuncMap{
		"asset": s.assets.path,
		"mz":    italicMZ,
		"join":  strings.Join,
		"add":   func(a, b int) int { return a + b },
		"dict":  dict,
		// Probabilities and shares are 0 to 1 in the values and % on the page.
		"chance":  func(p float64) string { return plot.Percent(100*p) + " %" },
		"percent": func(p float64) string { return plot.Percent(100*p) + " %" },
		"formula": func(f chem.Formula) template.HTML { return template.HTML(f.HTML()) },
		"json": func(v any) (string, error) {
			text, err := json.Marshal(v)
			return string(text), err
		},
	}).ParseFS(pageFiles, "page/*.html")
}

// dict makes a map of names and values, for templates within templates.
func dict(pairs ...any) (map[string]any, error) {
	out := map[string]any{}
	for i := 0; i+1 < len(pairs); i += 2 {
		name, ok := pairs[i].(string)
		if !ok {
			return nil, errors.New("a name isn't text")
		}
		out[name] = pairs[i+1]
	}
	return out, nil
}

func (s *Server) pageOf(r *http.Request, place, title string) page {
	p := page{Title: title, Place: place, Places: places(), Locked: s.sessions.hash != nil && s.sessions.allowed(r)}
	if cookie, err := r.Cookie("ionwright-theme"); err == nil && (cookie.Value == "light" || cookie.Value == "dark") {
		p.Theme = cookie.Value
	}
	return p
}

// render writes a page, whole or not at all.
func (s *Server) render(w http.ResponseWriter, r *http.Request, name, place, title string, content any) error {
	return s.renderStatus(w, r, http.StatusOK, name, place, title, content)
}

// renderStatus is render with another status than OK.
func (s *Server) renderStatus(w http.ResponseWriter, r *http.Request, status int, name, place, title string, content any) error {
	p := s.pageOf(r, place, title)
	p.Content = content
	return s.renderPage(w, status, name, p)
}

func (s *Server) renderPage(w http.ResponseWriter, status int, name string, p page) error {
	var out bytes.Buffer
	if err := s.pages.ExecuteTemplate(&out, name, p); err != nil {
		return err
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	_, _ = w.Write(out.Bytes())
	return nil
}

// problem is what is wrong with a question, for the page that it was asked on.
type problem struct {
	status     int
	Says, Hint string
}

// problemOf takes a planned failure apart. Any other error is returned.
func problemOf(err error) (problem, error) {
	var planned *failure
	switch {
	case err == nil:
		return problem{status: http.StatusOK}, nil
	case !errors.As(err, &planned):
		return problem{}, err
	}
	p := problem{status: planned.status}
	p.Says, p.Hint, _ = strings.Cut(planned.Error(), "\nhint: ")
	return p, nil
}

// writeJSON answers a module.
func writeJSON(w http.ResponseWriter, v any) error {
	text, err := json.Marshal(v)
	if err != nil {
		return err
	}
	w.Header().Set("Content-Type", "application/json")
	_, _ = w.Write(text)
	return nil
}

// italicMZ sets every "m/z" of a text in italics.
func italicMZ(text string) template.HTML {
	var out strings.Builder
	for _, run := range draw.Words(text) {
		escaped := template.HTMLEscapeString(run.Text)
		if run.Italic {
			escaped = "<i>" + escaped + "</i>"
		}
		out.WriteString(escaped)
	}
	return template.HTML(out.String())
}

// address is a path with those of its parameters that aren't empty, in order.
func address(path string, parameters ...[2]string) string {
	var parts []string
	for _, p := range parameters {
		if p[1] != "" {
			parts = append(parts, url.QueryEscape(p[0])+"="+url.QueryEscape(p[1]))
		}
	}
	if len(parts) == 0 {
		return path
	}
	return path + "?" + strings.Join(parts, "&")
}
