package compose

import (
	"context"
	"errors"
	"slices"
	"strings"
	"testing"

	"ionwright/chem"
)

func TestFindNominalAgainstPlainLoops(t *testing.T) {
	for _, text := range []string{"C0-20", "C2-5", "C0-20 H0-40", "C0-10 H0-22 N0-4 O0-6", "C1-9 H3-20 O1-5 Cl0-3 Br0-2", "Si0-4 C0-10 H0-30 O0-4", "[13C]1-5 C0-9 D0-9 H0-9", "Br0-3 Cl0-3", "Br1-3", "Sn0-2 Cl0-5"} {
		s := space(t, text)
		byMass := map[int][]chem.Formula{}
		all(s, 200, func(f chem.Formula) { byMass[f.NominalMass()] = append(byMass[f.NominalMass()], f) })
		for mass := range 190 {
			found, err := s.FindNominal(context.Background(), mass)
			if err != nil {
				t.Fatal(err)
			}
			if d := difference(texts(found), texts(byMass[mass])); d != "" {
				t.Errorf("%s, nominal mass %d: %s", text, mass, d)
			}
		}
	}
}

func TestFindNominal(t *testing.T) {
	s := space(t, "C0-20 H0-42 N0-6 O0-8")
	s.DBE = &Interval{0, 30}
	s.Electrons = EvenElectrons
	tests := []struct {
		mass int
		want []string
	}{
		{16, []string{"CH4", "O"}},                               // methane and an oxygen atom, counted by hand
		{18, []string{"H2O"}},                                    // the same
		{28, []string{"CO", "C2H4", "N2"}},                       // the three common ones; counted by hand
		{110, []string{"C8H14", "C7H10O", "C6H6O2", "C6H10N2"}},  // OpenStax Organic Chemistry, among others
		{136, []string{"C9H12O", "C8H8O2", "C7H4O3", "C5H12O4"}}, // ETH Zurich exercises, chapter 15, among others
	}
	for _, test := range tests {
		found, err := s.FindNominal(context.Background(), test.mass)
		if err != nil {
			t.Fatal(err)
		}
		for _, want := range test.want {
			if !slices.Contains(found, chem.MustFormula(want)) {
				t.Errorf("nominal mass %d: %s is missing in %v", test.mass, want, found)
			}
		}
		if test.mass < 100 && len(found) != len(test.want) {
			t.Errorf("nominal mass %d: found %v, want %v", test.mass, found, test.want)
		}
	}
	// Not what has that exact mass when rounded: C100H202 is 1404.58.
	long := space(t, "C100-100 H200-204")
	if found, err := long.FindNominal(context.Background(), 1402); err != nil || len(found) != 1 || found[0] != chem.MustFormula("C100H202") {
		t.Errorf("nominal mass 1402: %v, %v", found, err)
	}
	if found, err := (Space{}).FindNominal(context.Background(), 0); err != nil || len(found) != 1 || !found[0].IsEmpty() {
		t.Errorf("nothing weighs nothing: %v, %v", found, err)
	}
	if found, err := (Space{}).FindNominal(context.Background(), 1); err != nil || len(found) != 0 {
		t.Errorf("nothing weighs 1: %v, %v", found, err)
	}
}

func TestEachNominalStops(t *testing.T) {
	n := 0
	for range space(t, common).EachNominal(context.Background(), 300) {
		if n++; n == 3 {
			break
		}
	}
	if n != 3 {
		t.Errorf("%d results", n)
	}
	ctx, cancel := context.WithCancel(context.Background())
	defer cancel()
	n = 0
	var last error
	for _, last = range space(t, "C0-400 H0-800 N0-100 O0-100 S0-50").EachNominal(ctx, 3000) {
		if n++; n == 100 {
			cancel()
		}
	}
	if !errors.Is(last, context.Canceled) {
		t.Errorf("ended with %v after %d", last, n)
	}
	if _, err := space(t, "C0-9").FindNominal(ctx, 12); !errors.Is(err, context.Canceled) {
		t.Errorf("a cancelled search ended with %v", err)
	}
}

func TestNominalErrors(t *testing.T) {
	tests := []struct {
		space Space
		mass  int
		want  string
	}{
		{space(t, "C0-5"), -1, "finding formulas of nominal mass -1: the mass is not within 0 to 100000"},
		{space(t, "C0-5"), 100001, "the mass is not within"},
		{Space{Charge: -101}, 1, "the charge -101"},
		{space(t, "C0-400 H0-800 N0-100 O0-100 S0-50"), 2000, "more than 2000000"},
	}
	for _, test := range tests {
		if _, err := test.space.FindNominal(context.Background(), test.mass); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("error %v, want %q", err, test.want)
		}
	}
}

func BenchmarkFindNominal(b *testing.B) {
	s := space(b, common)
	s.DBE = &Interval{0, 100}
	s.Electrons = EvenElectrons
	b.ReportAllocs()
	for b.Loop() {
		n := 0
		for range s.EachNominal(context.Background(), 300) {
			n++
		}
	}
}
