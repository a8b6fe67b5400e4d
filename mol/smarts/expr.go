package smarts

import "slices"

// An expr is a boolean expression about one atom, as parsed.
type expr struct {
	op   op
	kids []*expr // of opAnd and opOr: one or more; of opNot: one
	lit  literal // of opLiteral
	rec  int     // of opRecursive: index of the environment in the set
}

type op uint8

const (
	opLiteral op = iota
	opRecursive
	opNot
	opAnd
	opOr
)

func primitive(l literal) *expr { return &expr{op: opLiteral, lit: l} }

func not(e *expr) *expr { return &expr{op: opNot, kids: []*expr{e}} }

// anything holds for every atom, nothing for none.
func anything() *expr { return primitive(literal{}) }
func nothing() *expr  { return not(anything()) }

// join combines expressions by opAnd or opOr; a single one stays itself.
func join(o op, kids []*expr) *expr {
	if len(kids) == 1 {
		return kids[0]
	}
	return &expr{op: o, kids: kids}
}

// normal returns an expression of the same meaning in which opNot stands only
// directly above literals of more than one bit and above environments, no
// opAnd is a child of opAnd nor opOr of opOr, the positive literals of a
// conjunction are one, and environments come last, being the dearest to
// evaluate. With negate it returns the negation.
func (e *expr) normal(negate bool) *expr {
	switch e.op {
	case opNot:
		return e.kids[0].normal(!negate)
	case opLiteral:
		if !negate {
			return e
		}
		if flipped, ok := e.lit.flipped(); ok {
			return primitive(flipped)
		}
		return not(e)
	case opRecursive:
		if negate {
			return not(e)
		}
		return e
	}
	o := e.op
	if negate { // De Morgan
		o = opAnd + opOr - o
	}
	var kids []*expr
	for _, kid := range e.kids {
		if n := kid.normal(negate); n.op == o {
			kids = append(kids, n.kids...)
		} else {
			kids = append(kids, n)
		}
	}
	if o == opAnd {
		kids = merge(kids)
	}
	slices.SortStableFunc(kids, func(a, b *expr) int { return a.cost() - b.cost() })
	return join(o, kids)
}

// flipped returns the negation of a literal of one bit as a literal.
func (l literal) flipped() (literal, bool) {
	ones := 0
	for _, m := range l.mask {
		for ; m != 0; m &= m - 1 {
			ones++
		}
	}
	if ones != 1 {
		return l, false
	}
	for w := range l.want {
		l.want[w] ^= l.mask[w]
	}
	return l, true
}

// merge makes one literal of the positive literals of a conjunction.
func merge(kids []*expr) []*expr {
	merged := literal{}
	rest := []*expr{}
	for _, kid := range kids {
		if kid.op != opLiteral {
			rest = append(rest, kid)
			continue
		}
		var ok bool
		if merged, ok = both(merged, kid.lit); !ok {
			return []*expr{nothing()}
		}
	}
	if merged == (literal{}) && len(rest) > 0 {
		return rest
	}
	return append([]*expr{primitive(merged)}, rest...)
}

// cost orders the parts of an expression: 0 a literal, 1 a combination of
// such, 2 what needs an environment.
func (e *expr) cost() int {
	switch e.op {
	case opLiteral:
		return 0
	case opRecursive:
		return 2
	}
	dearest := 0
	for _, kid := range e.kids {
		dearest = max(dearest, kid.cost())
	}
	if dearest == 0 && e.op != opNot {
		return 1
	}
	return dearest
}
