package pack

import (
	"fmt"
	"html/template"
	"slices"
	"strconv"
	"strings"

	"github.com/yuin/goldmark/util"

	"ionwright/draw"
	"ionwright/draw/structure"
	"ionwright/draw/svg"
	"ionwright/lesson/check"
	"ionwright/lesson/source"
	"ionwright/practice"
)

// questionData is a question as a page shows it; the fields from Answer on
// are filled on the key page only.
type questionData struct {
	ID, Number string
	Top        bool // stands before any heading
	Kind       string
	Marks      string
	Ask        template.HTML
	Unit       string
	Choices    []choiceData
	Several    bool // choices of which several may be right
	Steps      []stepData
	Peaks      []string
	Drawing    template.HTML
	Figure     *figureData // the spectrum that it is answered from
	Lines      int         // to write on
	Hints      []template.HTML
	Key        bool
	Answer     template.HTML
	From       []string
	Because    template.HTML
	Scheme     []string
	Foreseen   []foreseenData
}

type choiceData struct {
	Letter  string
	Says    template.HTML
	Right   bool
	Because template.HTML
}

type stepData struct {
	Letter string
	Says   template.HTML
}

type foreseenData struct{ Text, Title, Because string }

func (w *writer) questionBlock(out util.BufWriter, b *source.Question) error {
	i := slices.IndexFunc(w.report.Questions, func(q *check.Question) bool { return q.Source == b })
	q := w.report.Questions[i]
	data := questionData{ID: b.ID.Value, Top: w.level < 2, Number: strconv.Itoa(q.Number), Kind: b.Kind.String(), Unit: b.Unit.Value, Key: w.key,
		Several: b.Kind == practice.ChoicesKind, Marks: practice.Points(q.Practice.Marks)}
	var err error
	if data.Ask, err = w.inline(b.Ask); err != nil {
		return err
	}
	if f := w.questions[q]; f != nil {
		data.Figure = f.data(w.key)
	}
	if err := w.form(&data, q); err != nil {
		return err
	}
	for _, h := range b.Hints {
		text, err := w.inline(h)
		if err != nil {
			return err
		}
		data.Hints = append(data.Hints, text)
	}
	if w.key {
		if err := w.answer(&data, q); err != nil {
			return err
		}
	}
	return w.tmpl.ExecuteTemplate(out, "question", data)
}

// form fills in what the student answers with.
func (w *writer) form(data *questionData, q *check.Question) error {
	b := q.Source
	switch k := q.Practice.Key.(type) {
	case practice.Choice:
		return w.choices(data, b, k.Options)
	case practice.Choices:
		return w.choices(data, b, k.Options)
	case practice.Order:
		for _, s := range k.Shown() {
			i := slices.IndexFunc(k.Steps, func(step practice.Step) bool { return step.Letter == s.Letter })
			says, err := w.inline(b.Steps[i].Says)
			if err != nil {
				return err
			}
			data.Steps = append(data.Steps, stepData{s.Letter, says})
		}
	case practice.Assign:
		for _, row := range k.Rows {
			data.Peaks = append(data.Peaks, strconv.Itoa(row.MZ))
		}
	case practice.Arrows:
		drawing, err := numbered(k, fmt.Sprintf("q%d", q.Number))
		data.Drawing = drawing
		return err
	case practice.Reasons:
		data.Lines = 1 + k.Needs
	}
	return nil
}

// numbered draws the structure that electron arrows go into, its atoms
// numbered.
func numbered(k practice.Arrows, prefix string) (template.HTML, error) {
	f, err := structure.Draw(k.Drawn, structure.Options{Numbers: true, LonePairs: true})
	if err != nil {
		return "", err
	}
	text, err := svg.Marshal(f, svg.Options{Palette: draw.Light(), Dark: draw.Dark(), Transparent: true, Prefix: prefix})
	return template.HTML(text), err
}

func (w *writer) choices(data *questionData, b *source.Question, options []practice.Option) error {
	for i, c := range b.Choices {
		row := choiceData{Letter: options[i].Letter}
		var err error
		if row.Says, err = w.inline(c.Says); err != nil {
			return err
		}
		if w.key {
			row.Right = options[i].Right
			if row.Because, err = w.inline(c.Because); err != nil {
				return err
			}
		}
		data.Choices = append(data.Choices, row)
	}
	return nil
}

// answer fills in what only the key page shows.
func (w *writer) answer(data *questionData, q *check.Question) error {
	b := q.Source
	switch k := q.Practice.Key.(type) {
	case practice.Number:
		data.Answer = w.printed(q.Answer) + template.HTML(template.HTMLEscapeString(unitAfter(q)))
	case practice.Formula:
		data.Answer = template.HTML(w.formula(k.Formula))
	case practice.Assign:
		var rows []string
		for _, row := range k.Rows {
			var ions []string
			for _, ion := range row.Ions {
				ions = append(ions, w.formula(ion))
			}
			rows = append(rows, fmt.Sprintf("<i>m/z</i>\u00a0%d: %s", row.MZ, strings.Join(ions, " or ")))
		}
		data.Answer = template.HTML(strings.Join(rows, "; "))
	case practice.Reasons:
	default:
		data.Answer = template.HTML(template.HTMLEscapeString(k.Solved().String()))
	}
	if !b.Answer.IsZero() && b.Kind != practice.StructureKind {
		data.From = append([]string{"computed as " + b.Answer.Value}, q.Answer.Trace.Origins...)
	}
	data.Scheme = append(q.Practice.SchemeLines(), notCarried(q.Practice)...)
	const shown = 6
	for _, f := range q.Practice.Foreseen(shown) {
		data.Foreseen = append(data.Foreseen, foreseenData{f.Text, f.Cause.Title, f.Mistake.Because})
	}
	var err error
	data.Because, err = w.inline(b.Because)
	return err
}
