package smarts

import (
	"errors"
	"iter"

	"ionwright/mol"
)

// DefaultLimit is the number of trials, of one atom of a pattern on one atom
// of a molecule, after which a [Matcher] gives a call up. Common patterns need
// some hundreds.
const DefaultLimit = 1 << 22

// ErrLimit says that a call needed more trials than the Matcher's limit, so
// that its answer is only a lower bound.
var ErrLimit = errors.New("the search for a pattern was given up: it takes too many trials; make the pattern more specific")

// A Matcher finds patterns in one molecule at a time. It holds the room that
// the search needs, and what environments $(…) have found out about the
// molecule, so that repeated calls allocate nothing; it is for one goroutine.
// The zero value is ready for Load or Use, one of which must come first.
type Matcher struct {
	// Limit is the largest number of trials of one call; 0 means
	// DefaultLimit.
	Limit int

	target *Target
	own    Target // for Load
	err    error
	trials int
	frames []frame
	memo   memo
	seen   atomSets
	lies   []int32 // what All yields
}

// Use turns to a prepared molecule, which other Matchers may use as well.
func (mt *Matcher) Use(t *Target) {
	mt.target = t
	mt.err = nil
	mt.memo.forget()
}

// Load prepares a molecule and turns to it. It allocates only where the
// molecule is larger than those before.
func (mt *Matcher) Load(m *mol.Mol) {
	mt.own.load(m)
	mt.Use(&mt.own)
}

// Err returns ErrLimit where a call since the last Use or Load was given up.
func (mt *Matcher) Err() error { return mt.err }

// Match says whether the pattern occurs in the molecule.
func (mt *Matcher) Match(p *Pattern) bool {
	s, ok := mt.begin(p)
	return ok && s.next()
}

// Count returns how often the pattern occurs, counting each set of atoms
// once, in whichever way the pattern lies on it.
func (mt *Matcher) Count(p *Pattern) int {
	s, ok := mt.begin(p)
	if !ok {
		return 0
	}
	if len(p.atoms) == 1 {
		n := 0
		for s.next() {
			n++
		}
		return n
	}
	mt.seen.reset(len(mt.target.atoms))
	for s.next() {
		mt.seen.add(s.frames)
	}
	return mt.seen.len()
}

// All goes through every way in which the pattern lies on the molecule, in
// an order that depends on nothing else but is no promise. Item i of the
// slice is the 0-based index of the molecule's atom on which the pattern's
// atom i lies. The slice is overwritten by the next step, and the Matcher
// must not be used for anything else until the loop ends.
func (mt *Matcher) All(p *Pattern) iter.Seq[[]int32] {
	return func(yield func([]int32) bool) {
		s, ok := mt.begin(p)
		if !ok {
			return
		}
		mt.lies = resized(mt.lies, len(p.atoms))
		for s.next() {
			for i := range s.frames {
				mt.lies[p.plan.steps[i].atom] = s.frames[i].atom
			}
			if !yield(mt.lies) {
				return
			}
		}
	}
}
