package rival

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"sync"

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
	list     []candidate.Structure
}

// mostRanked leaves room for the answer among the structures ranked.
const mostRanked = candidate.Most - 1

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
			s.clues = append(s.clues, "no "+g.Name)
		}
	}
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

// look is what a quick look at a structure gave.
type look struct {
	m     *mol.Mol
	text  string // SMILES
	score float64
}

// look goes through the structures of each formula and keeps those that come
// off best in a quick look. What the peaks say beyond doubt narrows the search
// only where there are more structures than can be computed.
func (s *search) look(ctx context.Context) error {
	few, err := s.few(ctx)
	switch {
	case err != nil:
		return err
	case few:
		s.clues = nil
	default:
		s.occurs = append(s.occurs, s.sure...)
	}
	q := newQuick(match.View(s.spectrum), reading.Quick(s.spectrum, s.given))
	for _, f := range s.formulas {
		if err := s.lookAt(ctx, f, q); err != nil {
			return err
		}
	}
	for i := range s.kept {
		s.kept[i].text = smiles.Canonical(s.kept[i].m)
	}
	s.kept = slices.DeleteFunc(s.kept, func(l look) bool { return l.text == s.result.Answer })
	slices.SortFunc(s.kept, func(a, b look) int {
		return cmp.Or(cmp.Compare(b.score, a.score), cmp.Compare(a.text, b.text))
	})
	s.trim(s.options.Most)
	return nil
}

// few tells whether all structures that what is given allows can be computed.
func (s *search) few(ctx context.Context) (bool, error) {
	total := uint64(0)
	for _, f := range s.formulas {
		space, err := s.space(f)
		if err != nil {
			return false, err
		}
		bound, err := space.Bound(ctx, s.options.Workers)
		if err != nil {
			return false, err
		}
		if bound > s.options.Look {
			return false, nil
		}
		newWork := func() func(*isomer.Structure) (bool, bool) {
			return func(*isomer.Structure) (bool, bool) { return true, true }
		}
		err = isomer.Run(ctx, space, isomer.Runner{Workers: s.options.Workers}, newWork, func(bool, isomer.Position) error {
			if total++; total > uint64(s.options.Most) {
				return errMany
			}
			return nil
		})
		if errors.Is(err, errMany) {
			return false, nil
		}
		if err != nil {
			return false, err
		}
	}
	return true, nil
}

var errMany = errors.New("there are too many structures to compute all")

func (s *search) space(f chem.Formula) (*isomer.Space, error) {
	return isomer.New(f, isomer.Options{Occurs: s.occurs, Without: []string{"all"}})
}

// trim passes the worst of those kept over.
func (s *search) trim(most int) {
	if len(s.kept) > most {
		slices.SortStableFunc(s.kept, func(a, b look) int { return cmp.Compare(b.score, a.score) })
		s.result.Passed += len(s.kept) - most
		s.result.Complete = false
		clear(s.kept[most:])
		s.kept = s.kept[:most]
	}
}

func (s *search) lookAt(ctx context.Context, f chem.Formula, q quick) error {
	space, err := s.space(f)
	if err != nil {
		return err
	}
	bound, err := space.Bound(ctx, s.options.Workers)
	if err != nil {
		return err
	}
	runner := isomer.Runner{Workers: s.options.Workers}
	share := 1.0
	if bound > s.options.Look {
		runner.Every = bound/s.options.Look + 1
		share = 1 / float64(runner.Every)
		s.result.Complete = false
	}
	newWork := func() func(*isomer.Structure) (look, bool) {
		mine := q.clone()
		return func(st *isomer.Structure) (look, bool) {
			m := st.Mol()
			return look{m: m, score: mine.score(m)}, true
		}
	}
	seen := uint64(0)
	err = isomer.Run(ctx, space, runner, newWork, func(l look, _ isomer.Position) error {
		seen++
		if s.kept = append(s.kept, l); len(s.kept) >= 4*s.options.Most {
			s.trim(2 * s.options.Most)
		}
		if seen%512 == 0 {
			s.options.Progress("structures of "+f.String()+" looked at", int(seen), int(min(bound, s.options.Look)))
		}
		return nil
	})
	s.result.Formulas = append(s.result.Formulas, Formula{f, seen, share})
	return err
}

// compute computes the spectra of the structures kept.
func (s *search) compute(ctx context.Context) error {
	predictions := make([]*ionize.Prediction, len(s.kept))
	next := make(chan int)
	done := make(chan int, len(s.kept))
	var group sync.WaitGroup
	for range s.options.Workers {
		group.Go(func() {
			for i := range next {
				if p, err := ionize.Predict(ctx, s.kept[i].m, ionize.Settings{}); err == nil {
					predictions[i] = p
				}
				done <- i
			}
		})
	}
	group.Go(func() {
		defer close(next)
		for i := range s.kept {
			select {
			case next <- i:
			case <-ctx.Done():
				return
			}
		}
	})
	for n := 0; n < len(s.kept) && ctx.Err() == nil; n++ {
		select {
		case <-done:
			s.options.Progress("spectra computed", n+1, len(s.kept))
		case <-ctx.Done():
		}
	}
	group.Wait()
	s.list = []candidate.Structure{s.answer}
	for i, p := range predictions {
		if p == nil {
			s.result.Refused++
			continue
		}
		s.list = append(s.list, candidate.Structure{Name: s.kept[i].text, Mol: s.kept[i].m, Prediction: p})
	}
	s.result.Computed = len(s.list) - 1
	return ctx.Err()
}
