package pack

import (
	"bytes"
	"fmt"
	"html/template"
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/extension"
	"github.com/yuin/goldmark/renderer"
	"github.com/yuin/goldmark/renderer/html"
	"github.com/yuin/goldmark/util"

	"ionwright/lesson/source"
)

// render writes prose as HTML.
func (w *writer) render(p *source.Prose) (template.HTML, error) {
	var b bytes.Buffer
	w.stack = append(w.stack, p)
	err := w.renderer.Render(&b, []byte(p.Text.Value), p.Root)
	w.stack = w.stack[:len(w.stack)-1]
	return template.HTML(b.String()), err
}

// inline writes prose of a single paragraph without the paragraph's tags.
func (w *writer) inline(p *source.Prose) (template.HTML, error) {
	if p == nil {
		return "", nil
	}
	text, err := w.render(p)
	s := strings.TrimSpace(string(text))
	if inner, ok := strings.CutPrefix(s, "<p>"); ok && strings.Count(s, "<p>") == 1 {
		s = strings.TrimSuffix(inner, "</p>")
	}
	return template.HTML(s), err
}

// newRenderer is goldmark's HTML renderer with the lesson's own nodes.
func (w *writer) newRenderer() renderer.Renderer {
	return renderer.NewRenderer(renderer.WithNodeRenderers(
		util.Prioritized(w, 100),
		util.Prioritized(extension.NewTableHTMLRenderer(), 500),
		util.Prioritized(html.NewRenderer(), 1000),
	))
}

// RegisterFuncs names the nodes that a lesson's pages write differently.
func (w *writer) RegisterFuncs(reg renderer.NodeRendererFuncRegisterer) {
	reg.Register(ast.KindHeading, w.heading)
	reg.Register(ast.KindText, w.text)
	reg.Register(ast.KindHTMLBlock, nothing)
	reg.Register(ast.KindRawHTML, nothing)
	reg.Register(source.KindValue, w.value)
	reg.Register(source.KindChecked, w.checked)
	reg.Register(source.KindFenced, w.fenced)
}

// nothing leaves a node out: comments of the author.
func nothing(util.BufWriter, []byte, ast.Node, bool) (ast.WalkStatus, error) {
	return ast.WalkSkipChildren, nil
}

func (w *writer) heading(out util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	h := n.(*ast.Heading)
	if !entering {
		fmt.Fprintf(out, "</h%d>\n", w.level)
		return ast.WalkContinue, nil
	}
	// The page's title is the only heading of level 1, and no level is left out.
	w.level = min(max(h.Level, 2), w.level+1)
	if err := w.closeSections(out, h.Level); err != nil {
		return ast.WalkStop, err
	}
	id := w.ids[h]
	w.open = append(w.open, openSection{h.Level, id})
	fmt.Fprintf(out, "<h%d id=\"%s\">", w.level, template.HTMLEscapeString(id))
	return ast.WalkContinue, nil
}

// closeSections ends the sections of at least a level: each idea's hook stands
// at the end of the section that explains it.
func (w *writer) closeSections(out util.BufWriter, level int) error {
	for len(w.open) > 0 && w.open[len(w.open)-1].level >= level {
		if err := w.hook(out, w.open[len(w.open)-1].id); err != nil {
			return err
		}
		w.open = w.open[:len(w.open)-1]
	}
	return nil
}

// text writes a run of words with every m/z in italics, as IUPAC prints it.
func (w *writer) text(out util.BufWriter, src []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	t := n.(*ast.Text)
	segment := t.Segment.Value(src)
	if t.IsRaw() {
		html.DefaultWriter.RawWrite(out, segment)
		return ast.WalkContinue, nil
	}
	for {
		before, after, found := bytes.Cut(segment, []byte("m/z"))
		html.DefaultWriter.Write(out, before)
		if !found {
			break
		}
		_, _ = out.WriteString("<i>m/z</i>")
		if segment = after; string(segment) == " " { // a computed number follows
			_, _ = out.WriteString("\u00a0")
			segment = nil
		}
	}
	switch {
	case t.HardLineBreak():
		_, _ = out.WriteString("<br>\n")
	case t.SoftLineBreak():
		_ = out.WriteByte('\n')
	}
	return ast.WalkContinue, nil
}

func (w *writer) value(out util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	if entering {
		_, _ = out.WriteString(string(w.printed(w.report.Values[n.(*source.Value)])))
	}
	return ast.WalkContinue, nil
}

func (w *writer) checked(out util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	if entering {
		words := n.(*source.Checked).Written.Value
		if words[0] >= '0' && words[0] <= '9' { // a number stays with its unit
			words = strings.ReplaceAll(words, " ", "\u00a0")
		}
		_, _ = out.WriteString(template.HTMLEscapeString(words))
	}
	return ast.WalkContinue, nil
}
