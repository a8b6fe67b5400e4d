package chem

import (
	"maps"
	"testing"
)

func TestPlusMinusContains(t *testing.T) {
	tests := []struct {
		a, b, sum string
		diff      string // "-" where b isn't contained in a
	}{
		{"C6H6", "H", "C6H7", "C6H5"},
		{"C6H6+", "H+", "C6H7 2+", "C6H5"},
		{"C6H6+", "CH3", "C7H9+", "C5H3+"},
		{"CH4", "C2", "C3H4", "-"},
		{"CH4", "O", "CH4O", "-"},
		{"C3H8O", "H2O", "C3H10O2", "C3H6"},
		{"[13C]CH4", "[13C]", "C[13C]2H4", "CH4"},
		{"[13C]H4", "C", "C[13C]H4", "-"},
		{"CH3", "CH3-", "C2H6-", "+"},
	}
	for _, test := range tests {
		a, b := MustFormula(test.a), MustFormula(test.b)
		if got := a.Plus(b); got.String() != test.sum || got != b.Plus(a) {
			t.Errorf("%s plus %s is %s, want %s", a, b, got, test.sum)
		}
		diff, ok := a.Minus(b)
		if ok != (test.diff != "-") || ok && diff.String() != test.diff {
			t.Errorf("%s minus %s is %s, %v; want %s", a, b, diff, ok, test.diff)
		}
		if a.Contains(b) != ok {
			t.Errorf("%s contains %s: %v, want %v", a, b, a.Contains(b), ok)
		}
		if ok && diff.Plus(b) != a {
			t.Errorf("%s minus %s plus %s is %s", a, b, b, diff.Plus(b))
		}
	}
}

func TestCounts(t *testing.T) {
	f := MustFormula("[13C]CD3H2O+")
	if f.Count(C) != 2 || f.Count(H) != 5 || f.Count(N) != 0 || f.Atoms() != 8 || f.Charge() != 1 {
		t.Errorf("%s: C %d, H %d, N %d, atoms %d, charge %d", f, f.Count(C), f.Count(H), f.Count(N), f.Atoms(), f.Charge())
	}
	if n := f.CountSpecies(LabelledSpecies(H, 2)); n != 3 {
		t.Errorf("%s has %d deuterium atoms", f, n)
	}
	if n := f.CountSpecies(NaturalSpecies(H)); n != 2 {
		t.Errorf("%s has %d natural hydrogen atoms", f, n)
	}
	if f.CountSpecies(0) != 0 || f.Count(0) != 0 {
		t.Error("no species is counted")
	}
	if got := f.Natural(); got != MustFormula("C2H5O+") {
		t.Errorf("%s without labels is %s", f, got)
	}
	if got := f.WithCharge(-2); got != MustFormula("[13C]CD3H2O 2-") {
		t.Errorf("%s with charge -2 is %s", f, got)
	}
	if got := MustFormula("CH2+").Times(3); got != MustFormula("C3H6 3+") {
		t.Errorf("3 times CH2+ is %s", got)
	}
	if got := f.Times(0); got != (Formula{}) {
		t.Errorf("0 times %s is %s", f, got)
	}
	counts := maps.Collect(f.All())
	if len(counts) != 5 || counts[NaturalSpecies(O)] != 1 {
		t.Errorf("%s has the counts %v", f, counts)
	}
	for s := range f.All() {
		if s != NaturalSpecies(H) {
			t.Errorf("the first species of %s is %s", f, s.Element())
		}
		break
	}
}

func TestFormulaOf(t *testing.T) {
	f, err := FormulaOf(Count{NaturalSpecies(O), 1}, Count{NaturalSpecies(H), 1}, Count{NaturalSpecies(N), 0}, Count{NaturalSpecies(H), 1})
	if err != nil || f != MustFormula("H2O") {
		t.Errorf("made %s, %v", f, err)
	}
	for _, bad := range []Count{{0, 1}, {NaturalSpecies(200), 1}, {LabelledSpecies(C, 50), 1}, {NaturalSpecies(C), -1}, {NaturalSpecies(C), 65536}} {
		if f, err := FormulaOf(bad); err == nil {
			t.Errorf("made %s from %v", f, bad)
		}
	}
	var many []Count
	for e := Element(1); e <= 17; e++ {
		many = append(many, Count{NaturalSpecies(e), 1})
	}
	if f, err := FormulaOf(many...); err == nil {
		t.Errorf("made %s with 17 elements", f)
	}
}

