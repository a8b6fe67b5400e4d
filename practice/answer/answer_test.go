package answer_test

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"ionwright/chem"
	"ionwright/practice/answer"
)

// TestReadNumber reads numbers as students write them; the values by hand.
func TestReadNumber(t *testing.T) {
	for _, row := range []struct {
		text        string
		value, last float64
		least, most int
		unit        string
	}{
		{"112", 112, 1, 3, 3, ""}, {"m/z = 112", 112, 1, 3, 3, ""}, {"0,239 T", 0.239, 0.001, 3, 3, "T"}, {"1.44e5 m/s", 1.44e5, 1e3, 3, 3, "m/s"},
		{"1.44 × 10^5 m/s", 1.44e5, 1e3, 3, 3, "m/s"}, {"1.44·10⁵ m/s", 1.44e5, 1e3, 3, 3, "m/s"}, {"32 %", 32, 1, 2, 2, "%"}, {"1,200 V", 1200, 1, 2, 4, "V"},
		{"4000", 4000, 1, 1, 4, ""}, {"4.000e3", 4000, 1, 4, 4, ""}, {"-0.50", -0.5, 0.01, 2, 2, ""}, {"ca. 43", 43, 1, 2, 2, ""}, {"2.5×10^-3 s", 2.5e-3, 1e-4, 2, 2, "s"},
	} {
		n, err := answer.ReadNumber(row.text)
		if err != nil {
			t.Errorf("%q: %v", row.text, err)
			continue
		}
		off := func(x, y float64) bool { return math.Abs(x-y) > 1e-9*math.Abs(y) }
		if off(n.Value, row.value) || off(n.Last, row.last) || n.Least != row.least || n.Most != row.most || n.Unit != row.unit {
			t.Errorf("%q: %+v, want %+v", row.text, n, row)
		}
	}
	for _, text := range []string{"", "abc", "T 5", "1e999999", "5 6 7", "--5", "NaN"} {
		if n, err := answer.ReadNumber(text); err == nil {
			t.Errorf("%q: %+v without an error", text, n)
		}
	}
}

// TestIn converts units of one quantity, and refuses others.
func TestIn(t *testing.T) {
	for _, row := range []struct {
		text, unit string
		want       float64 // 0: refused
	}{
		{"385 mT", "T", 0.385}, {"4 kV", "V", 4000}, {"25 cm", "m", 0.25}, {"1.5 km/s", "m/s", 1500}, {"5 T", "V", 0}, {"5 bananas", "T", 0},
	} {
		n, err := answer.ReadNumber(row.text)
		if err != nil {
			t.Fatal(err)
		}
		x, ok := n.In(row.unit)
		if ok != (row.want != 0) || ok && math.Abs(x-row.want) > 1e-12*row.want {
			t.Errorf("%s in %s: %g, %v; want %g", row.text, row.unit, x, ok, row.want)
		}
	}
}

// TestReadFormula reads formulas in the ways that students write them.
func TestReadFormula(t *testing.T) {
	for _, row := range []struct {
		text, want string
		dot        bool
	}{
		{"CH3CO+", "C2H3O+", false}, {"[C2H3O]+", "C2H3O+", false}, {"C₂H₃O⁺", "C2H3O+", false}, {"C4H8O+•", "C4H8O+", true}, {"C4H8O•+", "C4H8O+", true},
		{"H3C2O+", "C2H3O+", false}, {"C7H7 2+", "C7H7 2+", false}, {"CH2 79Br 35Cl +", "CH2[79Br][35Cl]+", false}, {"³⁵Cl³⁷Cl", "[35Cl][37Cl]", false},
	} {
		f, err := answer.ReadFormula(row.text)
		if err != nil {
			t.Errorf("%q: %v", row.text, err)
			continue
		}
		if f.Formula != chem.MustFormula(row.want) || f.Dot != row.dot {
			t.Errorf("%q: %s, dot %v; want %s, %v", row.text, f.Formula, f.Dot, row.want, row.dot)
		}
	}
	if f, err := answer.ReadFormula("32O2+"); err != nil || f.Heavy != 32 {
		t.Errorf("32O2+: %+v, %v; want the mass number that no oxygen has", f, err)
	}
	for _, text := range []string{"", "Xx", "C2H3O+)", strings.Repeat("C", 600), "+"} {
		if f, err := answer.ReadFormula(text); err == nil {
			t.Errorf("%.20q: %+v without an error", text, f)
		}
	}
}

// TestParseArrow writes and reads arrows.
func TestParseArrow(t *testing.T) {
	for text, want := range map[string]string{"2-3 > 1-2": "2-3 > 1-2", "3-2=>3": "2-3 => 3", "1 → 2−1": "1 => 1-2", "12⇀4": "12 > 4"} {
		a, err := answer.ParseArrow(text)
		if err != nil || a.String() != want {
			t.Errorf("%q: %s, %v; want %s", text, a, err, want)
		}
	}
	for _, text := range []string{"", "1", "1 >", "0 > 1", "1-1 > 2", "a > b", "1 >> 2", "99999 > 1"} {
		if a, err := answer.ParseArrow(text); err == nil {
			t.Errorf("%q: %s without an error", text, a)
		}
	}
}

// TestJSON keeps answers of every shape, and digits as they were written.
func TestJSON(t *testing.T) {
	for _, text := range []string{`"C2H3O+"`, `["A","C"]`, `{"43":"C2H3O+"}`, `""`, `[]`} {
		var a answer.Answer
		if err := json.Unmarshal([]byte(text), &a); err != nil {
			t.Fatal(err)
		}
		if back, err := json.Marshal(a); err != nil || string(back) != text {
			t.Errorf("%s comes back as %s, %v", text, back, err)
		}
	}
	var a answer.Answer
	if err := json.Unmarshal([]byte("0.3850"), &a); err != nil || a.Text != "0.3850" {
		t.Errorf("0.3850 is read as %q, %v", a.Text, err)
	}
	for _, text := range []string{`[[1]]`, `{"a":{}}`} {
		if err := json.Unmarshal([]byte(text), &a); err == nil {
			t.Errorf("%s without an error", text)
		}
	}
}

// TestSays finds phrases that aren't denied.
func TestSays(t *testing.T) {
	for _, row := range []struct {
		text, phrase string
		want         bool
	}{
		{"M+2 is a third of M.", "a third", true}, {"It isn't a third.", "a third", false}, {"There is no loss of chlorine.", "loss of chlorine", false},
		{"A Loss of CHLORINE", "loss of chlorine", true}, {"chlorinated", "chlorine", false},
	} {
		if got := answer.Says(answer.Words(row.text), row.phrase); got != row.want {
			t.Errorf("%q says %q: %v", row.text, row.phrase, got)
		}
	}
}
