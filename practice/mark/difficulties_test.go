package mark_test

import (
	"context"
	"slices"
	"testing"

	"ionwright/practice"
	"ionwright/practice/cause"
	"ionwright/practice/mark"
)

// difficulties are those that examiners' reports, textbooks and the education
// literature document (the sources stand beside each cause), each with the
// cause that a test answer in causeRows must be taken for.
var difficulties = []struct {
	what string
	code cause.Code
}{
	{"the charge is left off the molecular or fragment ion", cause.ChargeLeftOff},
	{"the formula of a fragment doesn't weigh what the peak says", cause.MassDiffers},
	{"all peaks are taken for intact, neutral molecules", cause.NeutralPeak},
	{"a peak is expected for the neutral lost", cause.LostPart},
	{"the base peak is taken for the molecular ion", cause.BaseForMolecular},
	{"the highest m/z is taken for the molecular ion", cause.HighestIsMolecular},
	{"average atomic masses are used for peaks", cause.AverageMass},
	{"the pattern of several halogens is wrong", cause.HalogenPattern},
	{"M + 1 over 1.1 is expected to be a whole number", cause.CarbonCount},
	{"the nitrogen rule is used on fragments, or for even numbers", cause.NitrogenRule},
	{"m/z is taken for the mass of a doubly charged ion", cause.ChargeTwo},
	{"the wrong ion is said to bend more", cause.BendingOrder},
	{"the wrong field or cause of the bending", cause.BendingCause},
	{"mass numbers of polyatomic ions are added up or misplaced", cause.MassNumberPlace},
	{"slips of units and of rearranging", cause.UnitSlip},
	{"one clue decides the answer", cause.OneCue},
	{"everything is read without a plan", cause.Undirected},
	{"an invalid heuristic decides: the larger, the more abundant", cause.BiggerIsStronger},
	{"atoms are looked at and not bonds", cause.AtomsNotBonds},
	{"the structure isn't checked against the data", cause.Unchecked},
	{"intermediates are drawn incomplete", cause.StepIncomplete},
	{"arrows are pushed mechanically, the wrong kind of head", cause.ArrowKind},
	{"ions are treated as in solution, with all electrons paired", cause.ElectronParity},
	{"m/z 31 is taken for proof of a primary alcohol", cause.ThirtyOne},
	{"every alcohol must show M - 18", cause.WaterMust},
	{"a hydrogen rearrangement without a gamma hydrogen", cause.NoGammaHydrogen},
	{"one loss is taken for one group", cause.OneMeaning},
	{"resolution, resolving power and accuracy are confused", cause.ResolutionTerm},
}

// TestDifficulties triggers the cause of each documented difficulty with an
// answer, names it first or second, and gives advice.
func TestDifficulties(t *testing.T) {
	rows := causeRows(t)
	for _, d := range difficulties {
		triggered := false
		for _, row := range rows {
			if row.code != d.code {
				continue
			}
			q := &practice.Question{ID: "q", Ask: row.ask, Key: row.key, Marks: 2, Facts: row.facts}
			r, err := mark.Question(context.Background(), q, row.answer)
			if err != nil {
				t.Fatal(err)
			}
			triggered = triggered || slices.Contains(r.Causes, d.code) && len(r.Advice) > 0 && r.Marks < q.Marks
		}
		if !triggered {
			t.Errorf("%s: no answer is taken for %s", d.what, d.code)
		}
	}
	codes := map[cause.Code]bool{}
	for _, d := range difficulties {
		codes[d.code] = true
	}
	for _, c := range cause.All() {
		if !codes[c.Code] {
			t.Errorf("the cause %s stands for no documented difficulty", c.Code)
		}
	}
}
