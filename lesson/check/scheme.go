package check

import (
	"context"
	"slices"
	"strings"

	"ionwright/lesson/diag"
	"ionwright/lesson/eval"
	"ionwright/lesson/source"
	"ionwright/practice"
	"ionwright/practice/answer"
	"ionwright/practice/cause"
	"ionwright/practice/mark"
)

// mistake reads the code of a mistake; an unknown one is reported.
func (c *checker) mistake(t source.Text) cause.Code {
	if t.IsZero() {
		return ""
	}
	names := []string{string(practice.SlipUnit), string(practice.SlipDigits), string(practice.SlipDot)}
	for _, known := range cause.All() {
		names = append(names, string(known.Code))
	}
	if !c.known("mistake", t, names) {
		return ""
	}
	return cause.Code(t.Value)
}

// scheme reads the marking scheme and tries it: the key's own answer must get
// all marks, what is accepted some, and what is rejected none. It is false
// where the question can't be marked, which is reported.
func (c *checker) scheme(q *Question, made *practice.Question) (bool, error) {
	b := q.Source
	for _, p := range b.Partial {
		code := c.mistake(p.Mistake)
		if p.Marks > made.Marks {
			c.add(diag.New(diag.QuestionScheme, p.Mistake.Place(), "%q gets %g marks, and the whole question has %g", p.Mistake.Value, p.Marks, made.Marks))
		}
		if code != "" {
			made.Scheme.Credit = append(made.Scheme.Credit, practice.Credit{Cause: code, Marks: p.Marks, Once: p.Once.Value})
		}
	}
	// The key is tried before the rows that could hide a mistake in it.
	r, err := mark.Question(c.ctx, made, made.Key.Solved())
	if err != nil {
		if c.ctx.Err() != nil {
			return false, err
		}
		c.add(diag.New(diag.QuestionScheme, b.Place(), "this question can't be marked: %v", err))
		return false, nil
	}
	if r.Verdict != mark.Right {
		c.add(diag.New(diag.QuestionScheme, b.Place(), "the right answer %q itself gets %g of %g marks: %s", made.Key.Solved(), r.Marks, r.Of, r.Reason).
			Suggesting("see whether phrases that are rejected stand in the clues, and whether unit and digits fit the answer"))
		return false, nil
	}
	made.Scheme.Accept = c.rows(b.Accept)
	made.Scheme.Reject = c.rows(b.Reject)
	if err := c.tryRows(made, b); err != nil {
		return false, err
	}
	return c.carry(q, made)
}

func (c *checker) rows(list []source.SchemeRow) []practice.Row {
	var out []practice.Row
	for _, row := range list {
		if len(row.Answers) > 0 {
			out = append(out, practice.Row{Answer: answerOf(row), Marks: row.Marks, Because: c.words(row.Because), Cause: c.mistake(row.Mistake)})
		}
	}
	return out
}

func answerOf(row source.SchemeRow) answer.Answer {
	if len(row.Answers) == 1 {
		return answer.Of(row.Answers[0].Value)
	}
	out := answer.Answer{List: []string{}}
	for _, t := range row.Answers {
		out.List = append(out.List, t.Value)
	}
	return out
}

// tryRows marks the answers of the scheme's rows.
func (c *checker) tryRows(made *practice.Question, b *source.Question) error {
	for _, row := range slices.Concat(b.Accept, b.Reject) {
		if len(row.Answers) == 0 {
			continue
		}
		rejected := slices.ContainsFunc(b.Reject, func(r source.SchemeRow) bool { return r.At.Place() == row.At.Place() })
		r, err := mark.Question(c.ctx, made, answerOf(row))
		if err != nil {
			return err
		}
		switch at := row.Answers[0].Place(); {
		case r.Verdict == mark.Unreadable:
			c.add(diag.New(diag.QuestionScheme, at, "no student's answer is ever taken for %q: %s", answerOf(row), strings.ToLower(r.Reason[:1])+r.Reason[1:]))
		case !rejected && r.Marks == 0:
			c.add(diag.New(diag.QuestionScheme, at, "%q is accepted and rejected", answerOf(row)))
		case row.Marks > made.Marks:
			c.add(diag.New(diag.QuestionScheme, at, "%q gets %g marks, and the whole question has %g", answerOf(row), row.Marks, made.Marks))
		}
	}
	r, err := mark.Question(c.ctx, made, made.Key.Solved())
	if err == nil && r.Verdict != mark.Right {
		c.add(diag.New(diag.QuestionScheme, b.Place(), "the right answer %q is rejected", made.Key.Solved()))
	}
	return err
}

