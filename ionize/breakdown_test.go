package ionize

import (
	"context"
	"math"
	"strings"
	"testing"

	"ionwright/mol/smiles"
)

// Breakdown curves are what predictions at the single energies give, within 3 %
// of all ions.
func TestBreakdownIsPredictions(t *testing.T) {
	energies := []float64{70, 12, 20, 100}
	for _, s := range []string{"CCCC(C)=O", "CCCCOC(C)=O", "[2H]C([2H])([2H])C(=O)CC"} {
		m, err := smiles.Parse(s)
		if err != nil {
			t.Fatal(err)
		}
		b, err := BreakDown(t.Context(), m, energies)
		if err != nil {
			t.Fatal(err)
		}
		for k, eV := range energies {
			p, err := Predict(t.Context(), m, Settings{EnergyEV: eV})
			if err != nil {
				t.Fatal(err)
			}
			single, curve, total := map[int]float64{}, map[int]float64{}, 0.0
			for _, ion := range p.Ions {
				single[ion.MZ] += ion.Abundance
			}
			for i, ion := range b.Ions {
				curve[ion.MZ] += b.Shares[i][k]
				total += b.Shares[i][k]
			}
			if math.Abs(total-1) > 1e-6 {
				t.Errorf("%s at %g eV: the shares add up to %.8f", s, eV, total)
			}
			for mz, want := range single {
				if math.Abs(curve[mz]-want) > 0.03 {
					t.Errorf("%s at %g eV: m/z %d is %.5f of all, predicted alone %.5f", s, eV, mz, curve[mz], want)
				}
			}
		}
	}
}

func TestBreakdownRefuses(t *testing.T) {
	m, err := smiles.Parse("CCO")
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range []struct {
		energies []float64
		says     string
	}{
		{nil, "no electron energy"},
		{[]float64{70, 5}, "electrons of 5 eV don't ionize it: its ionization energy is about 10."}, // ethanol 10.5 eV, from memory
		{[]float64{101}, "up to 100 eV"},
		{[]float64{math.NaN()}, "NaN eV"},
	} {
		if _, err := BreakDown(t.Context(), m, row.energies); err == nil || !strings.Contains(err.Error(), row.says) {
			t.Errorf("%v: error %v, want %q in it", row.energies, err, row.says)
		}
	}
	if _, err := Threshold(m); err != nil {
		t.Error(err)
	}
}

// BenchmarkBreakdown counts the energies of a breakdown figure done a second.
func BenchmarkBreakdown(b *testing.B) {
	m, err := smiles.Parse("CCCCC(=O)OCC")
	if err != nil {
		b.Fatal(err)
	}
	var energies []float64
	for eV := 12.0; eV <= 70; eV += 2 {
		energies = append(energies, eV)
	}
	for b.Loop() {
		if _, err := BreakDown(context.Background(), m, energies); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(len(energies)*b.N)/b.Elapsed().Seconds(), "energies/s")
}
