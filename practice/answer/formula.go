package answer

import (
	"fmt"
	"regexp"
	"strconv"
	"strings"

	"ionwright/chem"
)

// Formula is a formula as it was written.
type Formula struct {
	chem.Formula
	Dot bool // a radical's dot was written
	// Heavy is a mass number that stands before an element though no isotope
	// of it has it, as when the mass number of a whole particle is put before
	// its first element; Formula then has no label there. 0: none.
	Heavy int
}

const maxFormula = 500 // bytes; far more than the formulas of teaching

// ReadFormula reads a formula in the ways that students write one: in any
// order of the elements, condensed (CH3CO+), in brackets with the charge
// outside, with sub- and superscripts, with a dot for an unpaired electron
// whether or not the electrons allow it. Mass numbers may stand without
// brackets before an element at the front or after another (35Cl37Cl,
// 35Cl2). It fails like chem.ParseFormula.
func ReadFormula(text string) (Formula, error) {
	if len(text) > maxFormula {
		return Formula{}, fmt.Errorf("reading the formula %q: it is longer than %d bytes", short(text), maxFormula)
	}
	var out Formula
	s := strings.Map(func(r rune) rune {
		switch r {
		case '•', '·', '∙', '●', '˙', '⋅', '.':
			out.Dot = true
			return -1
		case ' ', '\t', '\n', '\r', '\u00a0', '\u202f', '\u2009', '{', '}', '(', ')':
			if r == '(' || r == ')' {
				return r
			}
			return ' '
		case '⊕':
			return '+'
		}
		return r
	}, text)
	s = strings.TrimSpace(s)
	f, err := chem.ParseFormula(s)
	if err != nil {
		var written string
		if written, out.Heavy = labelled(s); written == s {
			return Formula{}, err
		}
		if f, err = chem.ParseFormula(written); err != nil {
			return Formula{}, err
		}
	}
	if f.IsEmpty() {
		return Formula{}, fmt.Errorf("reading the formula %q: it names no element", short(text))
	}
	out.Formula = f
	return out, nil
}

// label is a mass number with the element and count it belongs to.
var label = regexp.MustCompile(`(^|[\[(+a-z ])\^?\[?([0-9]{1,3})([A-Z][a-z]?)\]?([0-9]{0,3})|\^([0-9]{1,3})([A-Z][a-z]?)([0-9]{0,3})`)

// labelled writes mass numbers before elements as a formula has them, and
// leaves out one that no isotope has, which it returns.
func labelled(s string) (written string, heavy int) {
	s = raise(s)
	written = label.ReplaceAllStringFunc(s, func(part string) string {
		m := label.FindStringSubmatch(part)
		before, number, symbol, n := m[1], m[2]+m[5], m[3]+m[6], m[4]+m[7]
		mass, err := strconv.Atoi(number)
		e, ok := chem.ElementBySymbol(symbol)
		if err != nil || !ok {
			return part
		}
		if before == "[" { // the label's own bracket
			before = ""
			if strings.Count(part, "]") == 0 {
				before = "["
			}
		}
		if before == " " { // between the parts of the formula
			before = ""
		}
		if _, known := e.Isotope(mass); !known {
			heavy = mass
			return before + symbol + n
		}
		return before + "[" + number + symbol + "]" + n
	})
	return written, heavy
}

// raise writes superscripts as digits after a caret.
func raise(s string) string {
	var b strings.Builder
	raised := false
	for _, r := range s {
		up, is := superscripts[r]
		if is && !raised {
			b.WriteByte('^')
		}
		if raised = is; is {
			r = up
		}
		b.WriteRune(r)
	}
	return b.String()
}
