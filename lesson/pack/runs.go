package pack

import (
	"strings"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"

	"ionwright/chem"
	"ionwright/lesson/eval"
	"ionwright/lesson/slides"
	"ionwright/lesson/source"
)

// words is a text of the program in the lesson's notation, for a slide.
func (b *builder) words(s string) []slides.Run { return italic(b.report.Source.Notation.Text(s)) }

// italic is text with every m/z in italics, and a number that follows kept
// beside it.
func italic(s string) []slides.Run {
	var out []slides.Run
	for i, part := range strings.Split(strings.ReplaceAll(s, "m/z ", "m/z\u00a0"), "m/z") {
		if i > 0 {
			out = append(out, slides.Run{Text: "m/z", Italic: true})
		}
		if part != "" {
			out = append(out, slides.Run{Text: part})
		}
	}
	return out
}

// valueRuns is a computed value for a slide.
func (b *builder) valueRuns(r eval.Result) []slides.Run {
	var out []slides.Run
	for _, run := range dotted(r, b.report.Source.Notation) {
		if run.Script == chem.Normal {
			out = append(out, italic(run.Text)...)
			continue
		}
		out = append(out, scripted(run.Text, run.Script))
	}
	return out
}

func scripted(text string, script chem.Script) slides.Run {
	r := slides.Run{Text: text}
	switch script {
	case chem.Subscript:
		r.Script = slides.Sub
	case chem.Superscript:
		r.Script = slides.Super
	}
	return r
}

// formulaRuns is a formula of a key for a slide.
func (b *builder) formulaRuns(f chem.Formula) []slides.Run {
	var out []slides.Run
	for _, part := range f.Parts() {
		out = append(out, scripted(part.Text, part.Script))
	}
	if dot := b.report.Source.Notation.Dot(f); dot != "" {
		out = append(out, scripted(dot, chem.Superscript))
	}
	return out
}

// prose is prose of one paragraph for a slide, with its values.
func (b *builder) prose(p *source.Prose) []slides.Run {
	if p == nil {
		return nil
	}
	var out []slides.Run
	bold := 0
	add := func(runs ...slides.Run) {
		for _, r := range runs {
			r.Bold = bold > 0
			out = append(out, r)
		}
	}
	src := []byte(p.Text.Value)
	_ = ast.Walk(p.Root, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if e, ok := n.(*ast.Emphasis); ok && e.Level == 2 {
			bold++
			if !entering {
				bold -= 2
			}
		}
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *ast.Paragraph, *ast.TextBlock:
			if len(out) > 0 {
				add(slides.Run{Text: " "})
			}
		case *ast.Text:
			text := n.Segment.Value(src)
			if !n.IsRaw() {
				text = util.ResolveEntityNames(util.ResolveNumericReferences(util.UnescapePunctuations(text)))
			}
			add(italic(string(text))...)
			if n.SoftLineBreak() || n.HardLineBreak() {
				add(slides.Run{Text: " "})
			}
		case *source.Value:
			add(b.valueRuns(b.report.Values[n])...)
		case *source.Checked:
			add(italic(n.Written.Value)...)
		case *ast.AutoLink:
			add(slides.Run{Text: string(n.Label(src))})
		case *ast.RawHTML, *ast.HTMLBlock:
			return ast.WalkSkipChildren, nil
		}
		return ast.WalkContinue, nil
	})
	return out
}
