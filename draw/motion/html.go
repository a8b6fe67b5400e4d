package motion

import (
	"bytes"
	_ "embed"
	"html/template"

	"ionwright/draw"
	"ionwright/sector"
)

//go:embed page.html
var page string

// HTML returns the animation as one page with a button that stops it, a slider
// over its time, what it shows in words and as a table, and the caution. It
// needs no server. Where the reader's device asks for less motion it doesn't
// start by itself.
func (f *Film) HTML() ([]byte, error) {
	text, err := f.document()
	if err != nil {
		return nil, err
	}
	t, err := template.New("page").Parse(page)
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	err = t.Execute(&out, struct {
		Title, Description, Detail, Caution string
		SVG                                 template.HTML
		Table                               draw.Table
		Duration                            float64
	}{f.figure.Title, f.figure.Description, f.figure.Detail, sector.Caution, template.HTML(text), f.figure.Table, f.duration})
	return out.Bytes(), err
}
