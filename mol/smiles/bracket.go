package smiles

import (
	"fmt"

	"ionwright/chem"
	"ionwright/mol"
)

// bracketAtom reads an atom in brackets.
//
//	bracket_atom ::= '[' isotope? symbol chiral? hcount? charge? class? ']'
//	isotope      ::= NUMBER
//	hcount       ::= 'H' DIGIT?
//	class        ::= ':' NUMBER
func (p *parser) bracketAtom() error {
	begin := p.at
	p.at++
	var a mol.Atom
	if p.at < len(p.text) && isDigit(p.text[p.at]) {
		from := p.at
		n := p.number(999)
		if n < 0 {
			return p.fail(from, p.at, "the mass number has more than three digits", "write the mass number before the symbol: [13C]")
		}
		if n == 0 {
			return p.fail(from, p.at, "an isotope of mass number 0 has no mass", "leave the mass number out for the natural mixture")
		}
		a.Isotope = uint16(n)
	}
	if err := p.bracketSymbol(&a); err != nil {
		return err
	}
	if a.Isotope != 0 {
		if _, ok := a.Element.Isotope(int(a.Isotope)); !ok {
			return p.fail(begin, p.at, fmt.Sprintf("no nuclide %d%s is known, so it has no mass", a.Isotope, a.Element), "leave the mass number out for the natural mixture")
		}
	}
	if err := p.chirality(&a); err != nil {
		return err
	}
	if p.at < len(p.text) && p.text[p.at] == 'H' {
		from := p.at
		p.at++
		a.Hydrogens = 1
		if p.at < len(p.text) && isDigit(p.text[p.at]) {
			a.Hydrogens = p.text[p.at] - '0'
			p.at++
		}
		if a.Element == chem.H {
			return p.fail(from, p.at, "a hydrogen atom can't have a hydrogen count", "write molecular hydrogen as [H][H]")
		}
	}
	if err := p.charge(&a); err != nil {
		return err
	}
	if p.at < len(p.text) && p.text[p.at] == ':' {
		from := p.at
		p.at++
		if p.at == len(p.text) || !isDigit(p.text[p.at]) {
			return p.fail(from, p.at+1, "a number must follow ':'", "write the atom class as a number: [CH3:1]")
		}
		n := p.number(999_999_999)
		if n < 0 {
			return p.fail(from, p.at, "the atom class is too large", "the largest atom class is 999999999")
		}
		a.Class = uint32(n)
	}
	if p.at == len(p.text) {
		return p.fail(begin, len(p.text), "the bracket is never closed", "write ']' after the atom")
	}
	if p.text[p.at] != ']' {
		return p.fail(p.at, p.at+1, "this can't stand here in a bracket atom", "the order is mass number, symbol, chirality, hydrogens, charge, class: [13C@H+:1]")
	}
	p.at++
	p.atoms = append(p.atoms, a)
	p.bare = append(p.bare, false)
	if a.Chirality != mol.NotChiral {
		p.marked++
	}
	if a.Element == chem.H {
		p.hydrogen = true
	}
	return nil
}

// number reads digits, -1 where they exceed limit.
func (p *parser) number(limit int) int {
	n := 0
	for p.at < len(p.text) && isDigit(p.text[p.at]) {
		if n <= limit {
			n = n*10 + int(p.text[p.at]-'0')
		}
		p.at++
	}
	if n > limit {
		return -1
	}
	return n
}

