package smiles

import (
	"fmt"
	"strings"
	"sync"

	"ionwright/mol"
)

// MaxLength is the longest SMILES that is read, in bytes.
const MaxLength = 200_000

// Parse reads one SMILES. Text after the first space, tab or line end is not
// read. Errors are of type *[Error].
//
// The graph is normalized: a hydrogen atom without isotope, charge, class or
// second bond becomes a count of its neighbor; aromaticity is perceived (see
// [mol.Mol.Aromatize]) whether the text was in Kekule or aromatic form; open
// valences of bracket atoms are unpaired electrons (see
// [mol.UnpairedElectrons]).
//
// Refused with a reason, besides what the specification forbids: the wildcard
// '*' and nuclides that don't exist, because neither has a mass; more than
// [MaxLength] bytes; graphs too large for [mol.New].
func Parse(s string) (*mol.Mol, error) {
	if end := strings.IndexAny(s, " \t\r\n"); end >= 0 {
		s = s[:end]
	}
	if len(s) > MaxLength {
		return nil, &Error{
			SMILES: s, Offset: MaxLength, Token: s[MaxLength : MaxLength+1],
			Problem: fmt.Sprintf("the text of %d characters is too long, the limit is %d", len(s), MaxLength),
		}
	}
	p := parsers.Get().(*parser)
	defer parsers.Put(p)
	p.reset(s)
	if err := p.parse(); err != nil {
		return nil, err
	}
	if p.marked > 0 && p.hasAllene() {
		// The ends of an allene may come before its mark: read again.
		p.reset(s)
		p.allTurns = true
		if err := p.parse(); err != nil {
			return nil, err
		}
	}
	return p.molecule()
}

// parsers holds idle parsers, for their buffers.
var parsers = sync.Pool{New: func() any { return new(parser) }}

// parser holds what has been read so far. Positions are byte offsets.
type parser struct {
	text     string
	at       int // next byte
	atoms    []mol.Atom
	begins   []int32 // where the text of each atom begins
	bare     []bool  // atom is written without brackets
	sums     []int32 // bond orders of each atom, an aromatic bond as 1
	bonds    []mol.Bond
	implicit []bool  // bond is written without order
	slants   []slant // direction of each bond
	slanted  int     // number of bonds with a direction
	where    []int32 // where the symbol of each bond is, or its second atom
	branches []branch
	rings    []ring // by ring number
	open     int    // number of rings to be closed
	chiral   []turn // bonds of chiral atoms in the order of the text
	marked   int    // number of chiral atoms
	allTurns bool   // chiral holds the bonds of all atoms
	hydrogen bool   // there are hydrogen atoms
}

// slant is the direction of a bond written '/' or '\': where its end lies as
// seen from its beginning.
type slant int8

const (
	level slant = 0
	above slant = 1
	below slant = -1
)

// branch is an open parenthesis.
type branch struct {
	atom int32 // it hangs on
	at   int32 // of the parenthesis
}

// ring is a ring bond that waits for its second end.
type ring struct {
	open  bool
	order mol.Order // 0 = not written
	slant slant
	atom  int32
	at    int32 // of the bond symbol or number
	turn  int32 // place in parser.chiral to be filled, -1 = none
}

// turn is one bond of a chiral atom.
type turn struct {
	atom int32
	to   int32 // the neighbor
}

// hiddenTurn stands in turn.to where a hydrogen of the bracket or a lone pair
// has its place: after the atom before.
const hiddenTurn = -2

func (p *parser) reset(s string) {
	p.text, p.at = s, 0
	p.atoms, p.begins, p.bare, p.sums = p.atoms[:0], p.begins[:0], p.bare[:0], p.sums[:0]
	p.bonds, p.implicit, p.slants, p.where = p.bonds[:0], p.implicit[:0], p.slants[:0], p.where[:0]
	p.branches, p.chiral = p.branches[:0], p.chiral[:0]
	p.slanted, p.marked, p.hydrogen, p.allTurns = 0, 0, false, false
	if p.open > 0 {
		clear(p.rings)
		p.open = 0
	}
}

// fail makes an error about text[from:to].
func (p *parser) fail(from, to int, problem, hint string) error {
	to = min(to, len(p.text))
	return &Error{SMILES: p.text, Offset: from, Token: p.text[from:to], Problem: problem, Hint: hint}
}

