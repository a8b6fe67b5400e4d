package main

import (
	"context"
	"encoding/json"
	"fmt"
	"io"
	"strings"

	"ionwright/lesson"
	"ionwright/practice"
	"ionwright/practice/answer"
	"ionwright/practice/mark"
)

// maxAnswers is the largest file of answers that is read, in bytes.
const maxAnswers = 1 << 20

type markResult struct {
	Question string   `json:"question"`
	Verdict  string   `json:"verdict"`
	Marks    float64  `json:"marks"`
	Of       float64  `json:"of"`
	Reason   string   `json:"reason"`
	Causes   []string `json:"causes,omitempty"`
	Advice   []string `json:"advice,omitempty"`
	Carried  bool     `json:"carried,omitempty"`
	Forgiven []string `json:"forgiven,omitempty"`
}

type markSheet struct {
	Results []markResult `json:"results"`
	Marks   float64      `json:"marks"`
	Of      float64      `json:"of"`
	Unknown []string     `json:"unknown,omitempty"` // answers to no question of the lesson
}

type markIn struct {
	Question string                   `json:"question"`
	Answer   answer.Answer            `json:"answer"`
	Answers  map[string]answer.Answer `json:"answers"` // a whole paper instead
}

func runMark(ctx context.Context, c *call) error {
	streamed := c.flags.Bool("stream", false, "read {\"id\",\"question\",\"answer\"} or {\"id\",\"answers\"} a line")
	args, err := c.parse(1, 2)
	if err != nil {
		return err
	}
	if !*streamed && len(args) < 2 {
		return wrongUsage("a file of answers is missing")
	}
	questions, err := questionsOf(ctx, c, args[0])
	if err != nil {
		return err
	}
	if *streamed {
		return stream(ctx, c, func(ctx context.Context, in markIn) (any, error) { return markLine(ctx, questions, in) })
	}
	answers, err := c.readAnswers(args[1])
	if err != nil {
		return err
	}
	sheet, err := mark.Paper(ctx, questions, answers)
	if err != nil {
		return err
	}
	if c.json {
		return c.printJSON(sheetOf(sheet))
	}
	c.printSheet(sheet)
	return nil
}

// questionsOf are the questions of a lesson's folder.
func questionsOf(ctx context.Context, c *call, folder string) ([]*practice.Question, error) {
	files, err := lesson.Open(folder)
	if err != nil {
		return nil, err
	}
	report, diags, err := lesson.Check(ctx, files)
	if err != nil {
		return nil, err
	}
	if report == nil || diags.HasErrors() {
		for _, d := range diags {
			fmt.Fprintln(c.errOut, d)
		}
		return nil, fmt.Errorf("marking by the lesson in %q: it has errors", folder)
	}
	questions := report.Practice()
	if len(questions) == 0 {
		return nil, fmt.Errorf("marking by the lesson in %q: it asks no questions", folder)
	}
	return questions, nil
}

func (c *call) readAnswers(name string) (map[string]answer.Answer, error) {
	f, err := c.openFile(name)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	text, err := io.ReadAll(io.LimitReader(f, maxAnswers+1))
	if err != nil {
		return nil, fmt.Errorf("reading %q: %w", name, reason(err))
	}
	if len(text) > maxAnswers {
		return nil, fmt.Errorf("reading %q: it has more than %d bytes", name, maxAnswers)
	}
	var answers map[string]answer.Answer
	if err := json.Unmarshal(text, &answers); err != nil {
		return nil, fmt.Errorf("reading the answers in %q: %v\nhint: write {\"the question's id\": \"the answer\", ...}", name, err)
	}
	return answers, nil
}

func markLine(ctx context.Context, questions []*practice.Question, in markIn) (any, error) {
	if in.Answers != nil {
		sheet, err := mark.Paper(ctx, questions, in.Answers)
		return sheetOf(sheet), err
	}
	for _, q := range questions {
		if q.ID == in.Question {
			r, err := mark.Question(ctx, q, in.Answer)
			return resultOfMark(r), err
		}
	}
	return nil, fmt.Errorf("there is no question %q", in.Question)
}

func sheetOf(s mark.Sheet) markSheet {
	out := markSheet{Results: []markResult{}, Marks: s.Marks, Of: s.Of, Unknown: s.Unknown}
	for _, r := range s.Results {
		out.Results = append(out.Results, resultOfMark(r))
	}
	return out
}

func resultOfMark(r mark.Result) markResult {
	out := markResult{Question: r.Question, Verdict: string(r.Verdict), Marks: r.Marks, Of: r.Of, Reason: r.Reason, Advice: r.Advice, Carried: r.Carried}
	for _, code := range r.Causes {
		out.Causes = append(out.Causes, string(code))
	}
	for _, code := range r.Forgiven {
		out.Forgiven = append(out.Forgiven, string(code))
	}
	return out
}

func (c *call) printSheet(s mark.Sheet) {
	for _, r := range s.Results {
		c.print("%s: %g of %s, %s. %s", r.Question, r.Marks, practice.Points(r.Of), r.Verdict, r.Reason)
		for _, advice := range r.Advice {
			c.print("    %s", advice)
		}
	}
	c.print("together: %g of %s", s.Marks, practice.Points(s.Of))
	if len(s.Unknown) > 0 {
		c.print("the lesson has no questions %s", strings.Join(s.Unknown, ", "))
	}
}
