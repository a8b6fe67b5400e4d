package main

import (
	"context"
	"math"
	"testing"

	"ionwright/chem"
	"ionwright/sector"
	"ionwright/spectrum"
)

// recordedAgain flies ions through an instrument, counts them, and finds the
// peaks in what was counted.
func recordedAgain(t *testing.T, i sector.Instrument, s spectrum.Spectrum, decays []sector.Decay) (spectrum.Spectrum, *sector.Counted, *sector.Recording) {
	t.Helper()
	r, err := sector.Sweep(i, sector.Ions(s), sector.SweepSettings{Exponential: true, Decays: decays})
	if err != nil {
		t.Fatal(err)
	}
	// Base 100: ten million ions a second on the base peak.
	set := sector.Counting{Duration: 60, IonRate: 1e5, Seed: 3}
	counted, err := r.Count(set)
	if err != nil {
		t.Fatal(err)
	}
	back, err := r.Spectrum(counted, set)
	if err != nil {
		t.Fatal(err)
	}
	return back, counted, r
}

// The whole chain: what a sweep records of the ions that a structure gives is,
// centroided, the spectrum that was computed from the structure, within the
// error of counting.
func TestRecordedSpectrumIsTheComputedOne(t *testing.T) {
	for _, smiles := range []string{"CCC(C)=O", "CCCCC", "Clc1ccccc1", "CCBr", "Cc1ccccc1"} {
		p, err := predict(context.Background(), smiles, 0)
		if err != nil {
			t.Fatal(err)
		}
		exact, err := p.Exact()
		if err != nil {
			t.Fatal(err)
		}
		for _, i := range sector.Presets()[1:] {
			i.Voltage /= 2 // so that the magnets reach m/z 110
			back, counted, _ := recordedAgain(t, i, exact, nil)
			unit, computed := back.Unit(), p.Spectrum().Unit()
			perPercent := counted.Expect / computed.TotalIonCurrent()
			scale := computed.TotalIonCurrent() / unit.TotalIonCurrent()
			compared := 0
			for _, peak := range computed.Peaks {
				ions := peak.Intensity * perPercent
				if ions < 50 {
					continue // lost in chance
				}
				compared++
				got := unit.At(int(peak.MZ)) * scale
				// Five standard deviations of counting, and 0.05 of the base peak's
				// percent for isotopologues that are left out.
				if off := math.Abs(got - peak.Intensity); off > 0.05+0.02*peak.Intensity+5*math.Sqrt(ions)/perPercent {
					t.Errorf("%s in %s: m/z %v is recorded with %.3f %%, computed %.3f %% (%.0f ions)", smiles, i.Name, peak.MZ, got, peak.Intensity, ions)
				}
			}
			if compared < 10 {
				t.Errorf("%s in %s: only %d peaks are compared", smiles, i.Name, compared)
			}
			for _, peak := range unit.Peaks {
				if peak.Intensity*scale > 0.2 && computed.At(int(peak.MZ)) == 0 {
					t.Errorf("%s in %s: a peak at m/z %v that wasn't computed", smiles, i.Name, peak.MZ)
				}
			}
		}
	}
}

// A doubly charged ion is recorded at half the m/z (IUPAC Gold Book M03752:
// C7H7 2+ at 45.5), and its isotopes half a unit apart.
func TestDoublyChargedIsRecordedAtHalf(t *testing.T) {
	one, err := isotopesOf("C7H7 2+")
	if err != nil {
		t.Fatal(err)
	}
	back, _, _ := recordedAgain(t, sector.Presets()[1], one.spectrum, nil)
	if len(back.Peaks) < 2 || math.Abs(back.Peaks[0].MZ-45.53) > 0.01 || math.Abs(back.Peaks[1].MZ-back.Peaks[0].MZ-0.5017) > 0.003 {
		t.Errorf("peaks %s", back.Notation())
	}
	if want := float64(chem.MustFormula("C7H7+").MonoisotopicMass()-chem.ElectronMass) / 2; math.Abs(back.Peaks[0].MZ-want) > 0.005 {
		t.Errorf("recorded at %v, half the mass is %v", back.Peaks[0].MZ, want)
	}
}

// A metastable ion is recorded at m2^2/m1 (META-SL: 91 to 65 at 46.4), and it
// is diffuse.
func TestMetastableIsDiffuse(t *testing.T) {
	s := spectrum.MustParse("65:12 91:100")
	back, _, r := recordedAgain(t, sector.Presets()[1], s, []sector.Decay{{Before: 91, After: 65, Intensity: 2, Release: 0.4}})
	if len(back.Peaks) != 3 || math.Abs(back.Peaks[0].MZ-46.4) > 0.05 || math.Abs(back.Peaks[0].Intensity-2) > 0.2 {
		t.Errorf("peaks %s", back.Notation())
	}
	width := func(k int) float64 {
		mz := func(b sector.Tesla) float64 { v, _ := r.Instrument.MZ(b); return v }
		return mz(r.Windows[k].To) - mz(r.Windows[k].From)
	}
	if width(0) < 5*width(1) {
		t.Errorf("the metastable peak is %v wide, the one at m/z 65 %v", width(0), width(1))
	}
}

// The decays that ionize computes for the way to the magnet are recorded where
// they belong: toluene's benzyl cation loses acetylene on the way (META-SL: 91 to
// 65 at 46.4).
func TestLateDecaysOfACompound(t *testing.T) {
	i := sector.Presets()[1]
	b, err := compoundBeam(context.Background(), "Cc1ccccc1", 0, i, true)
	if err != nil {
		t.Fatal(err)
	}
	found := false
	for _, d := range b.decays {
		apparent, err := sector.Metastable(d.Before, d.After)
		if err != nil {
			t.Fatal(err)
		}
		found = found || math.Abs(apparent-46.4) < 0.1 && math.Abs(d.Before-91.05) < 0.01
		if !(d.Intensity > 0 && d.Intensity < 20) || !(d.Release >= 0 && d.Release < 2) {
			t.Errorf("%v to %v with %v %% of the base peak and a release of %v eV", d.Before, d.After, d.Intensity, d.Release)
		}
	}
	if !found {
		t.Errorf("no decay of 91 to 65 among %d", len(b.decays))
	}
	if _, err := sector.Sweep(i, sector.Ions(b.spectrum), sector.SweepSettings{Decays: b.decays}); err != nil {
		t.Error(err)
	}
	// Without a field-free way there are none, and that is said.
	if _, err := compoundBeam(context.Background(), "Cc1ccccc1", 0, sector.Presets()[0], true); err == nil {
		t.Error("an instrument without a drift before the magnet has metastable ions")
	}
}
