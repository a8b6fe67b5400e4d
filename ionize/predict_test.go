package ionize

import (
	"context"
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"

	"ionwright/mol/smiles"
)

// TestIonsAreConserved: every molecular ion formed is detected as some ion.
func TestIonsAreConserved(t *testing.T) {
	for _, s := range []string{"CCCC(C)=O", "CCCCCCCCC", "Clc1ccccc1", "CCOC(=O)c1ccccc1", "C[Si](C)(C)OCCO[Si](C)(C)C", "CC12CCC3C(CCC4CC(=O)CCC43C)C1CCC2O"} {
		p := predict(t, s)
		total := 0.0
		for _, ion := range p.Ions {
			total += ion.Abundance
		}
		if math.Abs(total-1) > 1e-6 {
			t.Errorf("%s: the abundances sum to %.8f", s, total)
		}
	}
}

// TestStepsBalance: ion, neutral and source have the same atoms, and masses
// fall.
func TestStepsBalance(t *testing.T) {
	for _, s := range []string{"CCCC(C)=O", "CCN(CC)CC", "O=[N+]([O-])c1ccccc1C", "CC(C)CC(=O)OCC", "C1CCCCC1=O", "[2H]C([2H])([2H])C(=O)CC"} {
		p := predict(t, s)
		for _, step := range p.Steps {
			from, to := p.Ions[step.From], p.Ions[step.To]
			if to.Formula.Plus(step.Loss) != from.Formula {
				t.Errorf("%s: %s: %s is not %s and %s", s, step.Kind, from.Formula, to.Formula, step.Loss)
			}
			if to.OddElectron != to.Formula.OddElectron() {
				t.Errorf("%s: %s is taken for odd-electron: %v", s, to.Formula, to.OddElectron)
			}
		}
	}
}

func TestPredictionsRepeat(t *testing.T) {
	a, b := predict(t, "CCCCC(CC)COC(C)=O"), predict(t, "CCCCC(CC)COC(C)=O")
	if !reflect.DeepEqual(a.Spectrum(), b.Spectrum()) || !reflect.DeepEqual(a.Steps, b.Steps) {
		t.Error("two runs differ")
	}
}

// TestNumberingDoesNotMatter: the order in which the atoms are written changes
// no peak.
func TestNumberingDoesNotMatter(t *testing.T) {
	for _, pair := range [][2]string{
		{"CCCC(C)=O", "O=C(C)CCC"}, {"Clc1ccccc1C", "Cc1c(Cl)cccc1"}, {"CCOC(=O)CC", "C(C)C(OCC)=O"},
	} {
		a, b := predict(t, pair[0]).Spectrum(), predict(t, pair[1]).Spectrum()
		for _, peak := range a.Peaks {
			if other := b.Relative(int(peak.MZ)); math.Abs(other-peak.Intensity) > 0.5 {
				t.Errorf("%s and %s differ at m/z %g: %.2f and %.2f %%", pair[0], pair[1], peak.MZ, peak.Intensity, other)
			}
		}
	}
}

// Fewer molecular ions break when the electrons have less energy: common
// practice, no source.
func TestLowEnergySparesTheMolecularIon(t *testing.T) {
	for _, s := range []string{"CCCC(C)=O", "CCCCCC", "CCN(CC)CC", "COc1ccccc1", "CCCCCl"} {
		m, err := smiles.Parse(s)
		if err != nil {
			t.Fatal(err)
		}
		last := 0.0
		for _, eV := range []float64{70, 30, 20, 14} {
			p, err := Predict(context.Background(), m, Settings{EnergyEV: eV})
			if err != nil {
				t.Fatal(err)
			}
			if share := p.MolecularIon().Abundance; share < last {
				t.Errorf("%s: at %g eV the molecular ion's share falls to %.4f from %.4f", s, eV, share, last)
			} else {
				last = share
			}
		}
	}
}

func TestChlorineShowsItsIsotopes(t *testing.T) {
	s := predict(t, "Clc1ccccc1").Spectrum()
	ratio := 100 * s.Relative(114) / s.Relative(112)
	if math.Abs(ratio-32.2) > 0.8 { // IUPAC abundances of 35Cl and 37Cl give 32.0 %, carbon-13 pairs 0.2 %
		t.Errorf("m/z 114 is %.1f %% of 112", ratio)
	}
}

// Deuterium on the carbons next to the carbonyl moves the acylium ion of
// butanone: m/z 43 with CH3, 46 with CD3 (common practice, no source).
func TestDeuteriumMovesPeaks(t *testing.T) {
	s := predict(t, "[2H]C([2H])([2H])C(=O)CC").Spectrum()
	if s.Relative(46) < 50 || s.Relative(43) > 0.3*s.Relative(46) {
		t.Errorf("m/z 46 is %.1f %%, m/z 43 %.1f %%", s.Relative(46), s.Relative(43))
	}
}

func TestStructuresRefused(t *testing.T) {
	for _, row := range []struct{ smiles, says string }{
		{"[Na+].[Cl-]", "the rules don't cover"},
		{"CC(=O)[O-]", "charged"},
		{"CC[CH2]", "radical"},
		{"C[Hg]C", "don't cover mercury"},
		{"CCO.CCO", "more than one part"},
		{"[H][H]", "hydrogen"},
		{strings.Repeat("C", 65), "65 atoms"},
		{strings.Repeat("C", 200), "200 atoms"},
		{"[3H]C", "tritium"},
	} {
		m, err := smiles.Parse(row.smiles)
		if err != nil {
			t.Fatalf("%s: %v", row.smiles, err)
		}
		_, err = Predict(context.Background(), m, Settings{})
		var refused *StructureError
		if err == nil || !strings.Contains(err.Error(), row.says) || !errors.As(err, &refused) {
			t.Errorf("%s: error %v, want a StructureError that says %q", row.smiles, err, row.says)
		}
	}
}

func TestEnergiesRefused(t *testing.T) {
	m, err := smiles.Parse("CCO")
	if err != nil {
		t.Fatal(err)
	}
	for _, eV := range []float64{-1, 5, 101, math.NaN(), math.Inf(1)} {
		if _, err := Predict(context.Background(), m, Settings{EnergyEV: eV}); err == nil {
			t.Errorf("%g eV is taken", eV)
		}
	}
}

func TestCancelled(t *testing.T) {
	m, err := smiles.Parse("CCO")
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Predict(ctx, m, Settings{}); !errors.Is(err, context.Canceled) {
		t.Errorf("error %v", err)
	}
}

// TestEveryKindIsDocumented keeps the list and the constants together.
func TestEveryKindIsDocumented(t *testing.T) {
	if len(Kinds) != int(numKinds) {
		t.Errorf("%d kinds, %d in the list", numKinds, len(Kinds))
	}
	for k := range numKinds {
		if doc := k.Doc(); doc.Name == "unknown step" || doc.Reference == "" || doc.Description == "" {
			t.Errorf("kind %d has no full entry", k)
		}
	}
}
