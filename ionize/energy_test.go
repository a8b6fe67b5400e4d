package ionize

import (
	"strings"
	"testing"

	"ionwright/internal/fixture"
	"ionwright/isotope"
	"ionwright/mol/smiles"
)

// TestLowEnergyAsMeasured: from 70 to 20 eV the molecular ion's share of the
// ion current changes in the direction that was measured, for nine of ten
// compounds.
func TestLowEnergyAsMeasured(t *testing.T) {
	n, right := 0, 0
	for _, low := range fixture.Measured(t) {
		name, isLow := strings.CutSuffix(low.Name, ", 20 eV")
		if !isLow {
			continue
		}
		usual := fixture.ByName(t, name)
		m, err := smiles.Parse(low.SMILES)
		if err != nil {
			t.Fatal(err)
		}
		b, err := BreakDown(t.Context(), m, []float64{70, low.EV})
		if err != nil {
			t.Fatal(err)
		}
		first := int(max(29, low.Peaks[0][0], usual.Peaks[0][0]))
		measured := molecularShare(low, first) - molecularShare(usual, first)
		computed := b.molecularShare(1, first) - b.molecularShare(0, first)
		n++
		if (measured > 0) == (computed > 0) {
			right++
		} else {
			t.Logf("%s: the share changes by %+.3f measured, %+.3f computed", name, measured, computed)
		}
	}
	if n < 8 || 10*right < 9*n {
		t.Errorf("the sign is right for %d of %d compounds", right, n)
	}
}

// molecularShare is the part of the ion current from m/z first on that is at
// the nominal molecular mass.
func molecularShare(r fixture.Record, first int) float64 {
	at, all := 0.0, 0.0
	for _, p := range r.Peaks {
		if int(p[0]) >= first {
			all += p[1]
		}
		if int(p[0]) == r.NominalMass {
			at += p[1]
		}
	}
	return at / all
}

// molecularShare is the same of the k-th energy.
func (b *Breakdown) molecularShare(k, first int) float64 {
	at, all := 0.0, 0.0
	for i, ion := range b.Ions {
		pattern := isotope.Unit(ion.Formula)
		for above, share := range pattern.Abundance {
			if mz := pattern.First + above; mz >= first {
				all += b.Shares[i][k] * share
				if mz == b.Ions[0].MZ {
					at += b.Shares[i][k] * share
				}
			}
		}
	}
	return at / all
}

// At the ionization energy all molecular ions are cold, at 70 eV none but those
// that the fit knows.
func TestColdIons(t *testing.T) {
	if x := undecaying(70, 10); x != 0 {
		t.Errorf("%g at 70 eV", x)
	}
	last := 0.0
	for _, eV := range []float64{50, 30, 20, 14, 12, 11, 10.3} {
		x := undecaying(eV, 10)
		if !(x > last && x <= 1) {
			t.Errorf("%g at %g eV, after %g", x, eV, last)
		}
		last = x
	}
	if last < 0.9 || undecaying(10.001, 10) != 1 {
		t.Errorf("%g at 10.3 eV, %g at the threshold", last, undecaying(10.001, 10))
	}
}
