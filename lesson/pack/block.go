package pack

import (
	"fmt"
	"html/template"
	"slices"

	"github.com/yuin/goldmark/ast"
	"github.com/yuin/goldmark/util"

	"ionwright/draw"
	"ionwright/lesson/source"
)

// fenced writes a lesson block.
func (w *writer) fenced(out util.BufWriter, _ []byte, n ast.Node, entering bool) (ast.WalkStatus, error) {
	if !entering {
		return ast.WalkContinue, nil
	}
	err := w.block(out, n.(*source.Fenced).Block)
	return ast.WalkSkipChildren, err
}

func (w *writer) block(out util.BufWriter, b source.Block) error {
	switch b := b.(type) {
	case *source.Include:
		text, err := w.render(b.Prose)
		if err == nil {
			_, err = out.WriteString(string(text))
		}
		return err
	case *source.Figure:
		return w.figureBlock(out, b.ID.Value, b.Caption)
	case *source.Sweep:
		return w.figureBlock(out, b.ID.Value, b.Caption)
	case *source.Paths:
		return w.figureBlock(out, b.ID.Value, b.Caption)
	case *source.Structure:
		return w.figureBlock(out, b.ID.Value, b.Caption)
	case *source.Mechanism:
		return w.figureBlock(out, b.ID.Value, b.Caption)
	case *source.Map:
		return w.figureBlock(out, b.ID.Value, b.Caption)
	case *source.Question:
		return w.questionBlock(out, b)
	case *source.Recap:
		return w.recapBlock(out, b)
	case *source.InstrumentBlock:
		data, err := instrumentOf(w.report.Lesson.Instrument(b.Show.Value))
		if err != nil {
			return err
		}
		return w.tmpl.ExecuteTemplate(out, "instrument", data)
	case *source.Note:
		if !w.key {
			return nil
		}
		says, err := w.render(b.Says)
		if err != nil {
			return err
		}
		return w.tmpl.ExecuteTemplate(out, "note", says)
	case *source.Claim:
		if !w.key {
			return nil
		}
		return w.claimMark(out, b)
	}
	return fmt.Errorf("no page form for a %T", b)
}

type figureData struct {
	ID           string
	Label        string // "Figure 3", "The spectrum of question 2"
	Wide, Narrow template.HTML
	Caption      template.HTML
	Origin       string
	Computed     bool
	Table        draw.Table
}

func (w *writer) figureBlock(out util.BufWriter, id string, caption *source.Prose) error {
	i := slices.IndexFunc(w.figures, func(f *figure) bool { return f.ID == id })
	f := w.figures[i]
	v := f.of(w.key)
	text, err := w.inline(caption)
	if err != nil {
		return err
	}
	return w.tmpl.ExecuteTemplate(out, "figure", figureData{
		ID: f.ID, Label: fmt.Sprintf("Figure %d", f.Number), Wide: template.HTML(v.Wide), Narrow: template.HTML(v.Narrow),
		Caption: text, Origin: f.Origin(w.key), Computed: f.computed(), Table: v.Drawn.Table,
	})
}

type recapRow struct {
	Key       string
	Statement template.HTML
	Hook      *hookData
}

func (w *writer) recapBlock(out util.BufWriter, b *source.Recap) error {
	var rows []recapRow
	for _, t := range b.Ideas {
		i := slices.IndexFunc(w.report.Source.Ideas, func(idea source.Idea) bool { return idea.Key.Value == t.Value })
		idea := w.report.Source.Ideas[i]
		statement, err := w.inline(idea.Statement)
		if err != nil {
			return err
		}
		hook, err := w.hookData(t.Value)
		if err != nil {
			return err
		}
		rows = append(rows, recapRow{t.Value, statement, hook})
	}
	return w.tmpl.ExecuteTemplate(out, "recap", rows)
}
