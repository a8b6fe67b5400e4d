package reading

import (
	"slices"
	"strings"
	"testing"

	"ionwright/chem"
)

// Every row must be an ion of charge one, said once, with words.
func TestIonRows(t *testing.T) {
	seen := map[chem.Formula]bool{}
	for _, row := range ionRows {
		f, err := chem.ParseFormula(row.formula)
		if err != nil {
			t.Errorf("ion %q: %v", row.formula, err)
			continue
		}
		if f.Charge() != 1 {
			t.Errorf("ion %q has charge %d", row.formula, f.Charge())
		}
		if seen[f] {
			t.Errorf("ion %q stands twice", row.formula)
		}
		seen[f] = true
		if row.name == "" || row.context == "" {
			t.Errorf("ion %q lacks words", row.formula)
		}
	}
}

func TestLossRows(t *testing.T) {
	seen := map[chem.Formula]bool{}
	for _, row := range lossRows {
		f, err := chem.ParseFormula(row.formula)
		if err != nil {
			t.Errorf("loss %q: %v", row.formula, err)
			continue
		}
		if f.Charge() != 0 || seen[f] || row.name == "" || row.context == "" {
			t.Errorf("loss %q is charged, stands twice or lacks words", row.formula)
		}
		seen[f] = true
	}
}

// The class-level ions that textbooks name must be offered at their m/z.
func TestAssignments(t *testing.T) {
	for _, c := range []struct {
		mz      int
		formula string // with charge
	}{
		// Glagovich, Central Connecticut State University, unless another source stands on the line.
		{27, "C2H3+"}, {29, "CHO+"}, {29, "C2H5+"}, {30, "CH4N+"}, {31, "CH3O+"}, {41, "C3H5+"},
		{43, "C2H3O+"}, {43, "C3H7+"}, {45, "C2H5O+"}, {59, "C3H7O+"}, {73, "C4H9O+"}, {59, "C2H3O2+"},
		{60, "C2H4O2+"}, {44, "C2H4O+"}, {58, "C3H6O+"}, {72, "C4H8O+"}, {86, "C5H10O+"}, {74, "C3H6O2+"},
		{49, "CH2Cl+"}, {93, "CH2Br+"}, {65, "C5H5+"}, {77, "C6H5+"}, {91, "C7H7+"}, {105, "C8H9+"}, {105, "C7H5O+"}, {120, "C8H8O+"},
		{57, "C4H9+"}, {71, "C5H11+"}, {85, "C6H13+"},
		{46, "NO2+"},             // OpenStax: ethyl nitrate, base 46
		{45, "CHO2+"},            // CIE: 45 is CO2H or C2H5O
		{57, "C3H5O+"},           // common practice, no source
		{73, "C3H9Si+"},          // common practice, no source
		{149, "C8H5O3+"},         // common practice, no source
		{77, "C3H6Cl+"},          // common practice, no source: 77 isn't always phenyl
		{30, "NO+"}, {28, "CO+"}, // common practice, no source
		{28, "C2H4+"}, {28, "N2+"}, // common practice, no source
	} {
		want := chem.MustFormula(c.formula)
		if !slices.ContainsFunc(Assignments(c.mz), func(a Assignment) bool { return a.Formula == want }) {
			t.Errorf("m/z %d: %s is not among the assignments", c.mz, c.formula)
		}
	}
}

func TestLosses(t *testing.T) {
	for _, c := range []struct {
		mass    int
		formula string
	}{
		// Glagovich, Central Connecticut State University, unless another source stands on the line.
		{15, "CH3"}, {17, "OH"}, {18, "H2O"}, {19, "F"}, {20, "HF"}, {27, "HCN"}, {28, "CO"}, {28, "C2H4"}, {29, "CHO"}, {29, "C2H5"},
		{30, "CH2O"}, {30, "NO"}, {33, "SH"}, {34, "H2S"}, {42, "C2H2O"}, {43, "C3H7"}, {43, "C2H3O"}, {31, "CH3O"}, {36, "HCl"}, {79, "Br"}, {127, "I"},
		{45, "COOH"}, {45, "C2H5O"}, // Lange's Handbook
		{33, "CH5O"},  // Dunnivant and Ginsbach: CH3 and H2O
		{46, "C2H6O"}, // OpenStax: H2O and C2H4
		{28, "N2"},    // common practice, no source
	} {
		want := chem.MustFormula(c.formula)
		if !slices.ContainsFunc(Losses(c.mass), func(a LossAssignment) bool { return a.Formula == want }) {
			t.Errorf("loss of %d: %s is not among the neutrals", c.mass, c.formula)
		}
	}
}

// No neutral of 4 to 14 or 21 to 25 is in the table: the forbidden gaps.
func TestForbiddenGapsAreEmpty(t *testing.T) {
	for mass := 4; mass <= 25; mass++ { // common practice, no source
		if mass > 14 && mass < 21 {
			continue
		}
		if got := Losses(mass); len(got) > 0 {
			t.Errorf("the table has a loss of %d: %v", mass, got[0].Formula)
		}
	}
}

// An m/z without a row gets all sensible compositions.
func TestCompositions(t *testing.T) {
	mz := 0
	for m := 140; m < 200; m++ {
		if len(Common(m)) == 0 {
			mz = m
			break
		}
	}
	got := Assignments(mz)
	if len(got) == 0 {
		t.Fatalf("m/z %d without a row has no compositions", mz)
	}
	for _, a := range got {
		if a.Formula.NominalMass() != mz || a.Formula.Charge() != 1 {
			t.Errorf("m/z %d is offered as %v", mz, a.Formula)
		}
	}
	// C7H7 and C6H5N are the hydrocarbon and the nitrogen ion of m/z 91; a
	// common ion must also be among the compositions. Common practice, no source.
	var texts []string
	for _, a := range Compositions(91) {
		texts = append(texts, a.Formula.String())
	}
	for _, want := range []string{"C7H7+", "C6H5N+", "C4H8Cl+"} {
		if !slices.Contains(texts, want) {
			t.Errorf("compositions of m/z 91 lack %s: %s", want, strings.Join(texts, " "))
		}
	}
	if Compositions(-3) != nil || Compositions(100_000) != nil {
		t.Error("compositions are offered for an m/z out of range")
	}
}

func TestClueTable(t *testing.T) {
	table, err := shares()
	if err != nil {
		t.Fatal(err)
	}
	if len(table) < 300 { // the fit of the checked-in table has over 600 rows
		t.Errorf("the table of shares has %d rows", len(table))
	}
	if _, err := parseShares("ion 43\t5\n"); err == nil {
		t.Error("a row of two columns is accepted")
	}
	if _, err := parseShares("ion 43\t5\t9\n"); err == nil {
		t.Error("more right than counted is accepted")
	}
}

func TestRulesAreInOrder(t *testing.T) {
	for i, r := range Rules() {
		if int(r.Kind) != i || r.Name == "" || r.Doc == "" || hints[r.Kind] == "" {
			t.Errorf("rule %d: %+v, hint %q", i, r, hints[r.Kind])
		}
	}
}
