package smarts

// A query is a parsed pattern, or the parsed environment of a $(…).
type query struct {
	atoms []queryAtom
	bonds []queryBond
}

type queryAtom struct {
	expr  *expr // normal form
	class int   // the number after a colon, 0 where there is none
}

type queryBond struct {
	a, b int // indices of atoms, a < b
	mask bondMask
}

// environments are the distinct $(…) of the patterns that are compiled
// together. One text is one environment, whichever pattern has it, so its
// answer for an atom serves them all.
type environments struct {
	byText map[string]int
	list   []*environment
}

type environment struct {
	query *query
	plan  plan // from the query's first atom
}

// first is the expression of the first atom of an environment.
func (e *environments) first(rec int) *expr { return e.list[rec].query.atoms[0].expr }
