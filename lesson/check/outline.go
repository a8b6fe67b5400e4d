package check

import (
	"github.com/yuin/goldmark/ast"

	"ionwright/lesson/source"
)

// outline is the lesson's division into sections.
type outline struct {
	sections []*section
	notes    map[*source.Prose]bool // prose that students don't see
	front    map[*source.Prose]bool // ideas and hooks, which the front matter holds
}

// partLevel is the level of the headings that begin a new part of the lesson.
const partLevel = 2

// section is a heading with an id, and what stands below it up to the next
// heading of its level.
type section struct {
	id      string
	level   int
	prose   bool // has a sentence of its own
	figures bool
}

// outlineOf goes through the lesson once.
func outlineOf(l *source.Lesson) outline {
	o := outline{notes: map[*source.Prose]bool{}, front: map[*source.Prose]bool{}}
	for _, idea := range l.Ideas {
		o.front[idea.Statement] = true
	}
	for _, hook := range l.Hooks {
		o.front[hook.Says], o.front[hook.Misleads] = true, true
	}
	inFile := map[*source.Prose]bool{l.Body: true}
	var open []*section
	l.Walk(func(p *source.Prose, n ast.Node) {
		switch n := n.(type) {
		case *ast.Heading:
			for len(open) > 0 && open[len(open)-1].level >= n.Level {
				open = open[:len(open)-1]
			}
			s := &section{id: headingID(n), level: n.Level}
			open = append(open, s)
			o.sections = append(o.sections, s)
		case *ast.Paragraph:
			for _, s := range open {
				s.prose = s.prose || inFile[p]
			}
		case *source.Fenced:
			switch b := n.Block.(type) {
			case *source.Include:
				inFile[b.Prose] = true
			case *source.Note:
				o.notes[b.Says] = true
			case *source.Figure, *source.Structure, *source.Sweep, *source.Paths, *source.Mechanism, *source.Map:
				for _, s := range open {
					s.figures = true
				}
			}
		}
	})
	return o
}

// headingID is the id that an author gave a heading, or "".
func headingID(n *ast.Heading) string {
	if id, ok := n.AttributeString("id"); ok {
		if b, ok := id.([]byte); ok {
			return string(b)
		}
	}
	return ""
}

// section finds the section with an id, or nil.
func (o outline) section(id string) *section {
	for _, s := range o.sections {
		if s.id == id {
			return s
		}
	}
	return nil
}
