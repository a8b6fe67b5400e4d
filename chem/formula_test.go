package chem

import (
	"strings"
	"testing"
)

func TestParseFormula(t *testing.T) {
	// In, out; the readings are this package's own grammar, written out.
	tests := []struct{ in, want string }{
		{"CH4", "CH4"},
		{"H2O", "H2O"},
		{"OH2", "H2O"},
		{"NaCl", "ClNa"},
		{"ClNa", "ClNa"},
		{"CH3CH2OH", "C2H6O"},
		{"C6H5+", "C6H5+"},
		{"(CH3)3Si+", "C3H9Si+"},
		{"[13C]CH4", "C[13C]H4"},
		{"[13C2]CH4", "C[13C]2H4"},
		{"[13C]2CH4", "C[13C]2H4"},
		{"CD3OD", "C[2H]4O"},
		{"T2O", "[3H]2O"},
		{"DTO", "[2H][3H]O"},
		{"TiDyTbDb", "DbDyTbTi"},
		{"[12C]H4", "[12C]H4"},
		{"K4[Fe(CN)6]", "C6FeK4N6"},
		{"{[(CH3)2N]2CH}2", "C10H26N4"},
		{"CuSO4·5H2O", "CuH10O9S"},
		{"CuSO4.5H2O", "CuH10O9S"},
		{"NaCl·H2O", "ClH2NaO"},
		{"C6 H12 O6", "C6H12O6"},
		{" C2H6 ", "C2H6"},
		{"Co", "Co"},
		{"CO", "CO"},
		{"C65535", "C65535"},
		// Charges.
		{"Na+", "Na+"},
		{"Cl-", "Cl-"},
		{"Cl−", "Cl-"},
		{"SO4-2", "O4S 2-"},
		{"SO4 2-", "O4S 2-"},
		{"SO4--", "O4S 2-"},
		{"SO4^2-", "O4S 2-"},
		{"C7H7 2+", "C7H7 2+"},
		{"C7H7++", "C7H7 2+"},
		{"C7H7+2", "C7H7 2+"},
		{"[C7H7]2+", "C7H7 2+"},
		{"[C7H7]+", "C7H7+"},
		{"(CH3)2+", "C2H6+"},
		{"C7H72+", "C7H72+"},
		{"[Cu(NH3)4]2+", "CuH12N4 2+"},
		{"Na[13C]2+", "[13C]2Na+"},
		{"C6H6+•", "C6H6+"},
		{"C6H6•+", "C6H6+"},
		{"CH3•", "CH3"},
		{"CH3·", "CH3"},
		{"C6H6+.", "C6H6+"},
		{"NaCl+-", ""}, // two signs
		// Unicode.
		{"C₆H₅⁺", "C6H5+"},
		{"C₇H₇²⁺", "C7H7 2+"},
		{"C₇H₇⁺²", "C7H7 2+"},
		{"¹³CH₄", "[13C]H4"},
		{"C₂²H₃O", "C2[2H]3O"},
		{"CH₃¹³CH₃", "C[13C]H6"},
	}
	for _, test := range tests {
		f, err := ParseFormula(test.in)
		if test.want == "" {
			if err == nil {
				t.Errorf("%q is read as %q, want an error", test.in, f)
			}
			continue
		}
		if err != nil || f.String() != test.want {
			t.Errorf("%q is read as %q, %v; want %q", test.in, f, err, test.want)
		}
	}
}

