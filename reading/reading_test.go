package reading

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"ionwright/chem"
	"ionwright/internal/fixture"
	"ionwright/spectrum"
)

// find returns the first clue of a kind whose title or first suggestion
// contains the words, and that rests on the peak, if one is given.
func find(r Reading, kind Kind, words string, peaks ...int) (Clue, bool) {
	for _, c := range r.Clues {
		if len(peaks) > 0 && !slices.Contains(c.Peaks, peaks[0]) {
			continue
		}
		if c.Kind == kind && (strings.Contains(c.Title, words) || len(c.Suggests) > 0 && strings.Contains(c.Suggests[0], words)) {
			return c, true
		}
	}
	return Clue{}, false
}

// Measured spectra of common compounds, read without being told anything:
// where the molecular ion is and what the main clues say.
func TestMeasuredSpectra(t *testing.T) {
	type clue struct {
		kind  Kind
		words string
		peak  int // one of the clue's peaks
	}
	for _, c := range []struct {
		name  string
		base  int // m/z
		mass  int // nominal, from the formula of the record
		clues []clue
	}{
		// Base peaks and ions: OpenStax Organic Chemistry 10e, ch. 12, unless another source stands on the line.
		{"hexane", 57, 86, []clue{{IonSeries, "alkyl", 43}, {NeutralLoss, "Loss of 15", 71}, {NitrogenRule, "no nitrogen", 86}}},
		{"methylcyclohexane", 83, 98, []clue{{NeutralLoss, "Loss of 15", 83}}},
		{"ethylcyclopentane", 69, 98, []clue{{NeutralLoss, "Loss of 29", 69}}},
		{"2-pentanol", 45, 88, []clue{{FragmentIon, "m/z 45", 45}}},
		{"2-methyl-3-pentanol", 59, 102, []clue{{FragmentIon, "m/z 59", 59}, {NeutralLoss, "Loss of 43", 59}}},
		{"2-pentanone", 43, 86, []clue{{FragmentIon, "m/z 58", 58}, {NeutralLoss, "Loss of 15", 71}, {OddElectronFragment, "rearrangement", 58}}}, // Bruice, sec. 13.5
		{"3-pentanone", 57, 86, []clue{{NeutralLoss, "Loss of 29", 57}, {FragmentIon, "m/z 29", 29}}},                                             // Bruice, sec. 13.5
		{"triethylamine", 86, 101, []clue{{NitrogenRule, "odd number", 101}, {NeutralLoss, "Loss of 15", 86}, {FragmentIon, "an aliphatic amine", 86}}},
		{"N-ethylpropylamine", 58, 87, []clue{{NitrogenRule, "odd number", 87}, {FragmentIon, "an aliphatic amine", 58}, {NeutralLoss, "Loss of 15", 72}}},
		{"chloroethane", 64, 64, []clue{{IsotopePattern, "one Cl", 66}}},
		{"bromoethane", 29, 108, []clue{{IsotopePattern, "one Br", 110}, {NeutralLoss, "bromine", 29}}},                                                                // common practice, no source
		{"toluene", 91, 92, []clue{{FragmentIon, "benzyl", 91}, {FragmentIon, "m/z 65", 65}, {FragmentIon, "m/z 39", 39}}},                                             // Nguyen et al. 2019: 91, 65, 39
		{"benzamide", 105, 121, []clue{{NitrogenRule, "odd number", 121}, {FragmentIon, "phenyl", 77}}},                                                                // M 121: Glagovich; 105 and 77: common practice, no source
		{"acetophenone", 105, 120, []clue{{FragmentIon, "benzoyl", 105}, {FragmentIon, "phenyl", 77}, {NeutralLoss, "Loss of 15", 105}}},                               // common practice, no source
		{"methyl benzoate", 105, 136, []clue{{FragmentIon, "benzoyl", 105}, {NeutralLoss, "methyl ester", 105}}},                                                       // ZHCH15: base 105, M 136
		{"ethyl butanoate", 71, 116, []clue{{NeutralLoss, "Loss of 45", 71}, {FragmentIon, "m/z 43", 43}}},                                                             // common practice, no source
		{"methyl butanoate", 43, 102, []clue{{FragmentIon, "m/z 74", 74}, {NeutralLoss, "methyl ester", 71}}},                                                          // 74: lecture text on the McLafferty rearrangement
		{"chlorobenzene", 112, 112, []clue{{IsotopePattern, "one Cl", 114}, {NeutralLoss, "chlorine", 77}, {FragmentIon, "phenyl", 77}, {CarbonCount, "5 to 7", 113}}}, // common practice, no source
		{"1,4-dichlorobenzene", 146, 146, []clue{{IsotopePattern, "two Cl", 148}, {NeutralLoss, "chlorine", 111}}},                                                     // common practice, no source
		{"bromochloromethane", 49, 128, []clue{{IsotopePattern, "one Br and one Cl", 130}}},                                                                            // CIE W18: M, M+2 and M+4 of CH2BrCl
		{"nitrobenzene", 77, 123, []clue{{NitrogenRule, "odd number", 123}, {NeutralLoss, "nitro", 77}}},                                                               // common practice, no source
		{"naphthalene", 128, 128, []clue{{BasePeak, "a ring", 128}, {NeutralLoss, "Loss of 26", 102}}},                                                                 // common practice, no source
		{"methyl stearate", 74, 298, []clue{{FragmentIon, "methyl ester", 74}, {NeutralLoss, "methyl ester", 267}}},                                                    // common practice, no source
	} {
		t.Run(c.name, func(t *testing.T) {
			record := fixture.ByName(t, c.name)
			r := Read(record.Spectrum(t), Given{})
			if r.BasePeak != c.base {
				t.Errorf("base peak %d, want %d", r.BasePeak, c.base)
			}
			if len(r.MolecularIon) == 0 || r.MolecularIon[0].MZ != c.mass {
				t.Fatalf("molecular ion %+v, want m/z %d", r.MolecularIon, c.mass)
			}
			for _, want := range c.clues {
				if _, ok := find(r, want.kind, want.words, want.peak); !ok {
					t.Errorf("no clue %v with %q that rests on m/z %d", want.kind, want.words, want.peak)
				}
			}
		})
	}
}

