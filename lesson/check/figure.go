package check

import (
	"slices"
	"strconv"
	"strings"

	"ionwright/draw/ions"
	"ionwright/draw/structure"
	"ionwright/lesson/diag"
	"ionwright/lesson/source"
)

// figure looks up what the figure of a spectrum shows.
func (c *checker) figure(b *source.Figure, number int) *Figure {
	fig := &Figure{ID: b.ID.Value, Number: number, Spectrum: b, Compound: c.compound(b.Spectrum)}
	fig.MZ = c.labels(fig.Compound, b.Label)
	if !b.Against.IsZero() {
		fig.Against = c.compound(b.Against)
		for _, t := range slices.Concat(b.Structures, b.Losses, []source.Text{b.Zoom}) {
			if !t.IsZero() {
				c.add(diag.New(diag.WrongType, t.Place(), "the figure %q compares two spectra, which has no room for structures, losses or a zoom", b.ID.Value).
					Suggesting("make a figure of its own for one of the spectra"))
				break
			}
		}
		return fig
	}
	for _, t := range b.Structures {
		for _, mz := range c.labels(fig.Compound, []source.Text{t}) {
			c.beside(fig, t, mz)
		}
	}
	for _, t := range b.Losses {
		if pair, ok := c.mzPair(t); ok {
			fig.Losses = append(fig.Losses, pair)
		}
	}
	if !b.Zoom.IsZero() {
		pair, ok := c.mzPair(b.Zoom)
		if ok && fig.Compound != nil && !fig.hasPeaks(pair) {
			c.add(diag.New(diag.NoPeak, b.Zoom.Place(), "%s has no peak from m/z %d to %d to show close up", fig.Compound.Key, min(pair[0], pair[1]), max(pair[0], pair[1])))
		} else if ok {
			fig.Zoom = pair
		}
	}
	return fig
}

// beside notes an ion that is drawn beside its peak, if it can be drawn.
func (c *checker) beside(fig *Figure, t source.Text, mz int) {
	p := fig.Compound.Prediction
	if p == nil {
		c.add(diag.New(diag.NotComputed, t.Place(), "the structure of %s is beyond the engine, so its ions can't be drawn", fig.Compound.Key))
		return
	}
	if _, err := ions.Structure(p, float64(mz), structure.Options{}); err != nil {
		c.add(diag.New(diag.NoPeak, t.Place(), "%v", err).Suggesting("leave the structure at m/z %d out", mz))
		return
	}
	fig.Beside = append(fig.Beside, mz)
}

// hasPeaks reports whether the spectrum has a peak between two m/z.
func (f *Figure) hasPeaks(pair [2]int) bool {
	for mz := min(pair[0], pair[1]); mz <= max(pair[0], pair[1]); mz++ {
		if f.Compound.Spectrum.At(mz) > 0 {
			return true
		}
	}
	return false
}

// mzPair reads two whole m/z such as "72-43".
func (c *checker) mzPair(t source.Text) ([2]int, bool) {
	const largest = 10000
	a, b, _ := strings.Cut(t.Value, "-")
	x, err := strconv.Atoi(strings.TrimSpace(a))
	y, err2 := strconv.Atoi(strings.TrimSpace(b))
	if err != nil || err2 != nil || x < 1 || y < 1 || x > largest || y > largest || x == y {
		c.add(diag.New(diag.WrongType, t.Place(), "%q isn't two different whole m/z, such as 72-43", t.Value))
		return [2]int{}, false
	}
	return [2]int{x, y}, true
}

// drawnStructure looks up the compound that is drawn and the groups that are
// abbreviated.
func (c *checker) drawnStructure(b *source.Structure, number int) *Figure {
	fig := &Figure{ID: b.ID.Value, Number: number, Structure: b, Compound: c.compound(b.Compound)}
	for _, t := range b.Abbreviate {
		switch {
		case t.Value == "all":
			fig.Short = append(fig.Short, structure.AbbreviationNames(3)...)
		case c.known("abbreviation", t, structure.AbbreviationNames(1)):
			fig.Short = append(fig.Short, t.Value)
		}
	}
	return fig
}
