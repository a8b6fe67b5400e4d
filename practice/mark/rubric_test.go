package mark_test

import (
	"context"
	"fmt"
	"testing"

	"ionwright/practice"
	"ionwright/practice/answer"
	"ionwright/practice/cause"
	"ionwright/practice/mark"
)

// graded is a question, an answer and the marks that the scheme gives.
type graded struct {
	what   string
	q      practice.Question
	answer string
	marks  float64
}

// TestRubric marks by tolerance, unit policy, digits, accepted and rejected
// answers and partial credit; the marks are worked out by hand from the
// scheme.
func TestRubric(t *testing.T) {
	field := func(units practice.Units, digits int) practice.Question {
		return practice.Question{Marks: 2, Key: practice.Number{Value: 0.385, Tolerance: 0.002, Unit: "T", Units: units, Digits: digits}}
	}
	work := cause.FieldFor(100, 0.25, 4000, true, true)
	slip := practice.Question{Marks: 3, Key: practice.Number{Value: work.Value(), Tolerance: 0.0005, Unit: "T"},
		Facts:  cause.Facts{Asks: cause.Setting, Work: &work},
		Scheme: practice.Scheme{Credit: []practice.Credit{{Cause: cause.UnitSlip, Marks: 1}}}}
	group := practice.Question{Marks: 1, Key: practice.Formula{Formula: ion("CHO2")}, Facts: cause.Facts{Asks: cause.LostTo},
		Scheme: practice.Scheme{Accept: []practice.Row{{Answer: answer.Of("C2H5O")}, {Answer: answer.Of("CH3NO"), Marks: 0.5}}, Reject: []practice.Row{{Answer: answer.Of("CO2H+"), Because: "The loss has no charge."}}}}
	number := practice.Question{Marks: 2, Key: practice.Number{Value: 13, Tolerance: 0.5}, Scheme: practice.Scheme{
		Reject: []practice.Row{{Answer: answer.Of("13.1"), Because: "A number of atoms is whole."}}}}
	rows := []graded{
		{"the value", field(practice.UnitOptional, 0), "0.385 T", 2},
		{"the lower end of the tolerance", field(practice.UnitOptional, 0), "0.383 T", 2},
		{"the upper end", field(practice.UnitOptional, 0), "0.387 T", 2},
		{"beyond it", field(practice.UnitOptional, 0), "0.3875 T", 0},
		{"another unit", field(practice.UnitRequired, 0), "385 mT", 2},
		{"no unit, which may be left out", field(practice.UnitOptional, 0), "0.385", 2},
		{"no unit, which must be given", field(practice.UnitRequired, 0), "0.385", 1.5},
		{"a unit of another quantity", field(practice.UnitOptional, 0), "0.385 V", 0},
		{"the right value in the wrong unit", field(practice.UnitRequired, 0), "0.385 mT", 0},
		{"the digits asked for", field(practice.UnitRequired, 3), "0.385 T", 2},
		{"too many digits", field(practice.UnitRequired, 3), "0.3851 T", 1.5},
		{"too few digits, and no unit", field(practice.UnitRequired, 4), "0.385", 1},
		{"partial credit for a named mistake", slip, "0.0115 T", 1},
		{"none for another", slip, "7 T", 0},
		{"accepted too", group, "OC2H5", 1},
		{"accepted for half", group, "CH3NO", 0.5},
		{"rejected", group, "CO2H+", 0},
		{"rejected though within the tolerance", number, "13.1", 0},
		{"beside what is rejected", number, "13", 2},
	}
	for _, row := range rows {
		row.q.ID = "q"
		r, err := mark.Question(context.Background(), &row.q, answer.Of(row.answer))
		if err != nil {
			t.Fatal(err)
		}
		if r.Marks != row.marks || r.Reason == "" {
			t.Errorf("%s: %q gets %g marks, want %g (%s)", row.what, row.answer, r.Marks, row.marks, r.Reason)
		}
	}
}

