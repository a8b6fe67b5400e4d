package source

import (
	"strings"

	"ionwright/lesson/diag"
)

// Term is a row of the glossary.
type Term struct {
	Word    Text
	Meaning Text // Markdown, which may hold values
	Shown   bool // a glossary block lists it
}

// glossary reads the terms of the front matter.
func (p *reader) glossary(f fields) {
	seen := map[string]bool{}
	for _, e := range f.entries("glossary") {
		word := strings.ToLower(strings.TrimSpace(e.key.Value))
		switch {
		case e.value.shape != scalar || e.value.text.Trimmed().Value == "":
			p.diags.Add(diag.New(diag.WrongType, e.key.Place(), "the term %q needs its meaning", e.key.Value).
				Suggesting("write %s: what it means", e.key.Value))
			continue
		case seen[word]:
			p.diags.Add(diag.New(diag.Duplicate, e.key.Place(), "the term %q stands in the glossary twice", e.key.Value))
			continue
		}
		seen[word] = true
		p.lesson.Glossary = append(p.lesson.Glossary, Term{Word: e.key.Trimmed(), Meaning: e.value.text.Trimmed()})
	}
}

// glossaryBlock puts terms with their meanings here, as a list in the order of
// the front matter: those that are named, or all.
func (p *reader) glossaryBlock(f fields, at place) Block {
	f.require("terms")
	list := []Text{}
	for _, t := range f.texts("terms") {
		if t.Value == "all" && len(f.texts("terms")) == 1 {
			list = nil
			break
		}
		if p.knownTerm(t) {
			list = append(list, t)
		}
	}
	var parts []Text
	for i := range p.lesson.Glossary {
		term := &p.lesson.Glossary[i]
		if list != nil && !named(list, term.Word.Value) {
			continue
		}
		term.Shown = true
		parts = append(parts, between(term.Word, "- **"), term.Word, between(term.Word, ":** "), term.Meaning.oneLine(), between(term.Meaning, "\n"))
	}
	if list == nil && len(p.lesson.Glossary) == 0 {
		p.diags.Add(diag.New(diag.MissingKey, at.span, "the lesson has no terms to show").Suggesting("add glossary: to the front matter, with a row for each term"))
	}
	if len(parts) == 0 {
		return &Include{place: at, Prose: p.nothing(at)}
	}
	return &Include{place: at, Prose: p.prose(concat(parts), false)}
}

func named(list []Text, word string) bool {
	for _, t := range list {
		if strings.EqualFold(t.Value, word) {
			return true
		}
	}
	return false
}

// knownTerm reports a name that isn't a term of the glossary.
func (p *reader) knownTerm(t Text) bool {
	var words []string
	for _, term := range p.lesson.Glossary {
		if strings.EqualFold(term.Word.Value, t.Value) {
			return true
		}
		words = append(words, term.Word.Value)
	}
	d := diag.New(diag.UnknownName, t.Place(), "there is no term %q in the glossary", t.Value)
	if near, ok := diag.Nearest(t.Value, words); ok {
		d = d.Suggesting("did you mean %q?", near)
	} else if len(words) > 0 {
		d = d.Suggesting("the glossary has %s", diag.Quoted(words, 20))
	}
	p.diags.Add(d)
	return false
}

// nothing is prose without words at a block's place.
func (p *reader) nothing(at place) *Prose {
	return p.prose(Text{file: at.span.File, marks: []mark{{0, at.span.Line, at.span.Col}}}, false)
}

// between is text of the program's own that stands where t does.
func between(t Text, s string) Text {
	line, col := t.at(0)
	return Text{Value: s, file: t.file, marks: []mark{{0, line, col}}}
}

// oneLine is the text with spaces for its line breaks, so that it is one point
// of a list.
func (t Text) oneLine() Text {
	t.Value = strings.ReplaceAll(t.Value, "\n", " ")
	return t
}

// concat puts texts of one file one after another.
func concat(parts []Text) Text {
	out := Text{}
	var b strings.Builder
	for _, t := range parts {
		if out.file == "" {
			out.file = t.file
		}
		for _, m := range t.marks {
			out.marks = append(out.marks, mark{b.Len() + m.offset, m.line, m.col})
		}
		b.WriteString(t.Value)
	}
	out.Value = b.String()
	return out
}
