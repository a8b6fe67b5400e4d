package chem

import (
	"math"
	"testing"
)

func near(got, want, tolerance float64) bool { return math.Abs(got-want) <= tolerance }

func TestNominalMass(t *testing.T) {
	tests := []struct {
		formula string
		want    int
	}{
		{"CH4", 16},            // UCalgary organic chemistry, table of nominal masses
		{"C2H6", 30},           // the same
		{"CH3OH", 32},          // the same
		{"CH3F", 34},           // the same
		{"CH3CO2H", 60},        // the same
		{"NH3", 17},            // the same
		{"CH3NH2", 31},         // the same
		{"C5H5N", 79},          // the same
		{"C6H14", 86},          // OpenStax Organic Chemistry
		{"C6H12", 84},          // OpenStax Organic Chemistry
		{"C6H10", 82},          // OpenStax Organic Chemistry
		{"C17H19NO3", 285},     // OpenStax Organic Chemistry, morphine
		{"C100H202", 1402},     // definition: 100 x 12 + 202 x 1; the exact mass rounds to 1404
		{"C7H7 2+", 91},        // definition; the charge doesn't matter
		{"[13C]CH6", 31},       // definition; the label counts with its own mass number
		{"SnCl2", 190},         // definition: 120 + 2 x 35, the most abundant isotopes
		{"C2H5Br", 108},        // definition: 79Br
		{"C9H12O", 136},        // ETH Zurich exercises, chapter 15
		{"C32H25N3O2S", 515},   // computed: 384 + 25 + 42 + 32 + 32
		{"TcO4-", 97 + 4*16},   // definition; 97Tc stands for technetium
		{"[99Tc]O4-", 99 + 64}, // definition
	}
	for _, test := range tests {
		if got := MustFormula(test.formula).NominalMass(); got != test.want {
			t.Errorf("%s: nominal mass %d, want %d", test.formula, got, test.want)
		}
	}
}

func TestMonoisotopicMass(t *testing.T) {
	const electron = 5.4858e-4 // common tables of constants
	tests := []struct {
		formula   string
		want, tol float64
	}{
		{"C5H12", 72.0939, 1e-4},                            // OpenStax Organic Chemistry
		{"C4H8O", 72.0575, 1e-4},                            // OpenStax Organic Chemistry
		{"CO", 27.9949, 1e-4},                               // lecture slides on exact masses, recomputed
		{"N2", 28.0061, 1e-4},                               // the same
		{"C2H4", 28.0313, 1e-4},                             // the same
		{"CH2N", 28.0187, 1e-4},                             // the same
		{"C17H19NO3", 285.1365, 1e-4},                       // OpenStax Organic Chemistry, morphine
		{"C2H5Br", 107.95746, 1e-5},                         // recomputed from NIST masses
		{"C2H5Br+", 107.95746 - electron, 1e-5},             // the electron's mass counts
		{"C6H5O-", 93.03404 + electron, 1e-5},               // computed from NIST masses
		{"C7H7 2+", 91.05478 - 2*electron, 1e-5},            // computed from NIST masses
		{"[13C]H4", 13.00335483507 + 4*1.00782503223, 1e-8}, // NIST masses
		{"H+", 1.007276467, 2e-8},                           // CODATA, proton mass in u; the difference is the electron's binding energy
		{"", 0, 0},                                          // definition
	}
	for _, test := range tests {
		var f Formula
		if test.formula != "" {
			f = MustFormula(test.formula)
		}
		if got := float64(f.MonoisotopicMass()); !near(got, test.want, test.tol) {
			t.Errorf("%s: monoisotopic mass %.6f, want %.6f within %g", test.formula, got, test.want, test.tol)
		}
	}
}

// The resolving power that separates two masses, m / difference, as textbooks
// state it, checks the differences of the masses.
func TestResolvingPowers(t *testing.T) {
	tests := []struct {
		a, b      string
		want, tol float64
	}{
		{"C2H4", "CH2N", 2228, 1},    // lecture slides print 2220; exact from NIST masses
		{"CO", "N2", 2493, 5},        // computed from NIST masses
		{"N2", "C2H4", 1114, 5},      // computed from NIST masses
		{"CO", "C2H4", 770, 3},       // computed from NIST masses
		{"C5H12", "C4H8O", 1981, 5},  // computed from NIST masses
		{"C3H7+", "C2H3O+", 1183, 5}, // computed from NIST masses
		{"C2H5+", "CHO+", 798, 3},    // computed from NIST masses
	}
	for _, test := range tests {
		a, b := float64(MustFormula(test.a).MZ()), float64(MustFormula(test.b).MZ())
		if got := math.Min(a, b) / math.Abs(a-b); !near(got, test.want, test.tol) {
			t.Errorf("%s and %s need a resolving power of %.0f, want %.0f", test.a, test.b, got, test.want)
		}
	}
}

