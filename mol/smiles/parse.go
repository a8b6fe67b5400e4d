package smiles

import (
	"errors"
	"fmt"
	"strings"
	"sync"

	"ionwright/chem"
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

// atomText is where the text of an atom ends.
func (p *parser) atomText(atom int) (from, to int) {
	from = int(p.begins[atom])
	to = from + 1
	if p.text[from] == '[' {
		if end := strings.IndexByte(p.text[from:], ']'); end >= 0 {
			to = from + end + 1
		}
	} else if symbol := p.atoms[atom].Element.Symbol(); len(symbol) == 2 {
		to++
	}
	return from, to
}

// atFault makes an error about an atom.
func (p *parser) atFault(atom int, problem, hint string) error {
	from, to := p.atomText(atom)
	return p.fail(from, to, problem, hint)
}

// molecule makes the graph of what has been read.
func (p *parser) molecule() (*mol.Mol, error) {
	if err := p.fillHydrogens(); err != nil {
		return nil, err
	}
	if p.slanted > 0 || p.marked > 0 || p.hydrogen {
		s := p.surround()
		if p.slanted > 0 {
			if err := s.cisTrans(); err != nil {
				return nil, err
			}
		}
		if p.marked > 0 {
			s.chiralities()
		}
		if p.hydrogen {
			s.fold()
		}
	}
	m, err := mol.FromNotation(p.atoms, p.bonds, p.implicit)
	if err == nil {
		if err := p.checkValences(m); err != nil {
			return nil, err
		}
		return m, nil
	}
	var kekule *mol.KekuleError
	var doubled *mol.DoubledError
	var aromatic *mol.AromaticError
	switch {
	case errors.As(err, &aromatic):
		return nil, p.atFault(aromatic.Atom, "this aromatic atom isn't in a ring of aromatic atoms", "small letters are for aromatic rings; write other atoms with capitals")
	case errors.As(err, &kekule):
		return nil, p.noKekule(kekule.Atom)
	case errors.As(err, &doubled):
		at := int(p.where[doubled.Bond])
		return nil, p.fail(at, at+1, "this bond joins two atoms that are bound already", "two atoms are joined by one bond only; for a double bond write =")
	}
	return nil, &Error{SMILES: p.text, Problem: err.Error()}
}

// checkValences refuses bracket atoms with more bonds than they can have; the
// others have been checked before.
func (p *parser) checkValences(m *mol.Mol) error {
	for i := range m.NumAtoms() {
		a := m.Atom(i)
		if mol.TooManyBonds(a.Element, int(a.Charge), m.Valence(i)) {
			return p.tooMany(i, m.Valence(i))
		}
	}
	return nil
}

// tooMany reports an atom with too many bonds.
func (p *parser) tooMany(atom, sum int) error {
	e := p.atoms[atom].Element
	return p.atFault(atom, fmt.Sprintf("%s has bonds of order %d in sum, more than its valence allows", e.Name(), sum), valenceHint(e))
}

// noKekule reports an atom that has no double bond left, or the nitrogen of
// its ring system that may lack a hydrogen.
func (p *parser) noKekule(atom int) error {
	const problem = "the aromatic ring has no arrangement of double bonds that gives each atom its valence"
	nitrogen := -1
	for _, at := range p.ringSystem(int32(atom)) {
		a := p.atoms[at]
		if a.Element == chem.N && a.Charge == 0 && a.Hydrogens == 0 && p.sums[at] == 2 && (nitrogen < 0 || int(at) < nitrogen) {
			nitrogen = int(at)
		}
	}
	if nitrogen >= 0 {
		return p.atFault(nitrogen, problem, "an aromatic nitrogen that carries a hydrogen is written [nH]")
	}
	return p.atFault(atom, problem, "check the charges, the hydrogens in brackets, and the size of the ring")
}

// ringSystem returns the atoms joined with one by aromatic bonds.
func (p *parser) ringSystem(atom int32) []int32 {
	s := p.surround()
	seen := make([]bool, len(p.atoms))
	seen[atom] = true
	system := []int32{atom}
	for head := 0; head < len(system); head++ {
		for _, bond := range s.bondsOf(system[head]) {
			to := p.bonds[bond].Other(system[head])
			if p.bonds[bond].Order == mol.Aromatic && !seen[to] {
				seen[to] = true
				system = append(system, to)
			}
		}
	}
	return system
}

// fillHydrogens adds the implicit hydrogens of the atoms without brackets.
func (p *parser) fillHydrogens() error {
	for i := range p.atoms {
		if !p.bare[i] {
			continue
		}
		a := &p.atoms[i]
		h, ok := mol.ImplicitHydrogens(a.Element, int(p.sums[i]), a.Aromatic)
		if !ok {
			return p.tooMany(i, int(p.sums[i]))
		}
		a.Hydrogens = uint8(h)
	}
	return nil
}

// valenceHint says what a neutral atom of the element can have.
func valenceHint(e chem.Element) string {
	switch e {
	case chem.C:
		return "carbon has four bonds; count the bonds of this atom"
	case chem.N:
		return "nitrogen has three bonds, five in the old form of the nitro group; with four it is a cation: [N+]"
	case chem.O:
		return "oxygen has two bonds; with three it is a cation: [O+]"
	}
	return "write the atom in brackets with its charge if it really has that many bonds"
}
