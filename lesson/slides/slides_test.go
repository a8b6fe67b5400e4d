package slides

import (
	"archive/zip"
	"bytes"
	"encoding/xml"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"io"
	"path"
	"regexp"
	"slices"
	"strings"
	"testing"
)

// colors of no importance.
var colors = Colors{Paper: "#ffffff", Ink: "#14191f", Muted: "#515a65", Accent: "#0b55a8"}

// sample is a deck with everything a deck can have, and hostile texts.
func sample(t *testing.T) Deck {
	t.Helper()
	return Deck{
		Title: "A <deck> & \"more\"", Author: "Ilse Quarnholt", Language: "en-US", Colors: colors,
		Slides: []Slide{
			{Opening: true, Title: Plain("A <deck>"), Body: []Paragraph{{Runs: Plain("for all")}}, Notes: []string{"Welcome.", "Begin."}},
			{Title: []Run{{Text: "Peaks by "}, {Text: "m/z", Italic: true}}, Picture: picture(t, 60, 20, "a"), Caption: Plain("Below."), Notes: []string{}},
			{Title: Plain("Question"), Body: []Paragraph{
				{Runs: []Run{{Text: "C"}, {Text: "2", Script: Sub}, {Text: "H"}, {Text: "5", Script: Sub}, {Text: "+", Script: Super}}, Bullet: true},
				{Runs: Plain("\x00\ufffe<&>\"'"), Muted: true, Indent: true},
			}, Picture: picture(t, 60, 20, "a"), Notes: []string{"Answer: 3"}},
			{Title: Plain("Question"), Body: []Paragraph{{Runs: []Run{{Text: "again", Bold: true}}}}, Picture: picture(t, 20, 90, "b")},
			{},
		},
	}
}

func picture(t *testing.T, w, h int, name string) *Picture {
	t.Helper()
	m := image.NewGray(image.Rect(0, 0, w, h))
	m.SetGray(1, 1, color.Gray{Y: uint8(name[0])})
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	return &Picture{PNG: b.Bytes(), Width: w, Height: h, Name: name, Alt: "Picture " + name + ": <gray> & \"flat\"."}
}

// opened is a written deck: its parts by their names.
func opened(t *testing.T, d Deck) map[string][]byte {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, d); err != nil {
		t.Fatal(err)
	}
	z, err := zip.NewReader(bytes.NewReader(b.Bytes()), int64(b.Len()))
	if err != nil {
		t.Fatal(err)
	}
	if z.File[0].Name != "[Content_Types].xml" { // common practice, no source: readers look for it first
		t.Errorf("the package begins with %q", z.File[0].Name)
	}
	parts := map[string][]byte{}
	for _, f := range z.File {
		if parts[f.Name] != nil {
			t.Errorf("the package holds %q twice", f.Name)
		}
		r, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		if parts[f.Name], err = io.ReadAll(r); err != nil {
			t.Fatal(err)
		}
	}
	return parts
}