func TestSetCount(t *testing.T) {
	f := MustFormula("C6H6")
	f.SetCount(NaturalSpecies(O), 2)
	f.SetCount(NaturalSpecies(C), 7)
	f.SetCount(NaturalSpecies(N), 0)
	if f != MustFormula("C7H6O2") {
		t.Errorf("set to %s", f)
	}
	f.SetCount(NaturalSpecies(C), 0)
	f.SetCount(NaturalSpecies(O), 0)
	if f != MustFormula("H6") {
		t.Errorf("set to %s", f)
	}
}

func TestTemplate(t *testing.T) {
	template, err := NewTemplate(1, NaturalSpecies(O), NaturalSpecies(C), LabelledSpecies(C, 13), NaturalSpecies(H))
	if err != nil {
		t.Fatal(err)
	}
	tests := []struct {
		counts [MaxSpecies]uint16
		want   string
	}{
		{[MaxSpecies]uint16{2, 6, 0, 6}, "C6H6O2+"},
		{[MaxSpecies]uint16{0, 5, 1, 7}, "C5[13C]H7+"},
		{[MaxSpecies]uint16{0, 0, 0, 0, 9}, "+"},
	}
	for _, test := range tests {
		if got := template.Formula(&test.counts); got.String() != test.want {
			t.Errorf("made %q, want %q", got, test.want)
		}
	}
	if got := template.Formula(&tests[0].counts); got != MustFormula("C6H6O2+") {
		t.Errorf("%q isn't equal to what is read", got)
	}
	for _, bad := range [][]Species{{NaturalSpecies(C), NaturalSpecies(C)}, {0}, make([]Species, 17)} {
		if _, err := NewTemplate(0, bad...); err == nil {
			t.Errorf("a template of %v", bad)
		}
	}
}

func TestProgrammersMistakesPanic(t *testing.T) {
	big := MustFormula("C65535")
	full := MustFormula("HHeLiBeBCNOFNeNaMgAlSiPS")
	tests := map[string]func(){
		"sum of counts":   func() { big.Plus(MustFormula("C")) },
		"sum of species":  func() { full.Plus(MustFormula("Cl")) },
		"product":         func() { big.Times(2) },
		"huge product":    func() { MustFormula("C").Times(1 << 62) },
		"negative times":  func() { big.Times(-1) },
		"charge":          func() { big.WithCharge(40000) },
		"unknown species": func() { big.SetCount(NaturalSpecies(200), 1) },
		"negative count":  func() { big.SetCount(NaturalSpecies(C), -1) },
		"count":           func() { big.SetCount(NaturalSpecies(C), 65536) },
		"bad formula":     func() { MustFormula("C(") },
		"labels off":      func() { MustFormula("C65535[13C]").Natural() },
	}
	for name, f := range tests {
		t.Run(name, func(t *testing.T) {
			defer func() {
				if recover() == nil {
					t.Error("no panic")
				}
			}()
			f()
		})
	}
}

func TestNothingAllocates(t *testing.T) {
	a, b := MustFormula("C9H11ClN4O2+"), MustFormula("C2H3N")
	var sink Formula
	var truth bool
	var mass Mass
	allocations := testing.AllocsPerRun(100, func() {
		sink = a.Plus(b)
		sink, truth = sink.Minus(b)
		truth = truth && sink == a && sink.Contains(b)
		sink = sink.Times(2).WithCharge(0).Natural()
		mass = sink.MonoisotopicMass() + sink.AverageMass() + Mass(sink.NominalMass()) + Mass(sink.MZ()) + Mass(sink.DBE())
		sink.SetCount(NaturalSpecies(O), 7)
		for _, n := range sink.All() {
			mass += Mass(n)
		}
	})
	if allocations != 0 || !truth || mass == 0 {
		t.Errorf("%g allocations", allocations)
	}
}

var sinkFormula Formula
var sinkMass Mass

func BenchmarkPlus(b *testing.B) {
	f, g := MustFormula("C9H11ClN4O2+"), MustFormula("C2H3N")
	b.ReportAllocs()
	for b.Loop() {
		sinkFormula = f.Plus(g)
	}
}

func BenchmarkMonoisotopicMass(b *testing.B) {
	f := MustFormula("C9H11ClN4O2+")
	b.ReportAllocs()
	for b.Loop() {
		sinkMass = f.MonoisotopicMass()
	}
}

func BenchmarkParseFormula(b *testing.B) {
	b.ReportAllocs()
	for b.Loop() {
		sinkFormula, _ = ParseFormula("C9H11ClN4O2+")
	}
}

func TestSpeciesText(t *testing.T) {
	for s, want := range map[Species]string{NaturalSpecies(C): "C", LabelledSpecies(C, 13): "[13C]", 0: "", NaturalSpecies(200): "", LabelledSpecies(200, 3): ""} {
		if got := s.String(); got != want {
			t.Errorf("species %d is %q, want %q", uint16(s), got, want)
		}
	}
}
