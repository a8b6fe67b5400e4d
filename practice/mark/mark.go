// Package mark gives marks for answers: how many, why, and what the mistake
// probably was. For most uses call [Question] for one answer, or [Paper] for
// all of a paper, where earlier answers enter later ones and a mistake of form
// is penalised once.
//
// Nothing that is written into an answer makes it fail: what can't be read
// gets no marks, with what to write instead.
package mark

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"ionwright/practice"
	"ionwright/practice/answer"
	"ionwright/practice/cause"
)

// Verdict says in a word how an answer was.
type Verdict string

// The verdicts.
const (
	Right      Verdict = "right"
	Partly     Verdict = "partly right"
	Wrong      Verdict = "wrong"
	Blank      Verdict = "blank"
	Unreadable Verdict = "unreadable"
)

// Result is what an answer gets.
type Result struct {
	Question string
	Marks    float64
	Of       float64
	Verdict  Verdict
	// Reason says why, to the student, in sentences.
	Reason string
	// Causes are what the mistake probably was, the likeliest first, and Advice
	// what to do about each.
	Causes []cause.Code
	Advice []string
	// Carried is true where the answer is right as a consequence of a wrong
	// earlier one; Forgiven names the slips whose marks an earlier question had
	// cost already.
	Carried  bool
	Forgiven []cause.Code
	taken    []string // penalise-once groups that cost marks here
}

// Question marks an answer to one question by itself. An error is only ever
// the context's, or a question that can't be marked.
func Question(ctx context.Context, q *practice.Question, a answer.Answer) (Result, error) {
	return one(ctx, q, a, nil)
}

// judgement is what a kind says of an answer.
type judgement struct {
	share   float64  // of the marks, 0 to 1; 1 is right
	reasons []string // sentences to the student
	// otherwise are sentences for where the cause says nothing about the answer.
	otherwise []string
	given     cause.Given   // for finding the cause
	slips     []cause.Code  // mistakes of form in an answer that is right in substance
	found     []cause.Found // causes that the kind itself knows
	// unread says why the answer couldn't be read; the rest is then empty.
	unread string
}

func one(ctx context.Context, q *practice.Question, a answer.Answer, once map[string]string) (Result, error) {
	if err := q.Check(); err != nil {
		return Result{}, fmt.Errorf("marking: %w", err)
	}
	r := Result{Question: q.ID, Of: q.Marks, Verdict: Wrong}
	if a.Blank() {
		r.Verdict, r.Reason = Blank, "Nothing was answered."
		return r, nil
	}
	if err := a.Check(); err != nil {
		r.Verdict, r.Reason = Unreadable, sentence(err.Error())
		return r, nil
	}
	j, err := judge(ctx, q, q.Key, a)
	if err != nil {
		return r, err
	}
	if row, ok := rowOf(q, q.Scheme.Reject, a, j.given); ok {
		r.Reason = orElse(row.Because, "This answer isn't accepted.")
		r.blame(cause.Found{}, row.Cause)
		return r, nil
	}
	if j.share < 1 || len(j.slips) > 0 {
		if row, ok := rowOf(q, q.Scheme.Accept, a, j.given); ok {
			r.Marks = q.Marks
			if row.Marks > 0 {
				r.Marks = min(row.Marks, q.Marks)
			}
			r.Reason = orElse(row.Because, "This answer is accepted too.")
			r.Verdict = verdict(r.Marks, q.Marks)
			return r, nil
		}
	}
	if j.unread != "" {
		r.Verdict, r.Reason = Unreadable, j.unread
		r.found(cause.Of(q.Facts, j.given))
		return r, nil
	}
	r.settle(q, j, once)
	return r, nil
}

