package smarts

import (
	"fmt"
	"strings"
)

// Limits of a pattern. They are far above what chemistry asks for; they keep
// a hostile text from costing more than a moment.
const (
	maxLength  = 1 << 15 // bytes
	maxAtoms   = 1 << 12 // of one pattern, or of one environment
	maxNesting = 32      // $( within $(
)

// A parser reads one pattern. Its methods are the productions of the grammar,
// which stands above each; what a method can't read it reports as an *Error
// through fail.
type parser struct {
	src   string
	pos   int // 0-based, in bytes
	depth int // of $(
	envs  *environments
}

// failure carries an *Error from the production that noticed it to parse.
type failure struct{ err *Error }

// fail ends the parsing with an error at a 0-based position.
func (p *parser) fail(at int, hint, format string, args ...any) {
	panic(failure{&Error{Pattern: p.src, Position: at + 1, Problem: fmt.Sprintf(format, args...), Hint: hint}})
}

// parse reads a whole text. Environments that it meets are added to envs.
func parse(src string, envs *environments) (q *query, err error) {
	p := &parser{src: src, envs: envs}
	defer func() {
		if r := recover(); r != nil {
			failed, ok := r.(failure)
			if !ok {
				panic(r)
			}
			q, err = nil, failed.err
		}
	}()
	if len(src) > maxLength {
		p.fail(maxLength, fmt.Sprintf("a pattern has at most %d characters", maxLength), "the pattern has %d characters", len(src))
	}
	return p.pattern(), nil
}

// peek returns the next byte, 0 at the end.
func (p *parser) peek() byte {
	if p.pos < len(p.src) {
		return p.src[p.pos]
	}
	return 0
}

// next says what stands at the position, for messages.
func (p *parser) next() string {
	if p.pos >= len(p.src) {
		return "the end"
	}
	for _, r := range p.src[p.pos:] {
		return fmt.Sprintf("%q", string(r))
	}
	return "the end"
}

// A chain is the state of reading one pattern or environment.
type chain struct {
	query    *query
	previous int      // the atom that the next one binds to, -1 at a start
	branches []branch // open parentheses
	closures map[int]closing
	joined   map[[2]int]bool // pairs of atoms with a bond
	start    int             // position of the pattern or environment
}

type branch struct {
	from int // the atom before the parenthesis
	at   int // position of the parenthesis
}

type closing struct {
	atom    int
	mask    bondMask
	written bool // whether a bond was written before the digit
	at      int
}

// pattern = atom { ring | "(" bond? pattern ")" | bond? atom | "." atom }
//
// It ends at the end of the text or, within $(, before the parenthesis that
// closes it.
func (p *parser) pattern() *query {
	c := &chain{query: &query{}, previous: -1, closures: map[int]closing{}, joined: map[[2]int]bool{}, start: p.pos}
	p.component(c)
	p.link(c, p.atom(), unwritten)
	for !p.ended(c) {
		at := p.pos
		switch b := p.peek(); {
		case b == '(':
			p.pos++
			c.branches = append(c.branches, branch{c.previous, at})
			if n := p.peek(); n == ')' {
				p.fail(p.pos, "leave the parentheses out", "the branch is empty")
			} else if n == '(' {
				p.fail(p.pos, "a branch starts with a bond or an atom", "a branch can't start with another branch")
			} else if n == '.' {
				p.fail(p.pos, `write the part after the "." at the end of the pattern`, `a branch can't start with "."`)
			}
			mask, _ := p.bond()
			p.link(c, p.atom(), mask)
		case b == ')':
			p.pos++
			last := len(c.branches) - 1
			if last < 0 {
				p.fail(at, `remove it, or open the branch with "("`, `this ")" closes nothing`)
			}
			c.previous = c.branches[last].from
			c.branches = c.branches[:last]
		case b == '.':
			p.pos++
			if len(c.branches) > 0 {
				p.fail(at, `write the part after the "." at the end of the pattern`, `a "." within a branch`)
			}
			c.previous = -1
			p.component(c)
			p.link(c, p.atom(), unwritten)
		default:
			mask, written := p.bond()
			if n := p.peek(); n == '%' || n >= '0' && n <= '9' {
				p.ring(c, mask, written)
			} else {
				p.link(c, p.atom(), mask)
			}
		}
	}
	if len(c.branches) > 0 {
		p.fail(c.branches[len(c.branches)-1].at, `close it with ")"`, "the branch that opens here isn't closed")
	}
	p.closed(c)
	return c.query
}

