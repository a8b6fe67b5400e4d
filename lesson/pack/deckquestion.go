package pack

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"ionwright/draw"
	"ionwright/draw/structure"
	"ionwright/lesson/check"
	"ionwright/lesson/slides"
	"ionwright/practice"
)

// question makes the slide of a question, and for the instructor the one with
// its answer.
func (d *decker) question(q *check.Question) error {
	b := q.Source
	name := fmt.Sprintf("Question %d", q.Number)
	s := slides.Slide{Title: slides.Plain(fmt.Sprintf("%s (%s)", name, practice.Points(q.Practice.Marks)))}
	s.Body = append(s.Body, slides.Paragraph{Runs: d.prose(b.Ask)})
	s.Body = append(s.Body, d.offered(q)...)
	var err error
	switch k := q.Practice.Key.(type) {
	case practice.Arrows:
		s.Picture, err = d.picture(name, func() (draw.Figure, error) {
			return structure.Draw(k.Drawn, structure.Options{Numbers: true, LonePairs: true})
		})
	default:
		if f := d.questions[q]; f != nil {
			s.Picture, err = d.picture(f.File, func() (draw.Figure, error) { return f.drawing(narrowSize) })
			s.Caption = d.words(testOrigin(f.compound, false))
		}
	}
	if err != nil {
		return err
	}
	d.show(s)
	if d.student {
		return nil
	}
	answer := d.answerRuns(q)
	for _, p := range answer {
		d.note("Answer: "+slides.TextOf(p.Runs), true)
	}
	if because := d.prose(b.Because); len(because) > 0 {
		answer = append(answer, slides.Paragraph{Runs: because})
	}
	solved := slides.Slide{Title: slides.Plain(name + ": answer"), Body: answer}
	if k, ok := q.Practice.Key.(practice.Structure); ok {
		solved.Picture, err = d.picture(name+": answer", func() (draw.Figure, error) {
			return structure.Draw(k.Mol, structure.Options{})
		})
	}
	d.show(solved)
	return err
}

// offered is what a question offers to choose from, to order or to assign.
func (d *decker) offered(q *check.Question) []slides.Paragraph {
	var out []slides.Paragraph
	lettered := func(letter string, says []slides.Run) {
		out = append(out, slides.Paragraph{Runs: slices.Concat([]slides.Run{{Text: letter + ". ", Bold: true}}, says)})
	}
	options := func(all []practice.Option) {
		for i, o := range all {
			lettered(o.Letter, d.prose(q.Source.Choices[i].Says))
		}
	}
	switch k := q.Practice.Key.(type) {
	case practice.Choice:
		options(k.Options)
	case practice.Choices:
		options(k.Options)
	case practice.Order:
		for _, s := range k.Shown() {
			i := slices.IndexFunc(k.Steps, func(step practice.Step) bool { return step.Letter == s.Letter })
			lettered(s.Letter, d.prose(q.Source.Steps[i].Says))
		}
	case practice.Assign:
		var peaks []string
		for _, row := range k.Rows {
			peaks = append(peaks, strconv.Itoa(row.MZ))
		}
		out = append(out, slides.Paragraph{Runs: italic("Peaks: m/z " + strings.Join(peaks, ", "))})
	}
	return out
}

// answerRuns is the right answer, a paragraph for each of its parts.
func (d *decker) answerRuns(q *check.Question) []slides.Paragraph {
	bold := func(runs []slides.Run) slides.Paragraph {
		for i := range runs {
			runs[i].Bold = true
		}
		return slides.Paragraph{Runs: runs}
	}
	switch k := q.Practice.Key.(type) {
	case practice.Number:
		return []slides.Paragraph{bold(append(d.valueRuns(q.Answer), slides.Plain(unitAfter(q))...))}
	case practice.Formula:
		return []slides.Paragraph{bold(d.formulaRuns(k.Formula))}
	case practice.Assign:
		var out []slides.Paragraph
		for _, row := range k.Rows {
			runs := italic(fmt.Sprintf("m/z %d: ", row.MZ))
			for i, ion := range row.Ions {
				if i > 0 {
					runs = append(runs, slides.Run{Text: " or "})
				}
				runs = append(runs, d.formulaRuns(ion)...)
			}
			out = append(out, bold(runs))
		}
		return out
	case practice.Choice:
		return d.rightOnes(q, k.Options)
	case practice.Choices:
		return d.rightOnes(q, k.Options)
	case practice.Reasons:
		var out []slides.Paragraph
		for _, c := range k.Clues {
			out = append(out, slides.Paragraph{Runs: d.words(c.Says), Bullet: true})
		}
		return out
	}
	return []slides.Paragraph{bold(slides.Plain(q.Practice.Key.Solved().String()))}
}

// rightOnes are the right choices with their reasons.
func (d *decker) rightOnes(q *check.Question, options []practice.Option) []slides.Paragraph {
	var out []slides.Paragraph
	for i, o := range options {
		if !o.Right {
			continue
		}
		runs := slices.Concat([]slides.Run{{Text: o.Letter + ". "}}, d.prose(q.Source.Choices[i].Says))
		for k := range runs {
			runs[k].Bold = true
		}
		out = append(out, slides.Paragraph{Runs: runs})
		if because := d.prose(q.Source.Choices[i].Because); len(because) > 0 {
			out = append(out, slides.Paragraph{Runs: because})
		}
	}
	return out
}

// unitAfter is the unit of a number's answer with its space, where the computed
// value doesn't carry it already.
func unitAfter(q *check.Question) string {
	unit := q.Source.Unit.Value
	if unit == "" || strings.HasSuffix(q.Answer.Text.Message(), " "+unit) {
		return ""
	}
	return "\u00a0" + unit
}