// parse reads the whole text.
//
//	smiles        ::= chain?
//	chain         ::= branched_atom ( ( bond | dot )? branched_atom )*
//	branched_atom ::= atom ringbond* branch*
//	branch        ::= '(' ( bond | dot )? chain ')'
//
// Branches are kept on a stack of our own, so that depth costs no call stack.
func (p *parser) parse() error {
	const (
		start     = iota // an atom must follow, there is none to bind to
		afterAtom        // anything may follow
		afterBond        // an atom or ring number must follow
		afterDot         // an atom must follow, not bound
		afterOpen        // a parenthesis has just been opened
		closed           // a branch has just been closed
	)
	state := start
	prev := int32(-1)
	var order mol.Order
	var direction slant
	symbol := 0       // where the pending bond symbol is
	branched := false // a branch came before the pending bond symbol
	for p.at < len(p.text) {
		c := p.text[p.at]
		switch {
		case c == '(':
			if state != afterAtom && state != closed {
				return p.fail(p.at, p.at+1, "a branch can't begin here", "a branch follows the atom that it hangs on: write C(C)O, not C((C))O or (CO)N")
			}
			p.branches = append(p.branches, branch{prev, int32(p.at)})
			p.at++
			state = afterOpen
		case c == ')':
			if len(p.branches) == 0 {
				return p.fail(p.at, p.at+1, "no branch is open here", "remove the parenthesis or open the branch with '('")
			}
			if state == afterOpen {
				return p.fail(p.at-1, p.at+1, "the branch is empty", "write at least one atom between the parentheses")
			}
			if state != afterAtom && state != closed {
				return p.fail(p.at, p.at+1, "the branch ends where an atom is expected", "write an atom after the bond symbol or dot")
			}
			prev = p.branches[len(p.branches)-1].atom
			p.branches = p.branches[:len(p.branches)-1]
			p.at++
			state = closed
		case c == '.':
			if state != afterAtom && state != closed && state != afterOpen {
				return p.fail(p.at, p.at+1, "a dot can't stand here", "a dot separates two parts; write one dot, between atoms")
			}
			p.at++
			state = afterDot
		case bondOrder(c) != 0 || c == '/' || c == '\\':
			if state != afterAtom && state != closed && state != afterOpen {
				return p.fail(p.at, p.at+1, "a bond symbol can't stand here", "a bond symbol follows an atom, and only one stands between two atoms")
			}
			symbol, branched = p.at, state == closed
			order, direction = bondOrder(c), level
			switch c {
			case '/':
				direction = above
			case '\\':
				direction = below
			}
			p.at++
			state = afterBond
		case c >= '0' && c <= '9' || c == '%':
			switch {
			case state == closed || state == afterBond && branched:
				return p.fail(p.at, p.at+1, "a ring number can't follow a branch", "write ring numbers before the branches of an atom")
			case state == afterBond && p.text[symbol-1] != '(' && prev >= 0:
			case state != afterAtom:
				return p.fail(p.at, p.at+1, "a ring number can't stand here", "a ring number follows the atom that it belongs to")
			}
			if state == afterAtom {
				symbol = p.at
			}
			if err := p.ringBond(prev, order, direction, symbol); err != nil {
				return err
			}
			order, direction = 0, level
			state = afterAtom
		default:
			begin := p.at
			if err := p.atom(); err != nil {
				return err
			}
			now := int32(len(p.atoms) - 1)
			p.begins = append(p.begins, int32(begin))
			p.sums = append(p.sums, 0)
			if state != start && state != afterDot {
				if state != afterBond {
					symbol = begin
				}
				p.turnTo(prev, now)
				p.turnTo(now, prev)
				p.turnTo(now, hiddenTurn)
				p.bind(prev, now, order, direction, symbol)
				order, direction = 0, level
			} else {
				p.turnTo(now, hiddenTurn)
			}
			prev = now
			state = afterAtom
		}
	}
	switch {
	case state == afterBond || state == afterDot:
		return p.fail(len(p.text)-1, len(p.text), "the text ends where an atom is expected", "remove the last character or write an atom after it")
	case len(p.branches) > 0:
		open := int(p.branches[len(p.branches)-1].at)
		return p.fail(open, open+1, "the branch is never closed", "write ')' where the branch ends")
	case p.open > 0:
		return p.unclosed()
	}
	return nil
}

// bondOrder returns the order that a bond symbol writes, 0 for others.
//
//	bond ::= '-' | '=' | '#' | '$' | ':' | '/' | '\'
func bondOrder(c byte) mol.Order {
	switch c {
	case '-':
		return mol.Single
	case '=':
		return mol.Double
	case '#':
		return mol.Triple
	case '$':
		return mol.Quadruple
	case ':':
		return mol.Aromatic
	}
	return 0
}

// bind adds a bond. Without a written order it is aromatic between aromatic
// atoms, else single.
func (p *parser) bind(from, to int32, order mol.Order, direction slant, where int) {
	implicit := order == 0
	if implicit {
		order = mol.Single
		if p.atoms[from].Aromatic && p.atoms[to].Aromatic {
			order = mol.Aromatic
		}
	}
	p.bonds = append(p.bonds, mol.Bond{Begin: from, End: to, Order: order})
	p.implicit = append(p.implicit, implicit)
	p.slants = append(p.slants, direction)
	p.where = append(p.where, int32(where))
	if direction != level {
		p.slanted++
	}
	weight := int32(order)
	if order == mol.Aromatic {
		weight = 1
	}
	p.sums[from] += weight
	p.sums[to] += weight
}

// turnTo notes that the next neighbor of atom in the text is to, where the
// order matters.
func (p *parser) turnTo(atom, to int32) {
	if p.allTurns || p.atoms[atom].Chirality != mol.NotChiral {
		p.chiral = append(p.chiral, turn{atom, to})
	}
}
