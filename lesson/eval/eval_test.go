package eval

import (
	"context"
	"slices"
	"strings"
	"sync"
	"testing"
	"testing/fstest"

	"ionwright/lesson/diag"
	"ionwright/lesson/load"
	"ionwright/lesson/source"
)

// bottles is a lesson with a ketone whose spectrum is given and a compound
// with chlorine whose spectrum is computed.
const bottles = `---
title: Bottles
compounds:
  ketone: { smiles: CCC(C)=O, measured: ketone.jdx, name: bottle 3 }
  arene: Clc1ccccc1
instruments:
  bench: { radius: 25 cm, voltage: 4 kV, slit: 0.5 mm }
---
`

const ketoneFile = `##TITLE= bottle 3
##JCAMP-DX= 5.00
##DATA TYPE= MASS SPECTRUM
##DATA CLASS= PEAK TABLE
##ORIGIN= a test
##OWNER= nobody
##XUNITS= M/Z
##YUNITS= RELATIVE ABUNDANCE
##NPOINTS= 4
##PEAK TABLE= (XY..XY)
29,17 43,100 57,8 72,28
##END=
`

// fuzzEnv is env made once: a fuzz target runs it many times.
var fuzzed struct {
	once sync.Once
	env  *Env
}

func fuzzEnv(t *testing.T) *Env {
	t.Helper()
	fuzzed.once.Do(func() { fuzzed.env = env(t) })
	return fuzzed.env
}

func env(t *testing.T) *Env {
	t.Helper()
	fsys := fstest.MapFS{"lesson.md": {Data: []byte(bottles)}, "ketone.jdx": {Data: []byte(ketoneFile)}}
	src, diags := source.Parse(fsys)
	for _, d := range diags {
		t.Fatal(d)
	}
	l, diags, err := load.Load(context.Background(), fsys, src)
	if err != nil {
		t.Fatal(err)
	}
	for _, d := range diags {
		t.Fatal(d)
	}
	e, err := New(l, map[string]int{"spectrum3": 2})
	if err != nil {
		t.Fatal(err)
	}
	return e
}

func compute(t *testing.T, e *Env, expr string) (Result, *diag.Diagnostic) {
	t.Helper()
	x, diags := e.Compile(source.Text{Value: expr})
	if diags.HasErrors() {
		return Result{}, &diags[0]
	}
	r, d, err := x.Eval(context.Background())
	if err != nil {
		t.Fatal(err)
	}
	return r, d
}

// TestValuesAsPrinted states what students read for an expression.
func TestValuesAsPrinted(t *testing.T) {
	e := env(t)
	for _, c := range []struct{ expr, want string }{
		{"basePeak(ketone).mz", "43"},             // the file above
		{"basePeak(ketone)", "m/z 43 (100 %)"},    // the file above
		{"peak(ketone, 57).intensity", "8.0 %"},   // the file above
		{"peak(ketone, 58).intensity", "0 %"},     // the file above
		{"molecularIon(ketone)", "m/z 72 (28 %)"}, // the file above
		{"strongest(ketone, 3)", "43, 72 and 29"}, // the file above
		{"peakRatio(ketone, 43, 72)", "3.6"},      // 100 / 28
		{"loss(ketone, 43).formula", "C2H5"},      // C4H8O - C2H3O
		{"loss(ketone, 57).mass", "15"},           // 72 - 57
		{"ion(ketone, 43).formula", "C2H3O+"},     // common practice, no source: alpha-cleavage of a ketone
		{"ion(ketone, 43).oddElectron", "no"},     // an acylium ion has an even number of electrons
		{"mass(ketone)", "72"},                    // oracle: butanone C4H8O
		{"mass(ketone) + 2", "74"},
		{"exactMass(ketone)", "72.0575"},  // OpenStax Organic Chemistry, ch. 12: C4H8O 72.0575
		{"exactMass('C5H12')", "72.0939"}, // OpenStax Organic Chemistry, ch. 12: C5H12 72.0939
		{"averageMass('O')", "16.00"},     // IUPAC: 15.999
		{"dbe(arene)", "4"},               // benzene ring
		{"count(arene, 'Cl')", "1"},
		{"formula('CH3CO+')", "C2H3O+"},
		{"isotopeRatio(arene, 2)", "32 %"},             // one Cl: 32.0 (OpenStax; exact 100:32.0), carbon adds 0.2
		{"abundance('Cl', 37)", "24 %"},                // IUPAC: 0.2424
		{"resolvingPower('C2H3O+', 'C3H7+')", "1200"},  // computed from the exact masses: 1183
		{"field(100, 4000, 0.25)", "0.364 T"},          // closed form: 0.36423 T
		{"mzAt(0.5, 4000, 0.30)", "271.4"},             // closed form: 271.36
		{"voltage(18, 0.24, 0.127)", "2490 V"},         // 2.49e3 V for water
		{"radius(100, 0.36423, 4000)", "0.25 m"},       // closed form
		{"field(43, bench) < field(72, bench)", "yes"}, // common practice, no source: light ions need the weaker field
		{"figure('spectrum3')", "Figure 2"},
		{"ketone.name", "bottle 3"},
		{"energy(arene)", "70"},
		{"mass(ketone) == 72 ? 'light' : 'heavy'", "light"},
		{"[43, 57].all(m, peak(ketone, m).intensity > 5)", "yes"},
	} {
		r, d := compute(t, e, c.expr)
		switch {
		case d != nil:
			t.Errorf("%s: %s", c.expr, d)
		case r.Text.Message() != c.want:
			t.Errorf("%s is printed %q, want %q", c.expr, r.Text.Message(), c.want)
		}
	}
}

