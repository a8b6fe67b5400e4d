package mark_test

import (
	"context"
	"testing"

	"ionwright/chem"
	"ionwright/practice"
	"ionwright/practice/answer"
	"ionwright/practice/cause"
	"ionwright/practice/mark"
)

// TestExamTasks sets, solves and marks one of each kind of task that exam
// papers ask: the key's own answer and the right one in a student's words get
// all marks, the wrong one none.
func TestExamTasks(t *testing.T) {
	number := func(value, tolerance float64, unit string) practice.Number {
		return practice.Number{Value: value, Tolerance: tolerance, Unit: unit}
	}
	formula := func(f string) practice.Formula { return practice.Formula{Formula: chem.MustFormula(f)} }
	butene := of(t, cause.IonAt, "C=CCC", "")
	mixed := of(t, cause.Isotopologue, "BrCCl", "")
	flight := cause.FlightFor(78.918, 1.32e-13, 0.95)
	paths := practice.Reasons{Needs: 2, Clues: []practice.Clue{
		{Says: "the path is a circle's arc", Any: []string{"arc", "circle", "circular", "curved"}},
		{Says: "the lighter ion is bent more", Any: []string{"lighter ion bends more", "lighter is bent more", "smaller m/z bends more"}}}}
	isomers := practice.Reasons{Needs: 1, Clues: []practice.Clue{
		{Says: "isomers have the same formula and so the same exact mass", Any: []string{"same formula", "same molecular formula", "same exact mass"}}}}
	either := practice.Question{Key: formula("CHO2"), Scheme: practice.Scheme{Accept: []practice.Row{{Answer: answer.Of("C2H5O"), Because: "Both weigh 45."}}}}
	rows := []struct {
		task         string
		key          practice.Key
		scheme       practice.Scheme
		facts        cause.Facts
		right, wrong string
	}{
		{"formula of the molecular ion with its charge", formula("C4H8+"), practice.Scheme{}, butene, "C4H8+", "C4H9+"},                                                                                                                             // IB15
		{"m/z of the molecular ion", number(56, 0, ""), practice.Scheme{}, with(butene, func(f *cause.Facts) { f.Asks = cause.PeakOf }), "m/z = 56", "28"},                                                                                          // IB15
		{"fragment at m/z 27", formula("C2H3+"), practice.Scheme{}, butene, "[C2H3]+", "C2H5+"},                                                                                                                                                     // IB15
		{"fragment at m/z 29", formula("C2H5+"), practice.Scheme{}, butene, "CH3CH2+", "CHO+"},                                                                                                                                                      // IB15
		{"number of carbons from M + 1 = 14.3 %", number(13, 0, ""), practice.Scheme{}, cause.Facts{Asks: cause.Carbons, Ratio: 14.3}, "13 carbon atoms", "14"},                                                                                     // CIE
		{"halogen from M : M + 2", practice.Choice{Options: practice.Letters([]practice.Option{{Text: "chlorine", Right: true}, {Text: "bromine"}})}, practice.Scheme{}, cause.Facts{}, "A", "bromine"},                                             // OSX-OC
		{"species at M of CH2BrCl", formula("CH2[79Br][35Cl]+"), practice.Scheme{}, mixed, "CH2 79Br 35Cl +", "CH2 81Br 35Cl +"},                                                                                                                    // CIE
		{"species at M + 2 of CH2BrCl", formula("CH2[81Br][35Cl]+"), practice.Scheme{Accept: []practice.Row{{Answer: answer.Of("CH2[79Br][37Cl]+"), Because: "Both stand there."}}}, mixed, "CH2 79Br 37Cl +", "CH2 79Br 35Cl +"},                   // CIE
		{"species at M + 4 of CH2BrCl", formula("CH2[81Br][37Cl]+"), practice.Scheme{}, mixed, "[81Br][37Cl]CH2+", "CH2BrCl+"},                                                                                                                      // CIE
		{"group lost from 250 - 205", either.Key, either.Scheme, cause.Facts{Asks: cause.LostTo}, "CO2H", "C3H7"},                                                                                                                                   // CIE
		{"group lost from 250 - 205, the other", either.Key, either.Scheme, cause.Facts{Asks: cause.LostTo}, "OC2H5", "CH3"},                                                                                                                        // CIE, accepts both
		{"relative atomic mass from abundances", number(16.004, 0.0005, ""), practice.Scheme{}, cause.Facts{}, "16.004", "16"},                                                                                                                      // EDX
		{"paths in the magnet", paths, practice.Scheme{}, cause.Facts{Asks: cause.Bending}, "Both fly on an arc of a circle; the lighter ion bends more.", "Gravity pulls them down."},                                                              // EDX
		{"time of flight of 81Br+ in s", number(flight.Value(), 0.01*flight.Value(), "s"), practice.Scheme{}, cause.Facts{Asks: cause.Setting, Work: &flight}, (practice.Number{Value: flight.Value(), Digits: 3, Unit: "s"}).Solved().Text, "1 s"}, // AQA-TOF
		{"why isomers aren't told apart by exact mass", isomers, practice.Scheme{}, cause.Facts{Asks: cause.Evidence}, "They have the same molecular formula.", "They weigh different amounts."},                                                    // AQA
	}
	for _, row := range rows {
		q := &practice.Question{ID: "task", Ask: row.task, Key: row.key, Marks: 1, Facts: row.facts, Scheme: row.scheme}
		for _, given := range []struct {
			answer answer.Answer
			want   mark.Verdict
		}{{row.key.Solved(), mark.Right}, {answer.Of(row.right), mark.Right}, {answer.Of(row.wrong), mark.Wrong}} {
			r, err := mark.Question(context.Background(), q, given.answer)
			if err != nil {
				t.Fatal(err)
			}
			if r.Verdict != given.want {
				t.Errorf("%s: %q is %s (%s), want %s", row.task, given.answer, r.Verdict, r.Reason, given.want)
			}
		}
	}
}

