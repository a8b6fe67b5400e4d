// Package cause is the list of the wrong rules that students follow when they
// read mass spectra, each a value that computes the wrong answers it leads to
// from the facts of a question. The same list makes the distractors of a
// question, says what a wrong answer probably came from, carries errors
// forward and lets a class's mistakes be counted.
//
// For most uses call [Of] with an answer's meaning, or [Wrong] for all wrong
// answers of a question. The difficulties are those that examiners' reports,
// textbooks and the education literature document; each row names where.
package cause

import (
	"slices"

	"ionwright/chem"
	"ionwright/mol"
	"ionwright/practice/answer"
)

// Code names a cause. It stays the same when the words change.
type Code string

// Cause is a wrong rule.
type Cause struct {
	Code   Code
	Title  string // what happened, in a few words
	Rule   string // the wrong rule, as the student would put it
	Remedy string // what to tell the student, in one or two sentences
	Source string // where the difficulty is documented
	// leads computes the wrong answers that the rule gives, none where the
	// question leaves no room for it.
	leads func(f Facts) []Mistake
	// fits tells whether an answer shows the rule though its very value isn't
	// foreseen; nil: never.
	fits func(f Facts, a Given) bool
}

// Mistake is a wrong answer that a cause leads to. One of Number, Formula,
// Structure, List and Words is set.
type Mistake struct {
	Number    *Reach
	Formula   *chem.Formula
	Structure string // SMILES
	List      []string
	Words     string
	Alone     bool   // Words count only where nothing else of the key is said
	Because   string // how the wrong rule arrives at it, a sentence without its full stop
	Code      Code   // set by Wrong and Leads
}

// Reach is a wrong number and how far an answer may be off to be taken for it.
type Reach struct{ Value, Within float64 }

// Given is an answer as its question's kind read it: what isn't of the kind
// is zero.
type Given struct {
	Number    *float64
	Formula   *answer.Formula
	Structure *mol.Mol
	List      []string
	Pairs     map[string]string
	Words     []string
	Arrows    []answer.Arrow
	Found     int // clues of the key that the words hold
}

// Leads returns the wrong answers of the cause to a question with these facts.
func (c Cause) Leads(f Facts) []Mistake {
	out := c.leads(f)
	for i := range out {
		out[i].Code = c.Code
	}
	return out
}

// Named returns the cause with a code, and false where there is none.
func Named(code Code) (Cause, bool) {
	all := All()
	i := slices.IndexFunc(all, func(c Cause) bool { return c.Code == code })
	if i < 0 {
		return Cause{}, false
	}
	return all[i], true
}

// Wrong returns the wrong answers of all causes to a question with these
// facts, in the order of the list.
func Wrong(f Facts) []Mistake {
	var out []Mistake
	for _, c := range All() {
		out = append(out, c.Leads(f)...)
	}
	return out
}

// Found is a cause that an answer points to.
type Found struct {
	Cause   Cause
	Because string // how it arrives at the answer; may be empty
}

// Of returns the causes that an answer, known to be wrong, points to: those
// that compute this very answer, the nearest number first; where there are
// none, those whose marks it bears.
func Of(f Facts, a Given) []Found {
	type hit struct {
		Found
		off float64
	}
	var hits []hit
	for _, c := range All() {
		best, found := hit{}, false
		for _, m := range c.Leads(f) {
			if off, ok := m.of(a); ok && (!found || off < best.off) {
				best, found = hit{Found{c, m.Because}, off}, true
			}
		}
		if !found && c.fits != nil && c.fits(f, a) {
			best, found = hit{Found{Cause: c}, byMarks}, true
		}
		if found {
			hits = append(hits, best)
		}
	}
	slices.SortStableFunc(hits, func(a, b hit) int {
		switch {
		case a.off < b.off:
			return -1
		case a.off > b.off:
			return 1
		}
		return 0
	})
	var out []Found
	for _, h := range hits {
		if h.off == byMarks && hits[0].off < byMarks {
			break
		}
		out = append(out, h.Found)
	}
	return out
}

// byMarks stands for the distance of an answer that no cause computes.
const byMarks = 2

// of tells whether an answer is the mistake, and how far off it is, 0 to 1.
func (m Mistake) of(a Given) (off float64, is bool) {
	switch {
	case m.Number != nil:
		if a.Number == nil {
			return 0, false
		}
		d := abs(*a.Number - m.Number.Value)
		if m.Number.Within == 0 {
			return 0, d == 0
		}
		return d / m.Number.Within, d <= m.Number.Within
	case m.Formula != nil:
		return 0, a.Formula != nil && a.Formula.Formula == *m.Formula
	case m.Structure != "":
		s, err := answer.ReadStructure(m.Structure)
		return 0, err == nil && a.Structure != nil && answer.SameIon(s, a.Structure)
	case m.List != nil:
		return 0, slices.Equal(m.List, a.List)
	case m.Words != "":
		return 0, (!m.Alone || a.Found == 1) && answer.Says(a.Words, m.Words)
	}
	return 0, false
}

func abs(x float64) float64 { return max(x, -x) }

func number(value, within float64, because string) Mistake {
	return Mistake{Number: &Reach{value, within}, Because: because}
}

func formula(f chem.Formula, because string) Mistake { return Mistake{Formula: &f, Because: because} }
