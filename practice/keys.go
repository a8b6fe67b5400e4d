package practice

import (
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"ionwright/chem"
	"ionwright/mol"
	"ionwright/mol/smiles"
	"ionwright/practice/answer"
	"ionwright/practice/cause"
)

// Units says what an answer's unit must be.
type Units uint8

// The policies.
const (
	UnitOptional Units = iota // a number without unit counts as in the key's unit
	UnitRequired              // a missing unit is a slip
)

// Number is the key of a number question.
type Number struct {
	Value     float64
	Tolerance float64 // accepted difference to either side, in Unit
	Unit      string  // empty: none
	Units     Units
	Digits    int // significant digits that must be given; 0: any
}

// Kind is NumberKind.
func (Number) Kind() Kind { return NumberKind }

// Solved writes the value in the digits asked for, six otherwise.
func (n Number) Solved() answer.Answer {
	text := strconv.FormatFloat(n.Value, 'g', 6, 64)
	if x, err := strconv.ParseFloat(text, 64); err != nil || max(x-n.Value, n.Value-x) > n.Tolerance {
		text = strconv.FormatFloat(n.Value, 'g', -1, 64)
	}
	if n.Digits > 0 {
		text = n.inDigits()
	}
	return answer.Of(strings.TrimSpace(text + " " + n.Unit))
}

// InUnit is a number in the key's unit; a unit that can't be turned into it
// leaves the number as it is.
func (n Number) InUnit(written answer.Number) float64 {
	if x, ok := written.In(n.Unit); ok {
		return x
	}
	return written.Value
}

// RowWithin is how far an answer may be from a row of the scheme to be what the
// row says, in the key's unit: half the row's last digit, and at most half the
// tolerance.
func (n Number) RowWithin(row answer.Number) float64 {
	last := row.Last
	if row.Value != 0 {
		last *= n.InUnit(row) / row.Value
	}
	return min(n.Tolerance, max(last, -last)) / 2
}

// inDigits writes the value with the significant digits asked for, with a
// power of ten where plain digits would be too many or wouldn't tell.
func (n Number) inDigits() string {
	scientific := strconv.FormatFloat(n.Value, 'e', n.Digits-1, 64)
	const largest, smallest = 1e6, 1e-3
	size := max(n.Value, -n.Value)
	if size >= largest || size < smallest {
		return scientific
	}
	rounded, err := strconv.ParseFloat(scientific, 64)
	if err != nil {
		return scientific
	}
	decimals := max(0, n.Digits-1-int(math.Floor(math.Log10(max(rounded, -rounded)))))
	text := strconv.FormatFloat(rounded, 'f', decimals, 64)
	if m, err := answer.ReadNumber(text); err != nil || n.Digits < m.Least || n.Digits > m.Most {
		return scientific
	}
	return text
}

// Option is one of the answers that a choice offers.
type Option struct {
	Letter  string // "A", "B" ...
	Text    string
	Right   bool
	Because string     // why it is right, or what mistake leads to it
	Cause   cause.Code // of a wrong one; may be empty
}

// Choice is the key of a question with one right choice.
type Choice struct{ Options []Option }

// Kind is ChoiceKind.
func (Choice) Kind() Kind { return ChoiceKind }

// Solved is the right letter.
func (c Choice) Solved() answer.Answer { return answer.Of(strings.Join(right(c.Options), "")) }

func (c Choice) check() error {
	if n := len(right(c.Options)); n != 1 {
		return fmt.Errorf("%d choices are right, and one must be", n)
	}
	return nil
}

// Choices is the key of a question with any number of right choices, at least
// one.
type Choices struct{ Options []Option }

// Kind is ChoicesKind.
func (Choices) Kind() Kind { return ChoicesKind }

// Solved is the list of right letters.
func (c Choices) Solved() answer.Answer { return answer.Listed(right(c.Options)...) }

func (c Choices) check() error {
	if len(right(c.Options)) == 0 {
		return fmt.Errorf("no choice is right, and at least one must be")
	}
	return nil
}

func right(options []Option) []string {
	var out []string
	for _, o := range options {
		if o.Right {
			out = append(out, o.Letter)
		}
	}
	return out
}

// Letters gives options their letters, A first.
func Letters(options []Option) []Option {
	out := slices.Clone(options)
	for i := range out {
		out[i].Letter = string(rune('A' + i%26))
	}
	return out
}

// Formula is the key of a formula question.
type Formula struct {
	Formula chem.Formula // charge included
	Dot     bool         // an unpaired electron must be written as a dot
}

// Kind is FormulaKind.
func (Formula) Kind() Kind { return FormulaKind }

// Solved is the formula, with a dot where it has an unpaired electron.
func (f Formula) Solved() answer.Answer {
	text := f.Formula.String()
	if f.Formula.OddElectron() && f.Formula.Charge() != 0 {
		text += "•"
	}
	return answer.Of(text)
}

// Structure is the key of a structure question.
type Structure struct{ Mol *mol.Mol }

// Kind is StructureKind.
func (Structure) Kind() Kind { return StructureKind }

// Solved is the structure's SMILES.
func (s Structure) Solved() answer.Answer { return answer.Of(smiles.Write(s.Mol)) }

