package check

import (
	"strings"

	"github.com/yuin/goldmark/ast"

	"ionwright/lesson/diag"
	"ionwright/lesson/foreign"
	"ionwright/lesson/source"
	"ionwright/mol/smiles"
)

// prose reads the lesson's own sentences for numbers and statements that can
// be computed, and warns of those that the computation contradicts. Computed
// values stand in them as students read them.
func (c *checker) prose() {
	var subjects []foreign.Subject
	for _, compound := range c.report.Lesson.Compounds {
		subjects = append(subjects, foreign.Subject{Names: []string{compound.Name}, SMILES: smiles.Canonical(compound.Mol),
			Formula: compound.Formula, Spectrum: compound.Spectrum, Computed: !compound.Measured, Origin: compound.Origin()})
	}
	filled := c.passages()
	passages := make([]foreign.Passage, len(filled))
	for i, f := range filled {
		passages[i] = foreign.Passage{Words: f.words.String(), Span: f.span}
	}
	for _, d := range foreign.Judge(passages, subjects) {
		code := diag.ProseFalse
		if d.Code == diag.ChargeToMass || d.Code == diag.TermDiscouraged {
			code = diag.TermDiscouraged
		}
		d.Code, d.Severity = code, code.Severity()
		c.add(d)
	}
}

// passage is a paragraph, heading or cell with its values filled in.
type passage struct {
	words  strings.Builder
	pieces []wordsOf
}

// wordsOf says where a part of a passage comes from.
type wordsOf struct {
	from    int // in the passage
	text    source.Text
	literal bool     // the words stand in the source as they are
	figures []string // that it refers to
}

func (p *passage) put(words string, text source.Text, literal bool) {
	p.pieces = append(p.pieces, wordsOf{from: p.words.Len(), text: text, literal: literal})
	p.words.WriteString(words)
}

// span is the place of words[from:to] in the lesson's files; of a computed
// value it is the whole expression.
func (p *passage) span(from, to int) diag.Span {
	i := len(p.pieces) - 1
	for i > 0 && p.pieces[i].from > from {
		i--
	}
	piece := p.pieces[i]
	if !piece.literal {
		return piece.text.Place()
	}
	start := min(from-piece.from, len(piece.text.Value))
	return piece.text.Span(start, min(max(to-piece.from, start), len(piece.text.Value)))
}

// passages gives what is stated to students, and the notes: not the choices
// and the rows of marking schemes, which may be wrong on purpose, nor where a
// hook misleads.
func (c *checker) passages() []*passage {
	unsaid := map[*source.Prose]bool{}
	for _, h := range c.report.Source.Hooks {
		unsaid[h.Misleads] = true
	}
	for _, q := range c.report.Questions {
		for _, p := range source.Sentences(q.Source) {
			unsaid[p] = p != q.Source.Ask && p != q.Source.Because
		}
	}
	var out []*passage
	c.report.Source.Walk(func(p *source.Prose, n ast.Node) {
		if unsaid[p] || n.Type() != ast.TypeBlock || n.FirstChild() == nil || n.FirstChild().Type() != ast.TypeInline {
			return
		}
		if f := c.filled(p, n); f.words.Len() > 0 {
			out = append(out, f)
		}
	})
	return out
}

// filled gives the words of a node that holds inline content.
func (c *checker) filled(p *source.Prose, n ast.Node) *passage {
	f := &passage{}
	_ = ast.Walk(n, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *ast.Text:
			text := p.Text.Sub(n.Segment.Start, n.Segment.Stop)
			f.put(text.Value, text, true)
			if n.SoftLineBreak() || n.HardLineBreak() {
				f.put(" ", p.Text.Sub(n.Segment.Stop, n.Segment.Stop), true)
			}
		case *source.Value:
			f.put(c.report.Values[n].Text.String(), n.Expr.Trimmed(), false)
			f.pieces[len(f.pieces)-1].figures = c.report.Values[n].Trace.Figures
		case *source.Checked:
			if r, ok := c.report.Checked[n]; ok && !r.Agrees(n.Written.Value) {
				f.put(string(source.Computed), n.Written, false) // reported already
				break
			}
			f.put(n.Written.Value, n.Written, true)
		case *ast.CodeSpan, *ast.AutoLink, *ast.RawHTML:
			f.put(string(source.Computed), p.Text.Sub(0, 0), false)
			return ast.WalkSkipChildren, nil
		}
		return ast.WalkContinue, nil
	})
	return f
}
