package compose

import (
	"context"
	"errors"
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strings"
	"testing"
	"time"

	"ionwright/chem"
)

// space reads "C0-50 H0-100 [13C]1-2": the notation of the tests.
func space(t testing.TB, text string) Space {
	t.Helper()
	var s Space
	for _, field := range strings.Fields(text) {
		at := strings.LastIndexAny(field, "-")
		begin := strings.LastIndexFunc(field[:at], func(r rune) bool { return r < '0' || r > '9' }) + 1
		f, err := chem.ParseFormula(field[:begin])
		if err != nil {
			t.Fatal(err)
		}
		var r Range
		for r.Species = range f.All() {
		}
		if _, err := fmt.Sscanf(field[begin:], "%d-%d", &r.Min, &r.Max); err != nil {
			t.Fatal(err)
		}
		s.Elements = append(s.Elements, r)
	}
	return s
}

// common is what the comparisons of speed use.
const common = "C0-50 H0-100 N0-10 O0-15 S0-3 P0-2 F0-6 Cl0-4 Br0-4"

// all are all formulas within the ranges up to a mass, by plain nested loops.
func all(s Space, most chem.Mass, each func(chem.Formula)) {
	var descend func(k int, f chem.Formula)
	descend = func(k int, f chem.Formula) {
		if f.MonoisotopicMass() > most {
			return
		}
		if k == len(s.Elements) {
			each(f)
			return
		}
		r := s.Elements[k]
		for n := r.Min; n <= r.Max; n++ {
			f.SetCount(r.Species, n)
			descend(k+1, f)
		}
	}
	descend(0, chem.Formula{}.WithCharge(s.Charge))
}

func texts(formulas []chem.Formula) []string {
	var list []string
	for _, f := range formulas {
		list = append(list, f.String())
	}
	slices.Sort(list)
	return list
}

func formulasOf(candidates []Candidate) []chem.Formula {
	var list []chem.Formula
	for _, c := range candidates {
		list = append(list, c.Formula)
	}
	return list
}

// difference describes how two sorted lists differ, "" where they don't.
func difference(got, want []string) string {
	var out []string
	for _, x := range got {
		if _, found := slices.BinarySearch(want, x); !found {
			out = append(out, "+"+x)
		}
	}
	for _, x := range want {
		if _, found := slices.BinarySearch(got, x); !found {
			out = append(out, "-"+x)
		}
	}
	if len(got) != len(want) && len(out) == 0 {
		out = append(out, fmt.Sprintf("%d entries, not %d", len(got), len(want)))
	}
	if len(out) > 10 {
		out = append(out[:10], fmt.Sprintf("… (%d)", len(out)))
	}
	return strings.Join(out, " ")
}