// TestPaper carries an error forward and penalises once.
func TestPaper(t *testing.T) {
	ions := []*practice.Question{
		{ID: "m", Key: practice.Number{Value: 72}, Marks: 1},
		{ID: "m15", Key: practice.Number{Value: 57}, Marks: 1, Scheme: practice.Scheme{Carry: &practice.Carry{From: "m", Rekey: func(a answer.Answer) (practice.Key, bool) {
			n, err := answer.ReadNumber(a.Text)
			return practice.Number{Value: n.Value - 15}, err == nil
		}}}},
		{ID: "a", Key: practice.Formula{Formula: ion("C2H3O+")}, Marks: 1, Facts: cause.Facts{Asks: cause.IonAt, Ion: ion("C2H3O+"), MZ: 43}},
		{ID: "b", Key: practice.Formula{Formula: ion("C3H5O+")}, Marks: 1, Facts: cause.Facts{Asks: cause.IonAt, Ion: ion("C3H5O+"), MZ: 57}},
	}
	s, err := mark.Paper(context.Background(), ions, map[string]answer.Answer{
		"m": answer.Of("73"), "m15": answer.Of("58"), "a": answer.Of("C2H3O"), "b": answer.Of("C3H5O"), "z": answer.Of("?"),
	})
	if err != nil {
		t.Fatal(err)
	}
	want := []float64{0, 1, 0, 1} // by the scheme: carried forward, then the charge once
	for i, r := range s.Results {
		if r.Marks != want[i] {
			t.Errorf("%s: %g marks, want %g: %s", r.Question, r.Marks, want[i], r.Reason)
		}
	}
	if !s.Results[1].Carried || len(s.Results[3].Forgiven) != 1 || s.Marks != 2 || s.Of != 4 || len(s.Unknown) != 1 {
		t.Errorf("carried %v, forgiven %v, %g of %g, unknown %v", s.Results[1].Carried, s.Results[3].Forgiven, s.Marks, s.Of, s.Unknown)
	}
}
