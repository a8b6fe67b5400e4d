package isotope

import (
	"math"
	"testing"

	"ionwright/chem"
)

// percent returns the abundances of p from the monoisotopic peak of f on, as
// percentages of it.
func percent(f chem.Formula) func(offset int) float64 {
	p := Unit(f)
	return func(offset int) float64 {
		return 100 * p.At(f.NominalMass()+offset) / p.At(f.NominalMass())
	}
}

func TestUnitPatterns(t *testing.T) {
	tests := []struct {
		formula string
		offset  int     // from the nominal mass
		want    float64 // % of the peak at the nominal mass
		tol     float64
	}{
		{"Cl", 2, 32.0, 0.1},          // OpenStax Organic Chemistry: 3:1; exact from IUPAC abundances
		{"Br", 2, 97.3, 0.1},          // OpenStax Organic Chemistry: 1:1; exact from IUPAC abundances
		{"Cl2", 2, 64.0, 0.2},         // computed from IUPAC abundances; 9:6:1
		{"Cl2", 4, 10.2, 0.2},         // the same
		{"Cl3", 2, 96.0, 0.2},         // the same; ETH Zurich exercises, chapter 15: 27:27:9:1
		{"Cl3", 4, 30.7, 0.2},         // the same
		{"Cl3", 6, 3.3, 0.2},          // the same
		{"Cl4", 2, 128, 0.2},          // computed from IUPAC abundances
		{"Cl4", 4, 61.4, 0.2},         // the same
		{"Cl4", 6, 13.1, 0.2},         // the same
		{"Cl4", 8, 1.05, 0.2},         // the same
		{"Br2", 2, 194.6, 0.2},        // the same; 1:2:1
		{"Br2", 4, 94.6, 0.2},         // the same
		{"Br3", 2, 291.8, 0.3},        // the same
		{"Br3", 4, 283.9, 0.3},        // the same
		{"Br3", 6, 92.1, 0.3},         // the same
		{"BrCl", 2, 129.3, 0.1},       // the same; J. Chem. Educ. prints 0.381:0.497:0.122
		{"BrCl", 4, 31.1, 0.1},        // the same
		{"BrCl2", 2, 161.3, 0.2},      // the same
		{"BrCl2", 4, 72.5, 0.2},       // the same
		{"BrCl2", 6, 10.0, 0.2},       // the same
		{"C6H14", 1, 6.65, 0.05},      // the same
		{"C7H7NO", 1, 8.05, 0.1},      // the same, benzamide
		{"C7H7NO", 2, 0.49, 0.1},      // the same
		{"C4H10S", 2, 4.58, 0.05},     // the same
		{"C10H22", 1, 11.07, 0.05},    // the same
		{"C10H22", 2, 0.55, 0.05},     // the same
		{"C13H16NOCl", 3, 4.76, 0.05}, // the same; university exercise prints 14.3 / 3 = 4.77
		{"[13C]H4", -1, 0, 0},         // a label is pure
		{"C[13C]H6", 1, 1.15, 0.02},   // one natural carbon: 1.07 / 98.93 and six hydrogen atoms
		{"Tc", 1, 0, 0},               // no natural composition: one isotope
		{"C6H6 2+", 1, 6.56, 0.02},    // the charge doesn't matter; 6 x 1.0816 + 6 x 0.0115
	}
	for _, test := range tests {
		if got := percent(chem.MustFormula(test.formula))(test.offset); math.Abs(got-test.want) > test.tol {
			t.Errorf("%s: M%+d is %.3f %%, want %.3f", test.formula, test.offset, got, test.want)
		}
	}
}

func TestUnitPatternMethods(t *testing.T) {
	p := Unit(chem.MustFormula("Br6"))
	if p.First != 474 || len(p.Abundance) != 13 {
		t.Errorf("Br6 begins at %d with %d terms", p.First, len(p.Abundance))
	}
	// Binomial theorem with IUPAC's 0.5069 and 0.4931.
	for k, choose := range []float64{1, 6, 15, 20, 15, 6, 1} {
		want := choose * math.Pow(0.5069, float64(6-k)) * math.Pow(0.4931, float64(k))
		if got := p.At(474 + 2*k); math.Abs(got-want) > 1e-12 {
			t.Errorf("Br6 at %d: %.12f, want %.12f", 474+2*k, got, want)
		}
	}
	if at, abundance := p.Base(); at != 480 || abundance != p.At(480) {
		t.Errorf("the base of Br6 is %g at %d", abundance, at)
	}
	if p.At(473) != 0 || p.At(487) != 0 || p.At(-1) != 0 {
		t.Error("there is something outside the pattern")
	}
	empty := Unit(chem.Formula{})
	if empty.First != 0 || len(empty.Abundance) != 1 || empty.Abundance[0] != 1 {
		t.Errorf("the empty formula's pattern is %v", empty)
	}
}

