package check

import (
	"fmt"

	"github.com/yuin/goldmark/ast"

	"ionwright/lesson/diag"
	"ionwright/lesson/eval"
	"ionwright/lesson/source"
)

// computeAll computes every expression of the lesson, in reading order. An
// error is only ever the context's.
func (c *checker) computeAll() error {
	var err error
	claims, part := 0, 0
	front := c.outline.front
	c.report.Source.Walk(func(p *source.Prose, n ast.Node) {
		if err != nil {
			return
		}
		if h, ok := n.(*ast.Heading); ok && h.Level <= partLevel {
			part++
		}
		if c.part = part; front[p] {
			c.part = anyPart
		}
		switch n := n.(type) {
		case *source.Value:
			var r eval.Result
			var ok bool
			if r, ok, err = c.compute(n.Expr); ok {
				c.report.Values[n] = r
				c.mentioned(p, r)
			}
		case *source.Checked:
			err = c.checked(n)
		case *source.Fenced:
			if _, is := n.Block.(*source.Claim); is {
				c.part = anyPart
				err = c.claim(c.report.Claims[claims])
				claims++
			}
		}
	})
	// Questions come last: their words hold computed values.
	c.part = anyPart
	for _, q := range c.report.Questions {
		if err == nil {
			err = c.question(q)
		}
	}
	return err
}

// compute evaluates one expression; what goes wrong is reported, and ok is
// false.
func (c *checker) compute(t source.Text) (r eval.Result, ok bool, err error) {
	_, r, ok, err = c.evaluate(t)
	return r, ok, err
}

func (c *checker) evaluate(t source.Text) (x *eval.Expr, r eval.Result, ok bool, err error) {
	if t.IsZero() || t.Trimmed().Value == "" {
		return nil, r, false, nil // reported as missing
	}
	t = t.Trimmed()
	x, diags := c.env.Compile(t)
	for _, d := range diags {
		c.add(d)
	}
	if x == nil {
		return nil, r, false, nil
	}
	r, d, err := x.Eval(c.ctx)
	if d != nil {
		c.add(*d)
	}
	if d != nil || err != nil {
		return x, r, false, err
	}
	for _, part := range []int{c.part, anyPart} {
		for _, mz := range r.Trace.ListedIons {
			c.listed[listing{part, false, mz}] = true
		}
		for _, loss := range r.Trace.ListedLosses {
			c.listed[listing{part, true, loss}] = true
		}
	}
	c.clues = append(c.clues, clue{t.Place(), c.part, r.Trace})
	return x, r, true, nil
}

// mentioned keeps the figures that prose for students refers to.
func (c *checker) mentioned(p *source.Prose, r eval.Result) {
	if c.outline.notes[p] {
		return
	}
	for _, id := range r.Trace.Figures {
		c.figures[id] = true
	}
}

// checked compares words of the prose with what they state.
func (c *checker) checked(n *source.Checked) error {
	x, r, ok, err := c.evaluate(n.Expr)
	if err != nil || !ok {
		return err
	}
	c.report.Checked[n] = r
	if r.Agrees(n.Written.Value) {
		return nil
	}
	if held, isBool := r.Bool(); isBool && !held {
		why, err := x.WhyFalse(c.ctx)
		if err != nil {
			return err
		}
		c.add(c.noted(diag.New(diag.TextFalse, n.Written.Place(), "the statement %q is false: %s", n.Written.Value, why.Part).
			Against(why.Claimed, why.Computed), why.Origins))
		return nil
	}
	d := diag.New(diag.TextFalse, n.Written.Place(), "%q stands here, but %s is %s", n.Written.Value, n.Expr.Trimmed().Value, r.Text.Message())
	c.add(c.noted(d.Against(n.Written.Value, r.Text.Message()), r.Trace.Origins).
		Suggesting("write %s, or correct the expression", r.Text.Message()))
	return nil
}

// claim computes one claim.
func (c *checker) claim(claim *Claim) error {
	t := claim.Source.That
	if !claim.Source.Teaches.IsZero() {
		c.idea(claim.Source.Teaches)
	}
	x, r, ok, err := c.evaluate(t)
	if err != nil || !ok {
		return err
	}
	held, isBool := r.Bool()
	if !isBool {
		c.add(diag.New(diag.BadExpression, t.Place(), "the claim %q must be true or false, but is %s", t.Value, r.Text.Message()).
			Suggesting("compare it with what it should be: %s == ...", t.Value))
		return nil
	}
	claim.Holds, claim.From = held, r.Trace.Origins
	if held {
		claim.Parts, err = x.Parts(c.ctx)
		return err
	}
	why, err := x.WhyFalse(c.ctx)
	if err != nil {
		return err
	}
	part := ""
	if why.Part != t.Value {
		part = fmt.Sprintf(", because of %q", why.Part)
	}
	c.add(c.noted(diag.New(diag.ClaimFalse, t.Place(), "the claim %q is false%s", t.Value, part).
		Against(why.Claimed, why.Computed), why.Origins))
	return nil
}

func (c *checker) noted(d diag.Diagnostic, notes []string) diag.Diagnostic {
	for _, note := range notes {
		d = d.Noted("%s", note)
	}
	return d
}
