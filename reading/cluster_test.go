package reading

import (
	"testing"

	"ionwright/chem"
	"ionwright/isotope"
	"ionwright/reading/infer"
	"ionwright/spectrum"
)

// desk of a computed cluster: the isotope pattern of a formula, and a base
// peak of the given strength over it elsewhere.
func clusterDesk(formula string, strength float64) (*desk, int) {
	f := chem.MustFormula(formula)
	unit := isotope.Unit(f)
	light := f.NominalMass()
	top := 0.0
	for _, a := range unit.Abundance {
		top = max(top, a)
	}
	s := spectrum.Spectrum{Peaks: []spectrum.Peak{{MZ: 20, Intensity: 100}}}
	for k, a := range unit.Abundance {
		if r := a / top * strength; r >= 0.05 {
			s.Peaks = append(s.Peaks, spectrum.Peak{MZ: float64(unit.First + k), Intensity: r})
		}
	}
	return &desk{view: infer.NewView(s), spectrum: s}, light
}

// From exact patterns of strong molecular ions, the marker elements must come
// out. The patterns are computed by package isotope; which elements a formula
// has is plain.
func TestReadCluster(t *testing.T) {
	for _, c := range []struct {
		formula       string
		cl, br, s, si int
	}{
		{"C6H5Cl", 1, 0, 0, 0}, {"CH2Cl2", 2, 0, 0, 0}, {"CHCl3", 3, 0, 0, 0}, {"C2Cl4", 4, 0, 0, 0},
		{"C6H5Br", 0, 1, 0, 0}, {"CH2Br2", 0, 2, 0, 0}, {"CHBr3", 0, 3, 0, 0}, {"CH2BrCl", 1, 1, 0, 0}, {"CHBrCl2", 2, 1, 0, 0},
		{"C7H8O", 0, 0, 0, 0}, {"C4H10S", 0, 0, 1, 0}, {"C6H6", 0, 0, 0, 0}, {"C10H22", 0, 0, 0, 0},
	} {
		d, light := clusterDesk(c.formula, 90)
		got := d.readCluster(light, true)
		if len(got) == 0 {
			t.Errorf("%s: nothing is read", c.formula)
			continue
		}
		if m := got[0]; m.cl != c.cl || m.br != c.br || m.s != c.s || m.si != c.si {
			t.Errorf("%s: read as %q (%.2f)", c.formula, m.String(), m.probability)
		}
	}
}

// A peak too weak for its pattern must not be read with certainty.
func TestWeakClusterStaysOpen(t *testing.T) {
	d, light := clusterDesk("C4H10S", 3)
	got := d.readCluster(light, true)
	if len(got) > 0 && got[0].probability > 0.97 {
		t.Errorf("a molecular ion of 3 %% is read as %q with %.2f", got[0].String(), got[0].probability)
	}
}

func TestCarbonCount(t *testing.T) {
	for _, c := range []struct {
		formula string
		carbons int
	}{{"C6H14", 6}, {"C10H22", 10}, {"C7H8O", 7}, {"C13H10O", 13}} { // the formula says it
		d, light := clusterDesk(c.formula, 90)
		d.mol, d.molP = light, 1
		clues := readCarbonCount(d)
		if len(clues) != 1 {
			t.Errorf("%s: %d clues", c.formula, len(clues))
			continue
		}
		if holds, known := clues[0].Holds(Truth{Formula: chem.MustFormula(c.formula)}); !known || !holds {
			t.Errorf("%s: %s", c.formula, clues[0].Sentence)
		}
	}
}

func TestCarbonsTooMany(t *testing.T) {
	s := spectrum.MustParse("43:100 86:40 87:20")
	d := &desk{view: infer.NewView(s), spectrum: s, mol: 86, molP: 1}
	clues := readCarbonCount(d)
	if len(clues) != 1 || clues[0].Key != "carbons too many" {
		t.Errorf("M+1 of 50 %% at mass 86 gives %+v", clues)
	}
}