// TestPackageFollowsTheConventions checks what ECMA-376 part 2 (Open Packaging
// Conventions) asks: each part has a type, each type's part is there, and each
// relationship leads to a part.
func TestPackageFollowsTheConventions(t *testing.T) {
	parts := opened(t, sample(t))
	var types struct {
		Default []struct {
			Extension   string `xml:",attr"`
			ContentType string `xml:",attr"`
		}
		Override []struct {
			PartName    string `xml:",attr"`
			ContentType string `xml:",attr"`
		}
	}
	if err := xml.Unmarshal(parts["[Content_Types].xml"], &types); err != nil {
		t.Fatal(err)
	}
	typed := map[string]bool{}
	for _, o := range types.Override {
		name := strings.TrimPrefix(o.PartName, "/")
		if typed[name] || parts[name] == nil || o.ContentType == "" {
			t.Errorf("the type of %q: twice, without a part, or empty", o.PartName)
		}
		typed[name] = true
	}
	reached := map[string]bool{"[Content_Types].xml": true}
	for name, data := range parts {
		byEnding := slices.ContainsFunc(types.Default, func(d struct {
			Extension   string `xml:",attr"`
			ContentType string `xml:",attr"`
		}) bool {
			return "."+d.Extension == path.Ext(name)
		})
		if !typed[name] && (!byEnding || path.Ext(name) == ".xml" && name != "[Content_Types].xml") {
			t.Errorf("%s has no type", name)
		}
		if path.Ext(name) != ".rels" {
			continue
		}
		reached[name] = true
		source := strings.TrimSuffix(strings.Replace(name, "_rels/", "", 1), ".rels")
		if source != "" && parts[source] == nil {
			t.Errorf("%s belongs to no part", name)
		}
		ids := map[string]bool{}
		for _, r := range relations(t, data) {
			target := path.Join(path.Dir(source), r.Target)
			if parts[target] == nil {
				t.Errorf("%s leads to %s, which isn't there", name, target)
			}
			if ids[r.ID] {
				t.Errorf("%s has the id %s twice", name, r.ID)
			}
			ids[r.ID], reached[target] = true, true
		}
		for _, m := range regexp.MustCompile(`r:(?:id|embed)="([^"]*)"`).FindAllSubmatch(parts[source], -1) {
			if !ids[string(m[1])] {
				t.Errorf("%s uses the relationship %s, which isn't there", source, m[1])
			}
		}
	}
	for name := range parts {
		if !reached[name] {
			t.Errorf("nothing leads to %s", name)
		}
	}
}

type relationship struct {
	ID     string `xml:"Id,attr"`
	Type   string `xml:",attr"`
	Target string `xml:",attr"`
}

func relations(t *testing.T, data []byte) []relationship {
	t.Helper()
	var all struct{ Relationship []relationship }
	if err := xml.Unmarshal(data, &all); err != nil {
		t.Fatal(err)
	}
	return all.Relationship
}

// TestPartsAreXML: each part is well-formed, and the ids of a part's shapes are
// unique (ECMA-376 part 1, 20.1.2.2.8).
func TestPartsAreXML(t *testing.T) {
	for name, data := range opened(t, sample(t)) {
		if path.Ext(name) == ".png" {
			continue
		}
		ids := map[string]bool{}
		d := xml.NewDecoder(bytes.NewReader(data))
		for {
			token, err := d.Token()
			if errors.Is(err, io.EOF) {
				break
			}
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			start, ok := token.(xml.StartElement)
			if !ok || start.Name.Local != "cNvPr" {
				continue
			}
			for _, a := range start.Attr {
				if a.Name.Local == "id" && ids[a.Value] {
					t.Errorf("%s has the id %s twice", name, a.Value)
				} else if a.Name.Local == "id" {
					ids[a.Value] = true
				}
			}
		}
	}
}

// shape is what a reader of a slide comes to, in order.
type shape struct {
	kind string // of the placeholder, or "picture", or ""
	text string
	alt  string
}

// read is a slide in reading order.
func read(t *testing.T, data []byte) []shape {
	t.Helper()
	var all []shape
	d := xml.NewDecoder(bytes.NewReader(data))
	for {
		token, err := d.Token()
		if errors.Is(err, io.EOF) {
			return all
		}
		if err != nil {
			t.Fatal(err)
		}
		switch token := token.(type) {
		case xml.StartElement:
			attr := func(name string) string {
				for _, a := range token.Attr {
					if a.Name.Local == name {
						return a.Value
					}
				}
				return ""
			}
			switch token.Name.Local {
			case "sp":
				all = append(all, shape{})
			case "pic":
				all = append(all, shape{kind: "picture"})
			case "cNvPr":
				if len(all) > 0 {
					all[len(all)-1].alt = attr("descr")
				}
			case "ph":
				all[len(all)-1].kind = attr("type")
			case "rPr":
				if attr("lang") != "en-US" {
					t.Errorf("a run has the language %q", attr("lang"))
				}
			}
		case xml.CharData:
			if len(all) > 0 {
				all[len(all)-1].text += string(token)
			}
		}
	}
}

