package chem

import (
	"fmt"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Limits of ParseFormula.
const (
	maxFormulaLength = 10_000 // bytes
	maxFormulaDepth  = 50     // nested groups
)

// ParseError tells where and why a text isn't a formula.
type ParseError struct {
	Text   string // what was read
	Offset int    // 0-based, in bytes, of what is wrong
	Reason string // what is wrong
	Hint   string // what to do; may be empty
}

// Error gives reason, text and the 1-based position in characters, and the
// hint on a line of its own.
func (e *ParseError) Error() string {
	position := utf8.RuneCountInString(e.Text[:e.Offset]) + 1
	message := fmt.Sprintf("reading formula %s: position %d: %s", quoted(e.Text), position, e.Reason)
	if e.Hint != "" {
		message += "\n" + e.Hint
	}
	return message
}

// quoted is text in quotes, cut where it is long.
func quoted(text string) string {
	const most = 60
	if len(text) > most {
		return strconv.Quote(text[:most]) + "…"
	}
	return strconv.Quote(text)
}

// ParseFormula reads a molecular formula:
//
//	C6H5+  (CH3)3Si+  [13C]CH4  K4[Fe(CN)6]  CuSO4·5H2O  C7H7 2+  SO4-2  D2O  C6H6+•
//
// Groups in round, square or curly brackets nest and take a count. A label is
// a mass number and symbol in brackets, alone or with a count: [13C], [2H3];
// D and T are 2H and 3H. The charge comes last, as signs (++) or sign and
// number in either order. A number before a sign is a charge after a space,
// after ^, as superscript, or where square brackets enclose all before it:
// [C7H7]2+; "C7H72+" is 72 hydrogen atoms and one charge. A dot at the end
// says that the number of electrons is odd, which is checked. Unicode's sub-
// and superscripts are read too, so that what [Formula.Unicode] writes is.
//
// The error is a [*ParseError]. Texts above 10,000 bytes, brackets nested
// deeper than 50, and formulas beyond the limits of [Formula] are errors.
func ParseFormula(s string) (Formula, error) {
	p := parser{text: s}
	if len(s) > maxFormulaLength {
		return Formula{}, p.fail(0, "", "%d bytes are too long for a formula; at most %d are read", len(s), maxFormulaLength)
	}
	f, err := p.formula()
	if err != nil {
		return Formula{}, err
	}
	return f, nil
}

// MustFormula is [ParseFormula] for formulas known to be right: it panics on
// an error.
func MustFormula(s string) Formula {
	f, err := ParseFormula(s)
	if err != nil {
		panic("chem: " + err.Error())
	}
	return f
}

// parser reads text from left to right.
type parser struct {
	text  string
	at    int // 0-based byte offset of what is read next
	depth int // open groups
}

func (p *parser) fail(offset int, hint, format string, args ...any) *ParseError {
	return &ParseError{Text: p.text, Offset: offset, Reason: fmt.Sprintf(format, args...), Hint: hint}
}

// formula = spaces part { dot [ number ] part } [ charge ] spaces .
func (p *parser) formula() (Formula, *ParseError) {
	p.spaces()
	if p.at == len(p.text) {
		return Formula{}, p.fail(p.at, "write for example C2H6O", "the formula is empty")
	}
	if r, _ := p.peek(); digitOf(r) >= 0 {
		return Formula{}, p.fail(p.at, "a label is written in brackets, such as [13C]; a count comes after its element", "a formula doesn't begin with a number")
	}
	f, err := p.part(0)
	for err == nil && p.adduct() {
		begin := p.at
		n, given, numberErr := p.number()
		if numberErr != nil {
			return f, numberErr
		}
		if !given {
			n = 1
		}
		var more Formula
		if more, err = p.part(0); err == nil {
			err = p.addTimes(&f, more, n, begin)
		}
	}
	if err != nil {
		return f, err
	}
	if err := p.charge(&f); err != nil {
		return f, err
	}
	p.spaces()
	if p.at < len(p.text) {
		r, _ := p.peek()
		return f, p.fail(p.at, hintFor(r), "unexpected %q", r)
	}
	return f, nil
}

// part = unit { spaces unit } .
// It ends before closing, the bracket that the caller waits for (0: none), or
// before what can't begin a unit.
func (p *parser) part(closing rune) (Formula, *ParseError) {
	var f Formula
	for units := 0; ; units++ {
		before := p.at
		if units > 0 {
			p.spaces()
		}
		r, _ := p.peek()
		switch {
		case isCapital(r), isOpening(r), superscriptOf(r) >= 0 && p.labelAhead():
			if err := p.unit(&f); err != nil {
				return f, err
			}
		case units == 0 || closing != 0 && r != closing:
			return f, p.unexpected(closing)
		default:
			p.at = before
			return f, nil
		}
	}
}

// unexpected is the error for what stands where a unit or a closing bracket
// should.
func (p *parser) unexpected(closing rune) *ParseError {
	want := "an element symbol"
	if closing != 0 {
		want = fmt.Sprintf("an element symbol or %q", closing)
	}
	if p.at == len(p.text) {
		return p.fail(p.at, "", "the formula ends where %s was expected", want)
	}
	r, _ := p.peek()
	return p.fail(p.at, hintFor(r), "%q where %s was expected", r, want)
}

// unit = ( atom | label | group ) [ number ] .
func (p *parser) unit(f *Formula) *ParseError {
	begin := p.at
	var one Formula
	var err *ParseError
	whole := false // one is a group in square brackets that began the text
	switch r, _ := p.peek(); {
	case superscriptOf(r) >= 0:
		one, err = p.superscriptLabel()
	case r == '[' && p.at+1 < len(p.text) && isASCIIDigit(p.text[p.at+1]):
		one, err = p.label()
	case isOpening(r):
		whole = r == '[' && strings.TrimLeft(p.text[:p.at], " ") == ""
		one, err = p.group()
	default:
		one, err = p.atom()
	}
	if err != nil {
		return err
	}
	if whole && p.chargeAhead() {
		return p.addTimes(f, one, 1, begin)
	}
	n, given, err := p.number()
	if err != nil {
		return err
	}
	if !given {
		n = 1
	}
	return p.addTimes(f, one, n, begin)
}

// group = "(" part ")" | "[" part "]" | "{" part "}" .
func (p *parser) group() (Formula, *ParseError) {
	begin := p.at
	if p.depth++; p.depth > maxFormulaDepth {
		return Formula{}, p.fail(begin, "", "groups are nested deeper than %d", maxFormulaDepth)
	}
	opening, size := p.peek()
	p.at += size
	closing := map[rune]rune{'(': ')', '[': ']', '{': '}'}[opening]
	f, err := p.part(closing)
	if err != nil {
		if p.at == len(p.text) && err.Offset == p.at {
			return f, p.fail(begin, "", "the bracket %q is not closed", opening)
		}
		return f, err
	}
	p.spaces()
	p.at += len(")") // part ended before the closing bracket
	p.depth--
	return f, nil
}

// add adds n of s to f; begin is where an error points.
func (p *parser) add(f *Formula, s Species, n, begin int) *ParseError {
	if err := f.add(s, n); err != nil {
		return p.fail(begin, "", "%v", err)
	}
	return nil
}

// addTimes adds n times g to f; begin is where an error points.
func (p *parser) addTimes(f *Formula, g Formula, n, begin int) *ParseError {
	for s, count := range g.All() {
		if err := p.add(f, s, n*count, begin); err != nil {
			return err
		}
	}
	return nil
}
