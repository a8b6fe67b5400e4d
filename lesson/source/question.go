package source

import (
	"strconv"
	"strings"

	"ionwright/lesson/diag"
	"ionwright/practice"
)

// Question asks the student something whose answer is computed.
type Question struct {
	place
	ID   Text
	Kind practice.Kind // 0: unknown, which is reported
	Idea Text
	Ask  *Prose
	// What the question is about, for finding the mistake behind an answer.
	About      Text   // the compound's key
	Asks       Text   // a word of cause.AsksNames
	Peak       Text   // m/z, an expression
	Instrument Text   // key
	Of         []Text // the formulas of the ions asked about
	// What the answer is; which of these a kind needs is in the documentation.
	Answer    Text    // a CEL expression, or a structure
	Tolerance float64 // accepted difference, in the answer's own unit
	Unit      Text    // printed after the answer; zero when absent
	NeedsUnit bool    // a missing unit costs marks
	Digits    int     // significant digits asked for; 0: any
	Dot       bool    // an unpaired electron must be written
	Choices   []Choice
	Steps     []Step
	Peaks     []Text // m/z to assign
	Arrows    []Text
	Drawn     Text // the structure that the arrows are drawn in
	Clues     []Clue
	Needs     int // of the clues; 0: all
	// The marking scheme.
	Marks   float64 // 0: not given
	Accept  []SchemeRow
	Reject  []SchemeRow
	Partial []Credit
	After   *After
	Hints   []*Prose
	Because *Prose // the reason, for the key page
}

// Choice is one of the answers offered by a choice question.
type Choice struct {
	Says    *Prose
	Right   Text   // a CEL expression
	Because *Prose // why it is right, or what mistake leads to it
	Mistake Text   // the cause's code; zero when absent
}

// Step is a step to be put in order.
type Step struct {
	Says  *Prose
	Phase Text // constrain, predict or check; zero when absent
}

// Clue is a reason that counts, with the phrases by which it is recognised.
type Clue struct {
	Says *Prose
	Any  []Text
}

// SchemeRow is an answer that the marking scheme accepts or rejects. In a
// question for reasons, Any are phrases that must not be said.
type SchemeRow struct {
	At      Text
	Answers []Text
	Any     []Text
	Marks   float64
	Because *Prose
	Mistake Text
}

// Credit is a partial mark.
type Credit struct {
	Mistake Text
	Marks   float64
	Once    Text
}

// After says that an answer follows from an earlier one.
type After struct {
	Question Text
	Answer   Text // a CEL expression in which earlier is the student's number
}

// questionKeys are the keys of a question block.
var questionKeys = []string{
	"id", "kind", "idea", "ask", "about", "asks", "peak", "instrument", "of", "answer", "tolerance", "unit", "needs-unit", "digits", "dot",
	"choices", "steps", "peaks", "arrows", "drawn", "clues", "needs", "marks", "accept", "reject", "partial", "after", "hints", "because",
}

// neededBy says which keys a kind can't do without; of several joined by "or"
// one is needed.
var neededBy = map[practice.Kind][]string{
	practice.NumberKind: {"answer"}, practice.FormulaKind: {"answer"}, practice.StructureKind: {"answer"}, practice.PeaksKind: {"answer"},
	practice.ChoiceKind: {"choices"}, practice.ChoicesKind: {"choices"},
	practice.AssignKind: {"about", "peaks"}, practice.OrderKind: {"steps"}, practice.ReasonsKind: {"clues"},
}

func (p *reader) question(f fields, at place) Block {
	f.require("id", "kind", "ask")
	q := &Question{
		place: at, ID: p.id(f), Idea: f.text("idea"), Ask: p.sentence(f, "ask"),
		About: f.text("about"), Asks: f.text("asks"), Peak: f.text("peak"), Instrument: f.text("instrument"), Of: f.texts("of"),
		Answer: f.text("answer"), Tolerance: f.number("tolerance"), Unit: f.text("unit"), NeedsUnit: f.truth("needs-unit"),
		Digits: f.whole("digits", 12), Dot: f.truth("dot"), Peaks: f.texts("peaks"), Arrows: f.texts("arrows"), Drawn: f.text("drawn"),
		Needs: f.whole("needs", 50), Marks: f.number("marks"), Because: p.sentence(f, "because"),
	}
	q.Kind = p.kind(f)
	f.require(neededBy[q.Kind]...)
	q.Choices, q.Steps, q.Clues = p.choices(f), p.steps(f), p.clues(f)
	q.Accept, q.Reject, q.Partial = p.schemeRows(f, "accept"), p.schemeRows(f, "reject"), p.credits(f)
	q.After = p.after(f)
	for _, t := range f.texts("hints") {
		if t.Value != "" {
			q.Hints = append(q.Hints, p.prose(t, false))
		}
	}
	const depths = 3
	if len(q.Hints) > depths {
		p.diags.Add(diag.New(diag.WrongType, q.Hints[depths].Text.Place(), "this is hint number %d, and there are %d depths", depths+1, depths).
			Suggesting("begin with where to look, then what is seen there, then nearly the answer"))
		q.Hints = q.Hints[:depths]
	}
	return q
}

