package smarts

// A valueSet is a set of values of a field of at most 8 bits.
type valueSet [4]uint64

func (s *valueSet) add(v int)      { s[v>>6] |= 1 << (v & 63) }
func (s *valueSet) has(v int) bool { return s[v>>6]>>(v&63)&1 == 1 }
func (s valueSet) within(t valueSet) bool {
	for w := range s {
		if s[w]&^t[w] != 0 {
			return false
		}
	}
	return true
}

// values is the set with the given values.
func values(vs ...int) (s valueSet) {
	for _, v := range vs {
		s.add(v)
	}
	return s
}

// outside is the set of all values but the given ones.
func outside(vs ...int) valueSet {
	s := values(vs...)
	for w := range s {
		s[w] = ^s[w]
	}
	return s
}

// everyValue is the set of all values.
var everyValue = outside()

// possible returns a set that holds the field's value in every atom for which
// the expression, in normal form, is true. It may hold other values as well:
// the fields are looked at one by one.
func (e *expr) possible(f field, envs *environments) valueSet {
	switch e.op {
	case opLiteral:
		return e.lit.possible(f)
	case opRecursive:
		return envs.first(e.rec).possible(f, envs)
	case opNot:
		return e.kids[0].impossible(f)
	}
	s := e.kids[0].possible(f, envs)
	for _, kid := range e.kids[1:] {
		t := kid.possible(f, envs)
		for w := range s {
			if e.op == opAnd {
				s[w] &= t[w]
			} else {
				s[w] |= t[w]
			}
		}
	}
	return s
}

// possible is expr.possible for a literal.
func (l *literal) possible(f field) (s valueSet) {
	mask, want := l.mask[f.word]&f.mask(), l.want[f.word]&f.mask()
	switch mask {
	case 0:
		return everyValue
	case f.mask():
		s.add(int(want >> f.shift))
		return s
	}
	for v := range f.limit() + 1 {
		if uint64(v)<<f.shift&mask == want {
			s.add(v)
		}
	}
	return s
}

// impossible is possible for the negation of e, a literal or an environment:
// a literal that asks for this field only excludes what it asks for.
func (e *expr) impossible(f field) valueSet {
	if e.op != opLiteral {
		return everyValue
	}
	rest := e.lit.mask
	rest[f.word] &^= f.mask()
	if rest != (features{}) {
		return everyValue
	}
	s := e.lit.possible(f)
	for w := range s {
		s[w] = ^s[w]
	}
	return s
}

// might says whether an atom of the given features could pass the expression,
// in normal form. What follows its first atom in an environment is unknown.
func (e *expr) might(a *features, envs *environments) bool {
	switch e.op {
	case opLiteral:
		return e.lit.holds(a)
	case opRecursive:
		return envs.first(e.rec).might(a, envs)
	case opNot:
		return e.kids[0].op == opRecursive || !e.kids[0].lit.holds(a)
	case opAnd:
		for _, kid := range e.kids {
			if !kid.might(a, envs) {
				return false
			}
		}
		return true
	}
	for _, kid := range e.kids {
		if kid.might(a, envs) {
			return true
		}
	}
	return false
}