// TestListsOfAlternativesHoldTheUsualOnes leaves room for a longer table.
func TestListsOfAlternativesHoldTheUsualOnes(t *testing.T) {
	e := env(t)
	for expr, want := range map[string][]any{
		"assignments(43)": {"C2H3O+", "C3H7+"}, // CCSU summary: 43 CH3CO or C3H7
		"assignments(77)": {"C6H5+"},           // CCSU summary: 77 C6H5
		"losses(28)":      {"CO", "C2H4"},      // CCSU summary: 28 CO or C2H4
	} {
		r, d := compute(t, e, expr)
		if d != nil {
			t.Fatal(d)
		}
		for _, w := range want {
			if !slices.Contains(r.Value.([]any), w) {
				t.Errorf("%s is %v and lacks %v", expr, r.Value, w)
			}
		}
	}
}

func TestErrorsOfExpressions(t *testing.T) {
	e := env(t)
	for _, c := range []struct {
		expr string
		code diag.Code
		want string
	}{
		{"basPeak(ketone)", diag.UnknownName, `no function "basPeak"`},
		{"basePeak(keton)", diag.UnknownName, `did you mean "ketone"?`},
		{"basePeak(ketone).mx", diag.UnknownName, `did you mean "mz"?`},
		{"ion(ketone, 50).mz", diag.NoIon, "no ion of ketone at m/z 50"},
		{"peak(ketone, 43.5)", diag.BadExpression, "whole m/z"},
		{"peak(ketone, -1)", diag.BadExpression, "whole m/z"},
		{"peakRatio(ketone, 43, 44)", diag.BadExpression, "no peak at m/z 44"},
		{"energy(ketone)", diag.BadExpression, "doesn't say the energy"},
		{"1 + 2.0", diag.BadExpression, "double(...)"},
		{"mass(ketone) ==", diag.BadExpression, "it ends where something more is needed"},
		{"mass(ketone) == = 3", diag.BadExpression, "single equals sign"},
		{"mass('C2H6X')", diag.BadExpression, "position 5"},
		{"field('x', bench)", diag.BadExpression, "argument 1 must be a number"},
		{"field(0, bench)", diag.BadExpression, "above zero"},
		{"field(43, 1.0/0.0, 1)", diag.BadExpression, "finite"},
		{"1/0", diag.BadExpression, "division by zero"},
		{"basePeak(eval.Compound{name: 'x'})", diag.BadExpression, "isn't a compound of the lesson"},
		{"figure('spectrum4')", diag.UnknownName, `did you mean "spectrum3"?`},
		{"count(ketone, 'Xx')", diag.BadExpression, "isn't the symbol of an element"},
		{"resolvingPower('CO', 'CO')", diag.BadExpression, "same m/z"},
		{"assignments(9999)", diag.BadExpression, "no ion is common"},
		{"[1,2,3,4,5,6,7,8,9].all(a, [1,2,3,4,5,6,7,8,9].all(b, [1,2,3,4,5,6,7,8,9].all(c, [1,2,3,4,5,6,7,8,9].all(d, [1,2,3,4,5,6,7,8,9].all(e, a+b+c+d+e > 0)))))",
			diag.BadExpression, "too long"},
		{strings.Repeat("(", 1000), diag.BadExpression, ""},
		{"'" + strings.Repeat("a", 200000) + "'", diag.BadExpression, ""},
	} {
		_, d := compute(t, e, c.expr)
		if d == nil || d.Code != c.code || !strings.Contains(d.String(), c.want) {
			t.Errorf("%.60s: got %v, want [%s] with %q", c.expr, d, c.code, c.want)
		}
	}
}

