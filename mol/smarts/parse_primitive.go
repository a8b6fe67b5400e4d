package smarts

import (
	"fmt"
	"strings"

	"ionwright/chem"
)

// primitive = "*" | "A" | "a" | symbol | "#" number | number | charge |
// "D" number? | "H" number? | "h" number? | "R" number? | "r" number? |
// "v" number? | "X" number? | "x" number? | "$(" pattern ")"
//
// A symbol of two letters goes before one of one letter: [Sc] is scandium.
func (p *parser) primitive() *expr {
	at := p.pos
	if symbol := p.symbol(); symbol != "" {
		p.pos += len(symbol)
		return symbolExpr(symbol)
	}
	b := p.peek()
	if b >= '0' && b <= '9' {
		mass, _ := p.number()
		return primitive(is(fieldIsotope, mass))
	}
	switch b {
	case '+', '-':
		return primitive(p.charge())
	case '#':
		p.pos++
		number, ok := p.number()
		if !ok {
			p.fail(at, `write the atomic number: "#6" is carbon`, `"#" without a number`)
		}
		if number > chem.Elements {
			p.fail(at, fmt.Sprintf("atomic numbers go from 1 to %d", chem.Elements), `"#%d" is no element`, number)
		}
		return primitive(is(fieldElement, number))
	case '$':
		return p.environment()
	case 'D', 'H', 'h', 'R', 'r', 'v', 'X', 'x':
		p.pos++
		number, ok := p.number()
		return count(b, number, ok)
	}
	p.refusePrimitive()
	return nil
}

// count returns the primitive of a letter with its number, or without one.
func count(letter byte, number int, written bool) *expr {
	asks := func(f field) *expr {
		if !written {
			number = 1
		}
		if number >= f.limit() {
			return nothing()
		}
		return primitive(is(f, number))
	}
	inRing := primitive(is(fieldInRing, 1))
	switch letter {
	case 'D':
		return asks(fieldDegree)
	case 'H':
		return asks(fieldHs)
	case 'X':
		return asks(fieldTotal)
	case 'v':
		return asks(fieldValence)
	case 'h':
		if !written {
			return primitive(is(fieldHidesH, 1))
		}
		return asks(fieldHidden)
	}
	switch {
	case !written:
		return inRing
	case number == 0:
		return not(inRing)
	case letter == 'R':
		return asks(fieldRings)
	case letter == 'r':
		return asks(fieldSmallest)
	}
	return asks(fieldRingBond)
}

// symbol returns the element symbol at the position, or "*", "A", "a"; "" where
// there is none. What could be read as a symbol of two letters is.
func (p *parser) symbol() string {
	rest := p.src[p.pos:]
	if len(rest) >= 2 {
		two := rest[:2]
		if _, ok := chem.ElementBySymbol(two); ok || two == "se" || two == "as" || two == "te" || two == "si" {
			return two
		}
	}
	if rest == "" {
		return ""
	}
	one := rest[:1]
	if strings.Contains("*Aabcnops", one) {
		return one
	}
	if e, ok := chem.ElementBySymbol(one); ok && e != chem.H {
		return one
	}
	return ""
}

// symbolExpr returns what a symbol asks for. A capital asks for an atom that
// isn't aromatic, a small letter for one that is.
func symbolExpr(symbol string) *expr {
	switch symbol {
	case "*":
		return anything()
	case "A":
		return primitive(is(fieldAromatic, 0))
	case "a":
		return primitive(is(fieldAromatic, 1))
	}
	aromatic := 0
	if symbol[0] >= 'a' {
		aromatic = 1
	}
	element, _ := chem.ElementBySymbol(strings.ToUpper(symbol[:1]) + symbol[1:])
	l, _ := both(is(fieldElement, int(element)), is(fieldAromatic, aromatic))
	return primitive(l)
}

// charge = "+" { "+" } | "-" { "-" } | ( "+" | "-" ) number
func (p *parser) charge() literal {
	at, sign := p.pos, p.peek()
	p.pos++
	size, written := p.number()
	if !written {
		size = 1
		for ; p.peek() == sign; p.pos++ {
			size++
		}
	}
	if size > 127 {
		p.fail(at, "charges go from -127 to +127", "a charge too large")
	}
	if sign == '-' {
		size = -size
	}
	return is(fieldCharge, size)
}

// environment = "$(" pattern ")"
func (p *parser) environment() *expr {
	at := p.pos
	p.pos++
	if p.peek() != '(' {
		p.fail(at, `an environment is written "$(…)"`, `"$" without "("`)
	}
	p.pos++
	if p.depth == maxNesting {
		p.fail(at, "say the same with fewer levels", "environments are nested more than %d deep", maxNesting)
	}
	if p.peek() == ')' {
		p.fail(at, `write at least one atom, "*" for any`, "the environment is empty")
	}
	p.depth++
	start := p.pos
	q := p.pattern()
	text := p.src[start:p.pos]
	p.depth--
	p.pos++ // the parenthesis that pattern ended before
	rec, known := p.envs.byText[text]
	if !known {
		rec = len(p.envs.list)
		p.envs.byText[text] = rec
		p.envs.list = append(p.envs.list, &environment{query: q})
	}
	return &expr{op: opRecursive, rec: rec}
}

// refusePrimitive explains why what stands in brackets at the position is no
// atom primitive.
func (p *parser) refusePrimitive() {
	hint := "in brackets stand element symbols, #n, *, A, a, D, H, h, R, r, v, X, x, a charge, a mass number, $(…), combined with ! & , ;"
	switch p.peek() {
	case '@':
		p.fail(p.pos, "leave it out: mirror images give the same spectrum, so no pattern here asks for one",
			"chirality isn't supported")
	case '^':
		p.fail(p.pos, "^n (hybridization) is no part of the language; ask for connections and bonds, as in [CX3]=*", `"^" isn't supported`)
	case '{':
		p.fail(p.pos, "ranges are no part of the language; write the alternatives, as in [D2,D3]", `"{" isn't supported`)
	case '(', ')':
		hint = "parentheses within brackets belong to $(…) only; for alternatives use , and ;"
	}
	p.fail(p.pos, hint, "%s is no property of an atom", p.next())
}
