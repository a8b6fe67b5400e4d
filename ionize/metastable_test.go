package ionize

import (
	"math"
	"strings"
	"testing"

	"ionwright/mol/smiles"
)

// fieldFree is a window such as an 8 kV instrument of ordinary size has for
// ions of m/z 100: 1 to 9 microseconds (speed 0.12 m/us, drift about 1 m).
func fieldFree(mz float64) (from, to float64) {
	scale := math.Sqrt(mz / 100)
	return 1e-6 * scale, 9e-6 * scale
}

// Decays that textbooks show as metastable peaks are the most frequent between
// those two masses, and some of the most frequent of the compound: toluene's
// 91 to 65 at m/z 46.4 (T. S. Lakshmi, lecture on metastable ions), benzoyl's
// 105 to 77 at 56.5 (common practice, no source).
func TestTextbookMetastables(t *testing.T) {
	for _, row := range []struct {
		smiles        string
		before, after int
		apparent      float64
	}{
		{"Cc1ccccc1", 91, 65, 46.4},
		{"CCc1ccccc1", 91, 65, 46.4},
		{"CC(=O)c1ccccc1", 105, 77, 56.5},
		{"COC(=O)c1ccccc1", 105, 77, 56.5},
	} {
		m, err := smiles.Parse(row.smiles)
		if err != nil {
			t.Fatal(err)
		}
		p, late, err := Metastable(t.Context(), m, Settings{}, fieldFree)
		if err != nil {
			t.Fatal(err)
		}
		rank := -1
		for i, l := range late {
			if p.Ions[l.From].MZ == row.before && p.Ions[l.To].MZ == row.after {
				rank = i
				if apparent := l.After * l.After / l.Before; math.Abs(apparent-row.apparent) > 0.06 {
					t.Errorf("%s: apparent m/z %.2f, want %.1f", row.smiles, apparent, row.apparent)
				}
				if l.Intensity > 0.05 || l.Release <= 0 || l.Release > 1 {
					t.Errorf("%s: %.2g of the ions decay late, with %.3f eV", row.smiles, l.Intensity, l.Release)
				}
				break
			}
		}
		if rank < 0 || rank > 4 {
			t.Errorf("%s: %d to %d is at place %d of the late decays", row.smiles, row.before, row.after, rank+1)
		}
	}
}

// However late the window, no more ions decay than leave the source.
func TestLateDecaysAreOfThoseThatLeft(t *testing.T) {
	m, err := smiles.Parse("CCOC(=O)c1ccccc1")
	if err != nil {
		t.Fatal(err)
	}
	sum := func(from, to float64) map[int]float64 {
		_, late, err := Metastable(t.Context(), m, Settings{}, func(float64) (float64, float64) { return from, to })
		if err != nil {
			t.Fatal(err)
		}
		of := map[int]float64{}
		for _, l := range late {
			of[l.From] += l.Fraction
		}
		return of
	}
	all, first, second := sum(0, 1e-3), sum(0, 5e-6), sum(5e-6, 1e-3)
	for from, x := range all {
		if x > 1 {
			t.Errorf("%.3f of the ions %d decay", x, from)
		}
		if math.Abs(first[from]+second[from]-x) > 1e-3 {
			t.Errorf("ions %d: %.5f and %.5f decay in two windows, %.5f in both", from, first[from], second[from], x)
		}
	}
	if len(all) == 0 {
		t.Error("no ion decays late")
	}
	if _, _, err := Metastable(t.Context(), m, Settings{}, func(float64) (float64, float64) { return 2, 1 }); err == nil || !strings.Contains(err.Error(), "from 2 to 1 s") {
		t.Errorf("a window that ends before it begins: error %v", err)
	}
	if _, _, err := Metastable(t.Context(), m, Settings{EnergyEV: 3}, fieldFree); err == nil {
		t.Error("3 eV is taken")
	}
}
