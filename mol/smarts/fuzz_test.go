package smarts

import (
	"errors"
	"testing"
)

// Any text compiles, or is refused with a place in it; what compiles is
// matched like the naive search does it where that is quick enough.
func FuzzCompile(f *testing.F) {
	for _, c := range refused {
		f.Add(c.pattern)
	}
	all := targets(f)
	f.Fuzz(func(t *testing.T, pattern string) {
		p, err := Compile(pattern)
		if err != nil {
			var e *Error
			if !errors.As(err, &e) {
				t.Fatalf("%q: an error without a place: %v", pattern, err)
			}
			if e.Position < 1 || e.Position > len(pattern)+1 || e.Hint == "" || e.Problem == "" {
				t.Fatalf("%q: %#v", pattern, e)
			}
			return
		}
		atoms := len(p.atoms)
		for _, e := range p.set.envs {
			atoms = max(atoms, len(e.query.atoms))
		}
		if atoms <= 4 && len(p.set.envs) <= 4 {
			sameAsNaive(t, pattern, all)
			return
		}
		mt := Matcher{Limit: 1000}
		for _, target := range all {
			mt.Use(target)
			mt.Count(p)
		}
	})
}
