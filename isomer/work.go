package isomer

import (
	"context"
	"fmt"

	"ionwright/chem"
)

// work is a part of a space that is gone through in one piece: a core of a
// problem, or the structures of a problem without rings.
type work struct {
	problem *problem
	core    *graph // nil: without rings
}

// run makes the structures of one piece.
func (f *filler) run(w work) error {
	switch {
	case w.problem == nil:
		f.st = Structure{hydrogen: true}
		f.visited++
		f.total++
		if f.visit != nil && !f.visit(&f.st) {
			f.stopped = true
		}
	case w.core == nil:
		f.runTrees(w.problem)
	default:
		return f.runCore(w.problem, w.core)
	}
	return nil
}

// each goes through the pieces, always in the same order. It stops where yield
// returns false.
func (s *Space) each(ctx context.Context, yield func(work) bool) error {
	if s.hydrogen && s.rings(0) {
		if !yield(work{}) {
			return nil
		}
	}
	kernels := kernels{atoms: s.atoms}
	for _, p := range s.problems {
		if err := ctx.Err(); err != nil {
			return err
		}
		if s.options.Rings != nil && s.options.Rings.Least > p.excess {
			continue
		}
		p := p.prepared()
		for rings := 0; rings <= p.excess; rings++ {
			if !s.rings(rings) {
				continue
			}
			more, err := s.cores(ctx, &kernels, p, rings, yield)
			if err != nil {
				return err
			}
			if !more {
				return ctx.Err()
			}
		}
	}
	return nil
}

// rings tells whether a structure may have so many rings.
func (s *Space) rings(n int) bool { return s.options.Rings == nil || s.options.Rings.holds(n) }

// mostRings is the largest number of rings that is gone through.
const mostRings = 14

// cores goes through the pieces of a problem with one number of rings.
func (s *Space) cores(ctx context.Context, kernels *kernels, p *problem, rings int, yield func(work) bool) (more bool, err error) {
	switch {
	case rings == 0:
		return yield(work{problem: p}), nil
	case rings == 1:
		for n := 3; n <= p.n; n++ {
			if !yield(work{p, ring(n)}) {
				return false, nil
			}
		}
		return true, nil
	case rings > mostRings:
		return false, fmt.Errorf("finding the isomers of %q: structures of more than %d rings aren't gone through\nhint: limit the number of rings", s.formula, mostRings)
	}
	list, err := kernels.of(ctx, rings)
	if err != nil {
		return false, fmt.Errorf("finding the isomers of %q: %w", s.formula, err)
	}
	for _, k := range list {
		for n := k.atoms(); n <= p.n; n++ {
			if !k.cores(ctx, n, func(g *graph) bool { return yield(work{p, g}) }) {
				return false, ctx.Err()
			}
		}
	}
	return true, nil
}

// Formula returns the formula.
func (s *Space) Formula() chem.Formula { return s.formula }
