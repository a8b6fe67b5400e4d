package pack

import (
	"bytes"
	"fmt"
	"slices"

	"ionwright/lesson/check"
	"ionwright/practice"
	"ionwright/practice/qti"
)

// quizzes writes the questions as packages of both versions of the open
// standard, where it can carry any of them.
func (p *Pack) quizzes(r *check.Report) error {
	questions := r.Practice()
	if !slices.ContainsFunc(questions, func(q *practice.Question) bool { _, carried := qti.Limits(q); return carried }) {
		return nil
	}
	for _, v := range []qti.Version{qti.V22, qti.V30} {
		var b bytes.Buffer
		if err := qti.Write(&b, r.Source.Title.Value, questions, v); err != nil {
			return fmt.Errorf("building the quiz package: %w", err)
		}
		p.add(Entry{fmt.Sprintf("qti-%s.zip", v), fmt.Sprintf("the questions for a learning platform (QTI %s)", v), false}, b.Bytes())
	}
	return nil
}

// notCarried says on the key page what of a question the quiz packages leave
// out.
func notCarried(q *practice.Question) []string {
	limits, carried := qti.Limits(q)
	var out []string
	for _, l := range limits {
		if carried {
			out = append(out, "In the quiz packages "+l+".")
		} else {
			out = append(out, "Not in the quiz packages: "+l+".")
		}
	}
	return out
}
