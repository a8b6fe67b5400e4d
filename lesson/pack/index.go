package pack

import (
	"bytes"
	"html/template"
	"slices"
)

// indexData is what the list of files is filled with.
type indexData struct {
	Title    string
	CSP      string
	Style    template.CSS
	Students []Entry
	Rest     []Entry
	PDF      bool // the pack holds PDF files
}

// index writes the page that lists all files of the pack, for the instructor.
func (b *builder) index(all []Entry) ([]byte, error) {
	data := indexData{Title: b.report.Source.Title.Value, CSP: cspMark, Style: template.CSS("\n" + paletteCSS() + pageStyle)}
	for _, e := range all {
		switch {
		case e.Name == Index:
		case e.Students:
			data.Students = append(data.Students, e)
		default:
			data.Rest = append(data.Rest, e)
		}
	}
	data.PDF = slices.ContainsFunc(all, func(e Entry) bool { return e.Name == KeyPDF })
	tmpl, err := template.New("page").Funcs(template.FuncMap{"mz": b.said}).Parse(pageTemplate)
	if err != nil {
		return nil, err
	}
	var out bytes.Buffer
	if err := tmpl.ExecuteTemplate(&out, "index", data); err != nil {
		return nil, err
	}
	return withPolicy(out.Bytes(), false), nil
}