// What the molecular ion is not: neopentane-like and tertiary compounds show
// none, and the reading must say that it isn't seen.
func TestUnseenMolecularIon(t *testing.T) {
	for _, name := range []string{"2,2-dimethylbutane", "2-methyl-2-propanol"} { // common practice, no source
		record := fixture.ByName(t, name)
		s := record.Spectrum(t)
		r := Read(s, Given{})
		c, ok := find(r, MolecularIon, "nominal mass")
		if !ok {
			t.Fatalf("%s: no clue on the molecular ion", name)
		}
		if s.Relative(r.MolecularIon[0].MZ) > 0 {
			t.Fatalf("%s: the first candidate %d has a peak; the record was chosen as one without", name, r.MolecularIon[0].MZ)
		}
		if !strings.Contains(c.Sentence, "No peak looks like the molecular ion") {
			t.Errorf("%s: the clue doesn't say that the molecular ion isn't seen: %s", name, c.Sentence)
		}
		if r.MolecularIon[0].Probability > 0.9 {
			t.Errorf("%s: an unseen molecular ion is stated with %.2f", name, r.MolecularIon[0].Probability)
		}
	}
}

func TestEveryClueIsComplete(t *testing.T) {
	for _, record := range fixture.Measured(t) {
		r := Read(record.Spectrum(t), Given{})
		for _, c := range r.Clues {
			if c.Sentence == "" || c.Title == "" || c.Key == "" || len(c.Peaks) == 0 {
				t.Errorf("%s: incomplete clue %+v", record.Name, c)
			}
			if len(c.Suggests) > 0 && !(c.Probability > 0 && c.Probability <= 1) {
				t.Errorf("%s: clue %q has probability %v", record.Name, c.Title, c.Probability)
			}
			if len(c.Suggests) > 0 && len(c.Alternatives) == 0 && c.Kind != MolecularIon && c.Kind != IsotopePattern && c.Kind != BasePeak {
				t.Errorf("%s: clue %q says nothing about what else would give it", record.Name, c.Title)
			}
			if strings.Contains(c.Sentence, "%!") {
				t.Errorf("%s: clue %q is badly formatted: %s", record.Name, c.Title, c.Sentence)
			}
		}
		sum := 0.0
		for _, m := range r.MolecularIon {
			sum += m.Probability
			if len(m.Reasons) == 0 {
				t.Errorf("%s: candidate %d has no reasons", record.Name, m.MZ)
			}
		}
		if sum > 1+1e-9 {
			t.Errorf("%s: the candidates' probabilities sum to %v", record.Name, sum)
		}
		if n := len(r.Argument); n == 0 || !strings.HasPrefix(r.Argument[n-1].Step, "Undecided remains") {
			t.Errorf("%s: the argument doesn't end in what remains undecided", record.Name)
		}
		for _, depth := range []Depth{Hint, Step, Full} {
			for _, s := range r.Sentences(depth) {
				if s == "" {
					t.Errorf("%s: an empty sentence at depth %d", record.Name, depth)
				}
			}
		}
	}
}