// carry reads how an earlier answer enters this one, and tries it with the
// right one.
func (c *checker) carry(q *Question, made *practice.Question) (bool, error) {
	after := q.Source.After
	if after == nil || after.Question.IsZero() || after.Answer.IsZero() {
		return true, nil
	}
	var earlier *Question
	var names []string
	for _, other := range c.report.Questions {
		if other == q {
			break
		}
		names = append(names, other.Source.ID.Value)
		if other.Source.ID.Value == after.Question.Value {
			earlier = other
		}
	}
	if earlier == nil {
		c.known("earlier question", after.Question, names)
		return true, nil
	}
	if earlier.Practice == nil {
		return true, nil // reported there
	}
	rekey := c.rekey(q, made.Key, earlier.Practice.Key)
	key, ok := rekey(earlier.Practice.Key.Solved())
	if !ok {
		c.reportCarry(after.Answer, earlier.Practice.Key)
		return true, nil
	}
	same := *made
	same.Key = key
	r, err := mark.Question(c.ctx, &same, made.Key.Solved())
	if err != nil {
		return false, err
	}
	if r.Verdict != mark.Right {
		c.add(diag.New(diag.QuestionScheme, after.Answer.Place(), "from the right answer %q to %q, %q gives %s and not the answer %s",
			earlier.Practice.Key.Solved(), after.Question.Value, after.Answer.Value, key.Solved(), made.Key.Solved()))
		return true, nil
	}
	made.Scheme.Carry = &practice.Carry{From: after.Question.Value, Rekey: rekey}
	return true, nil
}

// rekey computes the key that an earlier answer leads to.
func (c *checker) rekey(q *Question, key, before practice.Key) func(answer.Answer) (practice.Key, bool) {
	ctx := context.WithoutCancel(c.ctx) // a question is marked long after the check
	return func(a answer.Answer) (practice.Key, bool) {
		x, ok := earlierNumber(before, a)
		if !ok {
			return nil, false
		}
		env, err := c.env.WithEarlier(x)
		if err != nil {
			return nil, false
		}
		e, _ := env.Compile(q.Source.After.Answer)
		if e == nil {
			return nil, false
		}
		r, d, err := e.Eval(ctx)
		if err != nil || d != nil {
			return nil, false
		}
		switch k := key.(type) {
		case practice.Number:
			if k.Value, ok = r.Number(); ok {
				return k, true
			}
		case practice.Formula:
			if k.Formula, ok = formulaOf(r); ok {
				return k, true
			}
		}
		return nil, false
	}
}

// earlierNumber is what a student's earlier answer is called in an expression:
// its number, or the nominal mass of its formula.
func earlierNumber(key practice.Key, a answer.Answer) (float64, bool) {
	switch k := key.(type) {
	case practice.Number:
		n, err := answer.ReadNumber(a.Text)
		if err != nil {
			return 0, false
		}
		if x, ok := n.In(k.Unit); ok {
			return x, true
		}
		return n.Value, n.Unit == ""
	case practice.Formula:
		f, err := answer.ReadFormula(a.Text)
		return float64(f.NominalMass()), err == nil
	}
	return 0, false
}

// reportCarry says why an expression with an earlier answer gives no key.
func (c *checker) reportCarry(t source.Text, before practice.Key) {
	x, ok := earlierNumber(before, before.Solved())
	if !ok {
		c.add(diag.New(diag.QuestionScheme, t.Place(), "the earlier question is answered by %s %s: only a number or a formula can enter a later answer",
			article(before.Kind().String()), before.Kind()))
		return
	}
	env, err := c.env.WithEarlier(x)
	if err != nil {
		return
	}
	e, diags := env.Compile(t)
	for _, d := range diags {
		c.add(d)
	}
	if e == nil {
		return
	}
	r, d, err := e.Eval(c.ctx)
	switch {
	case err != nil:
	case d != nil:
		c.add(*d)
	default:
		c.add(diag.New(diag.QuestionScheme, t.Place(), "%q is %s, which can't be this question's answer", t.Value, r.Text.Message()).
			Suggesting("%s is a decimal number: write for example %s - 15.0", eval.Earlier, eval.Earlier))
	}
}

func article(noun string) string {
	if strings.ContainsAny(noun[:1], "aeiou") {
		return "an"
	}
	return "a"
}
