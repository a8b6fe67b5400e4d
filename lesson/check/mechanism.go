package check

import (
	"ionwright/lesson/diag"
	"ionwright/lesson/load"
	"ionwright/lesson/source"
)

// mechanism looks up what a mechanism shows: the peak must be one to which the
// engine finds a route.
func (c *checker) mechanism(b *source.Mechanism, number int) *Figure {
	fig := &Figure{ID: b.ID.Value, Number: number, Mechanism: b, Compound: c.computed(b.Compound)}
	if b.MZ.IsZero() {
		return fig // reported as a missing key
	}
	mz, ok := c.wholeMZ(b.MZ)
	if !ok || fig.Compound == nil {
		return fig
	}
	p := fig.Compound.Prediction
	ions := p.At(mz)
	if len(ions) == 0 || len(p.Route(ions[0].ID)) == 0 {
		c.add(diag.New(diag.NoPeak, b.MZ.Place(), "no step leads to an ion of %s at m/z %d", fig.Compound.Key, mz).
			Suggesting("show the mechanism of a fragment that the engine computes"))
		return fig
	}
	fig.MZ = []int{mz}
	return fig
}

// computed looks up a compound whose ions the engine must know.
func (c *checker) computed(t source.Text) *load.Compound {
	compound := c.compound(t)
	if compound == nil || compound.Prediction != nil {
		return compound
	}
	c.add(diag.New(diag.NotComputed, t.Place(), "the structure of %s is beyond the engine, so its steps can't be drawn", compound.Key))
	return nil
}
