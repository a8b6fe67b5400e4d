package chem

import (
	"math"
	"testing"
)

func TestIsotopicMasses(t *testing.T) {
	tests := []struct {
		element    Element
		massNumber int
		want, tol  Mass // Da
	}{
		{H, 1, 1.00782503223, 1e-9},    // NIST table of atomic weights and isotopic compositions (AME2012)
		{H, 2, 2.01410177812, 1e-9},    // the same
		{C, 12, 12, 0},                 // definition of the unit
		{C, 13, 13.00335483507, 1e-9},  // NIST, as above
		{N, 14, 14.00307400443, 1e-9},  // NIST, as above
		{O, 16, 15.99491461957, 1e-9},  // NIST, as above
		{O, 17, 16.99913175650, 1e-9},  // NIST, as above
		{O, 18, 17.99915961286, 1e-9},  // NIST, as above
		{F, 19, 18.99840316273, 1e-8},  // NIST, as above
		{P, 31, 30.97376199842, 1e-8},  // NIST, as above
		{I, 127, 126.9044719, 1e-6},    // NIST, as above
		{S, 32, 31.9720711744, 1e-8},   // NIST, as above
		{S, 33, 32.9714589098, 1e-8},   // NIST, as above
		{S, 34, 33.967867004, 1e-8},    // NIST, as above
		{Cl, 35, 34.968852682, 2e-8},   // NIST, as above; AME2020 is 1.2e-8 higher
		{Cl, 37, 36.965902602, 3e-8},   // NIST, as above; AME2020 is 2.9e-8 lower
		{Br, 79, 78.9183376, 2e-6},     // NIST, as above
		{Br, 81, 80.9162897, 2e-6},     // NIST, as above
		{Si, 28, 27.97692653465, 1e-9}, // NIST, as above
	}
	for _, test := range tests {
		isotope, ok := test.element.Isotope(test.massNumber)
		if d := math.Abs(float64(isotope.Mass - test.want)); !ok || d > float64(test.tol) {
			t.Errorf("%s-%d: mass %.11f, want %.11f within %g", test.element, test.massNumber, isotope.Mass, test.want, test.tol)
		}
	}
}

func TestAbundances(t *testing.T) {
	tests := []struct {
		element    Element
		massNumber int
		want, tol  float64
	}{
		{Cl, 35, 0.7576, 1e-9},  // IUPAC, Isotopic compositions of the elements 2009
		{Cl, 37, 0.2424, 1e-9},  // the same
		{Br, 79, 0.5069, 1e-9},  // the same
		{Br, 81, 0.4931, 1e-9},  // the same
		{S, 33, 0.0075, 1e-9},   // the same
		{S, 34, 0.0425, 1e-9},   // the same
		{C, 13, 0.0107, 1e-9},   // the same; textbooks print 1.1 %
		{H, 2, 0.000115, 1e-9},  // the same; textbooks print 0.015 %
		{N, 15, 0.00364, 1e-9},  // the same
		{O, 17, 0.00038, 1e-9},  // the same
		{O, 18, 0.00205, 1e-9},  // the same
		{Si, 29, 0.04685, 1e-9}, // the same
		{Si, 30, 0.03092, 1e-9}, // the same
		{C, 13, 0.0110, 0.0005}, // OpenStax Organic Chemistry prints 1.10 %
	}
	for _, test := range tests {
		isotope, ok := test.element.Isotope(test.massNumber)
		if !ok || math.Abs(isotope.Abundance-test.want) > test.tol {
			t.Errorf("%s-%d: abundance %g, want %g within %g", test.element, test.massNumber, isotope.Abundance, test.want, test.tol)
		}
	}
}

func TestEveryElement(t *testing.T) {
	const withComposition = 84 // H to Bi without Tc and Pm, and Th, Pa, U // IUPAC, Isotopic compositions of the elements 2009
	count := 0
	for e := Element(1); e <= Elements; e++ {
		if back, ok := ElementBySymbol(e.Symbol()); !ok || back != e || e.Name() == "" {
			t.Errorf("element %d: symbol %q, name %q, found as %d", e, e.Symbol(), e.Name(), back)
		}
		sum := 0.0
		for _, isotope := range e.Isotopes() {
			sum += isotope.Abundance
		}
		if len(e.Isotopes()) > 0 {
			count++
			if math.Abs(sum-1) > 2e-5 {
				t.Errorf("%s: the abundances add up to %g", e, sum)
			}
		}
		principal := e.Principal()
		for _, isotope := range e.AllIsotopes() {
			if isotope.Abundance > principal.Abundance {
				t.Errorf("%s: %d is more abundant than the principal isotope %d", e, isotope.MassNumber, principal.MassNumber)
			}
			if found, ok := e.Isotope(isotope.MassNumber); !ok || found != isotope {
				t.Errorf("%s-%d is found as %v", e, isotope.MassNumber, found)
			}
		}
		if average := e.AverageMass(); math.Abs(float64(average)-float64(principal.MassNumber)) > 5 {
			t.Errorf("%s: average mass %g, principal isotope %d", e, average, principal.MassNumber)
		}
	}
	if count != withComposition {
		t.Errorf("%d elements have a natural composition, want %d", count, withComposition)
	}
}

func TestNoElement(t *testing.T) {
	for _, e := range []Element{0, Elements + 1, 255} {
		if e.Symbol() != "" || e.Name() != "" || e.Isotopes() != nil || e.AllIsotopes() != nil || e.Principal() != (Isotope{}) || e.AverageMass() != 0 {
			t.Errorf("element %d has properties", e)
		}
		if _, ok := e.Isotope(1); ok {
			t.Errorf("element %d has an isotope", e)
		}
	}
	for _, symbol := range []string{"", "X", "c", "CL", "cl", "Xx", "H\x00", "ClC", "É", "D"} {
		if e, ok := ElementBySymbol(symbol); ok {
			t.Errorf("symbol %q is taken for %s", symbol, e)
		}
	}
	for _, massNumber := range []int{-1, 0, 7, 24, 1 << 30, -1 << 40} {
		if isotope, ok := C.Isotope(massNumber); ok {
			t.Errorf("carbon has an isotope %v", isotope)
		}
	}
}

func TestAverageMasses(t *testing.T) {
	tests := []struct {
		element   Element
		want, tol Mass
	}{
		{H, 1.008, 0.0005},    // IUPAC abridged standard atomic weights 2021
		{C, 12.011, 0.0005},   // the same
		{N, 14.007, 0.0005},   // the same
		{O, 15.999, 0.0005},   // the same
		{S, 32.06, 0.01},      // the same
		{Cl, 35.45, 0.005},    // the same
		{Br, 79.904, 0.001},   // the same
		{Sn, 118.71, 0.005},   // the same
		{Tc, 96.9064, 0.0001}, // no natural composition: 97Tc of AME2020
	}
	for _, test := range tests {
		if got := test.element.AverageMass(); math.Abs(float64(got-test.want)) > float64(test.tol) {
			t.Errorf("%s: average mass %g, want %g", test.element, got, test.want)
		}
	}
}