// paper is a paper of four ions, a mass and what follows from it.
func paper() []*practice.Question {
	var out []*practice.Question
	for i, f := range []string{"C2H3O+", "C3H5O+", "C4H7O+", "C4H8O+"} {
		out = append(out, &practice.Question{ID: fmt.Sprintf("ion%d", i+1), Marks: 2, Key: practice.Formula{Formula: ion(f)},
			Facts: cause.Facts{Asks: cause.IonAt, Ion: ion(f), MZ: ion(f).NominalMZ()}})
	}
	read := func(a answer.Answer) (float64, bool) {
		n, err := answer.ReadNumber(a.Text)
		return n.Value, err == nil
	}
	return append(out,
		&practice.Question{ID: "m", Marks: 1, Key: practice.Number{Value: 72}},
		&practice.Question{ID: "loss", Marks: 2, Key: practice.Number{Value: 29, Unit: "Da", Units: practice.UnitRequired}, Scheme: practice.Scheme{Carry: &practice.Carry{From: "m", Rekey: func(a answer.Answer) (practice.Key, bool) {
			m, ok := read(a)
			return practice.Number{Value: m - 43, Unit: "Da", Units: practice.UnitRequired}, ok && m > 43
		}}}},
		&practice.Question{ID: "half", Marks: 1, Key: practice.Number{Value: 14.5}, Scheme: practice.Scheme{Carry: &practice.Carry{From: "loss", Rekey: func(a answer.Answer) (practice.Key, bool) {
			x, ok := read(a)
			return practice.Number{Value: x / 2}, ok
		}}}})
}

// TestPapers marks whole papers: a mistake of a group costs once, and an error
// is carried forward, along a chain too, but not past what can't be read.
func TestPapers(t *testing.T) {
	for _, row := range []struct {
		what    string
		answers map[string]string
		marks   []float64 // in the order of the questions
	}{
		{"all right", map[string]string{"ion1": "C2H3O+", "ion2": "C3H5O+", "ion3": "C4H7O+", "ion4": "C4H8O+", "m": "72", "loss": "29 Da", "half": "14.5"}, []float64{2, 2, 2, 2, 1, 2, 1}},
		{"every charge left off", map[string]string{"ion1": "C2H3O", "ion2": "C3H5O", "ion3": "C4H7O", "ion4": "C4H8O"}, []float64{1, 2, 2, 2, 0, 0, 0}},
		{"a charge left off, then a wrong ion without its charge", map[string]string{"ion1": "C2H3O", "ion2": "C2H5", "ion3": "C4H7O"}, []float64{1, 0, 2, 0, 0, 0, 0}},
		{"an error carried along", map[string]string{"m": "73", "loss": "30 Da", "half": "15"}, []float64{0, 0, 0, 0, 0, 2, 1}},
		{"carried, with a slip of its own", map[string]string{"m": "73", "loss": "30", "half": "15"}, []float64{0, 0, 0, 0, 0, 1.5, 1}},
		{"right in spite of the error before", map[string]string{"m": "73", "loss": "29 Da", "half": "14.5"}, []float64{0, 0, 0, 0, 0, 2, 1}},
		{"wrong after an error", map[string]string{"m": "73", "loss": "31 Da"}, []float64{0, 0, 0, 0, 0, 0, 0}},
		{"nothing to carry", map[string]string{"m": "no idea", "loss": "30 Da"}, []float64{0, 0, 0, 0, 0, 0, 0}},
		{"blank before", map[string]string{"loss": "30 Da"}, []float64{0, 0, 0, 0, 0, 0, 0}},
	} {
		given := map[string]answer.Answer{}
		for id, text := range row.answers {
			given[id] = answer.Of(text)
		}
		s, err := mark.Paper(context.Background(), paper(), given)
		if err != nil {
			t.Fatal(err)
		}
		for i, r := range s.Results {
			if r.Marks != row.marks[i] {
				t.Errorf("%s: %s gets %g marks, want %g (%s)", row.what, r.Question, r.Marks, row.marks[i], r.Reason)
			}
		}
	}
}
