package pack

import (
	"bufio"
	"bytes"
	"crypto/sha256"
	_ "embed"
	"encoding/base64"
	"fmt"
	"html/template"
	"regexp"
	"slices"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/util"

	"ionwright/draw"
	"ionwright/draw/svg"
	"ionwright/lesson/check"
	"ionwright/lesson/slides"
	"ionwright/lesson/source"
)

//go:embed page.html
var pageTemplate string

//go:embed page.css
var pageStyle string

// builder holds what both pages share.
type builder struct {
	report    *check.Report
	figures   []*figure
	questions map[*check.Question]*questionFigure
	options   Options
	ids       map[*ast.Heading]string
	toc       []tocEntry
	pictures  map[string]*slides.Picture // of figures, by their names
}

type tocEntry struct {
	ID      string
	heading *ast.Heading
	prose   *source.Prose
}

// newBuilder gives every heading an id: the author's, or one by number.
func newBuilder(r *check.Report, figures []*figure, questions map[*check.Question]*questionFigure, o Options) *builder {
	b := &builder{report: r, figures: figures, questions: questions, options: o, ids: map[*ast.Heading]string{}, pictures: map[string]*slides.Picture{}}
	used := map[string]bool{}
	r.Source.Walk(func(p *source.Prose, n ast.Node) {
		h, ok := n.(*ast.Heading)
		if !ok {
			return
		}
		id := fmt.Sprintf("section-%d", len(b.ids)+1)
		if given, ok := h.AttributeString("id"); ok {
			if text, ok := given.([]byte); ok && idForm.Match(text) && !used[string(text)] {
				id = string(text)
			}
		}
		used[id] = true
		b.ids[h] = id
		if h.Level <= 2 {
			b.toc = append(b.toc, tocEntry{id, h, p})
		}
	})
	return b
}

var idForm = regexp.MustCompile(`^[A-Za-z][A-Za-z0-9_-]*$`)

// writer writes one page.
type writer struct {
	*builder
	key      bool
	renderer renderer.Renderer
	tmpl     *template.Template
	stack    []*source.Prose
	open     []openSection
	level    int // of the last heading; 1 before any
}

type openSection struct {
	level int
	id    string
}

// pageData is what the page's template is filled with.
type pageData struct {
	Title, Audience string
	Author, License string // of the lesson's own text and figures; may be empty
	Key             bool
	CSP             string
	Style           template.CSS
	Script          string
	Contents        []contentsRow
	Body            template.HTML
	Claims          []claimRow
	Rivals          []*check.Rivals
	Sources         []sourceRow
	Computed        bool // some spectrum is computed
}

type contentsRow struct {
	ID   string
	Text template.HTML
}

// page writes the student page, or the key page.
func (b *builder) page(key bool) ([]byte, error) {
	w := &writer{builder: b, key: key, level: 1}
	w.renderer = w.newRenderer()
	var err error
	if w.tmpl, err = template.New("page").Funcs(template.FuncMap{"mz": w.said}).Parse(pageTemplate); err != nil {
		return nil, err
	}
	src := b.report.Source
	data := pageData{Title: src.Title.Value, Audience: src.Audience.Value, Author: src.Author.Value, License: src.License.Value, Key: key, Script: b.options.Script}
	if data.Body, err = w.body(); err != nil {
		return nil, err
	}
	for _, e := range b.toc {
		text, err := w.headingText(e)
		if err != nil {
			return nil, err
		}
		data.Contents = append(data.Contents, contentsRow{e.ID, text})
	}
	if key {
		data.Rivals = b.report.Rivals
		if data.Claims, err = w.claimRows(); err != nil {
			return nil, err
		}
	}
	data.Sources = b.sourceRows(key)
	data.Computed = slices.ContainsFunc(data.Sources, func(s sourceRow) bool { return !s.Measured })
	var scenes []draw.Scene
	for _, f := range b.figures {
		scenes = append(scenes, f.of(key).scenes...)
	}
	for _, q := range b.report.Questions {
		if f := b.questions[q]; f != nil {
			scenes = append(scenes, f.scenes...)
		}
	}
	data.Style = template.CSS("\n" + paletteCSS() + pageStyle + svg.FontCSS(scenes...))
	data.CSP = cspMark
	var out bytes.Buffer
	if err := w.tmpl.ExecuteTemplate(&out, "page", data); err != nil {
		return nil, err
	}
	return withPolicy(out.Bytes(), b.options.Script != ""), nil
}

