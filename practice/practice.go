// Package practice holds questions about mass spectra as values: what is
// asked, the key, the marking scheme, hints and the worked solution. For most
// uses make a [Question] with one of the keys ([Number], [Choice], [Choices],
// [Formula], [Structure], [Peaks], [Assign], [Order], [Arrows], [Reasons]) and
// hand it to package mark; package propose makes questions from an idea.
//
// A lesson's question block, a proposed unknown, a page's answer form and an
// item of a quiz package are all views of these values.
package practice

import (
	"fmt"

	"ionwright/practice/answer"
	"ionwright/practice/cause"
)

// Question is one question with everything needed to set, solve and mark it.
type Question struct {
	ID, Idea string
	Ask      string // plain text
	Key      Key
	Marks    float64 // for a full answer, above 0
	Facts    cause.Facts
	Scheme   Scheme
	Hints    []string // up to three, from where to look to nearly the answer
	Solution []string // the worked solution, a sentence or line each
	// Difficulty is the measure of package propose; 0 where it isn't known.
	Difficulty float64
}

// Key is the right answer with what its kind needs to judge others.
type Key interface {
	Kind() Kind
	// Solved is a right answer in the notation of the kind.
	Solved() answer.Answer
}

// Scheme is what a marking scheme says beside the key.
type Scheme struct {
	Accept []Row    // further right answers
	Reject []Row    // answers that the key's rules would let pass, or that need a word
	Credit []Credit // partial marks by mistake
	Carry  *Carry   // how an earlier answer enters this one
}

// Row is an answer that is accepted or rejected.
type Row struct {
	Answer  answer.Answer
	Marks   float64 // of an accepted answer; 0: all
	Because string  // what to tell the student
	Cause   cause.Code
}

// Slips of form that cost marks without being a wrong rule; in a scheme they
// stand beside the codes of package cause.
const (
	SlipUnit   cause.Code = "unit"   // the unit is missing
	SlipDigits cause.Code = "digits" // too many or too few significant digits
	SlipDot    cause.Code = "dot"    // the unpaired electron is missing, or one too many is written
)

// Credit is what an answer gets that shows a mistake.
type Credit struct {
	Cause cause.Code
	Marks float64
	// Once names a group: within a paper, the first mistake of the group costs
	// marks and later ones don't. Empty: each costs.
	Once string
}

// Carry lets an answer that follows from a wrong earlier one have its marks.
type Carry struct {
	From string // the earlier question's ID
	// Rekey is the key that the student's earlier answer leads to, and false
	// where none follows from it.
	Rekey func(earlier answer.Answer) (Key, bool)
}

// Kind says how a question is answered.
type Kind uint8

// The kinds, in the order in which the documentation lists them.
const (
	NumberKind Kind = iota + 1
	ChoiceKind
	ChoicesKind
	FormulaKind
	StructureKind
	PeaksKind
	AssignKind
	OrderKind
	ArrowsKind
	ReasonsKind
)

// KindDoc documents a kind.
type KindDoc struct {
	Kind   Kind
	Name   string // as lessons write it
	Doc    string // what the student does, in a sentence
	Answer string // how an answer is written
}

// Kinds is the visible list.
func Kinds() []KindDoc {
	return []KindDoc{
		{NumberKind, "number", "Gives a number, with its unit where there is one.", "112, 0.385 T, 1.44e5 m/s"},
		{ChoiceKind, "choice", "Picks the one right choice.", "B"},
		{ChoicesKind, "choices", "Picks every right choice.", "A, C"},
		{FormulaKind, "formula", "Writes a formula, with its charge.", "C2H3O+ or CH3CO+"},
		{StructureKind, "structure", "Draws a structure or writes its SMILES.", "CCC(C)=O, or the text of a MOL file"},
		{PeaksKind, "peaks", "Picks peaks of the spectrum.", "43, 58"},
		{AssignKind, "assign", "Writes the formula of the ion beside each peak.", `{"43": "C2H3O+", "57": "C3H5O+"}`},
		{OrderKind, "order", "Puts steps in order.", "C, A, B"},
		{ArrowsKind, "arrows", "Draws the electron arrows of a step, by the atoms' numbers.", "1 > 1-2, 2-3 > 1-2, 2-3 > 3"},
		{ReasonsKind, "reasons", "Gives reasons in a sentence or two.", "M+2 is a third of M, and m/z 77 has no partner."},
	}
}

func (k Kind) String() string {
	for _, d := range Kinds() {
		if d.Kind == k {
			return d.Name
		}
	}
	return "unknown"
}

// KindNamed returns the kind with a name, and false where there is none.
func KindNamed(name string) (Kind, bool) {
	for _, d := range Kinds() {
		if d.Name == name {
			return d.Kind, true
		}
	}
	return 0, false
}

// Check returns an error for a question that can't be marked: what a program
// that makes questions got wrong.
func (q *Question) Check() error {
	if q.Key == nil {
		return fmt.Errorf("the question %q has no key", q.ID)
	}
	if q.Marks <= 0 {
		return fmt.Errorf("the question %q is worth %g marks; it must be more than 0", q.ID, q.Marks)
	}
	if len(q.Hints) > 3 {
		return fmt.Errorf("the question %q has %d hints; there are three depths", q.ID, len(q.Hints))
	}
	if c, ok := q.Key.(interface{ check() error }); ok {
		if err := c.check(); err != nil {
			return fmt.Errorf("the question %q: %w", q.ID, err)
		}
	}
	return nil
}

// Credits are the scheme's credits, with the usual ones for what it doesn't
// name: a missing charge costs a mark, a missing unit, wrong digits and a
// missing dot half of one, each once in a paper.
func (q *Question) Credits() []Credit {
	out := append([]Credit{}, q.Scheme.Credit...)
	for _, usual := range []Credit{
		{cause.ChargeLeftOff, max(0, q.Marks-1), "charge"},
		{SlipUnit, max(0, q.Marks-0.5), "unit"},
		{SlipDigits, max(0, q.Marks-0.5), "digits"},
		{SlipDot, max(0, q.Marks-0.5), "dot"},
	} {
		if _, named := creditOf(q.Scheme.Credit, usual.Cause); !named {
			out = append(out, usual)
		}
	}
	return out
}

// Credit returns what an answer that shows the mistake gets, and false where
// the scheme has nothing for it.
func (q *Question) Credit(code cause.Code) (Credit, bool) { return creditOf(q.Credits(), code) }

func creditOf(all []Credit, code cause.Code) (Credit, bool) {
	for _, c := range all {
		if c.Cause == code {
			return c, true
		}
	}
	return Credit{}, false
}
