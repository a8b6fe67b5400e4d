package source

import (
	"slices"

	"github.com/yuin/goldmark/ast"
)

// Walk visits every node of the lesson with the prose it belongs to, in the
// order of the source: the ideas and hooks of the front matter, then the body,
// with included files and the sentences inside of blocks where they stand.
func (l *Lesson) Walk(visit func(p *Prose, n ast.Node)) {
	for _, idea := range l.Ideas {
		idea.Statement.Walk(visit)
	}
	for _, hook := range l.Hooks {
		hook.Says.Walk(visit)
		if hook.Misleads != nil {
			hook.Misleads.Walk(visit)
		}
	}
	if l.Body != nil {
		l.Body.Walk(visit)
	}
}

// Walk visits every node of the prose as [Lesson.Walk] does.
func (p *Prose) Walk(visit func(p *Prose, n ast.Node)) {
	_ = ast.Walk(p.Root, func(n ast.Node, entering bool) (ast.WalkStatus, error) {
		if !entering {
			return ast.WalkContinue, nil
		}
		visit(p, n)
		if f, ok := n.(*Fenced); ok {
			for _, inner := range Sentences(f.Block) {
				inner.Walk(visit)
			}
		}
		return ast.WalkContinue, nil
	})
}

// Sentences are the pieces of prose inside of a block, in reading order: an
// included file, a caption, a question and its choices.
func Sentences(b Block) []*Prose {
	var all []*Prose
	switch b := b.(type) {
	case *Claim:
		all = []*Prose{b.Says}
	case *Figure:
		all = []*Prose{b.Caption}
	case *Sweep:
		all = []*Prose{b.Caption}
	case *Paths:
		all = []*Prose{b.Caption}
	case *Structure:
		all = []*Prose{b.Caption}
	case *Mechanism:
		all = []*Prose{b.Caption}
	case *Map:
		all = []*Prose{b.Caption}
	case *Note:
		all = []*Prose{b.Says}
	case *Include:
		all = []*Prose{b.Prose}
	case *Question:
		all = []*Prose{b.Ask}
		for _, c := range b.Choices {
			all = append(all, c.Says, c.Because)
		}
		for _, s := range b.Steps {
			all = append(all, s.Says)
		}
		for _, c := range b.Clues {
			all = append(all, c.Says)
		}
		for _, row := range slices.Concat(b.Accept, b.Reject) {
			all = append(all, row.Because)
		}
		all = append(all, b.Hints...)
		all = append(all, b.Because)
	}
	present := all[:0]
	for _, p := range all {
		if p != nil {
			present = append(present, p)
		}
	}
	return present
}
