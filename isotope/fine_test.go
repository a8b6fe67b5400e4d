package isotope

import (
	"math"
	"strings"
	"testing"

	"ionwright/chem"
)

// text is the composition with its labels, as a formula.
func text(i Isotopologue) string {
	f, err := chem.FormulaOf(i.Composition...)
	if err != nil {
		return err.Error()
	}
	return f.String()
}

func TestFineOfChlorobromomethane(t *testing.T) {
	// Which isotopes make which peak: exercise of a university course.
	want := map[int][]string{
		128: {"[12C][1H]2[79Br][35Cl]"},
		130: {"[12C][1H]2[81Br][35Cl]", "[12C][1H]2[79Br][37Cl]"},
		132: {"[12C][1H]2[81Br][37Cl]"},
	}
	found, err := Fine(chem.MustFormula("CH2BrCl+"), 0.05)
	if err != nil {
		t.Fatal(err)
	}
	got := map[int][]string{}
	for _, i := range found {
		got[i.MassNumber] = append(got[i.MassNumber], text(i))
	}
	for a, list := range want {
		if strings.Join(got[a], " ") != strings.Join(list, " ") {
			t.Errorf("%d is made of %v, want %v", a, got[a], list)
		}
	}
	if len(found) != 4 {
		t.Errorf("%d isotopologues", len(found))
	}
	if want := chem.MustFormula("CH2BrCl+").MonoisotopicMass(); math.Abs(float64(found[1].Mass-want)) > 1e-9 && math.Abs(float64(found[0].Mass-want)) > 1e-9 {
		t.Errorf("masses %.6f and %.6f, want one to be %.6f", found[0].Mass, found[1].Mass, want)
	}
}

// The isotopologues of one mass number add up to its abundance in the unit
// pattern, their masses are those of their compositions, and all above the
// bound are there: the missing ones are all below.
func TestFineAgainstUnit(t *testing.T) {
	for _, formula := range []string{"C6H6", "C20H30N2O5S2ClBr", "SnCl4", "C6Br6+", "[13C]CD3H3O", "B5H9", "TcCl2", "C60H122"} {
		f := chem.MustFormula(formula)
		found, err := Fine(f, 1e-12)
		if err != nil {
			t.Fatal(err)
		}
		byMass := map[int]float64{}
		for k, i := range found {
			byMass[i.MassNumber] += i.Probability
			composition, err := chem.FormulaOf(i.Composition...)
			if err != nil {
				t.Fatal(err)
			}
			composition = composition.WithCharge(f.Charge())
			if d := math.Abs(float64(composition.MonoisotopicMass() - i.Mass)); d > 1e-9 || composition.NominalMass() != i.MassNumber || composition.Atoms() != f.Atoms() {
				t.Errorf("%s: %s has mass %.9f and mass number %d", formula, composition, i.Mass, i.MassNumber)
			}
			if i.Probability < 1e-12 || k > 0 && i.Probability > found[k-1].Probability {
				t.Errorf("%s: probability %g at place %d", formula, i.Probability, k)
			}
		}
		unit := Unit(f)
		for i, want := range unit.Abundance {
			if got := byMass[unit.First+i]; math.Abs(got-want) > 2e-9 {
				t.Errorf("%s: the isotopologues of %d add up to %.12f, the pattern has %.12f", formula, unit.First+i, got, want)
			}
		}
	}
}

// A small case counted by hand: Cl2 has three isotopologues, and the bound
// keeps those at least as probable.
func TestFineBound(t *testing.T) {
	// 0.7576^2, 2 x 0.7576 x 0.2424, 0.2424^2 // IUPAC abundances
	tests := []struct {
		minimum float64
		want    int
	}{{1e-9, 3}, {0.0587, 3}, {0.0589, 2}, {0.3672, 2}, {0.3674, 1}, {0.58, 0}, {1, 0}}
	for _, test := range tests {
		found, err := Fine(chem.MustFormula("Cl2"), test.minimum)
		if err != nil || len(found) != test.want {
			t.Errorf("%d isotopologues of Cl2 above %g, %v; want %d", len(found), test.minimum, err, test.want)
		}
	}
}

func TestFineErrors(t *testing.T) {
	tests := []struct {
		formula string
		minimum float64
		want    string
	}{
		{"CH4", 0, "the least probability 0 is not above 0"},
		{"CH4", -1, "the least probability -1 is not above 0"},
		{"CH4", 2, "the least probability 2 is not above 0 and at most 1"},
		{"CH4", math.NaN(), "the least probability NaN"},
		{"Sn60000", 1e-9, "there are too many"},
		{"C3000H5000N1000O1000S100", 1e-12, "there are too many"},
	}
	for _, test := range tests {
		if _, err := Fine(chem.MustFormula(test.formula), test.minimum); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%s above %g: error %v, want %q", test.formula, test.minimum, err, test.want)
		}
	}
	if found, err := Fine(chem.Formula{}, 0.5); err != nil || len(found) != 1 || found[0].Probability != 1 || found[0].Mass != 0 {
		t.Errorf("the empty formula: %v, %v", found, err)
	}
}
