package practice

import (
	"fmt"
	"strconv"
	"strings"

	"ionwright/practice/cause"
)

// Points is a number of marks in words: "1 mark", "2.5 marks".
func Points(marks float64) string {
	text := strconv.FormatFloat(marks, 'f', -1, 64)
	if marks == 1 {
		return text + " mark"
	}
	return text + " marks"
}

// SchemeLines are the marking scheme in sentences, for the instructor.
func (q *Question) SchemeLines() []string {
	out := q.keyLines()
	for _, r := range q.Scheme.Accept {
		marks := q.Marks
		if r.Marks > 0 {
			marks = r.Marks
		}
		out = append(out, strings.TrimSpace(fmt.Sprintf("Also accepted, for %s: %s. %s", Points(marks), r.Answer, r.Because)))
	}
	for _, r := range q.Scheme.Reject {
		out = append(out, strings.TrimSpace(fmt.Sprintf("Not accepted: %s. %s", r.Answer, r.Because)))
	}
	for _, c := range q.Credits() {
		if line, ok := q.creditLine(c); ok {
			out = append(out, line)
		}
	}
	if c := q.Scheme.Carry; c != nil {
		out = append(out, fmt.Sprintf("An answer that follows from a wrong answer to question %q has its marks.", c.From))
	}
	return out
}

// keyLines are what the kind itself says about accepted answers.
func (q *Question) keyLines() []string {
	var out []string
	switch k := q.Key.(type) {
	case Number:
		if k.Tolerance > 0 {
			out = append(out, strings.TrimSpace(fmt.Sprintf("Accepted within %s %s", strconv.FormatFloat(k.Tolerance, 'g', -1, 64), k.Unit))+".")
		}
		if k.Digits > 0 {
			out = append(out, fmt.Sprintf("To be given to %d significant digits.", k.Digits))
		}
		switch {
		case k.Unit != "" && k.Units == UnitRequired:
			out = append(out, "The unit must be given; other units of the quantity are converted.")
		case k.Unit != "":
			out = append(out, "The unit may be left out; other units of the quantity are converted.")
		}
	case Formula:
		out = append(out, "Accepted in any order of the elements, condensed, with or without brackets.")
		if k.Dot {
			out = append(out, "The unpaired electron must be written as a dot.")
		}
	case Structure:
		out = append(out, "Accepted as any drawing or SMILES of the same structure; resonance forms count as one, arrangements in space aren't looked at.")
	case Choices, Peaks:
		out = append(out, "Each right one counts the same, and each wrong one takes one off.")
	case Assign:
		out = append(out, "Each peak counts the same.")
	case Order:
		out = append(out, "Each step that follows the right one counts the same.")
	case Arrows:
		out = append(out, "All arrows that lead to the same ion and neutral are right, such as those to an equivalent atom or by another resonance form; else each right arrow counts the same, and each wrong one takes one off. A half arrow is another arrow than a full one.")
	case Reasons:
		out = append(out, fmt.Sprintf("%d of the %d clues are needed; a clue counts where one of its phrases is said and not denied.", k.Needs, len(k.Clues)))
		for _, c := range k.Clues {
			out = append(out, fmt.Sprintf("Clue: %s (recognised by: %s).", strings.TrimRight(c.Says, "."), strings.Join(c.Any, "; ")))
		}
		for _, r := range k.Reject {
			out = append(out, strings.TrimSpace(fmt.Sprintf("Takes one off: %s. %s", strings.Join(r.Any, "; "), r.Because)))
		}
	}
	return out
}

// creditLine says what a mistake costs, and false where the question leaves no
// room for it.
func (q *Question) creditLine(c Credit) (string, bool) {
	what := ""
	switch c.Cause {
	case SlipUnit:
		k, ok := q.Key.(Number)
		if !ok || k.Units != UnitRequired {
			return "", false
		}
		what = "the unit is missing"
	case SlipDigits:
		k, ok := q.Key.(Number)
		if !ok || k.Digits == 0 {
			return "", false
		}
		what = "the number of digits is wrong"
	case SlipDot:
		k, ok := q.Key.(Formula)
		if !ok || !k.Dot {
			return "", false
		}
		what = "the dot is missing or one too many"
	case cause.ChargeLeftOff:
		k, ok := q.Key.(Formula)
		if !ok || k.Formula.Charge() == 0 {
			return "", false
		}
		fallthrough
	default:
		known, _ := cause.Named(c.Cause)
		what = known.Title
	}
	line := fmt.Sprintf("Where %s: %s of %s", what, strconv.FormatFloat(c.Marks, 'f', -1, 64), strconv.FormatFloat(q.Marks, 'f', -1, 64))
	if c.Once != "" {
		line += fmt.Sprintf(", once in a paper (group %q)", c.Once)
	}
	return line + ".", true
}

// Foreseen are the wrong answers that the causes compute for the question, in
// the notation of its kind, with what each comes from: at most most of them and two of
// one rule, none twice and none that is right.
func (q *Question) Foreseen(most int) []Foreseen {
	var out []Foreseen
	seen := map[string]bool{q.Key.Solved().String(): true}
	const ofOneRule = 2 // so that different confusions are seen
	of := map[cause.Code]int{}
	for _, m := range cause.Wrong(q.Facts) {
		text, ok := q.written(m)
		c, known := cause.Named(m.Code)
		if !ok || !known || seen[text] || len(out) == most || of[m.Code] == ofOneRule {
			continue
		}
		seen[text] = true
		of[m.Code]++
		out = append(out, Foreseen{text, m, c})
	}
	return out
}

// Foreseen is a wrong answer that is to be expected.
type Foreseen struct {
	Text    string // as a student would write it
	Mistake cause.Mistake
	Cause   cause.Cause
}

// written is a mistake in the notation of the question's kind.
func (q *Question) written(m cause.Mistake) (string, bool) {
	switch k := q.Key.(type) {
	case Number:
		if m.Number == nil {
			return "", false
		}
		text := strconv.FormatFloat(m.Number.Value, 'g', 4, 64)
		return strings.TrimSpace(text + " " + k.Unit), max(m.Number.Value-k.Value, k.Value-m.Number.Value) > k.Tolerance
	case Formula:
		if m.Formula == nil {
			return "", false
		}
		return m.Formula.Unicode(), *m.Formula != k.Formula
	case Structure:
		return m.Structure, m.Structure != ""
	}
	return "", false
}
