package check

import (
	"strings"

	"github.com/yuin/goldmark/ast"

	"ionwright/lesson/source"
)

// words are a piece of prose as plain text, computed values in it; "" for nil.
func (c *checker) words(p *source.Prose) string {
	if p == nil {
		return ""
	}
	var b strings.Builder
	_ = ast.Walk(p.Root, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			if n.Type() == ast.TypeBlock && n.Kind() != ast.KindDocument {
				b.WriteByte('\n')
			}
			return ast.WalkContinue, nil
		}
		switch n := n.(type) {
		case *ast.Text:
			b.Write(n.Segment.Value([]byte(p.Text.Value)))
			if n.SoftLineBreak() || n.HardLineBreak() {
				b.WriteByte(' ')
			}
		case *source.Value:
			b.WriteString(c.report.Values[n].Text.String())
		case *source.Checked:
			b.WriteString(n.Written.Value)
			return ast.WalkSkipChildren, nil
		}
		return ast.WalkContinue, nil
	})
	return strings.TrimSpace(b.String())
}
