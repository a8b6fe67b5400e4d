package ionize

import (
	"context"
	"fmt"
	"maps"
	"slices"
	"testing"

	"ionwright/chem"
	"ionwright/internal/fixture"
	"ionwright/internal/textbook"
	"ionwright/internal/witness"
	"ionwright/mol/smiles"
)

// electrons is a form as nothing but places of electrons.
type electrons struct {
	bonds map[[2]int]int
	atoms []int
}

func electronsOf(f Form) electrons {
	e := electrons{bonds: map[[2]int]int{}}
	for _, b := range f.Bonds {
		e.bonds[[2]int{min(b.Begin, b.End), max(b.Begin, b.End)}] += b.Electrons
	}
	for _, a := range f.Atoms {
		e.atoms = append(e.atoms, a.Unbonded)
	}
	return e
}

// fly moves the electrons of one arrow, and says what is wrong with it.
func (e electrons) fly(a Arrow) error {
	if a.Electrons != 1 && a.Electrons != 2 {
		return fmt.Errorf("an arrow of %d electrons", a.Electrons)
	}
	atoms := func(s Site) []int {
		if s.Bond {
			return []int{s.Begin, s.End}
		}
		return []int{s.Begin}
	}
	move := func(s Site, n int) {
		if s.Bond {
			e.bonds[[2]int{min(s.Begin, s.End), max(s.Begin, s.End)}] += n
		} else {
			e.atoms[s.Begin] += n
		}
	}
	if !a.From.Bond && !a.To.Bond {
		return fmt.Errorf("an arrow from atom %d to atom %d", a.From.Begin, a.To.Begin)
	}
	if !slices.ContainsFunc(atoms(a.From), func(i int) bool { return slices.Contains(atoms(a.To), i) }) {
		return fmt.Errorf("an arrow from %v to %v, which share no atom", a.From, a.To)
	}
	move(a.From, -a.Electrons)
	move(a.To, a.Electrons)
	return nil
}

// checkPanel says what is wrong with a panel: arrows must begin where electrons
// are and end where they are received, and lead exactly from the first form to
// the second.
func checkPanel(p Panel) error {
	e, after := electronsOf(p.Before), electronsOf(p.After)
	for _, a := range p.Arrows {
		if err := e.fly(a); err != nil {
			return err
		}
	}
	for site, n := range e.bonds {
		if n < 0 {
			return fmt.Errorf("the bond %v gives more electrons than it has", site)
		}
	}
	maps.DeleteFunc(e.bonds, func(_ [2]int, n int) bool { return n == 0 })
	if !maps.Equal(e.bonds, after.bonds) || !slices.Equal(e.atoms, after.atoms) {
		return fmt.Errorf("the arrows lead to %v, not to %v", e, after)
	}
	for _, f := range []Form{p.Before, p.After} {
		if err := checkForm(f); err != nil {
			return err
		}
	}
	return nil
}

// checkForm says what is wrong with a form: a formal charge that isn't what the
// electrons say, or more than eight electrons around an atom of the second
// period.
func checkForm(f Form) error {
	bonded := make([]int, len(f.Atoms))
	odd := 0
	for _, b := range f.Bonds {
		bonded[b.Begin] += b.Electrons
		bonded[b.End] += b.Electrons
		odd += b.Electrons % 2
	}
	total := 0
	for i, a := range f.Atoms {
		group := map[chem.Element]int{chem.H: 1, chem.C: 4, chem.Si: 4, chem.N: 5, chem.P: 5, chem.O: 6, chem.S: 6, chem.F: 7, chem.Cl: 7, chem.Br: 7, chem.I: 7}[a.Element]
		shared := bonded[i] + 2*a.Hydrogens
		// An electron missing from a bond is counted half for each of its atoms.
		if twice := 2*(group-a.Unbonded) - shared; twice != 2*a.Charge && twice != 2*a.Charge+1 {
			return fmt.Errorf("atom %d (%s) has a charge of %d, and %d unbonded and %d bonding electrons", i, a.Element.Symbol(), a.Charge, a.Unbonded, shared)
		}
		if a.Unbonded < 0 || a.Element <= chem.Ne && a.Element != chem.H && a.Unbonded+shared > 8 {
			return fmt.Errorf("atom %d (%s) has %d electrons around it", i, a.Element.Symbol(), a.Unbonded+shared)
		}
		total += a.Charge
	}
	if total+odd != 1 {
		return fmt.Errorf("the charges add up to %d", total+odd)
	}
	return nil
}

// formulaOfForm adds up the atoms of a form that leave, or those that stay.
func formulaOfForm(f Form, leave bool) chem.Formula {
	var sum chem.Formula
	for _, a := range f.Atoms {
		if a.Leaves != leave {
			continue
		}
		species := chem.NaturalSpecies(a.Element)
		if a.Isotope != 0 {
			species = chem.LabelledSpecies(a.Element, a.Isotope)
		}
		sum = sum.Plus(of(species, 1)).Plus(of(chem.NaturalSpecies(chem.H), a.Hydrogens-a.Deuterium)).Plus(of(chem.LabelledSpecies(chem.H, 2), a.Deuterium))
	}
	return sum
}

// checkMovement says what is wrong with the movement of a step.
func checkMovement(p *Prediction, step Step, m Movement) error {
	if len(m.Panels) == 0 {
		return fmt.Errorf("no panels")
	}
	for i, panel := range m.Panels {
		if !m.Whole {
			if len(panel.Arrows) == 0 {
				return fmt.Errorf("panel %d has no arrows", i+1)
			}
			if err := checkPanel(panel); err != nil {
				return fmt.Errorf("panel %d: %w", i+1, err)
			}
		}
		if i > 0 && fmt.Sprint(m.Panels[i-1].After) != fmt.Sprint(panel.Before) {
			return fmt.Errorf("panel %d doesn't begin where the one before ends", i+1)
		}
	}
	last := m.Panels[len(m.Panels)-1].After
	if got, want := formulaOfForm(last, false).WithCharge(1), p.Ions[step.To].Formula; got != want {
		return fmt.Errorf("it leads to %s, not to %s", got, want)
	}
	if got := formulaOfForm(last, true); got != step.Loss {
		return fmt.Errorf("%s leaves, not %s", got, step.Loss)
	}
	for _, b := range last.Bonds {
		if last.Atoms[b.Begin].Leaves != last.Atoms[b.End].Leaves {
			return fmt.Errorf("the neutral is still bound")
		}
	}
	charge := 0
	for _, a := range last.Atoms {
		if a.Leaves {
			charge += a.Charge
		}
	}
	if charge != 0 {
		return fmt.Errorf("the neutral has a charge of %d", charge)
	}
	return nil
}

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
