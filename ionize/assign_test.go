package ionize

import (
	"math"
	"strings"
	"testing"

	"ionwright/chem"
	"ionwright/internal/fixture"
	"ionwright/mol/smiles"
	"ionwright/spectrum"
)

func explainMeasured(t *testing.T, structure, name string) *Assignment {
	t.Helper()
	m, err := smiles.Parse(structure)
	if err != nil {
		t.Fatal(err)
	}
	a, err := Explain(t.Context(), m, fixture.ByName(t, name).Spectrum(t), Settings{})
	if err != nil {
		t.Fatal(err)
	}
	return a
}

// What an instructor says of the peaks (common practice, no source): kinds,
// neutrals, isotope peaks.
func TestSentencesOfMeasuredPeaks(t *testing.T) {
	for _, row := range []struct {
		name string
		mz   int
		want []string
	}{
		{"2-pentanone", 58, []string{"m/z 58, ", " of the base peak: C₃H₆O⁺•, hydrogen rearrangement through a six-membered ring, loss of ethene (C₂H₄); odd-electron, so even m/z without nitrogen."}},
		{"2-pentanone", 43, []string{"m/z 43, the base peak: C₂H₃O⁺, alpha-cleavage, loss of a radical C₃H₇"}},
		{"2-pentanone", 86, []string{"the molecular ion"}},
		{"chlorobenzene", 114, []string{"isotope peak of m/z 112, C₆H₅Cl⁺• with one chlorine-37"}},
		{"chlorobenzene", 113, []string{"with one carbon-13"}},
		{"chlorobenzene", 115, []string{"one chlorine-37 and one carbon-13"}},
		{"chlorobenzene", 56, []string{"not explained; the structure gives no ion of this mass in up to 4 of the known steps."}}, // doubly charged
		{"1,4-dichlorobenzene", 150, []string{"with two chlorine-37"}},
		{"hexamethyldisiloxane", 148, []string{"with one silicon-29"}},
	} {
		a := explainMeasured(t, fixture.ByName(t, row.name).SMILES, row.name)
		said := "nothing"
		for _, peak := range a.Peaks {
			if peak.MZ == row.mz {
				said = a.Sentence(peak)
			}
		}
		for _, want := range row.want {
			if !strings.Contains(said, want) {
				t.Errorf("%s, m/z %d: got %q, want %q in it", row.name, row.mz, said, want)
			}
		}
	}
}

// TestRoutesAreShortAndJoin: each route begins at the molecular ion, ends at
// the ion it is said to end at, has at most MostSteps steps, and its losses
// make up the difference.
func TestRoutesAreShortAndJoin(t *testing.T) {
	for _, name := range []string{"methyl stearate", "eugenol", "triethylamine", "acetophenone-2,2,2-d3", "dimethyl phthalate"} {
		a := explainMeasured(t, fixture.ByName(t, name).SMILES, name)
		whole := a.Prediction.MolecularIon().Formula
		routes := 0
		for _, peak := range a.Peaks {
			if peak.Explained && len(peak.Origins) == 0 {
				t.Errorf("%s: m/z %d is explained by nothing", name, peak.MZ)
			}
			shares := 0.0
			for _, o := range peak.Origins {
				shares += o.Share
				if o.Ion.MZ+o.Above != peak.MZ {
					t.Errorf("%s: an ion of m/z %d and %d more is given to m/z %d", name, o.Ion.MZ, o.Above, peak.MZ)
				}
				at, left := 0, o.Ion.Formula
				for _, step := range o.Route {
					if step.From != at {
						t.Errorf("%s: a route to m/z %d goes on from ion %d at ion %d", name, peak.MZ, at, step.From)
					}
					at, left = step.To, left.Plus(step.Loss)
				}
				if at != o.Ion.ID || left != whole || len(o.Route) > MostSteps {
					t.Errorf("%s: a route to ion %d of m/z %d ends at ion %d, with its losses %s, after %d steps", name, o.Ion.ID, peak.MZ, at, left, len(o.Route))
				}
				routes++
			}
			if shares > 1+1e-9 {
				t.Errorf("%s: the origins of m/z %d make up %.3f of it", name, peak.MZ, shares)
			}
		}
		if routes == 0 {
			t.Errorf("%s: no route at all", name)
		}
	}
}

// On the average a wrong structure of the same formula explains clearly less;
// single ones can explain as much.
func TestRightStructuresExplainMore(t *testing.T) {
	sumRight, sumWrong, n := 0.0, 0.0, 0.0
	for _, row := range []struct{ name, wrong string }{
		{"2-pentanone", "C1CCCC1O"},               // cyclopentanol
		{"methyl butanoate", "CC(C)(C)C(=O)O"},    // 2,2-dimethylpropanoic acid
		{"acetophenone", "Cc1ccc(C=O)cc1"},        // 4-methylbenzaldehyde
		{"triethylamine", "CCCCCCN"},              // hexylamine
		{"N-ethylpropylamine", "CCCCCN"},          // pentylamine
		{"phenyl acetate", "COC(=O)c1ccccc1"},     // methyl benzoate
		{"2-methyl-3-pentanol", "CCCOCCC"},        // dipropyl ether
		{"2-bromo-2-methylpropane", "CCCCBr"},     // 1-bromobutane
		{"benzyl alcohol", "Cc1ccc(O)cc1"},        // p-cresol
		{"methyl salicylate", "OC(=O)COc1ccccc1"}, // phenoxyacetic acid
	} {
		right := explainMeasured(t, fixture.ByName(t, row.name).SMILES, row.name).Explained
		wrong := explainMeasured(t, row.wrong, row.name).Explained
		t.Logf("%s: the right structure explains %.2f of the current, %s %.2f", row.name, right, row.wrong, wrong)
		sumRight, sumWrong, n = sumRight+right, sumWrong+wrong, n+1
	}
	if sumRight/n < 0.9 || sumWrong > sumRight-0.15*n {
		t.Errorf("right structures explain %.3f of the current, wrong ones %.3f", sumRight/n, sumWrong/n)
	}
}

func TestExplainCountsTheCurrent(t *testing.T) {
	a := explainMeasured(t, "CCCC(C)=O", "2-pentanone")
	all, explained := 0.0, 0.0
	for _, peak := range a.Peaks {
		if peak.MZ < 29 { // below, few measured spectra are complete
			continue
		}
		all += peak.Intensity
		if peak.Explained {
			explained += peak.Intensity
		}
	}
	if math.Abs(a.Explained-explained/all) > 1e-12 || a.From != 29 {
		t.Errorf("explained is %.6f from m/z %d on, the peaks make %.6f", a.Explained, a.From, explained/all)
	}
	ion := a.Prediction.MolecularIon()
	if ion.Formula != chem.MustFormula("C5H10O+") {
		t.Errorf("molecular ion %s", ion.Formula)
	}
}

func TestExplainRefuses(t *testing.T) {
	m, err := smiles.Parse("CCO")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := Explain(t.Context(), m, spectrum.Spectrum{}, Settings{}); err == nil || !strings.Contains(err.Error(), "no peak") {
		t.Errorf("a spectrum without peaks: error %v", err)
	}
	measured := fixture.ByName(t, "ethanol").Spectrum(t)
	if _, err := Explain(t.Context(), m, measured, Settings{EnergyEV: 5}); err == nil || !strings.Contains(err.Error(), "5 eV") {
		t.Errorf("an energy below the ionization energy: error %v", err)
	}
}