func TestGivenFormula(t *testing.T) {
	record := fixture.ByName(t, "2-pentanone")
	f := chem.MustFormula("C5H10O")
	r := Read(record.Spectrum(t), Given{Formula: f})
	if len(r.MolecularIon) != 1 || r.MolecularIon[0].MZ != 86 || r.MolecularIon[0].Probability != 1 { // IUPAC: nominal mass of C5H10O
		t.Errorf("molecular ion %+v, want only m/z 86", r.MolecularIon)
	}
	c, ok := find(r, FragmentIon, "m/z 58")
	if !ok {
		t.Fatal("no clue on m/z 58")
	}
	for _, text := range append(slices.Clone(c.Suggests), c.Alternatives...) {
		if strings.Contains(text, "N") {
			t.Errorf("with C5H10O given, m/z 58 is still offered as %s", text)
		}
	}
	if !strings.Contains(c.Suggests[0], "C₃H₆O") {
		t.Errorf("m/z 58 with C5H10O given suggests %q, want the enol ion C₃H₆O", c.Suggests[0]) // OpenStax: 58 by McLafferty rearrangement
	}
}

func TestGivenIsChecked(t *testing.T) {
	s := spectrum.MustParse("43:100 58:30")
	for _, c := range []struct {
		given Given
		want  string
	}{
		{Given{NominalMass: -5}, "given mass -5"},
		{Given{Formula: chem.MustFormula("C3H6O"), NominalMass: 60}, "isn't that of the given formula"},
		{Given{Groups: []string{"soap"}}, `given group "soap"`},
	} {
		r := Read(s, c.given)
		if !slices.ContainsFunc(r.Doubts, func(d string) bool { return strings.Contains(d, c.want) }) {
			t.Errorf("given %+v: doubts %q, want one with %q", c.given, r.Doubts, c.want)
		}
	}
}

func TestDataDoubts(t *testing.T) {
	profile := spectrum.Spectrum{}
	for i := range 4000 {
		mz := 40 + float64(i)/40
		profile.Peaks = append(profile.Peaks, spectrum.Peak{MZ: mz, Intensity: 1 + 100*math.Exp(-math.Pow((mz-math.Round(mz))/0.2, 2))})
	}
	for _, c := range []struct {
		s    spectrum.Spectrum
		want string
	}{
		{spectrum.Spectrum{}, "no peaks"},
		{profile, "profile"},
		{spectrum.MustParse("50:10 77:100 105:80"), "starts at m/z 50"},
		{spectrum.Spectrum{Peaks: []spectrum.Peak{{MZ: 20, Intensity: 5}, {MZ: math.NaN(), Intensity: 3}}}, "no positive finite numbers"},
		{spectrum.MustParse("30:100 43:100 57:100 58:40"), "saturated"},
		{spectrum.Spectrum{Peaks: []spectrum.Peak{{MZ: 50, Intensity: 5}, {MZ: 9000, Intensity: 3}}}, "above m/z"},
	} {
		r := Read(c.s, Given{})
		if !slices.ContainsFunc(r.Doubts, func(d string) bool { return strings.Contains(d, c.want) }) {
			t.Errorf("doubts %q, want one with %q", r.Doubts, c.want)
		}
	}
}

