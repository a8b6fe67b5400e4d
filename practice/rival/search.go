package rival

import (
	"context"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"ionwright/chem"
	"ionwright/ionize"
	"ionwright/isomer"
	"ionwright/mol"
	"ionwright/mol/groups"
	"ionwright/mol/smarts"
	"ionwright/mol/smiles"
	"ionwright/reading"
	"ionwright/reading/candidate"
	"ionwright/reading/infer"
	"ionwright/spectrum"
	"ionwright/spectrum/match"
)

// search is one search under way.
type search struct {
	problem  Problem
	options  Options
	result   *Result
	answer   candidate.Structure
	spectrum spectrum.Spectrum
	computed spectrum.Spectrum // the answer's
	given    reading.Given
	occurs   []isomer.Occurs
	formulas []chem.Formula
	leftOut  []string        // formulas that the spectrum makes improbable
	sure     []isomer.Occurs // what the peaks say beyond reasonable doubt
	clues    []string        // the same by name; emptied where it isn't needed
	kept     []look
	far      progress
}

func (s *search) prepare(ctx context.Context) error {
	p := &s.problem
	m, err := flat(p.Answer)
	if err != nil {
		return err
	}
	s.result.Answer = smiles.Canonical(m)
	s.answer = candidate.Structure{Name: s.result.Answer, Mol: m}
	if s.answer.Prediction, err = ionize.Predict(ctx, m, ionize.Settings{}); err != nil {
		return err
	}
	s.computed = s.answer.Prediction.Spectrum()
	s.spectrum = p.Spectrum
	if len(match.View(s.spectrum).Peaks) == 0 {
		if len(p.Spectrum.Peaks) > 0 {
			return errors.New("the spectrum has no peaks at m/z 29 or more")
		}
		s.spectrum = s.computed
	}
	for _, name := range p.Groups {
		if err := s.occur(name, isomer.Range{Least: 1, Most: -1}, "is given, but the answer hasn't it"); err != nil {
			return err
		}
		if slices.ContainsFunc(infer.Groups, func(x infer.Group) bool { return x.Name() == name }) {
			s.given.Groups = append(s.given.Groups, name)
		}
	}
	for _, name := range p.Absent {
		if err := s.occur(name, isomer.Range{}, "is said to be absent, but the answer has it"); err != nil {
			return err
		}
	}
	s.chooseFormulas()
	s.takeClues()
	s.goOn()
	return nil
}

// From these probabilities on, what the peaks say of a group is taken as given,
// where it is true of the answer: a reader would.
const (
	sureThere  = 0.9
	sureAbsent = 0.02
)

// takeClues takes groups that the peaks show, or exclude, beyond reasonable
// doubt.
func (s *search) takeClues() {
	for _, g := range reading.Read(s.spectrum, s.given).Groups {
		p, err := pattern(g.Name)
		if err != nil || slices.Contains(s.problem.Groups, g.Name) || slices.Contains(s.problem.Absent, g.Name) {
			continue
		}
		switch has := p.Match(s.answer.Mol); {
		case has && g.Probability >= sureThere:
			s.sure = append(s.sure, isomer.Occurs{Pattern: p, Range: isomer.Range{Least: 1, Most: -1}})
			s.clues = append(s.clues, g.Name)
		case !has && g.Probability <= sureAbsent:
			s.sure = append(s.sure, isomer.Occurs{Pattern: p, Range: isomer.Range{}})
			if s.thinkable(p) {
				s.clues = append(s.clues, "no "+g.Name)
			}
		}
	}
}

// heteroatom finds elements beside carbon and hydrogen in a SMARTS.
var heteroatom = regexp.MustCompile(`Cl|Br|Si|[NOSPFI]|\b[nos]\b`)

// thinkable tells whether a formula gone through has an element of the pattern,
// so that its absence is worth a word.
func (s *search) thinkable(p *smarts.Pattern) bool {
	named := heteroatom.FindAllString(p.String(), -1)
	for _, symbol := range named {
		if e, ok := chem.ElementBySymbol(strings.ToUpper(symbol[:1]) + symbol[1:]); ok && slices.ContainsFunc(s.formulas, func(f chem.Formula) bool { return f.Count(e) > 0 }) {
			return true
		}
	}
	return len(named) == 0
}

// flat is the molecule without arrangements in space.
func flat(m *mol.Mol) (*mol.Mol, error) {
	b := m.Edit()
	for v := range m.NumAtoms() {
		a := b.Atom(v)
		a.Chirality = mol.NotChiral
		b.SetAtom(v, a)
	}
	for i := range m.NumBonds() {
		if b.Bond(i).Stereo != mol.NoStereo {
			b.SetStereo(i, mol.NoStereo)
		}
	}
	return b.Mol()
}

// occur adds a group that must occur so often.
func (s *search) occur(name string, r isomer.Range, otherwise string) error {
	pattern, err := pattern(name)
	if err != nil {
		return err
	}
	if pattern.Match(s.answer.Mol) != (r.Least > 0) {
		return fmt.Errorf("the group %q %s", name, otherwise)
	}
	s.occurs = append(s.occurs, isomer.Occurs{Pattern: pattern, Range: r})
	return nil
}

// pattern finds a group by its name.
func pattern(name string) (*smarts.Pattern, error) {
	for _, g := range infer.Groups {
		if g.Name() == name {
			return smarts.Compile(g.SMARTS())
		}
	}
	if p, ok := groups.Pattern(name); ok {
		return p, nil
	}
	return nil, fmt.Errorf("there is no group %q", name)
}

// What a formula needs to be gone through where none is given.
const (
	leastFormula = 0.02 // probability by the spectrum
	mostFormulas = 4
)

// chooseFormulas takes the formula given, or the answer's and those that the
// spectrum makes probable.
func (s *search) chooseFormulas() {
	own := s.answer.Mol.Formula()
	s.formulas = []chem.Formula{own}
	if s.problem.FormulaGiven {
		s.given.Formula = own
		return
	}
	if s.problem.MassGiven {
		s.given.NominalMass = own.NominalMass()
	}
	for _, f := range reading.Quick(s.spectrum, s.given).Formulas {
		switch {
		case f.Formula == own:
		case f.Probability >= leastFormula && len(s.formulas) < mostFormulas:
			s.formulas = append(s.formulas, f.Formula)
		case len(s.leftOut) < 3:
			s.leftOut = append(s.leftOut, f.Formula.String())
		}
	}
}