// TestSlidesCanBeReadWithoutSight: a title on each slide, first and different
// from the others; alternative text on each picture; the number last.
func TestSlidesCanBeReadWithoutSight(t *testing.T) {
	parts := opened(t, sample(t))
	titles := map[string]bool{}
	want := [][]string{
		{"ctrTitle", "subTitle"}, {"title", "picture", "", "sldNum"}, {"title", "", "picture", "sldNum"},
		{"title", "", "picture", "sldNum"}, {"title", "sldNum"},
	}
	for i, kinds := range want {
		all := read(t, parts[fmt.Sprintf("ppt/slides/slide%d.xml", i+1)])
		var got []string
		for _, s := range all {
			got = append(got, s.kind)
			if s.kind == "picture" && !strings.HasPrefix(s.alt, "Picture ") {
				t.Errorf("slide %d: a picture says %q", i+1, s.alt)
			}
		}
		if !slices.Equal(got, kinds) {
			t.Errorf("slide %d holds %q, want %q", i+1, got, kinds)
		}
		title := all[0].text
		if title == "" || titles[title] {
			t.Errorf("slide %d has the title %q", i+1, title)
		}
		titles[title] = true
	}
	if n := len(parts); parts["ppt/media/image3.png"] != nil || parts["ppt/media/image2.png"] == nil {
		t.Errorf("%d parts; the same picture should be kept once", n)
	}
}

func TestNotes(t *testing.T) {
	parts := opened(t, sample(t))
	all := read(t, parts["ppt/notesSlides/notesSlide3.xml"])
	if text := all[len(all)-1].text; text != "Answer: 3" {
		t.Errorf("the notes of slide 3 are %q", text)
	}
	for _, n := range []int{4, 5} {
		if parts[fmt.Sprintf("ppt/notesSlides/notesSlide%d.xml", n)] != nil {
			t.Errorf("slide %d has notes", n)
		}
	}
	d := sample(t)
	for i := range d.Slides {
		d.Slides[i].Notes = nil
	}
	for name, data := range opened(t, d) {
		if strings.Contains(name, "notes") || bytes.Contains(data, []byte("notesMaster")) {
			t.Errorf("a deck without notes holds %s", name)
		}
	}
}

func TestEqualDecksGiveEqualBytes(t *testing.T) {
	var a, b bytes.Buffer
	if err := errors.Join(Write(&a, sample(t)), Write(&b, sample(t))); err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(a.Bytes(), b.Bytes()) {
		t.Error("the same deck gives other bytes the second time")
	}
	if err := Write(io.Discard, Deck{Title: "empty"}); err == nil {
		t.Error("a deck without slides was written")
	}
}

// Long text goes on to further slides, and none of it is lost.
func TestLongText(t *testing.T) {
	var body []Paragraph
	var want []string
	for i := range 30 {
		text := fmt.Sprintf("Paragraph %d %s.", i, strings.Repeat("word ", i*i))
		want = append(want, strings.Fields(text)...)
		body = append(body, Paragraph{Runs: Plain(text), Bullet: true})
	}
	for name, s := range map[string]Slide{
		"plain": {Title: Plain("Long"), Body: body}, "opening": {Opening: true, Title: Plain("Long"), Body: body},
		"picture": {Title: Plain("Long"), Body: body, Picture: picture(t, 30, 20, "a"), Notes: []string{"n"}},
	} {
		d := Deck{Slides: []Slide{s}}
		var got []string
		titles := map[string]bool{}
		for i, page := range d.paged() {
			if i > 0 && (page.Opening || page.Picture != nil || len(page.Notes) > 0) {
				t.Errorf("%s: slide %d repeats what belongs to the first", name, i+1)
			}
			titles[TextOf(page.Title)] = true
			in := bodyBox
			if page.Picture != nil {
				in, _ = beside()
			} else if page.Opening {
				in = belowBox
			}
			if _, ok := fit(page.Body, in, bodySize); !ok {
				t.Errorf("%s: slide %d overflows", name, i+1)
			}
			for _, p := range page.Body {
				got = append(got, strings.Fields(TextOf(p.Runs))...)
			}
		}
		if len(titles) < 2 || len(titles) != len(d.paged()) {
			t.Errorf("%s: %d titles on %d slides", name, len(titles), len(d.paged()))
		}
		if !slices.Equal(got, want) {
			t.Errorf("%s: %d words of %d", name, len(got), len(want))
		}
	}
}
