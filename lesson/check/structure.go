package check

import (
	"ionwright/lesson/diag"
	"ionwright/lesson/source"

	"github.com/yuin/goldmark/ast"
)

// structure reports ideas that lack a part and figures that nobody mentions.
func (c *checker) structure() {
	r := c.report
	asked, recapped := map[string]bool{}, map[string]bool{}
	for _, q := range r.Questions {
		asked[q.Source.Idea.Value] = true
	}
	r.Source.Walk(func(_ *source.Prose, n ast.Node) {
		f, ok := n.(*source.Fenced)
		if !ok {
			return
		}
		if b, ok := f.Block.(*source.Recap); ok {
			for _, t := range b.Ideas {
				c.idea(t)
				recapped[t.Value] = true
			}
		}
	})
	for _, h := range r.Source.Hooks {
		c.idea(h.Idea)
	}
	for _, idea := range r.Source.Ideas {
		c.explained(idea)
		at, key := idea.Key.Place(), idea.Key.Value
		if !asked[key] {
			c.add(diag.New(diag.IdeaUnasked, at, "no question asks about the idea %q", key).
				Suggesting("add a question block with idea: %s", key))
		}
		if !recapped[key] {
			c.add(diag.New(diag.IdeaNotRecapped, at, "the idea %q has no place in the recap", key).
				Suggesting("add it to the ideas of a recap block"))
		}
	}
	for _, f := range r.Figures {
		if !c.figures[f.ID] {
			id := f.id()
			c.add(diag.New(diag.FigureUnmentioned, id.Place(), "no sentence for students mentions the figure %q", f.ID).
				Suggesting("say in the text what to see in it: {{ figure(%q) }} shows ...", f.ID))
		}
	}
}

func (f *Figure) id() source.Text {
	switch {
	case f.Sweep != nil:
		return f.Sweep.ID
	case f.Paths != nil:
		return f.Paths.ID
	case f.Structure != nil:
		return f.Structure.ID
	case f.Mechanism != nil:
		return f.Mechanism.ID
	case f.Map != nil:
		return f.Map.ID
	}
	return f.Spectrum.ID
}

// explained reports an idea without a section, or whose section lacks a
// sentence or a figure.
func (c *checker) explained(idea source.Idea) {
	at, key := idea.Key.Place(), idea.Key.Value
	s := c.outline.section(key)
	switch {
	case s == nil:
		d := diag.New(diag.IdeaUnexplained, at, "no section explains the idea %q: no heading ends with {#%s}", key, key)
		var ids []string
		for _, s := range c.outline.sections {
			ids = append(ids, s.id)
		}
		if near, ok := diag.Nearest(key, ids); ok {
			d = d.Suggesting("there is a heading with {#%s}", near)
		} else {
			d = d.Suggesting("mark the heading of the section that explains it: ## ... {#%s}", key)
		}
		c.add(d)
	case !s.prose:
		c.add(diag.New(diag.IdeaUnexplained, at, "the section {#%s} has no sentence that explains the idea", key))
	case !s.figures:
		c.add(diag.New(diag.IdeaWithoutFigure, at, "the section {#%s} shows no figure, structure, sweep, paths, mechanism or map", key).
			Suggesting("put a figure block into it"))
	}
}