// settle turns a judgement into marks.
func (r *Result) settle(q *practice.Question, j judgement, once map[string]string) {
	r.Marks = halves(j.share * q.Marks)
	reasons := j.reasons
	if j.share < 1 {
		found := j.found
		if len(found) == 0 {
			found = cause.Of(q.Facts, j.given)
		}
		r.found(found)
		i := slices.IndexFunc(found, func(f cause.Found) bool { return f.Because != "" })
		if i >= 0 {
			reasons = append(reasons, sentence(found[i].Because))
		} else {
			reasons = append(reasons, j.otherwise...)
		}
		if c, ok := r.credit(q); ok && !r.forgive(c, once, &reasons) {
			r.Marks = max(r.Marks, min(c.Marks, q.Marks))
			r.take(q, c)
		} else if ok {
			r.Marks = q.Marks
		}
	}
	for _, slip := range j.slips {
		r.blame(cause.Found{}, causeOfSlip(slip))
		c, _ := q.Credit(slip)
		if !r.forgive(c, once, &reasons) {
			r.Marks = max(0, r.Marks-(q.Marks-c.Marks))
			r.take(q, c)
		}
	}
	r.Verdict = verdict(r.Marks, q.Marks)
	switch {
	case len(reasons) > 0:
	case r.Verdict == Right:
		reasons = []string{"Right."}
	default:
		reasons = []string{"This isn't right."}
	}
	r.Reason = strings.Join(reasons, " ")
}

// causeOfSlip is the wrong rule behind a slip of form, or the slip itself.
func causeOfSlip(slip cause.Code) cause.Code {
	if slip == practice.SlipDot {
		return cause.ElectronParity
	}
	return slip
}

// credit is the most that the scheme gives for a mistake found.
func (r *Result) credit(q *practice.Question) (best practice.Credit, ok bool) {
	for _, code := range r.Causes {
		if c, has := q.Credit(code); has && (!ok || c.Marks > best.Marks) {
			best, ok = c, true
		}
	}
	return best, ok
}

// forgive tells whether the mistake's group has cost marks before.
func (r *Result) forgive(c practice.Credit, once map[string]string, reasons *[]string) bool {
	at, taken := once[c.Once]
	if c.Once == "" || !taken {
		return false
	}
	r.Forgiven = append(r.Forgiven, c.Cause)
	*reasons = append(*reasons, fmt.Sprintf("This slip has cost marks in question %q already, so it costs none here.", at))
	return true
}

// take remembers that the mistake's group has cost marks.
func (r *Result) take(q *practice.Question, c practice.Credit) {
	if c.Once != "" && c.Marks < q.Marks {
		r.taken = append(r.taken, c.Once)
	}
}

// found enters causes, at most two: more would be guesses.
func (r *Result) found(found []cause.Found) {
	const most = 2
	for _, f := range found[:min(most, len(found))] {
		r.blame(f, f.Cause.Code)
	}
}

func (r *Result) blame(f cause.Found, code cause.Code) {
	if code == "" {
		return
	}
	r.Causes = append(r.Causes, code)
	c := f.Cause
	if c.Code == "" {
		c, _ = cause.Named(code)
	}
	if c.Remedy != "" {
		r.Advice = append(r.Advice, c.Remedy)
	}
}

func verdict(marks, of float64) Verdict {
	switch {
	case marks >= of:
		return Right
	case marks > 0:
		return Partly
	}
	return Wrong
}

// halves rounds marks down to halves.
func halves(x float64) float64 { return math.Floor(2*x+1e-9) / 2 }

// sentence begins with a capital and ends with a full stop.
func sentence(s string) string {
	s = strings.TrimSpace(strings.ToValidUTF8(s, "?"))
	if s == "" {
		return ""
	}
	runes := []rune(s)
	const formulaOrMZ = "m/z"
	if !strings.HasPrefix(s, formulaOrMZ) {
		runes[0] = []rune(strings.ToUpper(string(runes[0])))[0]
	}
	s = string(runes)
	if !strings.ContainsRune(".!?", runes[len(runes)-1]) {
		s += "."
	}
	return s
}

func orElse(s, other string) string {
	if s = strings.TrimSpace(s); s != "" {
		return s
	}
	return other
}
