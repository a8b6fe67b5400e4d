package source

import (
	"fmt"

	"ionwright/lesson/diag"
)

// uses takes the compounds and instruments over that the front matter names
// from other files, so that several lessons can share them:
//
//	uses:
//	  shared/store.yaml: [solvent, hollyhock]
func (p *reader) uses(f fields) {
	for _, e := range f.entries("uses") {
		one := fields{what: "\"uses\"", at: e.key.Place(), have: []entry{e}, diags: &p.diags}
		wanted := one.texts(e.key.Value)
		if !insideLesson(e.key.Value) {
			p.diags.Add(diag.New(diag.OutsidePath, e.key.Place(), "%q is outside of the lesson's folder", e.key.Value).
				Suggesting("name a file of the folder, or one in the folder \"shared\" of the course"))
			continue
		}
		t, ok := p.file(e.key.Value, e.key.Place())
		if !ok {
			continue
		}
		v, ok := readYAML(t, &p.diags)
		if !ok {
			continue
		}
		shared := fieldsOf(fmt.Sprintf("the file %q", e.key.Value), t.Span(0, 0), v, &p.diags, "compounds", "instruments")
		if !shared.wrong {
			p.take(shared, wanted)
		}
	}
}

// take adds the named compounds and instruments of a shared file to the lesson.
func (p *reader) take(shared fields, wanted []Text) {
	compounds, instruments := shared.entries("compounds"), shared.entries("instruments")
	var names []string
	for _, e := range append(compounds[:len(compounds):len(compounds)], instruments...) {
		names = append(names, e.key.Value)
	}
next:
	for _, name := range wanted {
		for i, e := range append(compounds[:len(compounds):len(compounds)], instruments...) {
			if e.key.Value != name.Value {
				continue
			}
			switch {
			case !p.name("compound or instrument", name, p.lesson.used()):
			case i < len(compounds):
				p.lesson.Compounds = append(p.lesson.Compounds, p.compound(e))
			default:
				p.lesson.Instruments = append(p.lesson.Instruments, p.instrument(e))
			}
			continue next
		}
		d := diag.New(diag.UnknownName, name.Place(), "%s has no compound or instrument %q", shared.what, name.Value)
		if near, ok := diag.Nearest(name.Value, names); ok {
			d = d.Suggesting("did you mean %q?", near)
		}
		p.diags.Add(d)
	}
}
