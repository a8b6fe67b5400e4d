package check

import (
	"math"
	"strings"

	"ionwright/chem"
	"ionwright/lesson/diag"
	"ionwright/lesson/eval"
	"ionwright/lesson/source"
	"ionwright/mol"
	"ionwright/mol/smiles"
	"ionwright/practice"
)

// question computes a question's answer and makes the value that is set,
// solved and marked.
func (c *checker) question(q *Question) error {
	b := q.Source
	switch {
	case !b.Idea.IsZero():
		c.idea(b.Idea)
	case len(c.report.Source.Ideas) > 0:
		c.add(diag.New(diag.MissingKey, b.Place(), "this question needs \"idea\": which of the lesson's ideas it asks about"))
	}
	key, err := c.key(q)
	if err != nil || key == nil {
		return err
	}
	made := &practice.Question{
		ID: b.ID.Value, Idea: b.Idea.Value, Ask: c.words(b.Ask), Key: key, Marks: b.Marks,
		Solution: c.solution(q),
	}
	if made.Marks == 0 {
		made.Marks = 1
	}
	for _, h := range b.Hints {
		made.Hints = append(made.Hints, c.words(h))
	}
	if made.Facts, err = c.facts(b, key); err != nil {
		return err
	}
	if ok, err := c.scheme(q, made); !ok || err != nil {
		return err
	}
	q.Practice = made
	return nil
}

// key computes the right answer; nil where it can't be, which is reported.
func (c *checker) key(q *Question) (practice.Key, error) {
	b := q.Source
	switch b.Kind {
	case practice.NumberKind:
		return c.numberKey(q)
	case practice.ChoiceKind, practice.ChoicesKind:
		return c.choiceKey(b)
	case practice.FormulaKind:
		return c.formulaKey(q)
	case practice.StructureKind:
		if m := c.structureAt(b.Answer); m != nil {
			return practice.Structure{Mol: m}, nil
		}
	case practice.PeaksKind:
		return c.peaksKey(q)
	case practice.AssignKind:
		return c.assignKey(b), nil
	case practice.OrderKind:
		return c.orderKey(b), nil
	case practice.ArrowsKind:
		return c.arrowsKey(b)
	case practice.ReasonsKind:
		return c.reasonsKey(b), nil
	}
	return nil, nil
}

func (c *checker) numberKey(q *Question) (practice.Key, error) {
	b := q.Source
	r, ok, err := c.compute(b.Answer)
	if err != nil || !ok {
		return nil, err
	}
	q.Answer = r
	x, isNumber := r.Number()
	switch {
	case !isNumber || math.IsNaN(x) || math.IsInf(x, 0):
		c.add(diag.New(diag.QuestionAnswer, b.Answer.Place(), "the answer %q must be a number, but is %s", b.Answer.Value, r.Text.Message()))
		return nil, nil
	case x != math.Trunc(x) && b.Tolerance == 0:
		c.add(diag.New(diag.QuestionAnswer, b.Answer.Place(), "the answer %q is %s: a number that isn't whole needs \"tolerance\"",
			b.Answer.Value, r.Text.Message()).Suggesting("say how far an accepted answer may be off, for example tolerance: 0.01"))
		return nil, nil
	}
	key := practice.Number{Value: x, Tolerance: b.Tolerance, Unit: b.Unit.Value, Digits: b.Digits}
	if b.NeedsUnit {
		key.Units = practice.UnitRequired
	}
	return key, nil
}

func (c *checker) choiceKey(b *source.Question) (practice.Key, error) {
	if n := len(b.Choices); n < 2 {
		if n == 1 {
			c.add(diag.New(diag.QuestionAnswer, b.Place(), "this question offers a single choice"))
		}
		return nil, nil
	}
	const letters = 26
	if len(b.Choices) > letters {
		c.add(diag.New(diag.QuestionAnswer, b.Place(), "this question offers %d choices, more than there are letters", len(b.Choices)))
		return nil, nil
	}
	right, computed := 0, true
	var options []practice.Option
	for _, choice := range b.Choices {
		r, ok, err := c.compute(choice.Right)
		if err != nil {
			return nil, err
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
		}
		options = append(options, practice.Option{Text: c.words(choice.Says), Right: held, Because: c.words(choice.Because), Cause: c.mistake(choice.Mistake)})
	}
	options = practice.Letters(options)
	switch {
	case !computed:
		return nil, nil
	case b.Kind == practice.ChoicesKind && right > 0:
		return practice.Choices{Options: options}, nil
	case b.Kind == practice.ChoicesKind:
		c.add(diag.New(diag.QuestionAnswer, b.Place(), "0 of its choices are right, but at least one must be"))
		return nil, nil
	case right != 1:
		c.add(diag.New(diag.QuestionAnswer, b.Place(), "%d of its choices are right, but exactly one must be", right))
		return nil, nil
	}
	return practice.Choice{Options: options}, nil
}

func (c *checker) formulaKey(q *Question) (practice.Key, error) {
	r, ok, err := c.compute(q.Source.Answer)
	if err != nil || !ok {
		return nil, err
	}
	q.Answer = r
	f, ok := formulaOf(r)
	if !ok {
		c.add(diag.New(diag.QuestionAnswer, q.Source.Answer.Place(), "the answer %q must be a formula, but is %s", q.Source.Answer.Value, r.Text.Message()).
			Suggesting("a formula stands in quotes, or is computed: ion(...).formula, loss(...).formula"))
		return nil, nil
	}
	return practice.Formula{Formula: f, Dot: q.Source.Dot}, nil
}

// formulaOf is a computed formula, and false for anything else.
func formulaOf(r eval.Result) (chem.Formula, bool) {
	text, ok := r.Value.(string)
	if !ok {
		return chem.Formula{}, false
	}
	f, err := chem.ParseFormula(text)
	return f, err == nil && !f.IsEmpty()
}

// structureAt is a structure given by a compound's key or as SMILES; nil where
// it is neither, which is reported.
func (c *checker) structureAt(t source.Text) *mol.Mol {
	if t.IsZero() {
		return nil // reported as missing
	}
	for _, known := range c.report.Source.Compounds {
		if known.Key.Value == t.Value {
			if compound := c.report.Lesson.Compound(t.Value); compound != nil {
				return compound.Mol
			}
			return nil // reported where it stands
		}
	}
	m, err := smiles.Parse(t.Value)
	if err != nil {
		reason, _, _ := strings.Cut(err.Error(), "\n")
		c.add(diag.New(diag.BadSMILES, t.Place(), "%q is neither one of the compounds nor SMILES: %s", t.Value, reason))
		return nil
	}
	return m
}

// solution is the worked solution: what was computed, and the author's reason.
func (c *checker) solution(q *Question) []string {
	out := q.Answer.Trace.Origins
	if because := c.words(q.Source.Because); because != "" {
		out = append(out[:len(out):len(out)], because)
	}
	return out
}
