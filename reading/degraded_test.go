package reading

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"ionwright/internal/degrade"
	"ionwright/internal/fixture"
	"ionwright/spectrum"
)

// A profile becomes the peaks it was made of: the heights within a few percent
// of the strongest.
func TestProfileGivesThePeaksBack(t *testing.T) {
	s := fixture.ByName(t, "chlorobenzene").Spectrum(t)
	profile := degrade.Profile(s, rand.New(rand.NewPCG(1, 1)))
	r := Read(profile, Given{})
	if !strings.Contains(strings.Join(r.Doubts, " "), "profile") {
		t.Errorf("a profile isn't said to be one: %q", r.Doubts)
	}
	got := spectrum.Spectrum{Peaks: centroids(profile.Peaks)}
	for _, p := range s.AtLeast(2).Peaks {
		mz := int(p.MZ)
		if d := math.Abs(got.Relative(mz) - s.Relative(mz)); d > 3 {
			t.Errorf("m/z %d has %.1f %% after centroiding, %.1f %% before", mz, got.Relative(mz), s.Relative(mz))
		}
	}
	if r.MolecularIon[0].MZ != 112 { // IUPAC: nominal mass of C6H5Cl
		t.Errorf("molecular ion of the profile %d, want 112", r.MolecularIon[0].MZ)
	}
}

// Spectra spoiled in each way give a reading that says what is wrong, and for
// these clear compounds the right mass. Of fewer than three peaks cut off nobody can tell that they
// are.
func TestSpoiledSpectra(t *testing.T) {
	said := map[string]string{ // words that the doubts must hold
		"starts at m/z 40": "starts at m/z", "starts at m/z 50": "starts at m/z", "saturated at a third of the base peak": "saturated",
		"air and water": "air", "air stronger than the base peak": "air", "column bleed": "column bleed", "calibration gas": "calibration gas",
		"column bleed of varied heights": "column bleed", "calibration gas of varied heights": "calibration gas",
		"profile": "profile", "m/z 0.35 too high": "moved", "m/z scattered by 0.15": "scatter", "noise up to 1 % everywhere": "background",
	}
	for _, compound := range []struct {
		name string
		mass int // nominal, from the formula of the record
	}{{"chlorobenzene", 112}, {"methyl stearate", 298}, {"triethylamine", 101}} {
		s := fixture.ByName(t, compound.name).Spectrum(t)
		for i, way := range degrade.Ways() {
			r := Read(way.Spoil(s, rand.New(rand.NewPCG(uint64(i), 7))), Given{})
			if words := said[way.Name]; words != "" && !strings.Contains(strings.Join(r.Doubts, " "), words) && !(words == "saturated" && len(s.AtLeast(33).Peaks) < 3) {
				t.Errorf("%s, %s: the doubts %q don't say %q", compound.name, way.Name, r.Doubts, words)
			}
			if len(r.MolecularIon) == 0 || r.MolecularIon[0].MZ != compound.mass {
				t.Errorf("%s, %s: molecular ion %+v, want %d", compound.name, way.Name, r.MolecularIon[:min(1, len(r.MolecularIon))], compound.mass)
			}
		}
	}
}

// Good data are left as they are: whole m/z aren't moved and nothing is set
// apart.
func TestGoodDataAreLeftAlone(t *testing.T) {
	apart := 0
	records := fixture.Measured(t)
	for _, record := range records {
		r := Quick(record.Spectrum(t), Given{})
		if len(r.SetApart) > 0 {
			apart++
			t.Logf("%s: %d set apart", record.Name, r.SetApart)
		}
		for _, d := range r.Doubts {
			if strings.Contains(d, "moved") || strings.Contains(d, "profile") {
				t.Errorf("%s: %s", record.Name, d)
			}
		}
	}
	if 50*apart > len(records) {
		t.Errorf("peaks of %d of %d measured spectra are set apart; 1 in 50 would be many", apart, len(records))
	}
}

// Two compounds together are said to be two where their peaks show it: here
// m/z 112 and 101, the molecular ions of the two records, are 11 apart, a loss
// that hardly occurs (common practice, no source).
func TestMixtureIsSaid(t *testing.T) {
	a, b := fixture.ByName(t, "chlorobenzene").Spectrum(t), fixture.ByName(t, "triethylamine").Spectrum(t)
	r := Read(degrade.Mixed(a, b, 100), Given{})
	if !strings.Contains(strings.Join(r.Doubts, " "), "two compounds") {
		t.Errorf("a mixture isn't said to be one: %q", r.Doubts)
	}
	if !strings.Contains(r.Argument[len(r.Argument)-1].Step, "one compound") {
		t.Errorf("what remains open: %q", r.Argument[len(r.Argument)-1].Step)
	}
	for _, pure := range []spectrum.Spectrum{a, b} {
		if doubts := strings.Join(Read(pure, Given{}).Doubts, " "); strings.Contains(doubts, "two compounds") {
			t.Errorf("a pure compound is said to be two: %q", doubts)
		}
	}
}

// The decimals of a profile's hills and of scattered peaks aren't taken for
// exact masses; those of exact masses are, also where bromine spreads them.
// Exact masses: sums of those of the isotopes (from memory), less the electron's.
func TestInexactDecimals(t *testing.T) {
	s := fixture.ByName(t, "methyl stearate").Spectrum(t)
	for i, way := range degrade.Ways() {
		if way.Name != "profile" && way.Name != "m/z scattered by 0.15" {
			continue
		}
		r := Read(way.Spoil(s, rand.New(rand.NewPCG(uint64(i), 8))), Given{NominalMass: 298})
		if said := strings.Join(r.Doubts, " ") + strings.Join(r.Formulas[0].Reasons, " "); strings.Contains(said, "exact mass") {
			t.Errorf("%s: decimals were taken for exact masses: %q", way.Name, said)
		}
		if got := r.Formulas[0].Formula.String(); got != "C19H38O2" {
			t.Errorf("%s: first formula %s, want C19H38O2", way.Name, got)
		}
	}
	bromobenzene := spectrum.MustParse("38.0151:4 39.0229:3 49.0073:2 50.0151:18 51.0229:30 52.0308:3 63.0229:1 73.0073:3 74.0151:10 75.0229:8 76.0308:6 77.0386:100 78.0419:7 155.9569:80 156.9603:5 157.9549:78 158.9582:5")
	r := Read(bromobenzene, Given{})
	if got := r.Formulas[0]; got.Formula.String() != "C6H5Br" || !strings.Contains(got.Reasons[0], "exact mass") {
		t.Errorf("bromobenzene with exact masses: %+v", got)
	}
}