// Everything that plain loops find is found, and nothing else, whatever the
// elements, ranges, charge and tolerance: with one, two and many dimensions,
// with tables and without.
func TestFindAgainstPlainLoops(t *testing.T) {
	spaces := []string{
		"C0-20", "H0-40", "C3-20", "Br0-3", "C0-20 H0-40", "C5-9 H2-8", "Cl0-4 Br0-4", "[13C]0-5 C0-12 H0-30",
		"C0-12 H0-26 N0-4 O0-6", "C0-12 D0-9 H0-26 O0-4", "C1-10 H1-20 N1-3 O1-5 S1-2", "C0-10 H0-20 F0-4 Cl0-3 Br0-2 P0-2",
		"Si0-4 C0-10 H0-30 O0-4", "Sn0-1 C0-8 H0-20 Cl0-4", "Fe0-2 C0-12 H0-12 O0-4", "He0-3 H0-9 Li0-3", "C0-15 O0-15", "N0-9 O0-9 F0-9",
	}
	random := rand.New(rand.NewPCG(1, 2))
	for _, text := range spaces {
		for _, charge := range []int{0, 1, -2} {
			s := space(t, text)
			s.Charge = charge
			var formulas []chem.Formula
			all(s, 300, func(f chem.Formula) { formulas = append(formulas, f) })
			for _, tolerance := range []Tolerance{{0, Da}, {1, PPM}, {10, PPM}, {300, PPM}, {0.1, Da}, {2, Da}} {
				for range 6 {
					// Around a formula of the space, or anywhere.
					mass := chem.Mass(random.Float64() * 260)
					if random.IntN(3) > 0 {
						mass = formulas[random.IntN(len(formulas))].MonoisotopicMass()
						mass += chem.Mass((2*random.Float64() - 1) * 1.5 * float64(tolerance.Of(mass)))
					}
					if mass < 0 || mass > 290 {
						continue
					}
					var want []string
					limit := float64(tolerance.Of(mass))
					sharp := false // a mass so near the limit that rounding decides
					for _, f := range formulas {
						d := math.Abs(float64(f.MonoisotopicMass() - mass))
						sharp = sharp || math.Abs(d-limit) < 1e-9
						if d <= limit {
							want = append(want, f.String())
						}
					}
					if sharp && limit > 0 {
						continue
					}
					slices.Sort(want)
					found, err := s.Find(context.Background(), mass, tolerance)
					if err != nil {
						t.Fatal(err)
					}
					if limit == 0 {
						continue // rounding decides; that it ends is what counts
					}
					if d := difference(texts(formulasOf(found)), want); d != "" {
						t.Errorf("%s charge %d, %.6f within %v: %s", text, charge, mass, tolerance, d)
					}
				}
			}
		}
	}
}

// The same with enough combinations for the tables, at masses of real
// compounds.
func TestFindWithTables(t *testing.T) {
	s := space(t, "C0-20 H0-42 N0-6 O0-8 S0-2 P0-2 F0-3 Cl0-3 Br0-2")
	byCell := map[int][]chem.Formula{} // by mass in steps of 0.01 Da
	all(s, 260, func(f chem.Formula) {
		cell := int(f.MonoisotopicMass() * 100)
		byCell[cell] = append(byCell[cell], f)
	})
	for _, formula := range []string{"C9H8O4", "C8H10N4O2", "C6H5ClO", "C10H14N2", "C3H9O4P", "C12H10", "C6H3Br2O", "C15H24O"} {
		mass := chem.MustFormula(formula).MonoisotopicMass()
		for _, tolerance := range []Tolerance{{1, PPM}, {5, PPM}, {20, PPM}, {0.009, Da}} {
			var want []string
			for cell := int(mass*100) - 2; cell <= int(mass*100)+2; cell++ {
				for _, f := range byCell[cell] {
					if math.Abs(float64(f.MonoisotopicMass()-mass)) <= float64(tolerance.Of(mass)) {
						want = append(want, f.String())
					}
				}
			}
			slices.Sort(want)
			x, err := newExact(context.Background(), s, mass, tolerance)
			if err != nil || len(x.outer[len(x.outer)-1].sieve.bits) == 0 {
				t.Fatalf("%s within %v: no table is used; %v", formula, tolerance, err)
			}
			found, err := s.Find(context.Background(), mass, tolerance)
			if err != nil {
				t.Fatal(err)
			}
			if d := difference(texts(formulasOf(found)), want); d != "" {
				t.Errorf("%s within %v: %s", formula, tolerance, d)
			}
			if found[0].Formula != chem.MustFormula(formula) || math.Abs(float64(found[0].Error)) > 1e-9 {
				t.Errorf("%s within %v: the best is %s, off by %g Da", formula, tolerance, found[0].Formula, found[0].Error)
			}
		}
	}
}

