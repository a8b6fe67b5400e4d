package check

import (
	"math"

	"ionwright/lesson/diag"
	"ionwright/lesson/source"
)

// question computes a question's answer.
func (c *checker) question(q *Question) error {
	b := q.Source
	switch {
	case !b.Idea.IsZero():
		c.idea(b.Idea)
	case len(c.report.Source.Ideas) > 0:
		c.add(diag.New(diag.MissingKey, b.Place(), "this question needs \"idea\": which of the lesson's ideas it asks about"))
	}
	switch b.Kind {
	case source.NumberQuestion:
		return c.number(q)
	case source.ChoiceQuestion:
		return c.choice(q)
	}
	return nil // an unknown kind is reported already
}

func (c *checker) number(q *Question) error {
	r, ok, err := c.compute(q.Source.Answer)
	if err != nil || !ok {
		return err
	}
	q.Answer = r
	x, isNumber := r.Number()
	switch {
	case !isNumber || math.IsNaN(x) || math.IsInf(x, 0):
		c.add(diag.New(diag.QuestionAnswer, q.Source.Answer.Place(), "the answer %q must be a number, but is %s",
			q.Source.Answer.Value, r.Text.Message()))
	case x != math.Trunc(x) && q.Source.Tolerance == 0:
		c.add(diag.New(diag.QuestionAnswer, q.Source.Answer.Place(), "the answer %q is %s: a number that isn't whole needs \"tolerance\"",
			q.Source.Answer.Value, r.Text.Message()).Suggesting("say how far an accepted answer may be off, for example tolerance: 0.01"))
	}
	return nil
}

func (c *checker) choice(q *Question) error {
	if n := len(q.Source.Choices); n < 2 {
		if n == 1 {
			c.add(diag.New(diag.QuestionAnswer, q.Source.Place(), "this question offers a single choice"))
		}
		return nil
	}
	right, computed := 0, true
	for i, choice := range q.Source.Choices {
		r, ok, err := c.compute(choice.Right)
		if err != nil {
			return err
		}
		held, isBool := r.Bool()
		switch {
		case !ok:
			computed = false
		case !isBool:
			computed = false
			c.add(diag.New(diag.QuestionAnswer, choice.Right.Place(), "%q must be true or false, but is %s", choice.Right.Value, r.Text.Message()))
		case held:
			right++
			q.Right = i
		}
	}
	if computed && right != 1 {
		q.Right = -1
		c.add(diag.New(diag.QuestionAnswer, q.Source.Place(), "%d of its choices are right, but exactly one must be", right))
	}
	return nil
}