func TestElectronMass(t *testing.T) {
	if !near(float64(ElectronMass), 5.4858e-4, 1e-8) || !near(float64(ElectronMass), 5.48579909e-4, 1e-12) { // public tables of constants
		t.Errorf("the electron's mass is %g", ElectronMass)
	}
}

func TestAverageMass(t *testing.T) {
	tests := []struct {
		formula   string
		want, tol float64
	}{
		{"H2O", 18.015, 0.001},                // IUPAC abridged standard atomic weights
		{"C6H12O6", 180.156, 0.005},           // the same
		{"C257H383N65O77S6", 5807.6, 0.1},     // the same, human insulin
		{"[13C]H4", 13.0034 + 4*1.008, 0.001}, // the same; the label counts with its own mass
	}
	for _, test := range tests {
		if got := float64(MustFormula(test.formula).AverageMass()); !near(got, test.want, test.tol) {
			t.Errorf("%s: average mass %.4f, want %.4f", test.formula, got, test.want)
		}
	}
}

func TestMZ(t *testing.T) {
	tests := []struct {
		formula     string
		mz, nominal float64
	}{
		{"C7H7 2+", 45.52684, 45.5}, // Beynon's text gives 45.5; exact from NIST masses
		{"C7H7+", 91.05423, 91},     // computed from NIST masses
		{"C7H7", 91.05478, 91},      // a neutral's is its mass
		{"SO4 2-", 47.97641, 48},    // computed from NIST masses
	}
	for _, test := range tests {
		f := MustFormula(test.formula)
		if !near(float64(f.MZ()), test.mz, 1e-5) || f.NominalMZ() != test.nominal {
			t.Errorf("%s: m/z %.5f and %g, want %.5f and %g", test.formula, f.MZ(), f.NominalMZ(), test.mz, test.nominal)
		}
	}
}

func TestDBE(t *testing.T) {
	tests := []struct {
		formula string
		want    float64
		odd     bool // odd number of electrons
	}{
		{"C9H12O", 4, false},   // ETH Zurich exercises, chapter 15
		{"C8H8O2", 5, false},   // the same
		{"C7H4O3", 6, false},   // the same
		{"C5H12O4", 0, false},  // the same
		{"C6H6", 4, false},     // benzene: a ring and three double bonds
		{"C6H12", 1, false},    // cyclohexane: a ring
		{"C7H8", 4, false},     // toluene
		{"C5H5N", 4, false},    // pyridine
		{"C2H5Cl", 0, false},   // no ring, no double bond
		{"C2H6OS", 0, false},   // dimethyl sulfoxide, counted with divalent sulfur
		{"C3H9N", 0, false},    // no ring, no double bond
		{"C6H15PO4", 0, false}, // triethyl phosphate, counted with trivalent phosphorus
		{"C3H9ClSi", 0, false}, // no ring, no double bond
		{"CH3", 0.5, true},     // a radical
		{"C6H6+", 4, true},     // an odd-electron ion: whole
		{"C6H5+", 4.5, false},  // an even-electron ion: half-integer
		{"C7H7+", 4.5, false},  // the same
		{"NH4+", -0.5, false},  // the same, half less than ammonia
		{"C7H7 2+", 4.5, true}, // the charge isn't looked at
		{"D2O", 0, false},      // labels count as their element
	}
	for _, test := range tests {
		f := MustFormula(test.formula)
		if f.DBE() != test.want || f.OddElectron() != test.odd {
			t.Errorf("%s: DBE %g, odd-electron %v; want %g, %v", test.formula, f.DBE(), f.OddElectron(), test.want, test.odd)
		}
	}
}

func TestNitrogenRule(t *testing.T) {
	tests := []struct {
		formula string
		odd     bool // nominal mass
	}{
		{"C3H8", false},        // Gross, Mass Spectrometry, section 6.2
		{"C6H12O2", false},     // the same
		{"C6H11NO", true},      // the same
		{"C32H25N3O2S", true},  // the same
		{"C8H20N2", false},     // the same
		{"C7H9N", true},        // the same
		{"C3H6BrN", true},      // the same
		{"C9H11ClN4O2", false}, // the same
		{"C17H32Cl2", false},   // the same
		{"C7H9N+", true},       // molecular ion, as the molecule
		{"C6H5+", true},        // even-electron fragment without nitrogen
		{"C2H6N+", false},      // even-electron fragment with one
		{"CH3", true},          // radical
		{"C7H7 2+", true},      // computed
	}
	for _, test := range tests {
		f := MustFormula(test.formula)
		if f.NitrogenRuleOdd() != test.odd || (f.NominalMass()&1 != 0) != test.odd {
			t.Errorf("%s: the rule says odd: %v, the nominal mass is %d; want odd: %v", test.formula, f.NitrogenRuleOdd(), f.NominalMass(), test.odd)
		}
	}
}
