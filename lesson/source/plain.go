package source

import (
	"strings"

	"github.com/yuin/goldmark/ast"

	"ionwright/lesson/diag"
)

// Computed stands in a [Sentence]'s words for a value that is computed or
// checked, and for code.
const Computed = '\ufffc'

// Sentence is the text of a paragraph, heading or table cell without its
// markup.
type Sentence struct {
	Words string
	prose *Prose
	from  []int // of each byte of Words, its offset in the prose
}

// Span gives the place of Words[from:to] in the lesson's files.
func (s Sentence) Span(from, to int) diag.Span {
	if from >= len(s.from) || to <= from {
		return s.prose.Text.Place()
	}
	return s.prose.Span(s.from[from], s.from[min(to, len(s.from))-1]+1)
}

// Plain gives the words of a node that holds inline content, and false for
// any other.
func Plain(p *Prose, n ast.Node) (Sentence, bool) {
	if n.Type() != ast.TypeBlock || n.FirstChild() == nil || n.FirstChild().Type() != ast.TypeInline {
		return Sentence{}, false
	}
	s := Sentence{prose: p}
	var b strings.Builder
	put := func(text string, from int) {
		for i := range len(text) {
			s.from = append(s.from, from+i)
		}
		b.WriteString(text)
	}
	opaque := func(from int) {
		text := string(Computed)
		for range len(text) {
			s.from = append(s.from, from)
		}
		b.WriteString(text)
	}
	last := 0
	_ = ast.Walk(n, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *ast.Text:
			put(p.Text.Value[n.Segment.Start:n.Segment.Stop], n.Segment.Start)
			last = n.Segment.Stop
			if n.SoftLineBreak() || n.HardLineBreak() {
				put(" ", min(last, max(len(p.Text.Value)-1, 0)))
			}
		case *Value:
			opaque(n.from)
		case *Checked:
			opaque(n.words[0])
		case *ast.CodeSpan, *ast.AutoLink, *ast.RawHTML:
			opaque(last)
			return ast.WalkSkipChildren, nil
		}
		return ast.WalkContinue, nil
	})
	s.Words = b.String()
	return s, true
}
