package mark_test

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"

	"ionwright/chem"
	"ionwright/practice"
	"ionwright/practice/answer"
	"ionwright/practice/cause"
	"ionwright/practice/mark"
)

// written is an answer with the marks that the rubric gives it.
type written struct {
	class string // right, equivalent, nearly right, wrong, hostile
	q     *practice.Question
	a     answer.Answer
	marks float64
}

// hostile are texts meant to break a reader.
var hostile = []string{
	"", " ", "\x00", "\xff\xfe", "1e999999", "-1e-999999", "NaN", "+Inf", "C99999999999", strings.Repeat("(", 5000), strings.Repeat("C1", 9000),
	strings.Repeat("9", 19000), "<script>alert(1)</script>", "'; DROP TABLE answers; --", "{{ mass(ketone) }}", "${7*7}", "%s%n%d",
	"\u202eevil", "a\u0300\u0300\u0300", "C1CC", "[", "]", "=", "M  END\n V2000", "  0  0  0     0  0            999 V2000\nM  END", "🧪", "1,,,,,,2", "Q,Q,Q,Q", "- > -", "9 > 99", "1-2 > 1-2 > 1-2",
}

// answers writes a thousand answers to random questions by a program that knows
// the rubric: full marks for the right value and each other way to write it,
// partial marks where the scheme says so, none for the rest.
func answers(t testing.TB, n int) []written {
	r := rand.New(rand.NewPCG(5, 8))
	elements := []string{"C", "H", "O", "N"}
	var out []written
	for len(out) < n {
		q := &practice.Question{ID: "q", Marks: 2}
		add := func(class string, a answer.Answer, marks float64) { out = append(out, written{class, q, a, marks}) }
		value := float64(20+r.IntN(400)) + float64(r.IntN(9)+1)/10
		switch r.IntN(10) {
		case 0:
			q.Key = practice.Number{Value: value, Tolerance: 0.02, Unit: "V", Units: practice.UnitRequired}
			add("right", answer.Of(fmt.Sprintf("%.1f V", value)), 2)
			add("equivalent", answer.Of(fmt.Sprintf("%.4f kV", value/1000)), 2)
			add("equivalent", answer.Of(strings.Replace(fmt.Sprintf("%.1f V", value), ".", ",", 1)), 2)
			add("equivalent", answer.Of(fmt.Sprintf("%.3fx10^2 V", value/100)), 2)
			add("nearly right", answer.Of(fmt.Sprintf("%.1f", value)), 1.5) // the unit is missing: half a mark
			add("nearly right", answer.Of(fmt.Sprintf("%.2f V", value+0.05)), 0)
			if r.IntN(2) == 0 { // in digits asked for: one place behind the point
				digits := len(fmt.Sprintf("%.1f", value)) - 1
				q = &practice.Question{ID: "q", Marks: 2, Key: practice.Number{Value: value, Tolerance: 0.02, Digits: digits}}
				add("right", answer.Of(fmt.Sprintf("%.1f", value)), 2)
				add("equivalent", answer.Of(fmt.Sprintf("%.*e", digits-1, value)), 2)
				add("nearly right", answer.Of(fmt.Sprintf("%.3f", value)), 1.5) // too many digits: half a mark
				add("wrong", answer.Of(fmt.Sprintf("%.1f", value+20)), 0)
				break
			}
			add("wrong", answer.Of(fmt.Sprintf("%.1f kV", value)), 0)
			add("wrong", answer.Of(fmt.Sprintf("%.1f T", value)), 0)
		case 1:
			counts := map[string]int{"C": 2 + r.IntN(5), "H": 3 + r.IntN(9), "O": 1 + r.IntN(2), "N": 1 + r.IntN(2)}
			text := func(order []string) string {
				s := ""
				for _, e := range order {
					s += fmt.Sprintf("%s%d", e, counts[e])
				}
				return s
			}
			f := chem.MustFormula(text(elements) + "+")
			q.Key, q.Facts = practice.Formula{Formula: f}, cause.Facts{Asks: cause.IonAt, Ion: f, MZ: f.NominalMZ()}
			shuffled := slices.Clone(elements)
			r.Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
			add("right", answer.Of(f.String()), 2)
			add("equivalent", answer.Of(text(shuffled)+"+"), 2)
			add("equivalent", answer.Of("["+text(elements)+"]+"), 2)
			add("equivalent", answer.Of(f.Unicode()), 2)
			add("nearly right", answer.Of(text(elements)), 1) // the charge is missing: one mark
			if f.OddElectron() {
				q = &practice.Question{ID: "q", Marks: 2, Key: practice.Formula{Formula: f, Dot: true}, Facts: q.Facts}
				add("right", answer.Of(f.String()+"•"), 2)
				add("equivalent", answer.Of("["+text(shuffled)+"]+."), 2)
				add("nearly right", answer.Of(f.String()), 1.5) // the dot is missing: half a mark
			}
			counts["H"] += 2
			add("wrong", answer.Of(text(elements)+"+"), 0)
		case 2:
			var options []practice.Option
			var right, wrong []string
			for i := range 5 {
				ok := i == 0 || i != 4 && r.IntN(2) == 0
				options = append(options, practice.Option{Text: fmt.Sprintf("choice %d", i), Right: ok})
				letter := string(rune('A' + i))
				if ok {
					right = append(right, letter)
				} else {
					wrong = append(wrong, letter)
				}
			}
			q.Key = practice.Choices{Options: practice.Letters(options)}
			add("right", answer.Listed(right...), 2)
			add("equivalent", answer.Of(strings.ToLower(strings.Join(right, " , "))), 2)
			add("nearly right", answer.Listed(append(slices.Clone(right), wrong[0])...), half(2*float64(len(right)-1)/float64(len(right))))
			add("wrong", answer.Listed(wrong...), 0)
		case 3:
			q.Key = practice.Peaks{MZ: []int{43, 58, 86}}
			add("right", answer.Listed("43", "58", "86"), 2)
			add("equivalent", answer.Of("86; 43; m/z 58"), 2)
			add("nearly right", answer.Listed("43", "58"), 1) // two of three, 1.33, down to half marks
			add("wrong", answer.Listed("41", "57"), 0)
		case 4:
			q.Key = practice.Choice{Options: practice.Letters([]practice.Option{{Text: "CHO", Right: true}, {Text: "C2H5"}})}
			add("right", answer.Of("A"), 2)
			add("equivalent", answer.Of(" (a) "), 2)
			add("wrong", answer.Of("C2H5"), 0)
		case 5:
			c := chem.MustFormula(fmt.Sprintf("C%dH%dO+", 2+r.IntN(4), 3+r.IntN(5)))
			d := chem.MustFormula(fmt.Sprintf("C%dH%d+", 6+r.IntN(3), 5+r.IntN(6)))
			x, y := int(c.NominalMZ()), int(d.NominalMZ())
			if x == y {
				continue
			}
			q.Key = practice.Assign{Rows: []practice.Assigned{{MZ: x, Ions: []chem.Formula{c}}, {MZ: y, Ions: []chem.Formula{d}}}}
			pairs := func(a, b string) answer.Answer {
				return answer.Answer{Pairs: map[string]string{fmt.Sprint(x): a, fmt.Sprint(y): b}}
			}
			add("right", pairs(c.String(), d.String()), 2)
			add("equivalent", answer.Of(fmt.Sprintf("%d: %s; m/z %d = [%s]+", y, d.Unicode(), x, c.WithCharge(0))), 2)
			add("nearly right", pairs(c.String(), "C"), 1)
			add("nearly right", pairs("", d.String()), 1)
			add("wrong", pairs(d.String(), c.String()), 0)
		case 6:
			var steps []practice.Step
			for i := range 3 + r.IntN(3) {
				steps = append(steps, practice.Step{Text: fmt.Sprintf("step %d of %d", i*7919%10, r.IntN(100))})
			}
			k := practice.Order{Steps: practice.Shuffled(steps)}
			q.Key = k
			right := k.Solved().List
			turned := slices.Clone(right)
			slices.Reverse(turned)
			moved := append(slices.Clone(right[1:]), right[0])
			n := float64(len(right))
			add("right", answer.Listed(right...), 2)
			add("equivalent", answer.Of(strings.ToLower(strings.Join(right, ""))), 2)
			add("nearly right", answer.Listed(moved...), half(2*(n-2)/(n-1))) // all but two neighbors follow each other
			add("nearly right", answer.Listed(right[:2]...), half(2/(n-1)))   // one pair, and steps are missing
			add("wrong", answer.Listed(turned...), 0)
		case 7:
			q.Marks = 3
			q.Key = practice.Arrows{Drawn: structureOf(t, "CC(=[O+])CC"), Ways: [][]answer.Arrow{{
				{Half: true, From: answer.Place{A: 3}, To: answer.Place{A: 2, B: 3}}, {Half: true, From: answer.Place{A: 2, B: 4}, To: answer.Place{A: 2, B: 3}},
				{Half: true, From: answer.Place{A: 2, B: 4}, To: answer.Place{A: 4}}}}}
			list := []string{"3 > 2-3", "4-2 > 3-2", "2-4 > 4"}
			r.Shuffle(3, func(i, j int) { list[i], list[j] = list[j], list[i] })
			add("right", answer.Listed(list...), 3)
			add("equivalent", answer.Of(strings.Join(list, "; ")), 3)
			add("equivalent", answer.Of("3 > 2, 2-4 > 4, 2-4 > 2-3"), 3) // to the atom instead of the bond that grows
			add("nearly right", answer.Listed(list[:2]...), 2)
			add("nearly right", answer.Listed(append(slices.Clone(list), "1-2 > 1")...), 2)
			add("wrong", answer.Of("3 => 2-3, 2-4 => 2-3, 2-4 => 4"), 0)
			add("wrong", answer.Of("1-2 > 1"), 0)
		case 8:
			q.Key = practice.Structure{Mol: structureOf(t, "CCCC(C)=O")}
			add("right", answer.Of("CCCC(C)=O"), 2)
			add("equivalent", answer.Of([]string{"O=C(C)CCC", "CC(CCC)=O", "C(C)(=O)CCC", "[CH3][CH2][CH2]C(=O)C", "C-C-C-C(=O)-C"}[r.IntN(5)]), 2)
			add("wrong", answer.Of([]string{"CCC(=O)CC", "CC(C)C(C)=O", "CCCCC=O", "CC=CC(C)O"}[r.IntN(4)]), 0) // isomers
			add("wrong", answer.Of([]string{"CCCC(C)O", "CCCC=O", "CCCC(C)=[OH+]"}[r.IntN(3)]), 0)
		case 9:
			q.Key = practice.Reasons{Needs: 2, Clues: []practice.Clue{
				{Says: "M + 2 is a third of M", Any: []string{"a third", "3:1"}}, {Says: "chlorine is lost", Any: []string{"loss of chlorine", "loses chlorine", "35 less"}}},
				Reject: []practice.Rejected{{Any: []string{"bromine"}, Because: "Bromine would show two equal peaks."}}}
			add("right", answer.Of("M+2 is a third of M, and the ion loses chlorine."), 2)
			add("equivalent", answer.Of("The peaks are 3:1; 77 is 35 less than 112."), 2)
			add("nearly right", answer.Of("The peaks are 3:1."), 1)
			add("nearly right", answer.Of("The peaks are 3:1, 35 less. It could be bromine."), 1)
			add("wrong", answer.Of("It is bromine."), 0)
			add("wrong", answer.Of("It isn't a third, and there is no loss of chlorine."), 0)
		}
		add("hostile", answer.Of(hostile[r.IntN(len(hostile))]), 0)
		add("hostile", answer.Listed(hostile[r.IntN(len(hostile))], hostile[r.IntN(len(hostile))]), 0)
	}
	return out[:n]
}

