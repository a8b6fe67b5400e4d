package smiles

import (
	"fmt"

	"ionwright/mol"
)

// ringBond opens or closes a ring bond at atom.
//
//	ringbond ::= bond? ( DIGIT | '%' DIGIT DIGIT | '%' '(' DIGIT+ ')' )
//
// The form in parentheses, for numbers of up to five digits, is an extension
// in common use.
func (p *parser) ringBond(atom int32, order mol.Order, direction slant, symbol int) error {
	begin := p.at
	number, err := p.ringNumber()
	if err != nil {
		return err
	}
	if number >= len(p.rings) {
		p.rings = append(p.rings, make([]ring, number+1-len(p.rings))...)
	}
	r := &p.rings[number]
	if !r.open {
		*r = ring{open: true, order: order, slant: direction, atom: atom, at: int32(symbol), turn: -1}
		if p.allTurns || p.atoms[atom].Chirality != mol.NotChiral {
			r.turn = int32(len(p.chiral))
			p.turnTo(atom, hiddenTurn) // until the partner is known
		}
		p.open++
		return nil
	}
	r.open = false
	p.open--
	if r.atom == atom {
		return p.fail(begin, p.at, "the ring bond joins the atom to itself", "the two ends of a ring number belong to different atoms")
	}
	where := symbol
	switch {
	case r.slant != level && direction != level && r.slant == direction:
		return p.fail(symbol, p.at, "the two ends of the ring bond slant against each other", "write the direction at one end only")
	case r.order != 0 && order != 0 && r.order != order:
		return p.fail(symbol, p.at, fmt.Sprintf("the ring bond is %s here but %s where it begins, at character %d", order, r.order, r.at+1), "write the bond symbol at one end only")
	case order == 0 && direction == level && (r.order != 0 || r.slant != level):
		order, where = r.order, int(r.at)
	}
	if r.slant != level {
		direction = r.slant
	} else {
		direction = -direction
	}
	if r.turn >= 0 {
		p.chiral[r.turn].to = atom
	}
	p.turnTo(atom, r.atom)
	p.bind(r.atom, atom, order, direction, where)
	return nil
}

// ringNumber reads the number of a ring bond.
func (p *parser) ringNumber() (int, error) {
	begin := p.at
	if p.text[p.at] != '%' {
		p.at++
		return int(p.text[begin] - '0'), nil
	}
	p.at++
	number, digits, limit := 0, 0, 2
	bracket := p.at < len(p.text) && p.text[p.at] == '('
	if bracket {
		p.at++
		limit = 5
	}
	for digits < limit && p.at < len(p.text) && isDigit(p.text[p.at]) {
		number = number*10 + int(p.text[p.at]-'0')
		p.at++
		digits++
	}
	switch {
	case !bracket && digits < 2:
		return 0, p.fail(begin, p.at+1, "two digits must follow '%'", "write ring numbers as 1, %12 or %(123)")
	case bracket && (digits == 0 || p.at == len(p.text) || p.text[p.at] != ')'):
		return 0, p.fail(begin, p.at+1, "one to five digits and ')' must follow '%('", "write ring numbers as 1, %12 or %(123)")
	case bracket:
		p.at++
	}
	return number, nil
}

// unclosed reports the first ring bond without a second end.
func (p *parser) unclosed() error {
	first, number := -1, 0
	for n := range p.rings {
		if r := &p.rings[n]; r.open && (first < 0 || int(r.at) < first) {
			first, number = int(r.at), n
		}
	}
	return p.fail(first, first+1, fmt.Sprintf("ring bond %d is never closed", number), "write the same number after the atom that closes the ring")
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }
