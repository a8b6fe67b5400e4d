package script

import (
	"fmt"
	"slices"
	"strings"

	"github.com/yuin/goldmark/ast"
	extension "github.com/yuin/goldmark/extension/ast"

	"ionwright/lesson/check"
	"ionwright/lesson/source"
)

// narrator goes through a lesson in reading order.
type narrator struct {
	report  *check.Report
	files   map[string]string
	script  *Script
	shown   map[string]bool // figures that were shown before
	current string          // the figure that is on show
	open    []heading
	waiting []*source.Question // behind the hook, if the section ends with them
}

type heading struct {
	level int
	id    string
}

func (n *narrator) begin(title, id string) {
	n.script.Sections = append(n.script.Sections, &Section{Title: title, ID: id, At: n.script.Words})
}

func (n *narrator) add(p Part) {
	s := n.script.Sections[len(n.script.Sections)-1]
	p.At = n.script.Words
	s.Parts = append(s.Parts, p)
	words := count(p.Says)
	s.Words += words
	n.script.Words += words
}

// show adds a cue; what is set in it beside its words stays.
func (n *narrator) show(c Cue, format string, args ...any) {
	c.What = oneLine(fmt.Sprintf(format, args...))
	n.add(Part{Show: &c})
}

// prose says a piece of the lesson.
func (n *narrator) prose(p *source.Prose) {
	if p != nil {
		n.blocks(p, p.Root)
	}
}

// blocks says what stands in a block.
func (n *narrator) blocks(p *source.Prose, parent ast.Node) {
	for b := parent.FirstChild(); b != nil; b = b.NextSibling() {
		switch b := b.(type) {
		case *source.Fenced:
			if q, ok := b.Block.(*source.Question); ok {
				n.waiting = append(n.waiting, q)
				continue
			}
		case *ast.Heading:
			n.end(b.Level)
		}
		n.ask()
		switch b := b.(type) {
		case *ast.Heading:
			id, _ := b.AttributeString("id")
			text, _ := id.([]byte)
			n.open = append(n.open, heading{b.Level, string(text)})
			n.begin(written(n.words(p, b)), string(text))
		case *ast.Paragraph, *ast.TextBlock:
			_, item := parent.(*ast.ListItem)
			n.paragraph(n.words(p, b), item && b.PreviousSibling() == nil)
		case *source.Fenced:
			n.fenced(b.Block)
		case *extension.Table:
			n.show(Cue{}, "Table: %s", columns(n, p, b))
		case *ast.CodeBlock, *ast.FencedCodeBlock:
			n.show(Cue{}, "The listing")
		default:
			n.blocks(p, b)
		}
	}
}

// columns are the heads of a table's columns.
func columns(n *narrator, p *source.Prose, table *extension.Table) string {
	var heads []string
	if row := table.FirstChild(); row != nil {
		for cell := row.FirstChild(); cell != nil; cell = cell.NextSibling() {
			heads = append(heads, written(n.words(p, cell)))
		}
	}
	return strings.Join(heads, ", ")
}

// paragraph says sentences; a figure is shown when one speaks of it.
func (n *narrator) paragraph(words []piece, item bool) {
	for i, s := range sentences(words) {
		for _, id := range s.figures {
			if id != n.current {
				n.figure(id)
			}
		}
		n.add(Part{Says: s.words, Paragraph: i == 0, Item: item && i == 0})
	}
}

// end says the hooks of the ideas whose sections end before a heading; the
// questions at their end come after.
func (n *narrator) end(level int) {
	for len(n.open) > 0 && n.open[len(n.open)-1].level >= level {
		id := n.open[len(n.open)-1].id
		n.open = n.open[:len(n.open)-1]
		if hook := n.hook(id); hook != nil {
			first := len(n.script.Sections[len(n.script.Sections)-1].Parts)
			n.paragraph(slices.Concat(plain("To remember it: "), n.inline(hook.Says)), false)
			if parts := n.script.Sections[len(n.script.Sections)-1].Parts; len(parts) > first {
				parts[first].Hook = id
			}
			if hook.Misleads != nil {
				n.paragraph(slices.Concat(plain("But take care: "), n.inline(hook.Misleads)), false)
			}
		}
	}
}

func (n *narrator) hook(idea string) *source.Hook {
	for i, h := range n.report.Source.Hooks {
		if idea != "" && h.Idea.Value == idea {
			return &n.report.Source.Hooks[i]
		}
	}
	return nil
}

// fenced says or shows a lesson's block; claims and notes are for the
// instructor.
func (n *narrator) fenced(b source.Block) {
	switch b := b.(type) {
	case *source.Include:
		n.prose(b.Prose)
	case *source.InstrumentBlock:
		if i := n.report.Lesson.Instrument(b.Show.Value); i != nil {
			n.show(Cue{Instrument: i}, "The data of %s", i.Name)
		}
	case *source.Recap:
		n.recap(b)
	default:
		for _, f := range n.report.Figures {
			if blockOf(f) == b && !n.shown[f.ID] {
				n.figure(f.ID)
			}
		}
	}
}

// ask reads out the questions that wait.
func (n *narrator) ask() {
	for _, b := range n.waiting {
		i := slices.IndexFunc(n.report.Questions, func(q *check.Question) bool { return q.Source == b })
		n.show(Cue{Question: n.report.Questions[i]}, "Question %d", i+1)
		n.paragraph(slices.Concat(plain(fmt.Sprintf("Question %d: ", i+1)), n.inline(b.Ask)), false)
	}
	n.waiting = nil
}

// recap says every idea with its hook, as the points of a list.
func (n *narrator) recap(b *source.Recap) {
	n.show(Cue{Recap: b}, "The recap")
	n.paragraph(plain("Here is what to take away."), false)
	for _, t := range b.Ideas {
		for _, idea := range n.report.Source.Ideas {
			if idea.Key.Value != t.Value {
				continue
			}
			words := n.inline(idea.Statement)
			if hook := n.hook(t.Value); hook != nil {
				words = slices.Concat(words, plain(" Remember: "), n.inline(hook.Says))
			}
			n.paragraph(words, true)
		}
	}
}
