// Package propose makes questions from an idea and a level: it picks compounds
// for which the idea is what decides, computes key, distractors, hints and
// solution, and makes versions with different compounds of equal difficulty.
// For most uses call [Propose]; [Ideas] lists what there is.
//
// Spectra are computed by package ionize, so heights are those of a model.
package propose

import (
	"cmp"
	"context"
	"fmt"
	"hash/fnv"
	"math"
	"slices"

	"ionwright/chem"
	"ionwright/ionize"
	"ionwright/mol"
	"ionwright/mol/smiles"
	"ionwright/practice"
	"ionwright/practice/cause"
	"ionwright/reading"
	"ionwright/spectrum"
)

// Compound is a compound that questions may be about.
type Compound struct{ Name, SMILES string }

// Request says what is wanted.
type Request struct {
	Idea      string // a name from Ideas
	Level     int    // 1 first steps, 2 a course, 3 advanced
	Versions  int    // 1 to 26, called A, B, C ...
	Seed      uint64 // another seed gives other compounds
	Compounds []Compound
}

// Version is one version of a question.
type Version struct {
	Letter   string
	Compound Compound
	Question *practice.Question
}

// Levels are the sizes of molecules at each level, in atoms other than
// hydrogen.
var levels = [4]struct{ least, most int }{1: {3, 8}, 2: {5, 10}, 3: {6, 14}}

// Propose makes the versions of a question. It fails for an unknown idea, a
// level that isn't 1 to 3, a number of versions that isn't 1 to 26, where too
// few compounds suit or none are of nearly equal difficulty ([EqualWithin]), and
// with the context's error.
func Propose(ctx context.Context, r Request) ([]Version, error) {
	idea, ok := named(r.Idea)
	switch {
	case !ok:
		return nil, fmt.Errorf("proposing a question: there is no idea %q", r.Idea)
	case r.Level < 1 || r.Level > 3:
		return nil, fmt.Errorf("proposing a question on %q: the level is %d, and there are 1, 2 and 3", r.Idea, r.Level)
	case r.Versions < 1 || r.Versions > 26:
		return nil, fmt.Errorf("proposing a question on %q: %d versions are wanted, and there can be 1 to 26", r.Idea, r.Versions)
	}
	pool, err := r.pool(ctx, idea)
	if err != nil {
		return nil, err
	}
	if len(pool) < r.Versions {
		return nil, fmt.Errorf("proposing a question on %q at level %d: %d versions are wanted, and only %d of the compounds suit\nhint: ask for fewer, or for another level",
			r.Idea, r.Level, r.Versions, len(pool))
	}
	out, apart := nearest(pool, r.Versions)
	if apart > EqualWithin {
		return nil, fmt.Errorf("proposing a question on %q at level %d: %d versions are wanted, and the compounds that suit differ in difficulty by %.2f at least, more than %.2f\nhint: ask for fewer, or for another level",
			r.Idea, r.Level, r.Versions, apart, EqualWithin)
	}
	for i := range out {
		out[i].Letter = string(rune('A' + i))
		out[i].Question.ID += "_" + out[i].Letter
	}
	return out, nil
}

// EqualWithin is how much the difficulties of versions of one question may
// differ: half a point of the measure, as two more atoms make.
const EqualWithin = 0.5

// nearest are the n questions of the pool that differ least in difficulty, in
// its order, and by how much they do.
func nearest(pool []Version, n int) ([]Version, float64) {
	all := slices.Clone(pool)
	slices.SortStableFunc(all, func(a, b Version) int { return cmp.Compare(a.Question.Difficulty, b.Question.Difficulty) })
	best, apart := 0, math.Inf(1)
	for i := range len(all) - n + 1 {
		if d := all[i+n-1].Question.Difficulty - all[i].Question.Difficulty; d < apart {
			best, apart = i, d
		}
	}
	return slices.Clone(all[best:min(best+n, len(all))]), apart
}

// pool are more suitable compounds than are wanted, with their questions, in
// the seed's order: some more, and as many as it takes to find versions of
// equal difficulty.
func (r Request) pool(ctx context.Context, idea Idea) ([]Version, error) {
	most := 3*r.Versions + 2
	var out []Version
	seen := map[string]bool{}
	for _, c := range r.shuffled() {
		m, err := smiles.Parse(c.SMILES)
		if err != nil || !inSize(m, r.Level) || !idea.suits(m, r.Level) || seen[smiles.Canonical(m)] {
			continue
		}
		seen[smiles.Canonical(m)] = true
		s, err := newSubject(ctx, c, m, r)
		if ctx.Err() != nil {
			return nil, ctx.Err()
		}
		if err != nil {
			continue // beyond the engine
		}
		q, err := idea.ask(ctx, s)
		if err != nil {
			return nil, err
		}
		if q == nil {
			continue
		}
		s.finish(q, idea)
		out = append(out, Version{Compound: c, Question: q})
		if len(out) >= most {
			if _, apart := nearest(out, r.Versions); apart <= EqualWithin {
				break
			}
		}
	}
	return out, nil
}

