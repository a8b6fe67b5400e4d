package source

import (
	"io/fs"
	"strings"

	"ionwright/lesson/diag"
)

// Audience is a group of students for whom the lesson has its own alternatives.
type Audience struct {
	Key  Text
	Name Text // what the pages say
}

// forAudience is a lesson's folder as one audience is to get it.
type forAudience struct {
	fs.FS
	key string
}

// ForAudience gives a lesson's files as the named audience is to get them: Parse
// keeps what is for that audience. Without it, Parse takes the first.
func ForAudience(fsys fs.FS, key string) fs.FS {
	if a, ok := fsys.(forAudience); ok {
		fsys = a.FS
	}
	return forAudience{fsys, key}
}

// AudienceOf is the audience that files were chosen for, and false where none
// was.
func AudienceOf(fsys fs.FS) (key string, chosen bool) {
	a, ok := fsys.(forAudience)
	return a.key, ok
}

// audiences reads the audiences and which one this reading is for.
func (p *reader) audiences(f fields) {
	l := p.lesson
	var keys []string
	for _, e := range f.entries("audiences") {
		if e.value.shape != scalar || e.value.text.Trimmed().Value == "" {
			p.diags.Add(diag.New(diag.WrongType, e.key.Place(), "the audience %q needs the words by which pages name it", e.key.Value).
				Suggesting("write %s: first-year students", e.key.Value))
			continue
		}
		var taken []Text
		for _, a := range l.Audiences {
			taken = append(taken, a.Key)
		}
		if p.name("audience", e.key, taken) {
			l.Audiences = append(l.Audiences, Audience{e.key, e.value.text.Trimmed()})
			keys = append(keys, e.key.Value)
		}
	}
	if len(l.Audiences) > 0 && !l.Audience.IsZero() {
		p.diags.Add(diag.New(diag.WrongType, l.Audience.Place(), "the lesson has both \"audience\" and \"audiences\"").
			Suggesting("leave \"audience\" out: each of the audiences has its own words"))
	}
	key, chosen := AudienceOf(p.fsys)
	for _, a := range l.Audiences {
		if !chosen || a.Key.Value == key {
			p.audience, l.Audience = a.Key.Value, a.Name
			return
		}
	}
	if chosen {
		d := diag.New(diag.UnknownName, f.at, "the lesson has no audience %q", key)
		if near, ok := diag.Nearest(key, keys); ok {
			d = d.Suggesting("did you mean %q?", near)
		} else if len(keys) > 0 {
			d = d.Suggesting("it has %s", diag.Quoted(keys, 20))
		} else {
			d = d.Suggesting("add audiences: to its front matter")
		}
		p.diags.Add(d)
	}
}

// only puts text or a file here for some of the audiences; for the others there
// is nothing here.
func (p *reader) only(f fields, at place) Block {
	f.require("audience")
	says, file := f.text("says"), f.text("file")
	switch {
	case f.wrong:
	case says.IsZero() && file.IsZero():
		p.diags.Add(diag.New(diag.MissingKey, at.span, "this only block needs \"says\" or \"file\"").
			Suggesting("write says: the text for this audience, or file: a Markdown file, which may hold blocks"))
	case !says.IsZero() && !file.IsZero():
		p.diags.Add(diag.New(diag.WrongType, file.Place(), "this only block can't have both \"says\" and \"file\"").Suggesting("leave one of them out"))
	}
	wanted := false
	for _, t := range f.texts("audience") {
		if p.knownAudience(t) {
			wanted = wanted || t.Value == p.audience
		}
	}
	b := &Include{place: at, File: file}
	switch {
	case !wanted:
		b.Prose = p.nothing(at)
	case !says.IsZero():
		b.Prose = p.prose(says, false)
	case !file.IsZero():
		p.include(b)
	}
	return b
}

// knownAudience reports a name that isn't one of the lesson's audiences.
func (p *reader) knownAudience(t Text) bool {
	var keys []string
	for _, a := range p.lesson.Audiences {
		if a.Key.Value == t.Value {
			return true
		}
		keys = append(keys, a.Key.Value)
	}
	d := diag.New(diag.UnknownName, t.Place(), "there is no audience %q", t.Value)
	if near, ok := diag.Nearest(t.Value, keys); ok {
		d = d.Suggesting("did you mean %q?", near)
	} else if len(keys) > 0 {
		d = d.Suggesting("the lesson has %s", strings.Join(keys, ", "))
	} else {
		d = d.Suggesting("add audiences: to the front matter, with a row for each: %s: what the pages call it", t.Value)
	}
	p.diags.Add(d)
	return false
}
