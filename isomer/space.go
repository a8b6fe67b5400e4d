package isomer

import (
	"fmt"
	"slices"

	"ionwright/chem"
	"ionwright/mol/smarts"
)

// Options narrow a space down. The zero value leaves every structure in.
type Options struct {
	LowestValences bool // without the groups of [Forms]
	Kekule         bool // Kekule forms of one aromatic system count as structures of their own
	Rings          *Range
	// RingSizes is where the sizes of all rings must lie, of a smallest set of
	// smallest rings.
	RingSizes *Range
	Occurs    []Occurs
	// Without names the [Instabilities] to leave out; "all" is all of them.
	Without []string
}

// Space is the set of isomers of a formula. It is safe for concurrent use.
type Space struct {
	formula  chem.Formula
	options  Options
	problems []*problem
	atoms    int  // most vertices of a problem
	hydrogen bool // H2
}

// mostTables bounds the entries of the tables of one problem, for memory.
const mostTables = 400_000

// New returns the isomers of a formula. It fails for ions, labelled atoms,
// elements without structures here, more than [MaxAtoms] atoms other than
// hydrogen, formulas of so many elements that the tables would grow too
// large, and unknown names. A formula that no structure has, such as a
// radical's, gives an empty space.
func New(f chem.Formula, o Options) (*Space, error) {
	s := &Space{formula: f, options: o}
	if f.Charge() != 0 {
		return nil, s.refuse("ions have no isomers here", "give the formula of the neutral compound")
	}
	if f.Atoms() > 2000 {
		return nil, s.refuse("that is too large", "")
	}
	kinds := elements()
	counts := make([]int, len(kinds))
	for species, n := range f.All() {
		e := species.Element()
		at := slices.IndexFunc(kinds, func(k kind) bool { return k.atoms[0].element == e })
		switch {
		case species.MassNumber() != 0:
			return nil, s.refuse("labelled atoms have no isomers here", "give the formula without labels")
		case e == chem.H:
		case at < 0:
			return nil, s.refuse(fmt.Sprintf("%s has no common valence here", e), "the elements are H, C, N, O, S, P, Si, F, Cl, Br and I")
		default:
			counts[at] = n
		}
	}
	r, err := o.rules()
	if err != nil {
		return nil, err
	}
	forms := Forms()
	if o.LowestValences {
		forms = nil
	}
	heavy := f.Atoms() - f.Count(chem.H)
	s.hydrogen = heavy == 0 && f.Count(chem.H) == 2
	if heavy > MaxAtoms+8 {
		return nil, s.refuse(fmt.Sprintf("it has %d atoms other than hydrogen", heavy), fmt.Sprintf("up to %d can be arranged", MaxAtoms))
	}
	s.distribute(kinds, counts, forms, r, f.Count(chem.H))
	for _, p := range s.problems {
		if p.n > MaxAtoms {
			return nil, s.refuse(fmt.Sprintf("it has %d atoms other than hydrogen", heavy), fmt.Sprintf("up to %d can be arranged", MaxAtoms))
		}
		if p.tables() > mostTables || len(p.kinds) > maxKinds {
			return nil, s.refuse("it has too many atoms of too many elements", "formulas of fewer elements can be larger")
		}
		s.atoms = max(s.atoms, p.n)
	}
	return s, nil
}

func (s *Space) refuse(problem, hint string) error {
	if hint != "" {
		problem += "\nhint: " + hint
	}
	return fmt.Errorf("finding the isomers of %q: %s", s.formula, problem)
}

// rules checks the options and turns them into rules.
func (o *Options) rules() (*rules, error) {
	patterns, rings, unknown := instabilities(o.Without)
	if unknown != "" {
		return nil, fmt.Errorf("there is no pattern %q among the unstable ones", unknown)
	}
	r := &rules{kekule: o.Kekule, sizes: o.RingSizes, strained: rings}
	r.occurs = append(slices.Clone(o.Occurs), patterns...)
	for _, c := range r.occurs {
		if c.Range.Most >= 0 && c.Range.Most < c.Range.Least || c.Range.Least < 0 {
			return nil, fmt.Errorf("%q can't occur from %d to %d times", c.Pattern, c.Range.Least, c.Range.Most)
		}
		if c.Range.Most == 0 && isLocal(c.Pattern) {
			r.local = append(r.local, c.Pattern)
		}
	}
	return r, nil
}

// isLocal tells whether a pattern's match depends on nothing but its atoms,
// their bonds and the numbers of their neighbors and hydrogens: it has no
// environments, which may reach further.
func isLocal(p *smarts.Pattern) bool {
	text := p.String()
	for i := range len(text) - 1 {
		if text[i] == '$' && text[i+1] == '(' {
			return false
		}
	}
	return true
}

// distribute makes the problems: every number of each form, and the rest of
// the atoms at their lowest valences.
func (s *Space) distribute(kinds []kind, counts []int, forms []Form, r *rules, hydrogens int) {
	if len(forms) == 0 {
		if p := newProblem(kinds, counts, hydrogens, r); p != nil && p.n > 0 {
			s.problems = append(s.problems, p)
		}
		return
	}
	form := forms[0].kind
	kinds = append(slices.Clone(kinds), form)
	for n := 0; ; n++ {
		rest := append(slices.Clone(counts), n)
		for k := range elements() {
			rest[k] -= n * form.of(kinds[k].atoms[0].element)
			if rest[k] < 0 {
				return
			}
		}
		s.distribute(kinds, rest, forms[1:], r, hydrogens)
	}
}