// bracketSymbol reads the symbol of an atom in brackets.
//
//	symbol           ::= element_symbols | aromatic_symbols
//	aromatic_symbols ::= 'b' | 'c' | 'n' | 'o' | 'p' | 's' | 'se' | 'as'
//
// Besides, 'te' and 'si' are read: they occur in aromatic rings as written by
// others.
func (p *parser) bracketSymbol(a *mol.Atom) error {
	if p.at == len(p.text) {
		return p.fail(p.at-1, p.at, "the bracket is never closed", "write ']' after the atom")
	}
	c := p.text[p.at]
	if c >= 'A' && c <= 'Z' {
		if p.at+1 < len(p.text) {
			if e, ok := chem.ElementBySymbol(p.text[p.at : p.at+2]); ok {
				a.Element = e
				p.at += 2
				return nil
			}
		}
		if e, ok := chem.ElementBySymbol(p.text[p.at : p.at+1]); ok {
			a.Element = e
			p.at++
			return nil
		}
		if c == 'D' || c == 'T' {
			return p.fail(p.at, p.at+1, "hydrogen isotopes are written with their mass number", "write [2H] for deuterium, [3H] for tritium")
		}
		return p.fail(p.at, p.at+1, "no element has this symbol", "an element symbol has a capital and perhaps a small letter: [Na+]")
	}
	if c == '*' {
		return p.fail(p.at, p.at+1, "the wildcard atom is not supported", "every atom needs a known element, because it needs a mass; for a pattern use SMARTS")
	}
	e, size := aromaticSymbol(p.text[p.at:])
	if size == 0 {
		return p.fail(p.at, p.at+1, "an element symbol is expected here", "the order is mass number, symbol, chirality, hydrogens, charge, class: [13C@H+:1]")
	}
	a.Element, a.Aromatic = e, true
	p.at += size
	return nil
}

// aromaticSymbol returns the element of a small-letter symbol and its length.
func aromaticSymbol(s string) (chem.Element, int) {
	if len(s) >= 2 {
		switch s[:2] {
		case "se":
			return chem.Se, 2
		case "as":
			return chem.As, 2
		case "te":
			return chem.Te, 2
		case "si":
			return chem.Si, 2
		}
	}
	switch s[0] {
	case 'b':
		return chem.B, 1
	case 'c':
		return chem.C, 1
	case 'n':
		return chem.N, 1
	case 'o':
		return chem.O, 1
	case 'p':
		return chem.P, 1
	case 's':
		return chem.S, 1
	}
	return 0, 0
}

// charge reads the charge of an atom.
//
//	charge ::= '-' | '-' DIGIT? DIGIT | '+' | '+' DIGIT? DIGIT | '--' | '++'
//
// Longer rows of signs count as well.
func (p *parser) charge(a *mol.Atom) error {
	if p.at == len(p.text) || p.text[p.at] != '+' && p.text[p.at] != '-' {
		return nil
	}
	from, sign, n := p.at, p.text[p.at], 0
	for p.at < len(p.text) && p.text[p.at] == sign {
		n++
		p.at++
	}
	if n == 1 && p.at < len(p.text) && isDigit(p.text[p.at]) {
		n = p.number(maxCharge)
	}
	if n < 0 || n > maxCharge {
		return p.fail(from, p.at, "the charge is out of range", "charges from -99 to +99 can be written")
	}
	if sign == '-' {
		n = -n
	}
	a.Charge = int8(n)
	return nil
}

// maxCharge is the largest charge of one atom.
const maxCharge = 99

// chirality reads the arrangement of an atom's neighbors.
//
//	chiral ::= '@' | '@@' | '@TH' [1-2] | '@AL' [1-2] | '@SP' [1-3] | '@TB' [1-20] | '@OH' [1-30]
//
// The mark is kept as written until the neighbors are known.
func (p *parser) chirality(a *mol.Atom) error {
	if p.at == len(p.text) || p.text[p.at] != '@' {
		return nil
	}
	from := p.at
	p.at++
	if p.at < len(p.text) && p.text[p.at] == '@' {
		p.at++
		a.Chirality = mol.TH2
		return nil
	}
	a.Chirality = mol.TH1
	if p.at+1 >= len(p.text) {
		return nil
	}
	var first mol.Chirality
	var limit int
	switch p.text[p.at : p.at+2] {
	case "TH":
		first, limit = mol.TH1, 2
	case "AL":
		first, limit = mol.AL1, 2
	case "SP":
		first, limit = mol.SP1, 3
	case "TB":
		first, limit = mol.TB1, 20
	case "OH":
		first, limit = mol.OH1, 30
	default:
		return nil
	}
	p.at += 2
	n := -1
	if p.at < len(p.text) && isDigit(p.text[p.at]) {
		n = p.number(limit)
	}
	if n < 1 {
		return p.fail(from, p.at, "the chirality class has no such number", "the numbers are TH1-2, AL1-2, SP1-3, TB1-20, OH1-30")
	}
	a.Chirality = first + mol.Chirality(n-1)
	return nil
}
