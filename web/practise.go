package web

import (
	"context"
	"fmt"
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"ionwright/draw"
	"ionwright/draw/plot"
	"ionwright/lesson"
	"ionwright/practice"
	"ionwright/practice/answer"
	"ionwright/practice/mark"
)

// practiseShelf lists the lessons whose questions can be practised.
func (s *Server) practiseShelf(w http.ResponseWriter, r *http.Request) error {
	rows, err := s.lessonRows()
	if err != nil {
		return err
	}
	return s.render(w, r, "practiseshelf", "/practise", "Practise", rows)
}

// paperKey names the questions of a lesson as it was built at one time.
type paperKey struct {
	lesson  string
	version int
}

// paper are the questions of a lesson.
type paper struct {
	title     string
	questions []*practice.Question
	figures   [][]*shownFigure // by question: what it is answered from
}

// paperOf computes a lesson's questions, or remembers them until the lesson
// changes.
func (s *Server) paperOf(ctx context.Context, name string) (*paper, error) {
	d, err := s.deskOf(name)
	if err != nil {
		return nil, err
	}
	return s.papers.get(paperKey{name, d.preview.State().Version}, func() (p *paper, err error) {
		files, _, err := s.lessonFiles(name)
		if err != nil {
			return nil, err
		}
		err = s.heavy(ctx, func() error {
			report, _, err := lesson.Check(ctx, files)
			if err != nil {
				return err
			}
			if report == nil {
				return &failure{http.StatusConflict, "The lesson can't be read", fmt.Errorf("its source has errors; the place Write names them")}
			}
			p = &paper{title: report.Source.Title.Value}
			for _, q := range report.Questions {
				if q.Practice == nil {
					continue
				}
				p.questions = append(p.questions, q.Practice)
				figures, err := figuresFor(len(p.questions), q.Practice)
				if err != nil {
					return fmt.Errorf("drawing the figures of the question %q: %w", q.Practice.ID, err)
				}
				p.figures = append(p.figures, figures)
			}
			return nil
		})
		return p, err
	})
}

// practisePage is what the template shows.
type practisePage struct {
	Lesson, Title string
	Questions     []askedQuestion
	Marks, Of     string
	Answered      int
}

// askedQuestion is a question with what was answered, all from the address.
type askedQuestion struct {
	Number          int
	ID, Ask         string
	Kind, How       string
	Options         []shownOption
	Rows            []shownRow // peaks to assign
	Arrows          []arrowRow
	Figures         []*shownFigure // what the question is answered from
	Text            string         // as it was written
	Given           bool
	Result          mark.Result
	Marks, Of       string
	Hints           []string // those asked for
	MoreHints       string   // address with one hint more; empty: there is none
	Solution        []string // where it was asked for
	SolutionAddress string
}

type shownOption struct {
	Letter, Text string
	Chosen       bool
}

type shownRow struct{ Field, MZ, Text string }

// practise shows a lesson's questions and marks what was answered.
func (s *Server) practise(w http.ResponseWriter, r *http.Request) error {
	name := r.PathValue("lesson")
	p, err := s.paperOf(r.Context(), name)
	if err != nil {
		return err
	}
	values := r.URL.Query()
	given := map[string]answer.Answer{}
	for _, q := range p.questions {
		if a := answerIn(values, q); !a.Blank() {
			given[q.ID] = a
		}
	}
	sheet, err := mark.Paper(r.Context(), p.questions, given)
	if err != nil {
		return err
	}
	page := &practisePage{Lesson: name, Title: p.title, Answered: len(given)}
	marks, of := 0.0, 0.0
	for i, q := range p.questions {
		_, answered := given[q.ID]
		one := ask(values, name, q, sheet.Results[i])
		one.Number, one.Given = i+1, answered
		one.Figures = p.figures[i]
		if answered {
			marks, of = marks+sheet.Results[i].Marks, of+sheet.Results[i].Of
		}
		page.Questions = append(page.Questions, one)
	}
	page.Marks, page.Of = practice.Points(marks), practice.Points(of)
	return s.render(w, r, "practise", "/practise", p.title+" – Practise", page)
}

// Names of a question's parameters.
func answerField(id string) string   { return "a." + id }
func hintField(id string) string     { return "hint." + id }
func solutionField(id string) string { return "solution." + id }