func half(x float64) float64 { return float64(int(2*x+1e-9)) / 2 }

// TestThousandAnswers marks a thousand answers whose marks the rubric tells.
func TestThousandAnswers(t *testing.T) {
	classes, kinds := map[string]int{}, map[practice.Kind]int{}
	for _, w := range answers(t, 1000) {
		r, err := mark.Question(context.Background(), w.q, w.a)
		if err != nil {
			t.Fatal(err)
		}
		classes[w.class]++
		kinds[w.q.Key.Kind()]++
		if r.Marks != w.marks {
			t.Errorf("%s %q for %v: %g marks, want %g (%s)", w.class, w.a, w.q.Key.Solved(), r.Marks, w.marks, r.Reason)
		}
	}
	for _, class := range []string{"right", "equivalent", "nearly right", "wrong", "hostile"} {
		if classes[class] < 50 {
			t.Errorf("only %d answers are %s", classes[class], class)
		}
	}
	for _, k := range practice.Kinds() {
		if kinds[k.Kind] < 50 {
			t.Errorf("only %d answers are to questions of the kind %s", kinds[k.Kind], k.Name)
		}
	}
	t.Log(classes, kinds)
}

// TestSameIon knows resonance forms as one ion and isomers as two.
func TestSameIon(t *testing.T) {
	for _, row := range []struct {
		a, b string
		same bool
	}{
		{"C[C+]=O", "CC#[O+]", true},                                               // the acylium ion's two forms; common practice, no source
		{"[CH2+]C=C", "C=C[CH2+]", true},                                           // the allyl cation
		{"[CH2+]c1ccccc1", "[CH2]=C1C=CC=C[CH+]1", true},                           // the benzyl cation
		{"OCC", "CCO", true}, {"CCO", "COC", false}, {"C/C=C/C", "C/C=C\\C", true}, // arrangements in space aren't looked at
		{"CC#[O+]", "CC=O", false}, {"C[CH]C", "[CH2]CC", false}, {"CC(C)=O", "CC(O)=C", false}, // tautomers differ in hydrogens
	} {
		a, err := answer.ReadStructure(row.a)
		if err != nil {
			t.Fatal(err)
		}
		b, err := answer.ReadStructure(row.b)
		if err != nil {
			t.Fatal(err)
		}
		if answer.SameIon(a, b) != row.same {
			t.Errorf("SameIon(%q, %q) is %v", row.a, row.b, !row.same)
		}
	}
}

// FuzzMark gives every kind of question any text.
func FuzzMark(f *testing.F) {
	for _, s := range hostile {
		f.Add(s, s)
	}
	f.Add("A,A,A,A", "a a")
	f.Add("C2H3O+", "43: C2H3O+; 57=C3H5O+")
	rows := causeRows(f)
	f.Fuzz(func(t *testing.T, first, second string) {
		for _, row := range rows {
			q := &practice.Question{ID: "q", Key: row.key, Marks: 2, Facts: row.facts}
			q.Facts.Spectrum.Peaks = nil // the engine has its own fuzz tests, and is slow
			for _, a := range []answer.Answer{answer.Of(first), answer.Listed(first, second), {Pairs: map[string]string{first: second}}} {
				r, err := mark.Question(context.Background(), q, a)
				if err != nil {
					t.Fatalf("%v: %v", row.ask, err)
				}
				if r.Marks < 0 || r.Marks > 2 || r.Marks != r.Marks {
					t.Fatalf("%v: %q gets %g marks", row.ask, a, r.Marks)
				}
			}
		}
	})
}
