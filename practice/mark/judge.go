package mark

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"ionwright/practice"
	"ionwright/practice/answer"
	"ionwright/practice/cause"
)

// judge compares an answer with a key.
func judge(ctx context.Context, q *practice.Question, key practice.Key, a answer.Answer) (judgement, error) {
	switch k := key.(type) {
	case practice.Number:
		return number(k, a), nil
	case practice.Choice:
		return choice(k, a), nil
	case practice.Choices:
		return choices(k, a), nil
	case practice.Formula:
		return formula(k, q.Facts, a), nil
	case practice.Structure:
		return structure(ctx, k, q.Facts, a)
	case practice.Peaks:
		return peaks(k, a), nil
	case practice.Assign:
		return assign(k, q.Facts, a), nil
	case practice.Order:
		return order(k, a), nil
	case practice.Arrows:
		return arrows(k, a), nil
	case practice.Reasons:
		return reasons(k, a), nil
	}
	return judgement{}, fmt.Errorf("marking: the question %q has a key of no known kind, %T", q.ID, key)
}

// rowOf finds the row of a scheme that says the same as an answer.
func rowOf(q *practice.Question, rows []practice.Row, a answer.Answer, given cause.Given) (practice.Row, bool) {
	for _, row := range rows {
		if same(q.Key, row.Answer, a, given) {
			return row, true
		}
	}
	return practice.Row{}, false
}

// same tells whether an answer says what a row of the scheme says, by the
// rules of the key's kind.
func same(key practice.Key, row, a answer.Answer, given cause.Given) bool {
	switch k := key.(type) {
	case practice.Number:
		want, err := answer.ReadNumber(row.Text)
		have, err2 := answer.ReadNumber(a.Text)
		if err != nil || err2 != nil {
			return strings.EqualFold(strings.TrimSpace(row.Text), strings.TrimSpace(a.Text))
		}
		x, y, ok := k.InUnit(want), k.InUnit(have), true
		if want.Unit != "" && have.Unit != "" {
			_, ok = have.In(want.Unit)
		}
		return ok && near(x, y, k.RowWithin(want))
	case practice.Formula:
		want, err := answer.ReadFormula(row.Text)
		return err == nil && given.Formula != nil && want.Formula == given.Formula.Formula
	case practice.Structure:
		want, err := answer.ReadStructure(row.Text)
		return err == nil && given.Structure != nil && answer.SameIon(want, given.Structure)
	case practice.Choice, practice.Choices, practice.Peaks:
		x, y := letters(row.Items()), letters(a.Items())
		slices.Sort(x)
		slices.Sort(y)
		return slices.Equal(x, y)
	case practice.Order:
		return slices.Equal(letters(row.Items()), letters(a.Items()))
	case practice.Arrows:
		x, err := answer.ReadArrows(row)
		y, err2 := answer.ReadArrows(a)
		return err == nil && err2 == nil && sameArrows(x, y)
	case practice.Reasons:
		return answer.Says(given.Words, row.Text)
	}
	return false
}

func near(x, y, within float64) bool {
	d := max(x-y, y-x)
	return d <= within+1e-9*max(x, -x)
}

// letters are items in capitals, without the signs of a list.
func letters(items []string) []string {
	out := []string{}
	for _, s := range items {
		s = strings.ToUpper(strings.Trim(strings.TrimSpace(s), ".()[]:"))
		if s != "" {
			out = append(out, s)
		}
	}
	return out
}
