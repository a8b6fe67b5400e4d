package source

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"ionwright/lesson/diag"
	"ionwright/lesson/notation"
)

// nameForm is what a compound, idea, instrument, figure or question may be
// called: a name that expressions can use as it stands.
var nameForm = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9_]*$`)

// reserved are the words that CEL keeps for itself.
var reserved = map[string]bool{
	"true": true, "false": true, "null": true, "in": true, "as": true, "break": true, "const": true, "continue": true,
	"else": true, "for": true, "function": true, "if": true, "import": true, "let": true, "loop": true,
	"package": true, "namespace": true, "return": true, "var": true, "void": true, "while": true,
}

// frontMatter reads the lesson's YAML header, and reports false where that
// isn't YAML with keys.
func (p *reader) frontMatter(t Text) bool {
	v, ok := readYAML(t, &p.diags)
	if !ok {
		return false
	}
	at := t.Span(0, 0)
	f := fieldsOf("the front matter", at, v, &p.diags,
		"title", "audience", "audiences", "author", "license", "pace", "notation", "uses", "compounds", "ideas", "hooks", "glossary", "reading", "instruments")
	f.require("title")
	l := p.lesson
	l.Title, l.Audience, l.Author, l.License = f.text("title"), f.text("audience"), f.text("author"), f.text("license")
	l.Pace = p.pace(f.text("pace"))
	p.audiences(f)
	l.Notation = p.notation(f)
	l.Reading = p.reading(f)
	p.uses(f)
	if len(l.Compounds) == 0 {
		f.require("compounds")
	}
	for _, e := range f.entries("compounds") {
		if p.name("compound", e.key, l.used()) {
			l.Compounds = append(l.Compounds, p.compound(e))
		}
	}
	for _, e := range f.entries("instruments") {
		if p.name("instrument", e.key, l.used()) {
			l.Instruments = append(l.Instruments, p.instrument(e))
		}
	}
	for _, e := range f.entries("ideas") {
		if e.value.shape != scalar || e.value.text.Trimmed().Value == "" {
			p.diags.Add(diag.New(diag.WrongType, e.key.Place(), "the idea %q needs a sentence", e.key.Value))
			continue
		}
		if p.name("idea", e.key, nil) {
			l.Ideas = append(l.Ideas, Idea{Key: e.key, Statement: p.prose(e.value.text.Trimmed(), false)})
		}
	}
	p.glossary(f)
	for _, e := range f.entries("hooks") {
		if h := p.hook(e); h.Says != nil {
			l.Hooks = append(l.Hooks, h)
		}
	}
	return v.shape == mapping
}

// used are the names that expressions already know.
func (l *Lesson) used() []Text {
	var names []Text
	for _, c := range l.Compounds {
		names = append(names, c.Key)
	}
	for _, i := range l.Instruments {
		names = append(names, i.Key)
	}
	return names
}

// name checks the form of a name and that it isn't taken.
func (p *reader) name(what string, key Text, taken []Text) bool {
	if !nameForm.MatchString(key.Value) || reserved[key.Value] {
		p.diags.Add(diag.New(diag.BadName, key.Place(), "%q can't be the name of the %s", key.Value, what).
			Suggesting("use letters, digits and underscores, beginning with a letter, and no word of the expression language"))
		return false
	}
	for _, t := range taken {
		if t.Value == key.Value {
			p.diags.Add(diag.New(diag.Duplicate, key.Place(), "the name %q is taken (line %d)", key.Value, t.Place().Line))
			return false
		}
	}
	return true
}

func (p *reader) pace(t Text) int {
	if t.IsZero() {
		return 0
	}
	const slowest, fastest = 40, 300 // words a minute; common practice, no source
	n, err := strconv.Atoi(t.Value)
	if err != nil || n < slowest || n > fastest {
		p.diags.Add(diag.New(diag.WrongType, t.Place(), "the pace must be %d to %d words a minute, not %q", slowest, fastest, t.Value))
		return 0
	}
	return n
}

// notation is a profile's name, or the name with keys that change it.
func (p *reader) notation(f fields) notation.Profile {
	v, ok := f.get("notation")
	if !ok || v.shape == empty {
		return notation.Profile{}
	}
	name, dot := v.text.Trimmed(), Text{}
	var g fields
	if v.shape != scalar {
		g = fieldsOf("the notation", f.at, v, &p.diags, "profile", "dot")
		name, dot = g.text("profile"), g.text("dot")
	}
	profile, ok := notation.Named(name.Value)
	if !ok {
		d := diag.New(diag.WrongType, name.Place(), "there is no notation %q", name.Value)
		if near, ok := diag.Nearest(name.Value, notation.Names()); ok {
			d = d.Suggesting("did you mean %q?", near)
		} else {
			d = d.Suggesting("the profiles are %s", strings.Join(notation.Names(), ", "))
		}
		p.diags.Add(d)
	}
	if !dot.IsZero() {
		profile = profile.WithDot(g.truth("dot"))
	}
	return profile
}

func (p *reader) compound(e entry) Compound {
	c := Compound{Key: e.key}
	if e.value.shape == scalar {
		c.SMILES, c.Bare = e.value.text.Trimmed(), true
		return c
	}
	f := fieldsOf(fmt.Sprintf("the compound %q", e.key.Value), e.key.Place(), e.value, &p.diags, "smiles", "named", "drawn", "name", "measured", "computed", "unknown", "known", "accept",
		"origin", "license", "permission")
	c.SMILES, c.Named, c.Drawn = p.oneStructure(f, e.key.Value)
	c.Name, c.Measured, c.Computed = f.text("name"), f.text("measured"), f.truth("computed")
	c.Unknown, c.Known, c.Accept = f.text("unknown"), f.texts("known"), f.text("accept")
	c.Origin, c.License, c.Permission = f.text("origin"), f.text("license"), f.text("permission")
	switch c.Unknown.Value {
	case "", "formula", "mass", "spectrum":
	default:
		p.diags.Add(diag.New(diag.WrongType, c.Unknown.Place(), "what students are told of the unknown %q can't be %q", e.key.Value, c.Unknown.Value).
			Suggesting("write formula, mass, or spectrum where they have nothing else"))
		c.Unknown = Text{}
	}
	if t := f.text("computed"); c.Computed && !c.Measured.IsZero() {
		p.diags.Add(diag.New(diag.WrongType, t.Place(), "the spectrum of %q can't be both measured and computed", e.key.Value).
			Suggesting("leave one of the two keys out"))
	}
	return c
}

// oneStructure reads how a compound's structure is given; it must be given in
// one way.
func (p *reader) oneStructure(f fields, key string) (smiles, named, drawn Text) {
	smiles, named, drawn = f.text("smiles"), f.text("named"), f.text("drawn")
	var given []Text
	for _, t := range []Text{smiles, named, drawn} {
		if !t.IsZero() {
			given = append(given, t)
		}
	}
	switch {
	case f.wrong:
	case len(given) == 0:
		p.diags.Add(diag.New(diag.MissingKey, f.at, "the compound %q needs its structure", key).
			Suggesting("write smiles: CCC(C)=O, or named: butan-2-one, or drawn: file.mol"))
	case len(given) > 1:
		p.diags.Add(diag.New(diag.WrongType, given[1].Place(), "the structure of %q is given in two ways", key).
			Suggesting("leave one of smiles, named and drawn out"))
		if !smiles.IsZero() {
			named = Text{}
		}
		drawn = Text{}
	}
	return smiles, named, drawn
}

func (p *reader) instrument(e entry) Instrument {
	f := fieldsOf(fmt.Sprintf("the instrument %q", e.key.Value), e.key.Place(), e.value, &p.diags, "name", "preset", "file", "radius", "voltage", "slit")
	preset, file := f.text("preset"), f.text("file")
	switch {
	case preset.IsZero() && file.IsZero():
		f.require("radius", "voltage")
	case !preset.IsZero() && !file.IsZero():
		p.diags.Add(diag.New(diag.WrongType, file.Place(), "the instrument %q can't be both a preset and in a file", e.key.Value).
			Suggesting("leave one of the two keys out"))
	}
	return Instrument{
		Key: e.key, Name: f.text("name"), Preset: preset, File: file,
		Radius: f.quantity("radius", lengths), Voltage: f.quantity("voltage", voltages), Slit: f.quantity("slit", lengths),
	}
}

func (p *reader) hook(e entry) Hook {
	if e.value.shape == scalar {
		return Hook{Idea: e.key, Says: p.prose(e.value.text.Trimmed(), false)}
	}
	f := fieldsOf(fmt.Sprintf("the hook of the idea %q", e.key.Value), e.key.Place(), e.value, &p.diags, "says", "misleads")
	f.require("says")
	return Hook{Idea: e.key, Says: p.sentence(f, "says"), Misleads: p.sentence(f, "misleads")}
}
