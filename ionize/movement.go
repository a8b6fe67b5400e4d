package ionize

import (
	"errors"
	"fmt"
	"slices"

	"ionwright/chem"
)

// Movement is how the electrons go in one step: one panel, or several where a
// step is made of movements that follow each other, as a hydrogen shift and the
// cleavage after it.
type Movement struct {
	Kind   Kind
	Panels []Panel
	// Whole says that the ion reorganizes as a whole and no arrows can be written
	// that mean anything: the one panel has none. So it is where the neutral could
	// only leave as a carbene, which it isn't (ethyne from tropylium), and where
	// charge and breaking bond are too far apart.
	Whole bool
}

// Panel is one movement of electrons: the form before it, the arrows, and the
// form after it, made of the same atoms in the same order.
type Panel struct {
	Name   string // what happens, such as "hydrogen shift"; empty for the breaking of bonds
	Before Form
	Arrows []Arrow
	After  Form
}

// Form is one resonance form of what takes part in a step, ion and neutral
// alike.
type Form struct {
	Atoms []FormAtom
	Bonds []FormBond // joined pairs only
}

// FormAtom is an atom of a form.
type FormAtom struct {
	Atom       int // in the molecule; for a hydrogen that moves or leaves, the atom that bore it at first
	Element    chem.Element
	Isotope    int // mass number of a label, 0 for none
	Hydrogens  int // those that aren't atoms of the form, deuterium counted
	Deuterium  int // of these
	Charge     int // formal
	Unbonded   int // electrons in lone pairs and unpaired
	Leaves     bool
	IsHydrogen bool // one that moves or leaves
}

// LonePairs is the number of the atom's lone pairs.
func (a FormAtom) LonePairs() int { return a.Unbonded / 2 }

// Radical is 1 where the atom has an unpaired electron.
func (a FormAtom) Radical() int { return a.Unbonded % 2 }

// FormBond is the bond between two atoms of a form, given by their place in it.
type FormBond struct {
	Begin, End int
	Electrons  int // shared: 2 for a single bond; odd in a bond that ionization took an electron from
}

// Site is a place of electrons: an atom, or the bond between two, existing or
// made by the arrow.
type Site struct {
	Bond       bool
	Begin, End int // atoms by place in the form; End only for a bond
}

// Arrow is one or two electrons going from a bond, a lone pair or an unpaired
// electron to a bond or an atom.
type Arrow struct {
	From, To  Site
	Electrons int // 1 or 2
}

// Movement returns how the electrons go in a step of the prediction.
//
// Where resonance forms are needed that a single step doesn't settle, they are
// those that need the fewest arrows and fit the step's name. Where no arrows
// lead from the ion to the pieces, or only to a piece that can't be meant (a
// carbene), the movement is marked Whole. It fails for a step that isn't of
// this prediction.
func (p *Prediction) Movement(step Step) (Movement, error) {
	w, err := p.whereabouts()
	if err != nil {
		return Movement{}, err
	}
	m, _, err := p.movement(w, step, nil)
	return m, err
}

// RouteMovements returns how the electrons go in each step of the route to an
// ion (see Route). Each ion reacts in the form in which the step before left
// it; where it can't, the first panel of the next step rewrites it as another
// resonance form. Atoms keep the molecule's numbers all along the route. It
// fails where Movement fails for a step.
func (p *Prediction) RouteMovements(ion int) ([]Movement, error) {
	w, err := p.whereabouts()
	if err != nil {
		return nil, err
	}
	var out []Movement
	var last *Form
	for _, step := range p.Route(ion) {
		m, end, err := p.movement(w, step, last)
		if err != nil {
			return nil, err
		}
		out = append(out, m)
		last = &end
		w = w.after(p.molecule, &step.taken.ion, &p.Ions[step.To].skeleton)
	}
	return out, nil
}

// movement is Movement for an ion left in a known form, and the form at its
// end.
func (p *Prediction) movement(w whereabouts, step Step, previous *Form) (Movement, Form, error) {
	if step.taken == nil || p.molecule == nil || step.From < 0 || step.From >= len(p.Ions) {
		return Movement{}, Form{}, errors.New("following the electrons: the step isn't one of the prediction's steps")
	}
	fail := func(err error) (Movement, Form, error) {
		return Movement{}, Form{}, fmt.Errorf("following the electrons of the %s from m/z %d: %w", step.Kind, p.Ions[step.From].MZ, err)
	}
	a, err := newAccount(p.molecule, w, &p.Ions[step.From].skeleton, step.taken)
	if err != nil {
		return fail(err)
	}
	if previous != nil {
		a.previous = a.carry(w, previous)
	}
	end := a.ways()
	if end == nil && a.previous != nil { // not from there: drawn anew
		a.previous = nil
		end = a.ways()
	}
	if end == nil || a.carbeneLeaves(end.form) {
		before, after := a.whole()
		if before == nil || after == nil {
			return fail(errors.New("no resonance form of the ion or of its pieces can be written"))
		}
		end := a.form(w, after)
		return Movement{Kind: a.kind, Whole: true, Panels: []Panel{{Before: a.form(w, before), After: end}}}, end, nil
	}
	return a.movement(w, end), a.form(w, end.form), nil
}

// movement writes a way out.
func (a *account) movement(w whereabouts, end *way) Movement {
	out := Movement{Kind: a.kind}
	for at := end; at.from != nil; at = at.from {
		out.Panels = append(out.Panels, a.panel(w, at))
	}
	slices.Reverse(out.Panels)
	return out
}

func (a *account) panel(w whereabouts, to *way) Panel {
	p := Panel{Before: a.form(w, to.from.form), After: a.form(w, to.form)}
	for _, e := range to.doing {
		if name := a.events[e].name; name != "" {
			p.Name = name
		}
	}
	site := func(s spot) Site {
		if s.pair {
			return Site{true, a.pairs[s.at][0], a.pairs[s.at][1]}
		}
		return Site{Begin: s.at}
	}
	for _, f := range to.moved {
		p.Arrows = append(p.Arrows, Arrow{site(f.from), site(f.to), int(f.electrons)})
	}
	return p
}

func (a *account) form(w whereabouts, l *lewis) Form {
	var f Form
	for i := range a.atoms {
		at := &a.atoms[i]
		f.Atoms = append(f.Atoms, FormAtom{
			Atom: w.source[at.source], Element: at.element, Isotope: int(at.isotope),
			Hydrogens: int(at.hydrogens), Deuterium: int(at.deuterium), Charge: int(l.charge[i]), Unbonded: int(a.loose(l, i)),
			Leaves: a.leaves[i], IsHydrogen: at.element == chem.H,
		})
	}
	for p, ends := range a.pairs {
		if l.joined[p] {
			f.Bonds = append(f.Bonds, FormBond{ends[0], ends[1], int(l.shared(p))})
		}
	}
	return f
}