func TestWhyFalse(t *testing.T) {
	e := env(t)
	for _, c := range []struct{ expr, part, claimed, computed, from string }{
		{"mass(ketone) == 74", "mass(ketone) == 74", "74", "72", "CCC(C)=O is C4H8O"},
		{"74 == mass(ketone)", "74 == mass(ketone)", "74", "72", "C4H8O"},
		{"mass(ketone) == 72 && basePeak(ketone).mz == 57", "basePeak(ketone).mz == 57", "57", "43", "m/z 43: 100 %"},
		{"peak(ketone, 29).intensity > 50", "peak(ketone, 29).intensity > 50", "more than 50 %", "17 %", "m/z 29: 17 %"},
		{"50 < peak(ketone, 29).intensity", "50 < peak(ketone, 29).intensity", "more than 50 %", "17 %", "measured, ketone.jdx"},
		{"field(28, bench) > field(43, bench)", "field(28, bench) > field(43, bench)",
			"field(28, bench) > field(43, bench)", "field(28, bench) is 0.193 T, field(43, bench) is 0.239 T", "the instrument bench"},
		{"57 in strongest(ketone, 2)", "57 in strongest(ketone, 2)", "57 in strongest(ketone, 2)", "strongest(ketone, 2) is 43 and 72", "ketone"},
		{"formula(ketone) == formula('C5H12')", "formula(ketone) == formula(\"C5H12\")", "C5H12", "C4H8O", "C4H8O"},
	} {
		x, diags := e.Compile(source.Text{Value: c.expr})
		if diags.HasErrors() {
			t.Fatal(diags[0])
		}
		f, err := x.WhyFalse(context.Background())
		if err != nil {
			t.Fatal(err)
		}
		if f.Part != c.part || f.Claimed != c.claimed || f.Computed != c.computed || !strings.Contains(strings.Join(f.Origins, " "), c.from) {
			t.Errorf("%s: %+v, want part %q, claimed %q, computed %q, from %q", c.expr, f, c.part, c.claimed, c.computed, c.from)
		}
	}
}

func TestWordsThatStateAValue(t *testing.T) {
	e := env(t)
	for _, c := range []struct {
		words, expr string
		want        bool
	}{
		{"43", "basePeak(ketone).mz", true},
		{"44", "basePeak(ketone).mz", false},
		{"43.0", "basePeak(ketone).mz", true},
		{"forty-three", "basePeak(ketone).mz", false},
		{"three", "size([1, 2, 3])", true},
		{"four", "size([1, 2, 3])", false},
		{"28 %", "peak(ketone, 72).intensity", true},
		{"28", "peak(ketone, 72).intensity", true},
		{"27", "peak(ketone, 72).intensity", false},
		{"0.239 T", "field(43, bench)", true},
		{"0.24", "field(43, bench)", true},
		{"0.238", "field(43, bench)", false},
		{"0.2388", "field(43, bench)", true},
		{"1200", "resolvingPower('C2H3O+', 'C3H7+')", true}, // as it is printed
		{"1183", "resolvingPower('C2H3O+', 'C3H7+')", true}, // to the unit
		{"1300", "resolvingPower('C2H3O+', 'C3H7+')", false},
		{"2.68e-26 kg", "acceleratedMass(1, 0.82, 0.13, 34000)", true}, // oracles 65
		{"2.68×10⁻²⁶ kg", "acceleratedMass(1, 0.82, 0.13, 34000)", true},
		{"2.68 × 10^-26", "acceleratedMass(1, 0.82, 0.13, 34000)", true},
		{"2.70×10⁻²⁶ kg", "acceleratedMass(1, 0.82, 0.13, 34000)", false},
		{"2.68e-25 kg", "acceleratedMass(1, 0.82, 0.13, 34000)", false},
		{"677 µs", "flightTimeRatio(6.69e-4, 79, 81)", true}, // oracles 76
		{"677 s", "flightTimeRatio(6.69e-4, 79, 81)", false},
		{"CH3CO+", "ion(ketone, 43).formula", true},
		{"C2H3O+", "ion(ketone, 43).formula", true},
		{"C2H3O", "ion(ketone, 43).formula", false}, // the charge counts
		{"C3H7+", "ion(ketone, 43).formula", false},
		{"72, 43 and 29", "strongest(ketone, 3)", true},
		{"72 and 43", "strongest(ketone, 3)", false},
		{"any words", "1 < 2", true},
		{"any words", "1 > 2", false},
	} {
		r, d := compute(t, e, c.expr)
		if d != nil {
			t.Fatal(d)
		}
		if got := r.Agrees(c.words); got != c.want {
			t.Errorf("%q for %s (%s): %v, want %v", c.words, c.expr, r.Text.Message(), got, c.want)
		}
	}
}

// TestFunctionsAreDocumented keeps the list fit to print.
func TestFunctionsAreDocumented(t *testing.T) {
	for _, f := range Functions() {
		if f.Doc == "" || !strings.HasSuffix(f.Doc, ".") || len(f.Forms) == 0 || f.bind == nil {
			t.Errorf("%s lacks documentation, a form or a function", f.Name)
		}
		for _, form := range f.Forms {
			for _, p := range form {
				if celTypes[p.Type] == nil {
					t.Errorf("%s: there is no type %q", f.Name, p.Type)
				}
			}
		}
		if celTypes[f.Result] == nil {
			t.Errorf("%s: there is no type %q", f.Name, f.Result)
		}
	}
}