func TestFindFilters(t *testing.T) {
	s := space(t, "C0-10 H0-22 N0-3 O0-4")
	const nominal110 = "C6H6O2" // hydroquinone
	s.DBE = &Interval{0, 20}
	s.Electrons = EvenElectrons
	found, err := s.Find(context.Background(), chem.MustFormula(nominal110).MonoisotopicMass(), Tolerance{0.5, Da})
	if err != nil {
		t.Fatal(err)
	}
	list := texts(formulasOf(found))
	for _, want := range []string{"C8H14", "C7H10O", "C6H6O2", "C6H10N2"} { // OpenStax Organic Chemistry, candidates for M = 110
		if !slices.Contains(list, want) {
			t.Errorf("%s is missing in %v", want, list)
		}
	}
	for _, c := range found {
		if c.Formula.DBE() < 0 || c.Formula.OddElectron() {
			t.Errorf("%s has %g DBE, odd-electron %v", c.Formula, c.Formula.DBE(), c.Formula.OddElectron())
		}
		if d := float64(c.Formula.MonoisotopicMass()-chem.MustFormula(nominal110).MonoisotopicMass()) - float64(c.Error); math.Abs(d) > 1e-9 {
			t.Errorf("%s: error %g", c.Formula, c.Error)
		}
	}
	s.Electrons = OddElectrons
	s.Charge = 1
	found, err = s.Find(context.Background(), chem.MustFormula("C6H6O2+").MonoisotopicMass(), Tolerance{5, PPM})
	if err != nil || len(found) == 0 || found[0].Formula != chem.MustFormula("C6H6O2+") {
		t.Errorf("molecular ion: %v, %v", found, err)
	}
	// Without the electron's mass the ion is 5 ppm off.
	if found, _ = s.Find(context.Background(), chem.MustFormula("C6H6O2").MonoisotopicMass(), Tolerance{4, PPM}); len(found) != 0 && found[0].Formula == chem.MustFormula("C6H6O2+") {
		t.Errorf("the electron's mass isn't counted: %v", found)
	}
}

func TestCandidatePPM(t *testing.T) {
	c := Candidate{chem.MustFormula("C5H12"), 72.0939 * 5e-6}
	if got := c.PPM(); math.Abs(got-5) > 1e-3 {
		t.Errorf("%g ppm, want 5", got)
	}
	if got := (Candidate{}).PPM(); got != 0 {
		t.Errorf("%g ppm of nothing", got)
	}
	// 5 ppm at m/z 100 is 0.0005 // OpenStax Organic Chemistry
	if got := (Tolerance{5, PPM}).Of(100); math.Abs(float64(got)-0.0005) > 1e-15 {
		t.Errorf("5 ppm of 100 are %g", got)
	}
}

func TestEachStops(t *testing.T) {
	for _, tolerance := range []Tolerance{{5, PPM}, {0.5, Da}} {
		n := 0
		for range space(t, common).Each(context.Background(), 450.1, tolerance) {
			if n++; n == 5 {
				break
			}
		}
		if n != 5 {
			t.Errorf("%d results", n)
		}
	}
}

func TestEachIsCancelled(t *testing.T) {
	// Far too many to enumerate.
	s := space(t, "C0-800 H0-800 N0-100 O0-100 S0-50 P0-50 F0-50")
	ctx, cancel := context.WithTimeout(context.Background(), 50*time.Millisecond)
	defer cancel()
	var last error
	for _, last = range s.Each(ctx, 3000, Tolerance{0.5, Da}) {
	}
	if !errors.Is(last, context.DeadlineExceeded) {
		t.Errorf("ended with %v", last)
	}
	ended, cancel := context.WithCancel(context.Background())
	cancel()
	if found, err := s.Find(ended, 100, Tolerance{5, PPM}); !errors.Is(err, context.Canceled) {
		t.Errorf("a cancelled search found %v, %v", found, err)
	}
}

