package ionize

import (
	"context"
	"maps"
	"slices"
	"testing"

	"ionwright/internal/fixture"
	"ionwright/internal/textbook"
	"ionwright/internal/witness"
	"ionwright/mol/smiles"
)

// tally counts steps, and of them those without arrows; flow and lost weigh
// them by the ions that go that way.
type tally struct {
	steps, whole int
	flow, lost   float64
}

// checkSteps checks the movements of the strongest steps of a structure: so
// many in all, and so many of each kind.
func checkSteps(t *testing.T, text string, most, ofKind int, counts map[Kind]*tally) {
	t.Helper()
	m, err := smiles.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	p, err := Predict(context.Background(), m, Settings{})
	if err != nil {
		return // not covered
	}
	seen := map[Kind]int{}
	for _, step := range p.Steps[:min(len(p.Steps), most)] {
		if seen[step.Kind]++; seen[step.Kind] > ofKind {
			continue
		}
		m, err := p.Movement(step)
		if err == nil {
			err = checkMovement(p, step, m)
		}
		if err != nil {
			t.Errorf("%s: %s, m/z %d to %d: %v", text, step.Kind, p.Ions[step.From].MZ, p.Ions[step.To].MZ, err)
		}
		c := counts[step.Kind]
		if c == nil {
			c = &tally{}
			counts[step.Kind] = c
		}
		c.steps++
		c.flow += step.Flow
		if m.Whole {
			c.whole++
			c.lost += step.Flow
		}
	}
}

// unwritten are the kinds of the steps of textbook routes for which arrows can't
// be written.
var unwritten = []Kind{EthyneLoss}

func TestMovementsOfTextbookRoutes(t *testing.T) {
	for _, row := range textbook.Rows() {
		p := predict(t, row.SMILES)
		ions := p.At(row.MZ)
		if len(ions) == 0 {
			t.Errorf("%s: no ion at m/z %d", row.Compound, row.MZ)
			continue
		}
		movements, err := p.RouteMovements(ions[0].ID)
		if err != nil {
			t.Errorf("%s, m/z %d: %v", row.Compound, row.MZ, err)
			continue
		}
		for i, step := range p.Route(ions[0].ID) {
			if err := checkMovement(p, step, movements[i]); err != nil {
				t.Errorf("%s, m/z %d: %s: %v", row.Compound, row.MZ, step.Kind, err)
			}
			if movements[i].Whole && !slices.Contains(unwritten, step.Kind) {
				t.Errorf("%s, m/z %d: %s: no arrows", row.Compound, row.MZ, step.Kind)
			}
		}
	}
}

// Labels go with their atoms, and deuterium that moves is an atom like any
// hydrogen.
func TestMovementsOfLabelled(t *testing.T) {
	counts := map[Kind]*tally{}
	for _, text := range []string{"[2H]C([2H])([2H])CCC(C)=O", "[13CH3]C(=O)CC", "CC[15NH2]"} {
		checkSteps(t, text, 30, 30, counts)
	}
	report(t, counts, 0.05)
}

// Every kind of step has a movement with arrows.
func TestMovementsOfAllKinds(t *testing.T) {
	if testing.Short() {
		t.Skip("many steps")
	}
	counts := map[Kind]*tally{}
	for _, text := range []string{
		"CCCC(C)=O", "CCCCOC(C)=O", "O=[N+]([O-])c1ccccc1", "O=S(=O)(c1ccccc1)c1ccccc1", "C[Si](C)(C)OCCCO[Si](C)(C)C",
		"C1CCC=CC1", "CCCCCl", "Oc1ccccc1", "C=CCCC", "CCCCc1ccccc1", "c1ccncc1",
	} {
		checkSteps(t, text, 1000, 3, counts)
	}
	for _, k := range Kinds {
		if c := counts[k.Kind]; c == nil || c.steps == c.whole {
			t.Errorf("no movement with arrows of a step of the kind %q", k.Name)
		}
	}
}

// report asks that few ions take steps without arrows, as a share of all.
func report(t *testing.T, counts map[Kind]*tally, most float64) {
	t.Helper()
	var all tally
	for _, k := range Kinds {
		if c := counts[k.Kind]; c != nil {
			all.steps += c.steps
			all.whole += c.whole
			all.flow += c.flow
			all.lost += c.lost
			if c.whole > 0 {
				t.Logf("%s: %d of %d steps without arrows", k.Name, c.whole, c.steps)
			}
		}
	}
	t.Logf("%d of %d steps without arrows, %.3f of the ions", all.whole, all.steps, all.lost/all.flow)
	if all.lost > most*all.flow {
		t.Errorf("%.3f of the ions take steps without arrows; want at most %.3f", all.lost/all.flow, most)
	}
}

func TestMovementsOfFixtures(t *testing.T) {
	if testing.Short() {
		t.Skip("many structures")
	}
	counts := map[Kind]*tally{}
	for i, r := range fixture.Measured(t) {
		if i%6 == 0 {
			checkSteps(t, r.SMILES, 12, 12, counts)
		}
	}
	report(t, counts, 0.05)
}

func TestMovementsOfShared(t *testing.T) {
	if testing.Short() {
		t.Skip("many structures")
	}
	counts := map[Kind]*tally{}
	seen := map[string]bool{}
	for _, r := range witness.Records(t, "train") {
		seen[r.SMILES] = true
	}
	for i, text := range slices.Sorted(maps.Keys(seen)) {
		if i%250 == 0 {
			checkSteps(t, text, 12, 12, counts)
		}
	}
	report(t, counts, 0.05)
}
