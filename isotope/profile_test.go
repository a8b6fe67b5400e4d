package isotope

import (
	"math"
	"strings"
	"testing"

	"ionwright/chem"
)

// maxima returns the m/z of the local maxima of p above a share of the base.
func maxima(p Profile, above float64) []float64 {
	var found []float64
	for i := 1; i < len(p.MZ)-1; i++ {
		if p.Intensity[i] > above && p.Intensity[i] > p.Intensity[i-1] && p.Intensity[i] >= p.Intensity[i+1] {
			found = append(found, p.MZ[i])
		}
	}
	return found
}

// The width of a single peak is m/R at half height, its place the exact m/z.
func TestProfileOfOneIsotope(t *testing.T) {
	for _, formula := range []string{"F+", "I-", "Na2 2+", "P"} {
		f := chem.MustFormula(formula)
		mz := float64(f.MZ())
		for _, power := range []float64{100, 5000, 1e6} {
			p, err := NewProfile(f, power)
			if err != nil {
				t.Fatal(err)
			}
			half := mz / power / 2
			if got := p.At(mz); math.Abs(got-1) > 1e-3 {
				t.Errorf("%s at R %g: height %g at %.6f", formula, power, got, mz)
			}
			for _, side := range []float64{-half, half} {
				if got := p.At(mz + side); math.Abs(got-0.5) > 0.005 {
					t.Errorf("%s at R %g: height %g half a width from the center", formula, power, got)
				}
			}
			if p.Intensity[0] != 0 || p.Intensity[len(p.Intensity)-1] != 0 || p.At(mz-4*half*2) != 0 || p.At(mz+4*half*2) != 0 {
				t.Errorf("%s at R %g doesn't end at 0", formula, power)
			}
		}
	}
}

// At unit resolution chloromethane's M+2 stands beside M with the height of
// the pattern; and what makes M+1 of a hydrocarbon, a 13C or a 2H, is resolved
// from a resolving power of m/0.0029 on only.
func TestProfileResolves(t *testing.T) {
	f := chem.MustFormula("CH3Cl+")
	p, err := NewProfile(f, 500)
	if err != nil {
		t.Fatal(err)
	}
	pattern := percent(f)
	ratio := p.At(51.987) // 12C 1H3 37Cl+, from NIST masses
	if math.Abs(100*ratio-pattern(2)) > 0.5 {
		t.Errorf("M+2 is %.2f %% of the base, want %.2f", 100*ratio, pattern(2))
	}
	hydrocarbon := chem.MustFormula("C20H42")
	low, err := NewProfile(hydrocarbon, 5_000)
	if err != nil {
		t.Fatal(err)
	}
	high, err := NewProfile(hydrocarbon, 1_000_000)
	if err != nil {
		t.Fatal(err)
	}
	// At M+1 lie 13C (1.003355 above M) and 2H (1.006277 above M), 0.00292
	// apart: at m/z 283 a resolving power of 97,000 // AME2020 masses
	count := func(p Profile) int {
		n := 0
		for _, mz := range maxima(p, 1e-6) {
			if d := mz - float64(hydrocarbon.MonoisotopicMass()); d > 0.9 && d < 1.1 {
				n++
			}
		}
		return n
	}
	if count(low) != 1 || count(high) != 2 {
		t.Errorf("M+1 has %d and %d maxima, want 1 and 2", count(low), count(high))
	}
}

// The height of each mass number's peak is its abundance where its
// isotopologues aren't resolved; the area too, but for the width, which grows
// with m/z.
func TestProfileAreas(t *testing.T) {
	f := chem.MustFormula("C10H14BrCl")
	p, err := NewProfile(f, 2000)
	if err != nil {
		t.Fatal(err)
	}
	unit := Unit(f)
	areas := make([]float64, len(unit.Abundance))
	total := 0.0
	for i := 1; i < len(p.MZ); i++ {
		area := (p.MZ[i] - p.MZ[i-1]) * (p.Intensity[i] + p.Intensity[i-1]) / 2 / p.MZ[i]
		total += area
		if k := int(math.Round(p.MZ[i])) - unit.First; k >= 0 && k < len(areas) {
			areas[k] += area
		}
	}
	for k, area := range areas {
		if got := area / total; math.Abs(got-unit.Abundance[k]) > 1e-4 {
			t.Errorf("%d: share of the area %.6f, abundance %.6f", unit.First+k, got, unit.Abundance[k])
		}
	}
}

func TestProfileErrors(t *testing.T) {
	tests := []struct {
		formula string
		power   float64
		want    string
	}{
		{"CH4", 0, "the resolving power 0 is not within"},
		{"CH4", math.NaN(), "the resolving power NaN"},
		{"CH4", math.Inf(1), "the resolving power +Inf"},
		{"Sn60000", 1000, "too many"},
	}
	for _, test := range tests {
		if _, err := NewProfile(chem.MustFormula(test.formula), test.power); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s at R %g: error %v, want %q", test.formula, test.power, err, test.want)
		}
	}
	if _, err := NewProfile(chem.Formula{}, 1000); err == nil || !strings.Contains(err.Error(), "the formula is empty") {
		t.Errorf("the empty formula: %v", err)
	}
}
