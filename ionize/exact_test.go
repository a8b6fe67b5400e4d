package ionize_test

import (
	"context"
	"math"
	"testing"

	"ionwright/ionize"
	"ionwright/mol/smiles"
)

// At unit m/z the exact peaks are the spectrum, and each lies where its
// formula's mass says.
func TestExact(t *testing.T) {
	for _, s := range []string{"CCC(C)=O", "Clc1ccccc1", "CCBr"} {
		m, err := smiles.Parse(s)
		if err != nil {
			t.Fatal(err)
		}
		p, err := ionize.Predict(context.Background(), m, ionize.Settings{})
		if err != nil {
			t.Fatal(err)
		}
		exact, err := p.Exact()
		if err != nil {
			t.Fatal(err)
		}
		unit := exact.Unit()
		for _, peak := range p.Spectrum().Peaks {
			mz := int(peak.MZ)
			if math.Abs(unit.At(mz)-peak.Intensity) > 0.05 {
				t.Errorf("%s: m/z %d has %.3f %%, at unit m/z %.3f", s, mz, unit.At(mz), peak.Intensity)
			}
		}
	}
	m, err := smiles.Parse("CCC(C)=O")
	if err != nil {
		t.Fatal(err)
	}
	p, err := ionize.Predict(context.Background(), m, ionize.Settings{})
	if err != nil {
		t.Fatal(err)
	}
	exact, err := p.Exact()
	if err != nil {
		t.Fatal(err)
	}
	// CH3CO+ is at 43.0178: 43.01839 (AME2020) less the electron.
	near := 0.0
	for _, peak := range exact.Peaks {
		if math.Abs(peak.MZ-43.01784) < 1e-4 {
			near += peak.Intensity
		}
	}
	if near < 50 {
		t.Errorf("at m/z 43.0178 stand %.1f %%", near)
	}
}