// naive multiplies the isotopes of each atom without pruning.
func naive(f chem.Formula) (int, []float64) {
	first, product := 0, []float64{1}
	for s, n := range f.All() {
		for range n {
			if s.MassNumber() != 0 {
				first += s.MassNumber()
				continue
			}
			m := mixtures[s.Element()]
			first += m.first
			product = multiply(nil, product, m.terms)
		}
	}
	return first, product
}

func TestUnitAgainstPlainProducts(t *testing.T) {
	formulas := []string{"CH4", "C60", "C257H383N65O77S6", "SnCl4", "Sn5", "C6Br6", "B10H14", "Hg2Cl2", "Se8", "Li10", "S200", "Si100O200", "Pt3Os2Xe4Cd5", "C[13C]2D3H4O2", "Ca20K30Mg5", "Yb12", "Te6Br2"}
	for _, text := range formulas {
		f := chem.MustFormula(text)
		first, exact := naive(f)
		p := Unit(f)
		lost := 1.0
		for _, a := range p.Abundance {
			lost -= a
		}
		if lost > Loss || lost < -Loss {
			t.Errorf("%s: the abundances add up to 1 - %g", text, lost)
		}
		for i, want := range exact {
			if got := p.At(first + i); math.Abs(got-want) > Loss {
				t.Errorf("%s at %d: %.12f, want %.12f", text, first+i, got, want)
			}
		}
		if p.First < first {
			t.Errorf("%s begins at %d, before %d", text, p.First, first)
		}
	}
}

// Large counts: the mean and the variance of a sum of independent atoms are
// the sums of theirs.
func TestUnitOfLargeFormulas(t *testing.T) {
	for _, text := range []string{"C65535", "C60000H65535Cl40000", "Sn3000", "S65535O65535", "Br65535", "Fe20000"} {
		f := chem.MustFormula(text)
		p := Unit(f)
		var mean, variance, sum, gotMean, gotVariance float64
		for s, n := range f.All() {
			var m, m2 float64
			for i, a := range mixtures[s.Element()].terms {
				m += a * float64(i)
				m2 += a * float64(i*i)
			}
			mean += float64(n) * (m + float64(mixtures[s.Element()].first))
			variance += float64(n) * (m2 - m*m)
		}
		for i, a := range p.Abundance {
			sum += a
			gotMean += a * float64(p.First+i)
		}
		for i, a := range p.Abundance {
			d := float64(p.First+i) - gotMean
			gotVariance += a * d * d
		}
		if math.Abs(sum-1) > Loss || math.Abs(gotMean-mean) > 1e-4*math.Sqrt(variance) || math.Abs(gotVariance/variance-1) > 1e-4 {
			t.Errorf("%s: sum %.10f, mean %.6f and variance %.6f, want %.6f and %.6f", text, sum, gotMean, gotVariance, mean, variance)
		}
	}
}

func TestAppendUnitDoesNotAllocate(t *testing.T) {
	formulas := []chem.Formula{chem.MustFormula("C20H30N2O5S2ClBr"), chem.MustFormula("C257H383N65O77S6"), chem.MustFormula("C16H36Sn")}
	dst := make([]float64, 0, 256)
	allocations := testing.AllocsPerRun(100, func() {
		for _, f := range formulas {
			_, dst = AppendUnit(dst[:0], f)
		}
	})
	if allocations != 0 {
		t.Errorf("%g allocations", allocations)
	}
}

func TestAppendUnitAppends(t *testing.T) {
	first, dst := AppendUnit([]float64{7}, chem.MustFormula("Br"))
	if first != 79 || len(dst) != 4 || dst[0] != 7 || dst[2] != 0 {
		t.Errorf("appended %v from %d on", dst, first)
	}
}

func BenchmarkUnit(b *testing.B) {
	for _, text := range []string{"C6H6", "C16H22O4", "C20H30N2O5S2ClBr", "C257H383N65O77S6", "C16H36Sn"} {
		f := chem.MustFormula(text)
		b.Run(text, func(b *testing.B) {
			var dst []float64
			b.ReportAllocs()
			for b.Loop() {
				_, dst = AppendUnit(dst[:0], f)
			}
		})
	}
}
