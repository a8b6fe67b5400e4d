package mark

import (
	"context"
	"fmt"

	"ionwright/practice"
	"ionwright/practice/answer"
)

// Sheet is a marked paper.
type Sheet struct {
	Results []Result // in the order of the questions
	Marks   float64
	Of      float64
	Unknown []string // answers to questions that the paper doesn't have, in order
}

// Paper marks the answers to a paper's questions, in their order. Where a
// question follows from an earlier one that was answered wrongly, an answer
// that follows from that wrong one has its marks; a mistake of a
// penalise-once group costs marks the first time only. Questions without an
// answer are blank. It fails like Question.
func Paper(ctx context.Context, questions []*practice.Question, answers map[string]answer.Answer) (Sheet, error) {
	var s Sheet
	once := map[string]string{}
	results := map[string]Result{}
	for _, q := range questions {
		a := answers[q.ID]
		r, err := one(ctx, q, a, once)
		if err != nil {
			return s, err
		}
		if carried, ok, err := carry(ctx, q, a, answers, results, once); err != nil {
			return s, err
		} else if ok && carried.Marks > r.Marks {
			r = carried
		}
		for _, group := range r.taken {
			once[group] = q.ID
		}
		results[q.ID] = r
		s.Results = append(s.Results, r)
		s.Marks += r.Marks
		s.Of += r.Of
	}
	for _, id := range (answer.Answer{Pairs: texts(answers)}).Keys() {
		if _, known := results[id]; !known {
			s.Unknown = append(s.Unknown, id)
		}
	}
	return s, nil
}

// carry marks an answer against the key that a wrong earlier answer leads to.
func carry(ctx context.Context, q *practice.Question, a answer.Answer, answers map[string]answer.Answer, results map[string]Result, once map[string]string) (Result, bool, error) {
	c := q.Scheme.Carry
	if c == nil || a.Blank() {
		return Result{}, false, nil
	}
	before, marked := results[c.From]
	if !marked || before.Verdict == Right && !before.Carried || before.Verdict == Blank {
		return Result{}, false, nil
	}
	key, ok := c.Rekey(answers[c.From])
	if !ok {
		return Result{}, false, nil
	}
	shifted := *q
	shifted.Key = key
	r, err := one(ctx, &shifted, a, once)
	if err != nil || r.Marks == 0 {
		return Result{}, false, err
	}
	r.Carried = true
	r.Reason = fmt.Sprintf("This follows from your answer to question %q, so the mistake there isn't counted again. %s", c.From, r.Reason)
	return r, true, nil
}

func texts(answers map[string]answer.Answer) map[string]string {
	out := map[string]string{}
	for id := range answers {
		out[id] = ""
	}
	return out
}
