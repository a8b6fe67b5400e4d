package source

import (
	"bytes"
	"strings"

	"github.com/yuin/goldmark/ast"

	"ionwright/lesson/diag"
)

// resolve gives every lesson node of a freshly parsed tree its texts, puts
// Fenced nodes in place of code blocks, and reports what a lesson can't hold.
func (p *reader) resolve(prose *Prose, blocks bool) {
	var code []*ast.FencedCodeBlock
	_ = ast.Walk(prose.Root, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *Value:
			n.Expr = prose.Text.Sub(n.from, n.to)
			p.notEmpty(n.Expr, prose.Span(n.from-2, n.to+2))
		case *Checked:
			n.Written = prose.Text.Sub(n.words[0], n.words[1])
			n.Expr = prose.Text.Sub(n.exp[0], n.exp[1])
			p.notEmpty(n.Expr, prose.Span(n.words[0]-1, n.exp[1]+1))
		case *ast.Text:
			p.singleBrace(prose, n)
		case *unclosed:
			if n.closing == "]{=" {
				p.diags.Add(diag.New(diag.OpenValue, prose.Span(n.from, n.to), "a checked value has an equals sign behind the brace").
					Suggesting("write [words]{= expression }"))
				break
			}
			p.diags.Add(diag.New(diag.OpenValue, prose.Span(n.from, n.to), "the value that begins here isn't closed by %q on the same line", n.closing))
		case *ast.FencedCodeBlock:
			code = append(code, n)
		case *ast.RawHTML:
			for _, s := range n.Segments.Sliced(0, n.Segments.Len()) {
				p.html(prose, s.Start, s.Stop)
			}
		case *ast.HTMLBlock:
			if lines := n.Lines(); lines.Len() > 0 {
				p.html(prose, lines.At(0).Start, lines.At(0).Stop)
			}
		case *ast.Image:
			p.image(prose, n)
		}
		return ast.WalkContinue, nil
	})
	for _, n := range code {
		if block := p.fenced(prose, n); block != nil {
			if !blocks {
				p.diags.Add(diag.New(diag.UnknownBlock, block.Place(), "a block can't stand inside of another block"))
				continue
			}
			n.Parent().ReplaceChild(n.Parent(), n, &Fenced{Block: block})
		}
	}
}

// singleBrace reports a call in single braces, which is taken for text.
func (p *reader) singleBrace(prose *Prose, n *ast.Text) {
	text := n.Segment.Value([]byte(prose.Text.Value))
	if m := oneBrace.FindIndex(text); m != nil {
		from := n.Segment.Start + m[0] + bytes.IndexByte(text[m[0]:], '{')
		p.diags.Add(diag.New(diag.OpenValue, prose.Span(from, n.Segment.Start+m[1]), "%q stands in single braces, and isn't computed", prose.Text.Value[from:n.Segment.Start+m[1]]).
			Suggesting("write two braces: {{ expression }}"))
	}
}

func (p *reader) notEmpty(expr Text, at diag.Span) {
	if strings.TrimSpace(expr.Value) == "" {
		p.diags.Add(diag.New(diag.BadExpression, at, "there is no expression between the braces"))
	}
}

// html reports HTML, which isn't carried over; comments are let through, since
// they say nothing.
func (p *reader) html(prose *Prose, from, to int) {
	raw := bytes.TrimSpace([]byte(prose.Text.Value[from:to]))
	if bytes.HasPrefix(raw, []byte("<!--")) {
		return
	}
	p.diags.Add(diag.New(diag.RawHTML, prose.Span(from, from+len(raw)), "HTML isn't carried over into the pages: %q", cut(string(raw))).
		Suggesting("write Markdown; for a plain < write &lt;"))
}

// image reports pictures: pages show figures that are computed, so that each
// has a table and a text in place of the picture.
func (p *reader) image(prose *Prose, n *ast.Image) {
	at := prose.Text.Place()
	if prev, ok := n.FirstChild().(*ast.Text); ok {
		at = prose.Span(prev.Segment.Start, prev.Segment.Stop)
	}
	p.diags.Add(diag.New(diag.Picture, at, "pictures aren't carried over into the pages: %q", cut(string(n.Destination))).
		Suggesting("draw a spectrum with a figure block"))
}

func cut(s string) string {
	const most = 60
	if r := []rune(s); len(r) > most {
		return string(r[:most]) + "..."
	}
	return s
}