// answerIn reads the answer to a question from the address.
func answerIn(values url.Values, q *practice.Question) answer.Answer {
	all := values[answerField(q.ID)]
	text := strings.TrimSpace(strings.Join(all, "\n"))
	switch key := q.Key.(type) {
	case practice.Choices:
		return answer.Listed(all...)
	case practice.Peaks, practice.Order:
		return answer.Listed(strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(" ,;\n\t", r) })...)
	case practice.Arrows:
		return answer.Listed(arrowsIn(values, q.ID)...)
	case practice.Assign:
		pairs := map[string]string{}
		for _, row := range key.Rows {
			mz := strconv.Itoa(row.MZ)
			if ion := strings.TrimSpace(values.Get(answerField(q.ID) + "." + mz)); ion != "" {
				pairs[mz] = ion
			}
		}
		return answer.Answer{Pairs: pairs}
	}
	if text == "" {
		return answer.Answer{}
	}
	return answer.Of(text)
}

// figuresFor draws what a question is answered from: the spectrum without
// labels, or the structure that takes the arrows.
func figuresFor(number int, q *practice.Question) ([]*shownFigure, error) {
	var out []*shownFigure
	if key, ok := q.Key.(practice.Arrows); ok {
		f, err := drawnFor(number, key)
		if err != nil {
			return nil, err
		}
		out = append(out, f)
	}
	if q.ShowsSpectrum() {
		f, err := showBoth(fmt.Sprintf("asked-%d", number), func(narrow bool) (draw.Figure, error) {
			o := plot.Options{Mode: plot.Test, Width: wideWidth, Height: narrowHeight, Alias: fmt.Sprintf("question %d", number)}
			if narrow {
				o.Width, o.Strongest = narrowWidth, 5
			}
			return plot.Spectrum(q.Facts.Spectrum, o)
		}, nil)
		if err != nil {
			return nil, err
		}
		out = append(out, f)
	}
	return out, nil
}

// ask prepares a question for the page.
func ask(values url.Values, lesson string, q *practice.Question, result mark.Result) askedQuestion {
	one := askedQuestion{ID: q.ID, Ask: q.Ask, Result: result, Marks: practice.Points(result.Marks), Of: practice.Points(result.Of)}
	for _, doc := range practice.Kinds() {
		if doc.Kind == q.Key.Kind() {
			one.Kind, one.How = doc.Name, "such as "+doc.Answer
		}
	}
	all := values[answerField(q.ID)]
	one.Text = strings.Join(all, "\n")
	chosen := func(letter string) bool {
		for _, a := range all {
			if a == letter {
				return true
			}
		}
		return false
	}
	switch key := q.Key.(type) {
	case practice.Choice:
		for _, o := range key.Options {
			one.Options = append(one.Options, shownOption{o.Letter, o.Text, chosen(o.Letter)})
		}
	case practice.Choices:
		for _, o := range key.Options {
			one.Options = append(one.Options, shownOption{o.Letter, o.Text, chosen(o.Letter)})
		}
	case practice.Order:
		for _, o := range key.Shown() {
			one.Options = append(one.Options, shownOption{Letter: o.Letter, Text: o.Text})
		}
	case practice.Assign:
		for _, row := range key.Rows {
			field := answerField(q.ID) + "." + strconv.Itoa(row.MZ)
			one.Rows = append(one.Rows, shownRow{field, strconv.Itoa(row.MZ), values.Get(field)})
		}
	case practice.Arrows:
		one.Arrows = arrowRows(values, q.ID, key)
	case practice.Number:
		if key.Unit != "" {
			one.How = "a number with its unit"
		}
	}
	asked, _ := strconv.Atoi(values.Get(hintField(q.ID)))
	asked = max(0, min(asked, len(q.Hints)))
	one.Hints = q.Hints[:asked]
	with := func(field, value string) string {
		changed := url.Values{}
		for name, all := range values {
			changed[name] = all
		}
		changed.Set(field, value)
		return "/practise/" + url.PathEscape(lesson) + "?" + changed.Encode()
	}
	if asked < len(q.Hints) {
		one.MoreHints = with(hintField(q.ID), strconv.Itoa(asked+1))
	}
	if values.Get(solutionField(q.ID)) == "1" {
		one.Solution = append([]string{"Answer: " + q.Key.Solved().String()}, q.Solution...)
	} else {
		one.SolutionAddress = with(solutionField(q.ID), "1")
	}
	return one
}
