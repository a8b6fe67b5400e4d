package rival

import (
	"cmp"
	"context"
	"errors"
	"slices"

	"ionwright/chem"
	"ionwright/isomer"
	"ionwright/mol"
	"ionwright/mol/smiles"
	"ionwright/reading"
	"ionwright/spectrum/match"
)

// look is what a quick look at a structure gave.
type look struct {
	m     *mol.Mol
	text  string // canonical SMILES, once it is needed
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
	case few, s.options.WithoutClues:
		s.clues = nil
	default:
		s.occurs = append(s.occurs, s.sure...)
	}
	if s.far.Looked {
		return nil
	}
	q := newQuick(match.View(s.spectrum), reading.Quick(s.spectrum, s.given))
	for i := len(s.result.Formulas); i < len(s.formulas); i++ {
		if err := s.lookAt(ctx, s.formulas[i], q); err != nil {
			return err
		}
	}
	for i := range s.kept {
		s.kept[i].name()
	}
	s.kept = slices.DeleteFunc(s.kept, func(l look) bool { return l.text == s.result.Answer })
	slices.SortFunc(s.kept, func(a, b look) int {
		return cmp.Or(cmp.Compare(b.score, a.score), cmp.Compare(a.text, b.text))
	})
	s.trim(s.options.Most)
	s.far.Looked = true
	s.save()
	return nil
}

// name gives the structure its SMILES, and the graph that is read from it, so
// that a search that was interrupted computes the very same graphs.
func (l *look) name() {
	if l.text != "" {
		return
	}
	l.text = smiles.Canonical(l.m)
	if m, err := smiles.Parse(l.text); err == nil {
		l.m = m
	}
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
		sortTies(s.kept, most)
		s.result.Passed += len(s.kept) - most
		s.result.Complete = false
		clear(s.kept[most:])
		s.kept = s.kept[:most]
	}
}

// sortTies brings the structures that are as good as the one at the place into
// the order of their names: which of them are kept mustn't depend on which was
// looked at first.
func sortTies(sorted []look, at int) {
	first, end := at, at
	for first > 0 && sorted[first-1].score == sorted[at].score {
		first--
	}
	for end < len(sorted) && sorted[end].score == sorted[at].score {
		sorted[end].name()
		end++
	}
	for i := first; i < at; i++ {
		sorted[i].name()
	}
	slices.SortFunc(sorted[first:end], func(a, b look) int { return cmp.Compare(a.text, b.text) })
}

// saveEvery is after how many structures looked at the search is saved.
const saveEvery = 50_000

// lookAt goes through the structures of a formula, from where an earlier search
// stopped.
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
	if s.far.Token != "" {
		if runner.From, err = space.ParseToken(s.far.Token); err != nil {
			return err
		}
	}
	newWork := func() func(*isomer.Structure) (look, bool) {
		mine := q.clone()
		return func(st *isomer.Structure) (look, bool) {
			m := st.Mol()
			return look{m: m, score: mine.score(m)}, true
		}
	}
	const toldEvery = 64
	at := runner.From
	err = isomer.Run(ctx, space, runner, newWork, func(l look, after isomer.Position) error {
		s.far.Seen++
		if s.kept = append(s.kept, l); len(s.kept) >= 4*s.options.Most {
			s.trim(2 * s.options.Most)
		}
		at = after
		if s.far.Seen%toldEvery == 0 {
			s.options.Progress("structures of "+f.String()+" looked at", int(s.far.Seen), int(min(bound, s.options.Look)))
		}
		if s.far.Seen%saveEvery == 0 {
			s.far.Token = space.Token(at)
			s.save()
		}
		return nil
	})
	if err != nil {
		s.far.Token = space.Token(at)
		s.save()
		return err
	}
	s.result.Formulas = append(s.result.Formulas, Formula{f, s.far.Seen, share})
	s.far.Token, s.far.Seen = "", 0
	return nil
}