// said is a text of the program in the lesson's notation, as HTML.
func (b *builder) said(s string) template.HTML { return italicMZ(b.report.Source.Notation.Text(s)) }

// italicMZ is text with every m/z in italics, as IUPAC prints the quantity,
// and a number that follows kept beside it.
func italicMZ(s string) template.HTML {
	s = strings.ReplaceAll(template.HTMLEscapeString(s), "m/z ", "m/z\u00a0")
	return template.HTML(strings.ReplaceAll(s, "m/z", "<i>m/z</i>"))
}

// body writes the lesson's own text.
func (w *writer) body() (template.HTML, error) {
	text, err := w.render(w.report.Source.Body)
	if err != nil {
		return "", err
	}
	var end bytes.Buffer
	out := bufio.NewWriter(&end)
	if err := w.closeSections(out, 0); err != nil {
		return "", err
	}
	if err := out.Flush(); err != nil {
		return "", err
	}
	return text + template.HTML(end.String()), nil
}

// headingText is a heading's text for the contents.
func (w *writer) headingText(e tocEntry) (template.HTML, error) {
	var b bytes.Buffer
	for n := e.heading.FirstChild(); n != nil; n = n.NextSibling() {
		if err := w.renderer.Render(&b, []byte(e.prose.Text.Value), n); err != nil {
			return "", err
		}
	}
	return template.HTML(linkTags.ReplaceAllString(b.String(), "")), nil
}

// linkTags are taken out of the contents, whose lines are links themselves.
var linkTags = regexp.MustCompile(`</?a\b[^>]*>`)

// paletteCSS gives the page the colours of its figures.
func paletteCSS() string {
	variables := func(p draw.Palette) string {
		var all []string
		for _, r := range draw.Roles() {
			all = append(all, "--"+r.String()+":"+p.Color(r).Hex(), "--ionwright-"+r.String()+":"+p.Color(r).Hex())
		}
		return strings.Join(all, ";")
	}
	return ":root{" + variables(draw.Light()) + "}\n" +
		"@media (prefers-color-scheme:dark){:root{" + variables(draw.Dark()) + "}}\n" +
		"@media print{:root,:root .ionwright-figure{" + variables(draw.Print()) + "}}\n"
}

const cspMark = "content-security-policy"

var styleElement = regexp.MustCompile(`(?s)<style>(.*?)</style>`)

// withPolicy writes the page's content security policy: nothing is fetched,
// and no style applies but those that stand in the page, by their hashes.
func withPolicy(page []byte, script bool) []byte {
	var hashes []string
	if script {
		hashes = append(hashes, "'self'")
	}
	for _, m := range styleElement.FindAllSubmatch(page, -1) {
		sum := sha256.Sum256(m[1])
		hashes = append(hashes, "'sha256-"+base64.StdEncoding.EncodeToString(sum[:])+"'")
	}
	slices.Sort(hashes)
	policy := "default-src 'none'; style-src " + strings.Join(slices.Compact(hashes), " ") +
		"; img-src data:; font-src data:; base-uri 'none'; form-action 'none'"
	if script {
		policy += "; script-src 'self'; connect-src 'self'"
	}
	return bytes.Replace(page, []byte(cspMark), []byte(template.HTMLEscapeString(policy)), 1)
}

// hook writes the memory aid of the idea with an id, if there is one.
func (w *writer) hook(out util.BufWriter, id string) error {
	hook, err := w.hookData(id)
	if err != nil || hook == nil {
		return err
	}
	return w.tmpl.ExecuteTemplate(out, "hook", hook)
}

type hookData struct{ Says, Misleads template.HTML }

func (w *writer) hookData(idea string) (*hookData, error) {
	i := slices.IndexFunc(w.report.Source.Hooks, func(h source.Hook) bool { return h.Idea.Value == idea })
	if i < 0 {
		return nil, nil
	}
	h := w.report.Source.Hooks[i]
	says, err := w.inline(h.Says)
	if err != nil {
		return nil, err
	}
	misleads, err := w.inline(h.Misleads)
	return &hookData{says, misleads}, err
}
