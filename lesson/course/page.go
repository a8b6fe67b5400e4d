package course

import (
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"html/template"
	"maps"
	"math"
	"slices"
	"strings"

	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/renderer/html"
	"github.com/yuin/goldmark/util"

	"ionwright/draw"
	"ionwright/lesson"
	"ionwright/lesson/pack"
)

// The names of the course's own pages.
const (
	Index    = "index.html" // for students
	KeyIndex = "key.html"   // for the instructor
)

//go:embed page.html
var pageTemplate string

//go:embed page.css
var pageStyle string

// lessonRow is a lesson as the course's pages list it, from its manifest.
type lessonRow struct {
	Folder    string `json:"folder"`
	Title     string `json:"title"`
	About     string `json:"about"`
	Questions int    `json:"questions"`
	Minutes   int    `json:"minutes"` // of narration, rounded up
	Students  []link `json:"-"`
	Others    []link `json:"-"` // for the instructor
}

// link leads to a file of a lesson's pack.
type link struct{ Name, Says string }

// files are what the pages link to of a lesson's pack beside its page for
// students, where it is there.
var files = []struct {
	name, says string
	students   bool
}{
	{"student.zip", "all files to hand out", true},
	{"student-slides.pptx", "slides", true},
	{pack.Key, "key", false},
	{"slides.pptx", "slides with notes", false},
	{pack.Script, "script", false},
	{"index.html", "all files", false},
}

func isShared(name string) bool { return strings.HasPrefix(name, lesson.SharedFolder+"/") }

// addPages adds the two pages with links to the lessons, and the manifest.
func (c *Course) addPages(p *pack.Pack) error {
	var rows []lessonRow
	for _, l := range c.Source.Lessons {
		row, err := rowOf(p, l.Folder.Value)
		if err != nil {
			return err
		}
		row.About = l.About.Value
		rows = append(rows, row)
	}
	var intro bytes.Buffer
	markdown := renderer.NewRenderer(renderer.WithNodeRenderers(util.Prioritized(html.NewRenderer(), 1000)))
	if err := markdown.Render(&intro, []byte(c.Source.Intro.Text.Value), c.Source.Intro.Root); err != nil {
		return err
	}
	t, err := template.New("page").Parse(pageTemplate)
	if err != nil {
		return err
	}
	style := template.CSS("\n" + paletteCSS() + pageStyle)
	sum := sha256.Sum256([]byte(style))
	for name, key := range map[string]bool{Index: false, KeyIndex: true} {
		var out bytes.Buffer
		err := t.Execute(&out, map[string]any{
			"Title": c.Source.Title.Value, "Audience": c.Source.Audience.Value, "Intro": template.HTML(intro.String()),
			"Lessons": rows, "Key": key, "Style": style, "Minutes": minutes(rows),
			"Policy": "default-src 'none'; style-src 'sha256-" + base64.StdEncoding.EncodeToString(sum[:]) + "'; img-src data:; base-uri 'none'; form-action 'none'",
		})
		if err != nil {
			return err
		}
		p.Files[name] = out.Bytes()
	}
	return c.addManifest(p, rows)
}

// rowOf reads what the pages say about a lesson from the manifest of its pack.
func rowOf(p *pack.Pack, folder string) (lessonRow, error) {
	var m struct {
		Title     string            `json:"title"`
		Questions []json.RawMessage `json:"questions"`
		Narration struct {
			Seconds float64 `json:"seconds"`
		} `json:"narration"`
	}
	name := folder + "/" + pack.Manifest
	if err := json.Unmarshal(p.Files[name], &m); err != nil {
		return lessonRow{}, fmt.Errorf("reading %q: %w", name, err)
	}
	row := lessonRow{Folder: folder, Title: m.Title, Questions: len(m.Questions), Minutes: int(math.Ceil(m.Narration.Seconds / 60))}
	for _, f := range files {
		to := link{folder + "/" + f.name, f.says}
		switch _, there := p.Files[to.Name]; {
		case there && f.students:
			row.Students = append(row.Students, to)
		case there:
			row.Others = append(row.Others, to)
		}
	}
	return row, nil
}

func minutes(rows []lessonRow) int {
	sum := 0
	for _, r := range rows {
		sum += r.Minutes
	}
	return sum
}

// addManifest adds the list of lessons and the hash of every file.
func (c *Course) addManifest(p *pack.Pack, rows []lessonRow) error {
	type hashed struct {
		Name   string `json:"name"`
		SHA256 string `json:"sha256"`
	}
	m := struct {
		Title    string      `json:"title"`
		Audience string      `json:"audience,omitempty"`
		Notice   string      `json:"notice"`
		Lessons  []lessonRow `json:"lessons"`
		Files    []hashed    `json:"files"`
	}{c.Source.Title.Value, c.Source.Audience.Value, notice, rows, nil}
	for _, name := range slices.Sorted(maps.Keys(p.Files)) {
		sum := sha256.Sum256(p.Files[name])
		m.Files = append(m.Files, hashed{name, hex.EncodeToString(sum[:])})
	}
	text, err := json.MarshalIndent(m, "", "  ")
	p.Files[pack.Manifest] = append(text, '\n')
	return err
}

const notice = "For teaching only; no result may be used for a clinical, forensic or safety decision."

// paletteCSS gives the pages the colours of the figures.
func paletteCSS() string {
	variables := func(p draw.Palette) string {
		var all []string
		for _, r := range draw.Roles() {
			all = append(all, "--"+r.String()+":"+p.Color(r).Hex())
		}
		return strings.Join(all, ";")
	}
	return ":root{" + variables(draw.Light()) + "}\n@media (prefers-color-scheme:dark){:root{" + variables(draw.Dark()) + "}}\n" +
		"@media print{:root{" + variables(draw.Print()) + "}}\n"
}