// Peaks is the key of a question that has peaks picked.
type Peaks struct {
	MZ   []int // to be picked
	Also []int // that may be picked as well, without credit
}

// Kind is PeaksKind.
func (Peaks) Kind() Kind { return PeaksKind }

// Solved lists the peaks.
func (p Peaks) Solved() answer.Answer {
	out := answer.Answer{List: []string{}}
	for _, mz := range p.MZ {
		out.List = append(out.List, strconv.Itoa(mz))
	}
	return out
}

// Assign is the key of a question that has peaks assigned.
type Assign struct {
	Rows []Assigned
	// Bank are the formulas offered where they are offered; empty: written.
	Bank []chem.Formula
}

// Assigned is a peak with the ions that are right for it, the first the one
// that the key shows.
type Assigned struct {
	MZ   int
	Ions []chem.Formula
}

// Kind is AssignKind.
func (Assign) Kind() Kind { return AssignKind }

// Solved pairs each m/z with its ion.
func (a Assign) Solved() answer.Answer {
	out := answer.Answer{Pairs: map[string]string{}}
	for _, r := range a.Rows {
		out.Pairs[strconv.Itoa(r.MZ)] = r.Ions[0].String()
	}
	return out
}

func (a Assign) check() error {
	for _, r := range a.Rows {
		if len(r.Ions) == 0 {
			return fmt.Errorf("m/z %d has no ion", r.MZ)
		}
	}
	return nil
}

// Order is the key of a question that has steps put in order: Steps stand in
// the right order, their letters give the order in which they are shown.
type Order struct{ Steps []Step }

// Step is a step of an order question.
type Step struct {
	Letter string
	Text   string
	Phase  cause.Phase // where the steps are those of reading a spectrum; 0: not
}

// Shuffled gives steps that stand in the right order their letters, by the
// alphabet of their texts, so that the letters don't tell the order; where they
// would, the last comes first.
func Shuffled(steps []Step) []Step {
	out := slices.Clone(steps)
	rank := make([]int, len(out))
	for i := range rank {
		rank[i] = i
	}
	slices.SortStableFunc(rank, func(a, b int) int { return strings.Compare(out[a].Text, out[b].Text) })
	if slices.IsSorted(rank) && len(rank) > 1 {
		rank = append(rank[len(rank)-1:], rank[:len(rank)-1]...)
	}
	for place, i := range rank {
		out[i].Letter = string(rune('A' + place%26))
	}
	return out
}

// Shown are the steps in the order of their letters.
func (o Order) Shown() []Step {
	out := slices.Clone(o.Steps)
	slices.SortFunc(out, func(a, b Step) int { return strings.Compare(a.Letter, b.Letter) })
	return out
}

// Kind is OrderKind.
func (Order) Kind() Kind { return OrderKind }

// Solved lists the letters in the right order.
func (o Order) Solved() answer.Answer {
	out := answer.Answer{List: []string{}}
	for _, s := range o.Steps {
		out.List = append(out.List, s.Letter)
	}
	return out
}

// Arrows is the key of a question that has electron arrows drawn.
type Arrows struct {
	Drawn *mol.Mol // the structure, its atoms numbered from 1 in its own order
	// Ways are sets of arrows that are right, the first the one that the key
	// shows; package arrow knows those that lead to the same.
	Ways [][]answer.Arrow
}

// Kind is ArrowsKind.
func (Arrows) Kind() Kind { return ArrowsKind }

// Solved lists the arrows of the first way.
func (a Arrows) Solved() answer.Answer {
	out := answer.Answer{List: []string{}}
	for _, arrow := range a.Ways[0] {
		out.List = append(out.List, arrow.String())
	}
	return out
}

func (a Arrows) check() error {
	if len(a.Ways) == 0 || len(a.Ways[0]) == 0 {
		return fmt.Errorf("it has no arrows")
	}
	return nil
}

// Reasons is the key of a question that has reasons given in words.
type Reasons struct {
	Clues  []Clue
	Needs  int // how many of the clues a full answer names
	Reject []Rejected
}

// Clue is a reason that counts.
type Clue struct {
	Says string   // the reason in words, for the key
	Any  []string // phrases one of which must be said
}

// Rejected is what must not be said.
type Rejected struct {
	Any     []string
	Because string
	Cause   cause.Code
}

// Kind is ReasonsKind.
func (Reasons) Kind() Kind { return ReasonsKind }

// Solved says the first phrase of as many clues as are needed.
func (r Reasons) Solved() answer.Answer {
	var parts []string
	for _, c := range r.Clues[:min(r.Needs, len(r.Clues))] {
		parts = append(parts, c.Any[0])
	}
	return answer.Of(strings.Join(parts, ". "))
}

func (r Reasons) check() error {
	if r.Needs < 1 || r.Needs > len(r.Clues) {
		return fmt.Errorf("it needs %d of %d clues", r.Needs, len(r.Clues))
	}
	for _, c := range r.Clues {
		if len(c.Any) == 0 {
			return fmt.Errorf("the clue %q has no phrase by which it is recognised", c.Says)
		}
	}
	return nil
}