func (p *reader) kind(f fields) practice.Kind {
	name := f.text("kind")
	if name.IsZero() {
		return 0 // reported as missing
	}
	k, ok := practice.KindNamed(name.Value)
	if !ok {
		var names []string
		for _, d := range practice.Kinds() {
			names = append(names, d.Name)
		}
		d := diag.New(diag.WrongType, name.Place(), "there is no kind of question %q", name.Value)
		if near, ok := diag.Nearest(name.Value, names); ok {
			d = d.Suggesting("did you mean %q?", near)
		} else {
			d = d.Suggesting("the kinds are %s", strings.Join(names, ", "))
		}
		p.diags.Add(d)
	}
	return k
}

func (p *reader) choices(f fields) []Choice {
	var out []Choice
	for _, item := range f.list("choices") {
		c := fieldsOf("this choice", item.text.Place(), item, &p.diags, "says", "right", "because", "mistake")
		c.require("says", "right", "because")
		out = append(out, Choice{Says: p.sentence(c, "says"), Right: c.text("right"), Because: p.sentence(c, "because"), Mistake: c.text("mistake")})
	}
	return out
}

// steps may be sentences, or sets of keys where their phase is given.
func (p *reader) steps(f fields) []Step {
	var out []Step
	for _, item := range f.list("steps") {
		if item.shape == scalar {
			out = append(out, Step{Says: p.prose(item.text.Trimmed(), false)})
			continue
		}
		s := fieldsOf("this step", item.text.Place(), item, &p.diags, "says", "phase")
		s.require("says")
		out = append(out, Step{Says: p.sentence(s, "says"), Phase: s.text("phase")})
	}
	return out
}

func (p *reader) clues(f fields) []Clue {
	var out []Clue
	for _, item := range f.list("clues") {
		c := fieldsOf("this clue", item.text.Place(), item, &p.diags, "says", "any")
		c.require("says", "any")
		out = append(out, Clue{Says: p.sentence(c, "says"), Any: c.texts("any")})
	}
	return out
}

func (p *reader) schemeRows(f fields, key string) []SchemeRow {
	var out []SchemeRow
	for _, item := range f.list(key) {
		keys := []string{"answer", "any", "marks", "because", "mistake"}
		r := fieldsOf("this row of \""+key+"\"", item.text.Place(), item, &p.diags, keys...)
		r.require("because")
		row := SchemeRow{At: item.text, Answers: r.texts("answer"), Any: r.texts("any"), Marks: r.number("marks"), Because: p.sentence(r, "because"), Mistake: r.text("mistake")}
		if !r.wrong && len(row.Answers) == 0 && len(row.Any) == 0 {
			r.require("answer")
			continue
		}
		out = append(out, row)
	}
	return out
}

func (p *reader) credits(f fields) []Credit {
	var out []Credit
	for _, item := range f.list("partial") {
		c := fieldsOf("this partial mark", item.text.Place(), item, &p.diags, "mistake", "marks", "once")
		c.require("mistake", "marks")
		out = append(out, Credit{Mistake: c.text("mistake"), Marks: c.number("marks"), Once: c.text("once")})
	}
	return out
}

func (p *reader) after(f fields) *After {
	v, ok := f.get("after")
	if !ok || v.shape == empty {
		return nil
	}
	a := fieldsOf("\"after\"", v.text.Place(), v, &p.diags, "question", "answer")
	a.require("question", "answer")
	return &After{a.text("question"), a.text("answer")}
}

// whole is a whole number from 1 to most, 0 when absent.
func (f fields) whole(key string, most int) int {
	t := f.text(key)
	if t.IsZero() {
		return 0
	}
	n, err := strconv.Atoi(t.Value)
	if err != nil || n < 1 || n > most {
		f.diags.Add(diag.New(diag.WrongType, t.Place(), "%q of %s must be a whole number from 1 to %d, not %q", key, f.what, most, t.Value))
		return 0
	}
	return n
}