func TestErrors(t *testing.T) {
	tests := []struct {
		name      string
		space     Space
		mass      chem.Mass
		tolerance Tolerance
		want      string
	}{
		{"negative mass", space(t, "C0-5"), -1, Tolerance{5, PPM}, "finding formulas for -1.00000 Da within 5 ppm: the mass is not within"},
		{"no mass", space(t, "C0-5"), chem.Mass(math.NaN()), Tolerance{5, PPM}, "the mass is not within"},
		{"infinite mass", space(t, "C0-5"), chem.Mass(math.Inf(1)), Tolerance{5, PPM}, "the mass is not within"},
		{"negative tolerance", space(t, "C0-5"), 1, Tolerance{-5, Da}, "the tolerance is not within"},
		{"no tolerance", space(t, "C0-5"), 1, Tolerance{math.NaN(), Da}, "the tolerance is not within"},
		{"twice", Space{Elements: []Range{{chem.NaturalSpecies(chem.C), 0, 1}, {chem.NaturalSpecies(chem.C), 0, 2}}}, 1, Tolerance{5, PPM}, "C is listed twice"},
		{"bad range", Space{Elements: []Range{{chem.NaturalSpecies(chem.C), 3, 2}}}, 1, Tolerance{5, PPM}, "the range 3 to 2 of C is not within"},
		{"huge range", Space{Elements: []Range{{chem.NaturalSpecies(chem.C), 0, 70000}}}, 1, Tolerance{5, PPM}, "the range 0 to 70000 of C"},
		{"no species", Space{Elements: []Range{{0, 0, 1}}}, 1, Tolerance{5, PPM}, "species 0 is not in the table"},
		{"too many elements", Space{Elements: make([]Range, 17)}, 1, Tolerance{5, PPM}, "17 elements are too many"},
		{"charge", Space{Charge: 101}, 1, Tolerance{5, PPM}, "the charge 101 is not within"},
		{"interval", Space{DBE: &Interval{2, 1}}, 1, Tolerance{5, PPM}, "2 to 1 are no interval"},
		{"interval of nothing", Space{DBE: &Interval{math.NaN(), 1}}, 1, Tolerance{5, PPM}, "are no interval"},
		{"electrons", Space{Electrons: 9}, 1, Tolerance{5, PPM}, "unknown choice of electrons 9"},
		{"absurd ranges", space(t, "C0-65535 H0-65535 N0-65535 O0-65535 S0-65535 P0-65535 F0-65535"), 100000, Tolerance{1, PPM}, "combinations of elements are too many"},
		{"too many results", space(t, "C0-100 H0-200 N0-50 O0-50 S0-10 P0-10"), 1000, Tolerance{1, Da}, "more than 2000000\nnarrow the tolerance or the elements"},
		{"absurd ranges, wide", space(t, "C0-65535 H0-65535 N0-65535 O0-65535 S0-65535 P0-65535 F0-65535"), 100000, Tolerance{1, Da}, "combinations of elements are too many"},
	}
	for _, test := range tests {
		if found, err := test.space.Find(context.Background(), test.mass, test.tolerance); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s: found %v, error %v; want %q", test.name, found, err, test.want)
		}
	}
}

func TestElements(t *testing.T) {
	ranges, err := Elements(map[string]int{"C": 5, "D": 2, "[13C]": 1})
	if err != nil || len(ranges) != 3 {
		t.Errorf("%v, %v", ranges, err)
	}
	for _, bad := range []string{"Xx", "CH", "C+", "", "C2"} {
		if ranges, err := Elements(map[string]int{bad: 1}); err == nil {
			t.Errorf("%q is taken for %v", bad, ranges)
		}
	}
}

func BenchmarkFind(b *testing.B) {
	for _, test := range []struct {
		mass      chem.Mass
		tolerance Tolerance
	}{{110.0732, Tolerance{5, PPM}}, {300.1, Tolerance{5, PPM}}, {600.2, Tolerance{5, PPM}}, {300.1, Tolerance{0.5, Da}}} {
		b.Run(fmt.Sprintf("%.0f within %v", test.mass, test.tolerance), func(b *testing.B) {
			s := space(b, common)
			found := 0
			b.ReportAllocs()
			for b.Loop() {
				found = 0
				for range s.Each(context.Background(), test.mass, test.tolerance) {
					found++
				}
			}
			b.ReportMetric(float64(found), "formulas")
		})
	}
}