// shuffled are the compounds in an order that depends on seed and idea alone.
func (r Request) shuffled() []Compound {
	rank := func(c Compound) uint64 {
		h := fnv.New64a()
		fmt.Fprintf(h, "%d %s %s", r.Seed, r.Idea, c.SMILES)
		x := h.Sum64() // the sum of neighboring texts differs little in its high bits
		x ^= x >> 33
		x *= 0xff51afd7ed558ccd
		return x ^ x>>33
	}
	out := slices.Clone(r.Compounds)
	slices.SortStableFunc(out, func(a, b Compound) int { return cmp.Compare(rank(a), rank(b)) })
	return out
}

func inSize(m *mol.Mol, level int) bool {
	n := m.NumAtoms()
	f := m.Formula()
	const heaviest = 260 // Da: computed spectra of heavier compounds are often wrong
	return n >= levels[level].least && n <= levels[level].most && len(m.Components()) == 1 && f.Charge() == 0 &&
		f.NominalMass() <= heaviest && f == f.Natural()
}

// subject is a compound with all that questions about it need.
type subject struct {
	Compound
	mol        *mol.Mol
	formula    chem.Formula
	prediction *ionize.Prediction
	spectrum   spectrum.Spectrum
	given      reading.Given
	request    Request
}

func newSubject(ctx context.Context, c Compound, m *mol.Mol, r Request) (*subject, error) {
	p, err := ionize.Predict(ctx, m, ionize.Settings{})
	if err != nil {
		return nil, err
	}
	s := p.Spectrum().Unit().Scaled(100).AtLeast(0.5)
	if len(s.Peaks) < 3 {
		return nil, fmt.Errorf("the computed spectrum of %q has too few peaks", c.SMILES)
	}
	given := reading.Given{NominalMass: m.Formula().NominalMass()}
	if r.Idea == "molecular-ion" {
		given.NominalMass = 0 // it is what is asked for
	}
	return &subject{c, m, m.Formula(), p, s, given, r}, nil
}

func (s *subject) mass() int { return s.formula.NominalMass() }

func (s *subject) base() int {
	b, _ := s.spectrum.Base()
	return int(math.Round(b.MZ))
}

// facts are those of a question about the subject.
func (s *subject) facts(asks cause.Asks) cause.Facts {
	return cause.Facts{Asks: asks, Compound: s.mol, Formula: s.formula, Spectrum: s.spectrum}
}

// at adds the ion at an m/z to the facts; false where there is none, or more
// than one that matters.
func (s *subject) at(f *cause.Facts, mz int) bool {
	ions := s.prediction.At(mz)
	const clear = 0.05 // share of the strongest from which a second ion makes the answer doubtful
	if len(ions) == 0 {
		return false
	}
	for _, other := range ions[1:] {
		if other.Formula != ions[0].Formula && other.Abundance > clear*ions[0].Abundance {
			return false
		}
	}
	f.MZ, f.Ion, f.Possible = float64(mz), ions[0].Formula, []chem.Formula{ions[0].Formula}
	return true
}

// route says in words how the ion at an m/z comes about.
func (s *subject) route(mz int) string {
	if ions := s.prediction.At(mz); len(ions) > 0 {
		return s.prediction.Sentence(ions[0])
	}
	return ""
}

// Difficulty is the measure by which versions are made equal: a point for each
// four atoms other than hydrogen, for each six peaks of at least 5 % of the base
// peak, for a molecular ion under 10 % and another under 1 %, and half a point
// for each element beside carbon and hydrogen.
func (s *subject) difficulty() float64 {
	const strong, weak, unseen = 5, 10, 1 // % of the base peak
	d := float64(s.mol.NumAtoms())/4 + float64(len(s.spectrum.AtLeast(strong).Peaks))/6
	if x := s.spectrum.Relative(s.mass()); x < unseen {
		d += 2
	} else if x < weak {
		d++
	}
	for species := range s.formula.All() {
		if e := species.Element(); e != chem.C && e != chem.H {
			d += 0.5
		}
	}
	return math.Round(100*d) / 100
}

// finish adds what every question has.
func (s *subject) finish(q *practice.Question, idea Idea) {
	q.Idea = idea.Name
	q.Difficulty = s.difficulty()
	q.Hints = s.hints(idea.clue, int(q.Facts.MZ))
	if s.request.Level == 1 {
		asChoice(q)
	}
}

// hints are the reading's statement on a family of clues at its three depths:
// on the peak asked about where there is one, else the first.
func (s *subject) hints(kind reading.Kind, mz int) []string {
	r := reading.Read(s.spectrum, s.given)
	best := -1
	for i, c := range r.Clues[:min(len(r.Clues), len(r.Argument))] {
		if c.Kind == kind && (best < 0 || slices.Contains(c.Peaks, mz) && !slices.Contains(r.Clues[best].Peaks, mz)) {
			best = i
		}
	}
	if best < 0 {
		return nil
	}
	var out []string
	for _, text := range []string{r.Argument[best].Hint, r.Argument[best].Step, r.Argument[best].Full} {
		if text != "" && !slices.Contains(out, text) {
			out = append(out, text)
		}
	}
	return out
}