func TestDoublyChargedAndMetastable(t *testing.T) {
	r := Read(spectrum.MustParse("45.5:2 65:15 91:100 92:60"), Given{})
	if c, ok := find(r, ChargeTwo, "Doubly"); !ok || !strings.Contains(c.Sentence, "45.5 (mass 91)") { // IUPAC Gold Book M03752: C7H7 2+ at 45.5
		t.Errorf("clue on the doubly charged ion: %+v", c)
	}
	// Lakshmi, lecture slides on metastable ions: 91 loses C2H2, m* = 46.4.
	r = Read(spectrum.MustParse("46.4:1 65:20 91:100 92:60"), Given{})
	if c, ok := find(r, Metastable, "Metastable"); !ok || !strings.Contains(c.Sentence, "65²/91 = 46.4") {
		t.Errorf("clue on the metastable ion: %+v", c)
	}
	// A Chinese textbook's problem: base 105, M 136; m* 56.5 and 33.8.
	r = Read(spectrum.MustParse("33.8:1 51:30 56.5:1 77:60 105:100 136:35 137:3"), Given{})
	var got []string
	for _, c := range r.Clues {
		if c.Kind == Metastable {
			got = append(got, c.Suggests[0])
		}
	}
	want := []string{"m/z 51 comes from m/z 77 in one step", "m/z 77 comes from m/z 105 in one step"}
	if !slices.Equal(got, want) {
		t.Errorf("metastable ions say %q, want %q", got, want)
	}
}

func ExampleRead() {
	r := Read(spectrum.MustParse("51:25 77:65 112:100 113:7 114:32 115:2"), Given{})
	fmt.Println("base peak", r.BasePeak, "molecular ion", r.MolecularIon[0].MZ)
	for _, c := range r.Clues {
		if c.Kind == IsotopePattern {
			fmt.Println(c.Suggests[0])
		}
	}
	// Output:
	// base peak 112 molecular ion 112
	// one Cl
}

// With exact masses the formula is decided by the mass: 72.0939 - 0.0005 is
// C5H12, 72.0575 - 0.0005 is C4H8O (OpenStax Organic Chemistry, ch. 12).
func TestExactMassDecidesTheFormula(t *testing.T) {
	for _, c := range []struct{ peaks, want string }{
		{"29.0386:30 43.0542:100 57.0699:20 72.0934:10", "C5H12"},
		{"29.0386:30 43.0178:100 57.0335:10 72.0570:20", "C4H8O"},
	} {
		r := Read(spectrum.MustParse(c.peaks), Given{NominalMass: 72})
		if len(r.Formulas) == 0 || r.Formulas[0].Formula != chem.MustFormula(c.want) || r.Formulas[0].Probability < 0.9 {
			t.Errorf("%s: formulas %+v, want %s first", c.peaks, r.Formulas[:min(2, len(r.Formulas))], c.want)
		}
	}
}

// What is given isn't doubted, and what the given formula can't hold isn't
// offered.
func TestGivenGroupsAndFormulaBindTheGroups(t *testing.T) {
	s := fixture.ByName(t, "2-pentanone").Spectrum(t)
	r := Read(s, Given{Formula: chem.MustFormula("C5H10O"), Groups: []string{"ketone"}})
	for _, g := range r.Groups {
		switch {
		case g.Name == "ketone" && g.Probability != 1:
			t.Errorf("the given ketone has %v", g.Probability)
		case slices.Contains([]string{"nitrile", "chlorine", "ester", "phenyl", "aliphatic amine"}, g.Name) && g.Probability != 0:
			t.Errorf("C5H10O is offered %s with %v", g.Name, g.Probability)
		}
	}
	if len(r.Formulas) != 1 || r.Formulas[0].Probability != 1 {
		t.Errorf("the given formula isn't the only one: %+v", r.Formulas)
	}
}

// Quick gives the same numbers as Read.
func TestQuick(t *testing.T) {
	s := fixture.ByName(t, "ethyl butanoate").Spectrum(t)
	full, quick := Read(s, Given{}), Quick(s, Given{})
	if len(quick.Clues) > 0 || len(quick.MolecularIon) != len(full.MolecularIon) || quick.MolecularIon[0].Probability != full.MolecularIon[0].Probability {
		t.Errorf("quick: %d clues, candidates %+v", len(quick.Clues), quick.MolecularIon)
	}
	if len(GroupNames()) != 22 || len(quick.Groups) != 22 { // the groups that accuracy is reported on
		t.Errorf("%d group names, %d quick calls", len(GroupNames()), len(quick.Groups))
	}
	for _, g := range quick.Groups {
		same := slices.ContainsFunc(full.Groups, func(f GroupCall) bool { return f.Name == g.Name && f.Probability == g.Probability })
		if !same || !slices.Contains(GroupNames(), g.Name) {
			t.Errorf("quick says %s %v, Read something else", g.Name, g.Probability)
		}
	}
}