func TestParseErrors(t *testing.T) {
	tests := []struct {
		in   string
		at   int // 1-based position in characters
		want string
	}{
		{"", 1, "the formula is empty"},
		{"   ", 4, "the formula is empty"},
		{"c6h6", 1, "element symbols begin with a capital"},
		{"C6h6", 3, "element symbols begin with a capital"},
		{"Xx", 1, `no element has the symbol "Xx"`},
		{"C6Q", 3, `no element has the symbol "Q"`},
		{"Cooo", 3, "unexpected 'o'"},
		{"13CH4", 1, "doesn't begin with a number"},
		{"C6H6)", 5, "this bracket was not opened"},
		{"(C6H6", 1, "the bracket '(' is not closed"},
		{"C(H(O)", 2, "the bracket '(' is not closed"},
		{"C(H]2", 4, "']' where an element symbol or ')' was expected"},
		{"C()2", 3, "')' where an element symbol or ')' was expected"},
		{"C0", 2, "doesn't begin with 0"},
		{"C01", 2, "doesn't begin with 0"},
		{"C65536", 2, "too large"},
		{"C99999999999999999999", 2, "too large"},
		{"C40000C40000", 7, "80000 atoms of C"},
		{"(C1000)1000", 1, "1000000 atoms of C"},
		{"[50C]", 1, "no isotope of carbon with mass number 50"},
		{"[13X]", 4, `no element has the symbol "X"`},
		{"[13CH3]OH", 5, "the label's closing ']' was expected"},
		{"[13]", 4, "no element symbol after the mass number"},
		{"CH2=CH2", 4, "a formula has no bonds"},
		{"CH3-CH3", 5, "unexpected 'C'"},
		{"C6H6 2", 7, "no sign + or -"},
		{"C+99999", 3, "too large"},
		{"C 40000+", 3, "the charge is too large"},
		{"C3H7+•", 5, "a dot marks an odd number of electrons"},
		{"C₆H₆Ω", 5, "unexpected 'Ω'"},
		{"C\xff", 2, "unexpected"},
		{"HHeLiBeBCNOFNeNaMgAlSiPSCl", 25, "more than 16 different species"},
		{strings.Repeat("(", 51) + "C" + strings.Repeat(")", 51), 51, "nested deeper than 50"},
		{strings.Repeat("C", 10_001), 1, "10001 bytes are too long"},
	}
	for _, test := range tests {
		f, err := ParseFormula(test.in)
		if err == nil {
			t.Errorf("%.40q is read as %q, want an error", test.in, f)
			continue
		}
		parseError := err.(*ParseError)
		if at := len([]rune(test.in[:parseError.Offset])) + 1; at != test.at || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%.40q: position %d, want %d; error %q, want %q in it", test.in, at, test.at, err, test.want)
		}
	}
}

func TestText(t *testing.T) {
	tests := []struct{ in, unicode, html string }{
		{"C6H5+", "C₆H₅⁺", "C<sub>6</sub>H<sub>5</sub><sup>+</sup>"},
		{"[13C]H4", "¹³CH₄", "<sup>13</sup>CH<sub>4</sub>"},
		{"C7H7 2+", "C₇H₇²⁺", "C<sub>7</sub>H<sub>7</sub><sup>2+</sup>"},
		{"Cl-", "Cl⁻", "Cl<sup>−</sup>"},
		{"C10H20", "C₁₀H₂₀", "C<sub>10</sub>H<sub>20</sub>"},
	}
	for _, test := range tests {
		f := MustFormula(test.in)
		if got := f.Unicode(); got != test.unicode {
			t.Errorf("%s in Unicode: %q, want %q", test.in, got, test.unicode)
		}
		if got := f.HTML(); got != test.html {
			t.Errorf("%s in HTML: %q, want %q", test.in, got, test.html)
		}
	}
	if got := (Formula{}).String(); got != "" {
		t.Errorf("the empty formula is %q", got)
	}
}

func TestTextMarshaling(t *testing.T) {
	for _, in := range []string{"", "C6H5+", "[13C]H4", "O4S 2-"} {
		var f Formula
		if err := f.UnmarshalText([]byte(in)); err != nil {
			t.Fatal(err)
		}
		if out, err := f.MarshalText(); err != nil || string(out) != in {
			t.Errorf("%q is written as %q, %v", in, out, err)
		}
	}
	f := MustFormula("CH4")
	if err := f.UnmarshalText([]byte("CH4)")); err == nil || f != MustFormula("CH4") {
		t.Errorf("a bad text leaves %q, %v", f, err)
	}
}

// FuzzFormula reads any text; what is read is written and read again.
func FuzzFormula(f *testing.F) {
	for _, seed := range []string{"C6H5+", "[13C2]CH4·2D2O", "{[(CH3)2N]2CH}2 3-", "¹³CH₃²⁺", "[C7H7]2+•", "C(((H", "Xx", "CH3·", "C6H6.+", "[2H3]", "C^2-"} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text string) {
		formula, err := ParseFormula(text)
		if err != nil {
			if parseError := err.(*ParseError); parseError.Offset < 0 || parseError.Offset > len(text) || err.Error() == "" {
				t.Errorf("%q: offset %d", text, parseError.Offset)
			}
			return
		}
		for _, written := range []string{formula.String(), formula.Unicode()} {
			if again, err := ParseFormula(written); err != nil || again != formula {
				t.Errorf("%q is written as %q, which is read as %q, %v", text, written, again, err)
			}
		}
	})
}
