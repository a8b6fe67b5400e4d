package ionize

import (
	"fmt"
	"maps"
	"slices"

	"ionwright/chem"
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
