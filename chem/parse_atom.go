package chem

import (
	"fmt"
	"strings"
)

// label = "[" digits symbol [ number ] "]" .
func (p *parser) label() (Formula, *ParseError) {
	const hint = "a label is one isotope in brackets, such as [13C] or [2H3]"
	begin := p.at
	p.at++
	massNumber, _, err := p.number()
	if err != nil {
		return Formula{}, err
	}
	if r, _ := p.peek(); !isCapital(r) {
		return Formula{}, p.fail(p.at, hint, "no element symbol after the mass number")
	}
	f, err := p.isotope(begin, massNumber)
	if err != nil {
		return f, err
	}
	n, given, err := p.number()
	if err != nil {
		return f, err
	}
	if !strings.HasPrefix(p.text[p.at:], "]") {
		return f, p.fail(p.at, hint, "%q where the label's closing ']' was expected", p.rest())
	}
	p.at++
	if !given {
		return f, nil
	}
	var many Formula
	return many, p.addTimes(&many, f, n, begin)
}

// superscriptLabel = superscript digits symbol .
func (p *parser) superscriptLabel() (Formula, *ParseError) {
	begin := p.at
	massNumber := 0
	for {
		r, size := p.peek()
		digit := superscriptOf(r)
		if digit < 0 {
			return p.isotope(begin, massNumber)
		}
		if massNumber = massNumber*10 + digit; massNumber > MaxCount {
			return Formula{}, p.fail(begin, "", "the mass number is too large")
		}
		p.at += size
	}
}

// isotope reads the symbol of a label that began at begin.
func (p *parser) isotope(begin, massNumber int) (Formula, *ParseError) {
	e, err := p.symbol()
	if err != nil {
		return Formula{}, err
	}
	if _, ok := e.Isotope(massNumber); !ok {
		all := e.AllIsotopes()
		return Formula{}, p.fail(begin, fmt.Sprintf("mass numbers of %s are %d to %d", e.Name(), all[0].MassNumber, all[len(all)-1].MassNumber),
			"no isotope of %s with mass number %d is known", e.Name(), massNumber)
	}
	var f Formula
	return f, p.add(&f, LabelledSpecies(e, massNumber), 1, begin)
}

// atom = symbol | "D" | "T" .
func (p *parser) atom() (Formula, *ParseError) {
	begin := p.at
	s := Species(0)
	rest := p.text[p.at:]
	if rest[0] == 'D' || rest[0] == 'T' {
		if _, two := p.twoLetters(); !two {
			s = LabelledSpecies(H, 2)
			if rest[0] == 'T' {
				s = LabelledSpecies(H, 3)
			}
			p.at++
		}
	}
	if s == 0 {
		e, err := p.symbol()
		if err != nil {
			return Formula{}, err
		}
		s = NaturalSpecies(e)
	}
	var f Formula
	return f, p.add(&f, s, 1, begin)
}

// symbol = capital [ small ] .
// The longest symbol counts: Co is cobalt, CO carbon and oxygen.
func (p *parser) symbol() (Element, *ParseError) {
	if e, ok := p.twoLetters(); ok {
		p.at += 2
		return e, nil
	}
	begin := p.at
	small := begin + 1
	for small < len(p.text) && 'a' <= p.text[small] && p.text[small] <= 'z' {
		small++
	}
	e, ok := ElementBySymbol(p.text[begin : begin+1])
	if !ok || small > begin+1 {
		hint := ""
		if small > begin+1 {
			hint = "a symbol is a capital and at most one small letter: CO is carbon and oxygen, Co is cobalt"
		}
		return 0, p.fail(begin, hint, "no element has the symbol %q", p.text[begin:min(small, begin+12)])
	}
	p.at++
	return e, nil
}

// twoLetters returns the element whose symbol of two letters is next.
func (p *parser) twoLetters() (Element, bool) {
	rest := p.text[p.at:]
	if len(rest) < 2 {
		return 0, false
	}
	return ElementBySymbol(rest[:2])
}

// number = [ digit { digit } ] , ASCII or subscript, 1 to MaxCount.
// The second result is false where there is none.
func (p *parser) number() (int, bool, *ParseError) {
	begin, n := p.at, 0
	for {
		r, size := p.peek()
		digit := digitOf(r)
		if digit < 0 {
			break
		}
		n = n*10 + digit
		if n > MaxCount {
			return 0, true, p.fail(begin, "", "the number is too large; at most %d is possible", MaxCount)
		}
		p.at += size
		if n == 0 {
			return 0, true, p.fail(begin, "leave out what isn't there", "a number doesn't begin with 0")
		}
	}
	return n, p.at > begin, nil
}
