package web

import (
	"bytes"
	"errors"
	"fmt"
	"html/template"
	"io/fs"
	"net/http"
	"path"
	"sync"

	"ionwright/draw"
	"ionwright/draw/pdf"
	"ionwright/draw/png"
	"ionwright/draw/svg"
)

// shownFigure is a figure as a page shows it: the drawing, its words, its data
// as a table, and where it can be had as a file.
type shownFigure struct {
	ID       string
	Drawing  template.HTML
	Small    template.HTML // the same for a narrow window; may be empty
	Caption  string
	Words    string
	Table    draw.Table
	Exports  []export
	Controls string // what keys do on it; empty for a figure that is only looked at
}

type export struct{ Name, Address string }

// exportFormats are the files that a figure can be had as.
func exportFormats() []string { return []string{"SVG", "PNG", "PDF"} }

// show draws a figure into a page. exports, where it isn't empty, is the
// address of its files without the ending.
func show(id string, f draw.Figure, exports func(name string) string) (*shownFigure, error) {
	text, err := svg.Marshal(f, svg.Options{LinkFont: true, LinkColors: true, Transparent: true, Prefix: id})
	if err != nil {
		return nil, err
	}
	// Drawings are written by our own encoder, which escapes every text.
	out := &shownFigure{ID: id, Drawing: template.HTML(text), Caption: f.Title, Words: f.Description, Table: f.Table}
	if f.Detail != "" {
		out.Words += " " + f.Detail
	}
	if exports != nil {
		for _, format := range exportFormats() {
			out.Exports = append(out.Exports, export{format, exports(fileName(id, format))})
		}
	}
	return out, nil
}

// showBoth is show with a second drawing for narrow windows, in which the same
// letters stay readable. The two are drawn side by side.
func showBoth(id string, make func(narrow bool) (draw.Figure, error), exports func(name string) string) (*shownFigure, error) {
	var small []byte
	var smallErr error
	var side sync.WaitGroup
	side.Go(func() {
		var f draw.Figure
		if f, smallErr = make(true); smallErr == nil {
			small, smallErr = svg.Marshal(f, svg.Options{LinkFont: true, LinkColors: true, Transparent: true, Prefix: "narrow-" + id})
		}
	})
	out, err := drawn(id, make, exports)
	side.Wait()
	if err = errors.Join(err, smallErr); err != nil {
		return nil, err
	}
	out.Small = template.HTML(small)
	return out, nil
}

// drawn is the drawing for wide windows.
func drawn(id string, make func(narrow bool) (draw.Figure, error), exports func(name string) string) (*shownFigure, error) {
	f, err := make(false)
	if err != nil {
		return nil, err
	}
	return show(id, f, exports)
}

func fileName(id, format string) string {
	return id + map[string]string{"SVG": ".svg", "PNG": ".png", "PDF": ".pdf"}[format]
}

// sendFigure answers with a figure as the file that the name's ending asks
// for.
func sendFigure(w http.ResponseWriter, name string, f draw.Figure) error {
	var out bytes.Buffer
	var kind string
	var err error
	switch path.Ext(name) {
	case ".svg":
		kind, err = "image/svg+xml", svg.Write(&out, f, svg.Options{})
	case ".png":
		kind, err = "image/png", png.Write(&out, f, png.Options{})
	case ".pdf":
		kind, err = "application/pdf", pdf.Write(&out, []draw.Figure{f}, pdf.Options{})
	default:
		return fs.ErrNotExist
	}
	if err != nil {
		return fmt.Errorf("writing the figure: %w", err)
	}
	h := w.Header()
	h.Set("Content-Type", kind)
	// An SVG that is opened by itself brings its style and font inside.
	h.Set("Content-Security-Policy", "default-src 'none'; style-src 'unsafe-inline'; font-src data:; sandbox")
	h.Set("Content-Disposition", fmt.Sprintf("attachment; filename=%q", name))
	_, _ = w.Write(out.Bytes())
	return nil
}
