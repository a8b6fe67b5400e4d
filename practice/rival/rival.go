package rival

import (
	"context"
	"errors"
	"fmt"
	"runtime"

	"ionwright/chem"
	"ionwright/mol"
	"ionwright/spectrum"
)

// Problem is what students are given, and the answer meant.
type Problem struct {
	Answer *mol.Mol
	// Spectrum is the one given. Without peaks it is the one computed for the
	// answer.
	Spectrum spectrum.Spectrum
	// FormulaGiven and MassGiven tell whether students are told the molecular
	// formula, or the nominal mass; both are the answer's.
	FormulaGiven, MassGiven bool
	// Groups are known to be there, and Absent not to be, as from an infrared
	// spectrum: names of infer.Groups or groups.All.
	Groups, Absent []string
}

// Verdict is how well a rival can be told from the answer.
type Verdict uint8

// The verdicts.
const (
	Apart Verdict = iota // the spectra differ more than two measurements of one compound
	Close                // they differ as much as one in ten pairs of measurements of one compound
	Same                 // they differ less than most measurements of one compound
)

// String says it in words.
func (v Verdict) String() string {
	return [...]string{"told apart", "hard to tell apart", "can't be told apart"}[v]
}

// The cosines from which spectra are the same and close: the median, and the
// value that one in ten falls below, over 859 compounds with replicate records
// (1,984 pairs, averaged by compound) of the shared measured spectra at 60 to
// 80 eV.
const (
	SameFrom  = 0.934
	CloseFrom = 0.776
)

// Rival is another structure that fits what is given.
type Rival struct {
	SMILES    string
	Mol       *mol.Mol `json:"-"`
	Verdict   Verdict
	Likeness  float64 // cosine of its computed spectrum and the answer's, 0 to 1
	Match     float64 // cosine of its computed spectrum and the one given
	Explained float64 // share of the ion current given that its ions explain
	// Odds is how much better the given spectrum fits it than the answer: above
	// 1 for better.
	Odds     float64
	Deciding []Peak // that tell it from the answer, the weightiest first
}

// Peak is a peak at which a rival and the answer differ.
type Peak struct {
	MZ                   int
	Given, Answer, Rival float64 // % of the base peak: in the spectrum given, and computed for the two
}

// Result is what was found.
type Result struct {
	Answer     string  // SMILES
	Match      float64 // cosine of the answer's computed spectrum and the one given
	Rivals     []Rival // same first, then close, then apart; those that fit better first
	Same       int     // how many are Same
	Close      int     // how many are Close
	Facts      []Fact  // the fewest that leave the answer alone among Same ones; nil where nothing known here does
	CloseFacts []Fact  // that also leave out the Close ones
	// How it was found.
	Formulas []Formula
	Passed   int // structures that came off worst in the quick look and weren't computed
	Refused  int // structures beyond the engine
	Computed int
	Complete bool // every structure allowed was looked at
	// Clues are the groups that were taken from the peaks as sure, "no ..." for
	// one that isn't there; structures against them weren't looked at.
	Clues []string
	Notes []string
}

// Formula is a molecular formula whose structures were gone through.
type Formula struct {
	Formula    chem.Formula
	Structures uint64  // that were looked at
	Share      float64 // of all its structures; under 1 where there were too many
}

// Level is how an author should be warned.
func (r *Result) Level() Verdict {
	switch {
	case r.Same > 0:
		return Same
	case r.Close > 0:
		return Close
	}
	return Apart
}

// Options are the limits of a search; the zero value is sensible.
type Options struct {
	Workers int // 0: as many as there are cores
	// Most is how many structures are computed at most; 0: 300. Each takes some
	// tens of milliseconds.
	Most int
	// Look is how many structures of a formula are looked at; beyond, a sample
	// is. 0: 400,000.
	Look uint64
	// WithoutClues takes nothing from the peaks as sure, even where there are
	// more structures than can be computed.
	WithoutClues bool
	// Progress, where it isn't nil, is told how far the search is.
	Progress func(text string, done, of int)
	// Save, where it isn't nil, gets from time to time, and when the search ends
	// early, what a later search of the same problem with the same limits needs
	// as Saved to go on: at most the spectra under way are computed again, and
	// the result is the same. What another problem saved is left alone.
	Save  func(saved []byte)
	Saved []byte
}

func (o Options) filled() Options {
	if o.Workers <= 0 {
		o.Workers = runtime.NumCPU()
	}
	if o.Most <= 0 {
		o.Most = 300
	}
	if o.Look == 0 {
		o.Look = 400_000
	}
	if o.Progress == nil {
		o.Progress = func(string, int, int) {}
	}
	return o
}

// Find looks for the rivals of an answer. It fails for an answer beyond the
// engine or with atoms that have no common valence, for an unknown group, for
// an answer that hasn't a group given, and when ctx ends.
func Find(ctx context.Context, p Problem, o Options) (*Result, error) {
	o = o.filled()
	if p.Answer == nil || p.Answer.NumAtoms() == 0 {
		return nil, errors.New("looking for rivals: the answer is missing")
	}
	s := &search{problem: p, options: o, result: &Result{Complete: true}}
	for _, stage := range []func(context.Context) error{s.prepare, s.look, s.compute} {
		if err := stage(ctx); err != nil {
			return nil, fmt.Errorf("looking for rivals of %q: %w", s.result.Answer, err)
		}
	}
	s.rank()
	s.result.Facts = s.decide(Same)
	s.result.CloseFacts = s.decide(Close)
	s.note()
	return s.result, nil
}