// component refuses what may not stand where a pattern or its next part
// starts.
func (p *parser) component(c *chain) {
	if p.peek() != '(' {
		return
	}
	if p.depth > 0 {
		p.fail(p.pos, "write the first atom without parentheses", "an environment can't start with a branch")
	}
	p.fail(p.pos, `to ask for two parts anywhere write them with "." and no parentheses; one pattern can't say whether they are in one molecule or in two`,
		"grouping of components by parentheses isn't supported")
}

// ended says whether the pattern or environment is complete.
func (p *parser) ended(c *chain) bool {
	if p.pos >= len(p.src) {
		if p.depth > 0 && len(c.branches) == 0 {
			p.fail(c.start-len("$("), `close it with ")"`, "the environment that opens here isn't closed")
		}
		return true
	}
	return p.depth > 0 && p.src[p.pos] == ')' && len(c.branches) == 0
}

// link adds an atom, with a bond to the previous one if there is any, and
// makes it the previous one.
func (p *parser) link(c *chain, a queryAtom, mask bondMask) {
	q := c.query
	if len(q.atoms) == maxAtoms {
		p.fail(p.pos-1, "split the pattern", "the pattern has more than %d atoms", maxAtoms)
	}
	q.atoms = append(q.atoms, a)
	this := len(q.atoms) - 1
	if c.previous >= 0 {
		c.joined[[2]int{c.previous, this}] = true
		q.bonds = append(q.bonds, queryBond{c.previous, this, mask})
	}
	c.previous = this
}

// ring = digit | "%" digit digit | "%(" digits ")"
//
// mask and written are the bond before it.
func (p *parser) ring(c *chain, mask bondMask, written bool) {
	at := p.pos
	number := p.ringNumber()
	open, ok := c.closures[number]
	if !ok {
		c.closures[number] = closing{c.previous, mask, written, at}
		return
	}
	delete(c.closures, number)
	if open.atom == c.previous {
		p.fail(at, "use the number once on each of two atoms", "ring closure %d binds an atom to itself", number)
	}
	pair := [2]int{min(open.atom, c.previous), max(open.atom, c.previous)}
	if c.joined[pair] {
		p.fail(at, "bind other atoms, or leave the ring closure out", "ring closure %d binds two atoms that have a bond already", number)
	}
	switch {
	case !written:
		mask = open.mask
	case open.written && open.mask != mask:
		p.fail(at, "write the bond at one end only", "ring closure %d has one bond at one end and another at the other", number)
	}
	c.joined[pair] = true
	c.query.bonds = append(c.query.bonds, queryBond{pair[0], pair[1], mask})
}

func (p *parser) ringNumber() int {
	at := p.pos
	if p.peek() != '%' {
		p.pos++
		return int(p.src[at] - '0')
	}
	p.pos++
	const hint = `write two digits after "%", or any number as in "%(123)"`
	if p.peek() == '(' {
		p.pos++
		number, ok := p.number()
		if !ok || p.peek() != ')' {
			p.fail(at, hint, `"%%(" without a number and ")"`)
		}
		p.pos++
		return number
	}
	if p.pos+2 > len(p.src) || strings.Trim(p.src[p.pos:p.pos+2], "0123456789") != "" {
		p.fail(at, hint, `"%%" without two digits`)
	}
	p.pos += 2
	return int(p.src[at+1]-'0')*10 + int(p.src[at+2]-'0')
}

// closed reports the first ring closure that stayed open.
func (p *parser) closed(c *chain) {
	first, number := len(p.src), -1
	for n, open := range c.closures {
		if open.at < first {
			first, number = open.at, n
		}
	}
	if number >= 0 {
		p.fail(first, fmt.Sprintf("write %d after the atom that closes the ring", number), "ring closure %d of %q isn't closed", number, p.src[c.start:p.pos])
	}
}

// number = digit { digit }
//
// It is false where there is no digit. A number that is too large for any
// use is an error.
func (p *parser) number() (int, bool) {
	const largest = 9999
	start, value := p.pos, 0
	for p.pos < len(p.src) && p.src[p.pos] >= '0' && p.src[p.pos] <= '9' {
		if value = value*10 + int(p.src[p.pos]-'0'); value > largest {
			p.fail(start, fmt.Sprintf("numbers go to %d", largest), "a number too large")
		}
		p.pos++
	}
	return value, p.pos > start
}
