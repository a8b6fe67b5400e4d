package check

import (
	"strconv"

	"ionwright/lesson/diag"
	"ionwright/lesson/load"
	"ionwright/lesson/source"
)

// compound looks up a compound by the key that stands at t, and reports an
// unknown one. It is nil also for a compound that couldn't be loaded.
func (c *checker) compound(t source.Text) *load.Compound {
	var keys []string
	for _, known := range c.report.Source.Compounds {
		keys = append(keys, known.Key.Value)
	}
	if !c.known("compound", t, keys) {
		return nil
	}
	return c.report.Lesson.Compound(t.Value)
}

// instrument looks up an instrument.
func (c *checker) instrument(t source.Text) *load.Instrument {
	var keys []string
	for _, known := range c.report.Source.Instruments {
		keys = append(keys, known.Key.Value)
	}
	if !c.known("instrument", t, keys) {
		return nil
	}
	return c.report.Lesson.Instrument(t.Value)
}

// idea reports a name that isn't one of the lesson's ideas.
func (c *checker) idea(t source.Text) bool {
	var keys []string
	for _, known := range c.report.Source.Ideas {
		keys = append(keys, known.Key.Value)
	}
	return c.known("idea", t, keys)
}

// known reports whether the text at t is one of the names; an absent text is
// not, and reported elsewhere.
func (c *checker) known(what string, t source.Text, names []string) bool {
	if t.IsZero() {
		return false
	}
	for _, name := range names {
		if name == t.Value {
			return true
		}
	}
	d := diag.New(diag.UnknownName, t.Place(), "there is no %s %q", what, t.Value)
	if near, ok := diag.Nearest(t.Value, names); ok {
		d = d.Suggesting("did you mean %q?", near)
	} else if len(names) > 0 {
		d = d.Suggesting("the lesson knows %s", diag.Quoted(names, 20))
	}
	c.add(d)
	return false
}

// labels are the m/z that a figure labels; each must have a peak.
func (c *checker) labels(compound *load.Compound, list []source.Text) []int {
	var out []int
	for _, t := range list {
		mz, ok := c.wholeMZ(t)
		if !ok || compound == nil {
			continue
		}
		if compound.Spectrum.Relative(mz) == 0 {
			c.add(diag.New(diag.NoPeak, t.Place(), "the spectrum of %s (%s) has no peak at m/z %d", compound.Key, compound.Origin(), mz).
				Suggesting("label one of the peaks that it has"))
			continue
		}
		out = append(out, mz)
	}
	return out
}

func (c *checker) wholeMZ(t source.Text) (int, bool) {
	const largest = 10000
	mz, err := strconv.Atoi(t.Value)
	if err != nil || mz < 1 || mz > largest {
		c.add(diag.New(diag.WrongType, t.Place(), "%q isn't a whole m/z from 1 to %d", t.Value, largest))
		return 0, false
	}
	return mz, true
}

// sweepRange reads a sweep's range of m/z.
func (c *checker) sweepRange(b *source.Sweep) (from, to int) {
	if !b.From.IsZero() {
		from, _ = c.wholeMZ(b.From)
	}
	if !b.To.IsZero() {
		to, _ = c.wholeMZ(b.To)
	}
	if from > 0 && to > 0 && from >= to {
		c.add(diag.New(diag.WrongType, b.To.Place(), "the sweep ends at m/z %d, which isn't above its beginning %d", to, from))
		return 0, 0
	}
	return from, to
}

// leastCounted is how many ions must reach the detector in a counted sweep, at
// the rate of its strongest peak: fewer make no spectrum.
const leastCounted = 1000

// counting reports a counted sweep in which too few ions arrive.
func (c *checker) counting(b *source.Sweep) {
	const most = 1e12
	switch n := b.Seconds * b.Rate; {
	case n > 0 && n < leastCounted:
		c.add(diag.New(diag.WrongType, b.Place(), "this sweep counts at most %.3g ions, which is too few to see a spectrum", n).
			Suggesting("sweep for longer (seconds) or let more ions in (rate): at least %d together", leastCounted))
	case n > most:
		c.add(diag.New(diag.WrongType, b.Place(), "this sweep counts up to %.3g ions, more than can be counted one by one", n).
			Suggesting("sweep for a shorter time (seconds) or let fewer ions in (rate)"))
	}
}

// reachable reports a field that the magnet of an instrument doesn't reach.
func (c *checker) reachable(i *load.Instrument, field float64, at diag.Span) {
	if i == nil || field == 0 {
		return
	}
	if most := float64(i.Sector.MaxField); most > 0 && field > most {
		c.add(diag.New(diag.WrongType, at, "the magnet of %s reaches %g T, and %g T is asked of it", i.Name, most, field).
			Suggesting("name a weaker field"))
	}
}
