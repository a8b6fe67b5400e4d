package smarts

import "fmt"

// A Pattern is a compiled pattern. It never changes and may be used by any
// number of goroutines.
type Pattern struct {
	text   string
	plan   plan
	census census
	needs  needs
	atoms  []queryAtom
	set    *Set
}

// A Set is a number of patterns compiled together: what their environments
// $(…) find out about a molecule is shared between them. It never changes and
// may be used by any number of goroutines.
type Set struct {
	patterns []*Pattern
	envs     []*environment
}

// Compile compiles one pattern. It fails with an *[Error].
func Compile(pattern string) (*Pattern, error) {
	s, err := CompileSet(pattern)
	if err != nil {
		return nil, err
	}
	return s.patterns[0], nil
}

// MustCompile is Compile for patterns that are part of a program: it panics
// where Compile fails.
func MustCompile(pattern string) *Pattern {
	p, err := Compile(pattern)
	if err != nil {
		panic(err)
	}
	return p
}

// CompileSet compiles patterns together. It fails at the first that is no
// pattern, with an *[Error] that names it.
func CompileSet(patterns ...string) (*Set, error) {
	envs := &environments{byText: map[string]int{}}
	s := &Set{patterns: make([]*Pattern, len(patterns))}
	for i, text := range patterns {
		q, err := parse(text, envs)
		if err != nil {
			return nil, err
		}
		s.patterns[i] = &Pattern{text: text, plan: newPlan(q, -1, envs), census: newCensus(q, envs), atoms: q.atoms, set: s}
	}
	for _, e := range envs.list {
		e.plan = newPlan(e.query, 0, envs)
	}
	s.envs = envs.list
	s.measure()
	return s, nil
}

// needs is what the search for a plan needs of a Matcher and a Target.
type needs struct {
	depth int  // frames, those of environments within environments included
	sizes bool // the sizes of rings
}

// measure sets the needs of each pattern. An environment's own environments
// are all before it in the list, for they were read before it was complete.
func (s *Set) measure() {
	envs := make([]needs, len(s.envs))
	of := func(p *plan) (n needs) {
		for _, in := range p.code {
			switch {
			case in.test == testSize:
				n.sizes = true
			case in.test >= 0:
				n.depth = max(n.depth, envs[in.test].depth)
				n.sizes = n.sizes || envs[in.test].sizes
			}
		}
		n.depth += len(p.steps)
		return n
	}
	for i, e := range s.envs {
		envs[i] = of(&e.plan)
	}
	for _, p := range s.patterns {
		p.needs = of(&p.plan)
	}
}

// Len returns the number of patterns.
func (s *Set) Len() int { return len(s.patterns) }

// Pattern returns the pattern with a 0-based index, in the order in which
// they were given to CompileSet.
func (s *Set) Pattern(i int) *Pattern { return s.patterns[i] }

// String returns the text from which the pattern was compiled.
func (p *Pattern) String() string { return p.text }

// NumAtoms returns the number of atoms of the pattern, those of environments
// not counted.
func (p *Pattern) NumAtoms() int { return len(p.atoms) }

// Class returns the number that the author gave the atom with a 0-based
// index, as in [C:1]; 0 where there is none.
func (p *Pattern) Class(atom int) int { return p.atoms[atom].class }

// GoString shows the pattern as the call that compiles it.
func (p *Pattern) GoString() string { return fmt.Sprintf("smarts.MustCompile(%q)", p.text) }
