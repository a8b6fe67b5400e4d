package smiles

import (
	"fmt"

	"ionwright/chem"
	"ionwright/mol"
)

// atom reads one atom.
//
//	atom              ::= bracket_atom | aliphatic_organic | aromatic_organic
//	aliphatic_organic ::= 'B' | 'C' | 'N' | 'O' | 'S' | 'P' | 'F' | 'Cl' | 'Br' | 'I'
//	aromatic_organic  ::= 'b' | 'c' | 'n' | 'o' | 's' | 'p'
func (p *parser) atom() error {
	var e chem.Element
	aromatic, size := false, 1
	switch p.text[p.at] {
	case '[':
		return p.bracketAtom()
	case 'C':
		e = chem.C
		if p.next('l') {
			e, size = chem.Cl, 2
		}
	case 'N':
		e = chem.N
	case 'O':
		e = chem.O
	case 'c':
		e, aromatic = chem.C, true
	case 'n':
		e, aromatic = chem.N, true
	case 'o':
		e, aromatic = chem.O, true
	case 's':
		e, aromatic = chem.S, true
	case 'S':
		e = chem.S
	case 'P':
		e = chem.P
	case 'F':
		e = chem.F
	case 'B':
		e = chem.B
		if p.next('r') {
			e, size = chem.Br, 2
		}
	case 'I':
		e = chem.I
	case 'p':
		e, aromatic = chem.P, true
	case 'b':
		e, aromatic = chem.B, true
	default:
		return p.noAtom()
	}
	p.at += size
	p.atoms = append(p.atoms, mol.Atom{Element: e, Aromatic: aromatic})
	p.bare = append(p.bare, true)
	return nil
}

// next tells whether c follows the current byte.
func (p *parser) next(c byte) bool {
	return p.at+1 < len(p.text) && p.text[p.at+1] == c
}

// noAtom reports a character that begins no atom.
func (p *parser) noAtom() error {
	c := p.text[p.at]
	size := 1
	for p.at+size < len(p.text) && p.text[p.at+size]&0xC0 == 0x80 {
		size++ // the rest of a character outside of ASCII
	}
	switch {
	case c == '*':
		return p.fail(p.at, p.at+1, "the wildcard atom is not supported", "every atom needs a known element, because it needs a mass; for a pattern use SMARTS")
	case c == 'H', c == 'D', c == 'T':
		return p.fail(p.at, p.at+1, "hydrogen needs brackets", "write [H], [2H] or [3H]; hydrogens on other atoms needn't be written")
	case c == ']':
		return p.fail(p.at, p.at+1, "no bracket is open here", "remove it or open the atom with '['")
	}
	if size == 1 && p.at+1 < len(p.text) {
		if e, ok := chem.ElementBySymbol(p.text[p.at : p.at+2]); ok {
			return p.fail(p.at, p.at+2, "this element needs brackets", fmt.Sprintf("write [%s], with its hydrogens if it has any: [%sH2]", e, e))
		}
	}
	if e, ok := chem.ElementBySymbol(p.text[p.at : p.at+1]); ok {
		return p.fail(p.at, p.at+1, "this element needs brackets", fmt.Sprintf("write [%s], with its hydrogens if it has any: [%sH2]", e, e))
	}
	return p.fail(p.at, p.at+size, "an atom is expected here", "atoms without brackets are B C N O P S F Cl Br I and, in aromatic rings, b c n o p s")
}
