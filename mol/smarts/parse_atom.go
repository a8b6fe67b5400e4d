package smarts

import (
	"strings"

	"ionwright/chem"
)

// atom = "*" | "A" | "a" | "B" | "C" | "N" | "O" | "P" | "S" | "F" | "Cl" |
// "Br" | "I" | "b" | "c" | "n" | "o" | "p" | "s" | "[" bracket "]"
func (p *parser) atom() queryAtom {
	at := p.pos
	b := p.peek()
	if b == '[' {
		return p.bracket()
	}
	for _, symbol := range [...]string{"Cl", "Br"} {
		if strings.HasPrefix(p.src[at:], symbol) {
			p.pos += 2
			return queryAtom{expr: symbolExpr(symbol)}
		}
	}
	if b != 0 && strings.IndexByte("*AaBCNOPSFIbcnops", b) >= 0 {
		p.pos++
		return queryAtom{expr: symbolExpr(string(b))}
	}
	p.refuseAtom(at)
	return queryAtom{}
}

// refuseAtom explains why no atom starts at the position.
func (p *parser) refuseAtom(at int) {
	b := p.peek()
	switch {
	case p.pos >= len(p.src):
		if at == 0 {
			p.fail(at, `write at least one atom, "*" for any`, "the pattern is empty")
		}
		p.fail(at, "write the atom, or remove what needs it", "expected an atom, found the end")
	case b == '>':
		p.fail(at, "write the pattern of one side", "reactions aren't supported")
	case b == 'H':
		p.fail(at, `write "[H]" for a hydrogen atom, "[CH3]" for a carbon atom with three hydrogens`, `"H" outside brackets`)
	case b >= 'A' && b <= 'Z' || b >= 'a' && b <= 'z':
		p.fail(at, "other elements stand in brackets: [Si], [Na]", "%s isn't an atom that may stand without brackets", p.next())
	}
	p.fail(at, `an atom is a symbol such as C, c, Cl, "*" for any, or stands in brackets`, "expected an atom, found %s", p.next())
}

// bracket = "[" ( hydrogen | atomLow ) ( ":" number )? "]"
// hydrogen = number? "H" charge?
//
// A hydrogen atom is meant only where nothing else stands in the brackets;
// everywhere else H is a count of hydrogens.
func (p *parser) bracket() queryAtom {
	open := p.pos
	p.pos++
	if p.peek() == ']' {
		p.fail(open, `write "[*]" for any atom`, "the brackets are empty")
	}
	var a queryAtom
	if e := p.hydrogen(); e != nil {
		a.expr = e
	} else {
		a.expr = p.atomLow(open).normal(false)
	}
	if p.peek() == ':' {
		p.pos++
		number, ok := p.number()
		if !ok {
			p.fail(p.pos, `write a number as in "[C:1]"`, "expected the number of the atom after \":\", found %s", p.next())
		}
		a.class = number
	}
	if p.peek() != ']' {
		p.unclosed(open)
	}
	p.pos++
	return a
}

// unclosed explains what can't stand in brackets at the position.
func (p *parser) unclosed(open int) {
	if p.pos >= len(p.src) {
		p.fail(open, `close them with "]"`, "the brackets that open here aren't closed")
	}
	p.refusePrimitive()
}

// hydrogen reads the inside of brackets that mean a hydrogen atom; nil, with
// nothing read, where they don't.
func (p *parser) hydrogen() *expr {
	start := p.pos
	mass, hasMass := p.number()
	if p.peek() == 'H' {
		p.pos++
		l := is(fieldElement, int(chem.H))
		if hasMass {
			l, _ = both(l, is(fieldIsotope, mass))
		}
		if b := p.peek(); b == '+' || b == '-' {
			l, _ = both(l, p.charge())
		}
		if b := p.peek(); b == ']' || b == ':' {
			return primitive(l)
		}
	}
	p.pos = start
	return nil
}

// atomLow = { atomOr ";" } atomOr
func (p *parser) atomLow(open int) *expr {
	kids := []*expr{p.atomOr(open)}
	for p.peek() == ';' {
		p.pos++
		kids = append(kids, p.atomOr(open))
	}
	return join(opAnd, kids)
}

// atomOr = { atomAnd "," } atomAnd
func (p *parser) atomOr(open int) *expr {
	kids := []*expr{p.atomAnd(open)}
	for p.peek() == ',' {
		p.pos++
		kids = append(kids, p.atomAnd(open))
	}
	return join(opOr, kids)
}

// atomAnd = { atomNot "&"? } atomNot
func (p *parser) atomAnd(open int) *expr {
	kids := []*expr{p.atomNot(open)}
	for {
		switch b := p.peek(); {
		case b == '&':
			p.pos++
		case b == 0 || strings.IndexByte(";,]:", b) >= 0:
			return join(opAnd, kids)
		}
		if b := p.peek(); b >= '0' && b <= '9' {
			p.fail(p.pos, "a mass number stands first in its brackets, as in [13C]; a count follows its letter, as in [CH3]",
				"a number that belongs to nothing")
		}
		kids = append(kids, p.atomNot(open))
	}
}

// atomNot = { "!" } primitive
func (p *parser) atomNot(open int) *expr {
	negate := false
	for p.peek() == '!' {
		negate = !negate
		p.pos++
	}
	if p.pos >= len(p.src) {
		p.unclosed(open)
	}
	if negate {
		return not(p.primitive())
	}
	return p.primitive()
}
