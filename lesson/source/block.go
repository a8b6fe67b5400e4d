package source

import "ionwright/lesson/diag"

// Block is a fenced block with a meaning in lessons.
type Block interface {
	// Place is where the block's opening line stands.
	Place() diag.Span
}

// place is the part all blocks share.
type place struct{ span diag.Span }

func (p place) Place() diag.Span { return p.span }

// Claim is a statement that is computed and must hold for the pack to build.
type Claim struct {
	place
	That    Text   // a CEL expression that must be true
	Says    *Prose // the statement in words, for the key page; nil when absent
	Teaches Text   // the idea it belongs to; zero when absent
}

// Figure draws the spectrum of a compound.
type Figure struct {
	place
	ID       Text
	Spectrum Text   // the compound's key
	Label    []Text // m/z to label with the ion's formula; empty: the strongest peaks, m/z only
	Caption  *Prose
}

// Question asks the student something whose answer is computed.
type Question struct {
	place
	ID        Text
	Kind      QuestionKind
	Idea      Text
	Ask       *Prose
	Answer    Text    // number questions: a CEL expression
	Tolerance float64 // accepted difference, in the answer's own unit
	Unit      Text    // printed after the answer; zero when absent
	Choices   []Choice
	Because   *Prose // the reason, for the key page
}

// QuestionKind says how a question is answered.
type QuestionKind uint8

// The kinds of questions.
const (
	NumberQuestion QuestionKind = iota + 1
	ChoiceQuestion
)

func (k QuestionKind) String() string {
	switch k {
	case NumberQuestion:
		return "number"
	case ChoiceQuestion:
		return "choice"
	}
	return "unknown"
}

// Choice is one of the answers offered by a choice question. Exactly one
// choice's Right must come out true.
type Choice struct {
	Says    *Prose
	Right   Text   // a CEL expression
	Because *Prose // why it is right, or what mistake leads to it
}

// Recap lists the ideas to take away, each with its hook.
type Recap struct {
	place
	Ideas []Text
}

// InstrumentBlock describes one of the lesson's instruments, with the caution
// that goes with real ones.
type InstrumentBlock struct {
	place
	Show Text // the instrument's key
}

// Sweep flies the ions of a compound's spectrum through an instrument while
// the field is raised, and draws what the detector records.
type Sweep struct {
	place
	ID         Text
	Instrument Text // key
	Ions       Text // the compound's key
	From, To   Text // m/z range; zero: the whole spectrum
	Caption    *Prose
}

// Paths draws an instrument with the paths of ions through it, at the field
// that brings the first of them to the detector.
type Paths struct {
	place
	ID         Text
	Instrument Text   // key
	Ions       []Text // m/z
	Caption    *Prose
}

// Note is for the instructor: it appears on the key page only.
type Note struct {
	place
	Says *Prose
}

// Include puts another Markdown file of the lesson's folder here.
type Include struct {
	place
	File  Text
	Prose *Prose
}
