package propose

import (
	"slices"
	"strings"

	"ionwright/practice"
)

// asChoice turns an open question into one with choices: the right answer and
// up to four of the answers that wrong rules lead to, each with the rule. It
// leaves a question alone for which fewer than two are foreseen.
func asChoice(q *practice.Question) {
	const most, foreseen = 4, 30
	var options []practice.Option
	for _, f := range q.Foreseen(foreseen) {
		if len(options) == most {
			break
		}
		because := f.Cause.Title
		if f.Mistake.Because != "" {
			because += ": " + f.Mistake.Because
		}
		options = append(options, practice.Option{Text: f.Text, Because: because + ".", Cause: f.Cause.Code})
	}
	if len(options) < 2 {
		return
	}
	options = append(options, practice.Option{Text: shown(q.Key), Right: true, Because: strings.Join(q.Solution, " ")})
	// By their texts, so that the place doesn't tell; numbers by size.
	slices.SortStableFunc(options, func(a, b practice.Option) int {
		if len(a.Text) != len(b.Text) {
			return len(a.Text) - len(b.Text)
		}
		return strings.Compare(a.Text, b.Text)
	})
	q.Key = practice.Choice{Options: practice.Letters(options)}
}

// shown is a right answer as a choice shows it.
func shown(k practice.Key) string {
	if f, ok := k.(practice.Formula); ok {
		return f.Formula.Unicode()
	}
	return k.Solved().String()
}
