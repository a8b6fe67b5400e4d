package pack

import (
	"html/template"
	"slices"
	"strconv"
	"strings"

	"github.com/yuin/goldmark/util"

	"ionwright/lesson/check"
	"ionwright/lesson/source"
)

// questionData is a question as a page shows it; the fields from Answer on
// are filled on the key page only.
type questionData struct {
	ID, Number string
	Ask        template.HTML
	Unit       string
	Choices    []choiceData
	Key        bool
	Answer     template.HTML
	Within     string // accepted difference
	From       []string
	Because    template.HTML
}

type choiceData struct {
	Letter  string
	Says    template.HTML
	Right   bool
	Because template.HTML
}

func (w *writer) questionBlock(out util.BufWriter, b *source.Question) error {
	i := slices.IndexFunc(w.report.Questions, func(q *check.Question) bool { return q.Source == b })
	q := w.report.Questions[i]
	data := questionData{ID: b.ID.Value, Number: strconv.Itoa(q.Number), Unit: b.Unit.Value, Key: w.key}
	var err error
	if data.Ask, err = w.inline(b.Ask); err != nil {
		return err
	}
	for i, c := range b.Choices {
		row := choiceData{Letter: string(rune('A' + i))}
		if row.Says, err = w.inline(c.Says); err != nil {
			return err
		}
		if w.key {
			row.Right = i == q.Right
			if row.Because, err = w.inline(c.Because); err != nil {
				return err
			}
		}
		data.Choices = append(data.Choices, row)
	}
	if w.key {
		if err := w.answer(&data, q); err != nil {
			return err
		}
	}
	return w.tmpl.ExecuteTemplate(out, "question", data)
}

// answer fills in what only the key page shows.
func (w *writer) answer(data *questionData, q *check.Question) error {
	b := q.Source
	switch b.Kind {
	case source.NumberQuestion:
		data.Answer = printed(q.Answer)
		if text := q.Answer.Text.Message(); b.Unit.Value != "" && !strings.HasSuffix(text, " "+b.Unit.Value) {
			data.Answer += template.HTML("\u00a0" + template.HTMLEscapeString(b.Unit.Value))
		}
		if b.Tolerance > 0 {
			data.Within = strconv.FormatFloat(b.Tolerance, 'g', -1, 64)
			if b.Unit.Value != "" {
				data.Within += "\u00a0" + b.Unit.Value
			}
		}
		data.From = append([]string{"computed as " + b.Answer.Value}, q.Answer.Trace.Origins...)
	case source.ChoiceQuestion:
		data.Answer = template.HTML(data.Choices[q.Right].Letter)
	}
	var err error
	data.Because, err = w.inline(b.Because)
	return err
}
