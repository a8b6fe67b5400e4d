package script

import (
	"fmt"

	"ionwright/lesson/check"
	"ionwright/lesson/load"
	"ionwright/lesson/source"
)

// figure shows a figure by its id.
func (n *narrator) figure(id string) {
	for _, f := range n.report.Figures {
		if f.ID != id {
			continue
		}
		what := fmt.Sprintf("Figure %d, %s", f.Number, Subject(f))
		for _, caption := range source.Sentences(blockOf(f)) {
			what += ": " + written(n.inline(caption))
		}
		if n.shown[id] {
			what = fmt.Sprintf("Figure %d again, %s", f.Number, Subject(f))
		}
		n.show(Cue{File: n.files[id], Figure: f}, "%s", what)
		n.shown[id], n.current = true, id
	}
}

// blockOf is the block that a figure is drawn from.
func blockOf(f *check.Figure) source.Block {
	switch {
	case f.Structure != nil:
		return f.Structure
	case f.Sweep != nil:
		return f.Sweep
	case f.Paths != nil:
		return f.Paths
	case f.Mechanism != nil:
		return f.Mechanism
	case f.Map != nil:
		return f.Map
	}
	return f.Spectrum
}

// Subject says in a few words what a figure shows.
func Subject(f *check.Figure) string {
	of, in := "the compound", "the instrument"
	if f.Compound != nil {
		of = f.Compound.Name
	}
	if f.With != nil {
		in = f.With.Name
	}
	switch {
	case f.Structure != nil:
		return "the structure of " + of
	case f.Sweep != nil:
		return fmt.Sprintf("the field sweep of %s in %s", of, in)
	case f.Paths != nil:
		return "the paths of ions through " + in
	case f.Mechanism != nil && len(f.MZ) > 0:
		return fmt.Sprintf("the mechanism to m/z %d of %s", f.MZ[0], of)
	case f.Map != nil:
		return "the map of fragments of " + of
	case f.Against != nil:
		return fmt.Sprintf("%s above %s", spectrumOf(f.Compound), spectrumOf(f.Against))
	}
	return spectrumOf(f.Compound)
}

// spectrumOf names a compound's spectrum and says where it comes from.
func spectrumOf(c *load.Compound) string {
	switch {
	case c == nil:
		return "the spectrum"
	case c.Measured:
		return "the measured spectrum of " + c.Name
	}
	return "the computed spectrum of " + c.Name
}
