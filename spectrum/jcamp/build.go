package jcamp

import (
	"fmt"
	"math"
	"slices"

	"ionwright/spectrum"
)

// claims is what a file says about a table beside the table.
type claims struct {
	npoints, firstx, lastx, firsty, deltax given
	xfactor, yfactor                       factor
}

// claims reads what the records of the block say.
func (h *header) claims() (c claims, err error) {
	var xfactor, yfactor given
	for _, want := range []struct {
		label string
		to    *given
	}{
		{"NPOINTS", &c.npoints}, {"FIRSTX", &c.firstx}, {"LASTX", &c.lastx}, {"FIRSTY", &c.firsty}, {"DELTAX", &c.deltax},
		{"XFACTOR", &xfactor}, {"YFACTOR", &yfactor},
	} {
		if *want.to, err = h.given(want.label); err != nil {
			return c, err
		}
	}
	if c.xfactor, err = factorOf(xfactor); err != nil {
		return c, err
	}
	c.yfactor, err = factorOf(yfactor)
	return c, err
}

// addBlock makes a spectrum of a table of a data block. What the block says of
// its table is held against the main one only.
func (d *decoder) addBlock(h *header, t *table, main bool) error {
	c, err := h.claims()
	if err != nil {
		return err
	}
	if !main {
		c = claims{firstx: c.firstx, lastx: c.lastx, npoints: c.npoints, xfactor: c.xfactor, yfactor: c.yfactor}
		if t.shape != steps {
			c.firstx, c.lastx, c.npoints = given{}, given{}, given{}
		}
	} else {
		d.checkHeader(h)
		if !c.npoints.ok {
			d.warn(t.line, false, "no ##NPOINTS=, so the number of points isn't checked")
		}
	}
	return d.addSpectrum(h, t, c, Block{Line: h.line})
}

// addSpectrum makes a spectrum of a table and what is claimed of it, and adds
// it to the file with the rest of block b.
func (d *decoder) addSpectrum(h *header, t *table, c claims, b Block) error {
	if len(d.file.Blocks) >= d.limits.Blocks {
		return &Error{b.Line, fmt.Sprintf("more than %d spectra", d.limits.Blocks)}
	}
	if len(t.y) == 0 && !(c.npoints.ok && c.npoints.value == 0) {
		return &Error{t.line, "the data table has no data"}
	}
	d.checkCount(t, c)
	peaks, err := d.peaks(t, c)
	if err != nil {
		return err
	}
	if t.shape == assigned {
		for i, text := range t.text {
			b.Assignments = append(b.Assignments, Assignment{peaks[i].MZ, peaks[i].Intensity, text})
		}
	}
	b.Spectrum, err = spectrum.New(d.ordered(t, peaks))
	if err != nil {
		return &Error{t.line, err.Error()}
	}
	b.Records, b.PageRecords = h.records, h.page
	b.Spectrum.Title = h.text("TITLE")
	if h.known == nil {
		info := d.info(h)
		h.known = &info
	}
	b.Spectrum.Info = *h.known
	d.file.Blocks = append(d.file.Blocks, b)
	return nil
}

// checkCount holds the number of points against the claim.
func (d *decoder) checkCount(t *table, c claims) {
	if c.npoints.ok && c.npoints.value != float64(len(t.y)) {
		d.warn(c.npoints.line, true, "NPOINTS is %s, but the data table of line %d has %d points", c.npoints.text, t.line, len(t.y))
	}
}

// peaks returns the points of a table with the factors applied, in the
// table's order, and holds them against the claims.
func (d *decoder) peaks(t *table, c claims) ([]spectrum.Peak, error) {
	xs := make([]float64, len(t.y))
	if t.shape == steps {
		if err := d.grid(t, c, xs); err != nil {
			return nil, err
		}
	} else {
		for i, x := range t.x {
			xs[i] = c.xfactor.times(x)
		}
		d.checkEnds(t, c, xs)
	}
	peaks := make([]spectrum.Peak, 0, len(xs))
	for i, x := range xs {
		y := c.yfactor.times(t.y[i])
		switch {
		case math.IsNaN(y), t.shape == steps && y == 0:
			continue // no value, or no peak on an even grid
		case y < 0:
			return nil, &Error{t.lineOf(i), fmt.Sprintf("the intensity at m/z %v is %v; expected no negative intensity", x, y)}
		case !(x > 0) || math.IsInf(x, 0):
			return nil, &Error{t.lineOf(i), fmt.Sprintf("an m/z of %v; expected a positive number", x)}
		case math.IsInf(y, 0):
			return nil, &Error{t.lineOf(i), fmt.Sprintf("the intensity at m/z %v is more than a number can hold", x)}
		}
		peaks = append(peaks, spectrum.Peak{MZ: x, Intensity: y})
	}
	if t.gap > 0 {
		d.warn(t.gap, true, "an ordinate is missing (?)")
	}
	if len(t.y) > 0 && c.firsty.ok {
		if first := c.yfactor.times(t.y[0]); !c.firsty.agrees(first) {
			d.warn(c.firsty.line, true, "FIRSTY is %s, but the first intensity of the data table is %v", c.firsty.text, first)
		}
	}
	return peaks, nil
}

// checkEnds holds the first and last m/z of (XY..XY) against the claims.
func (d *decoder) checkEnds(t *table, c claims, xs []float64) {
	if len(xs) == 0 {
		return
	}
	if first := xs[0]; c.firstx.ok && !c.firstx.agrees(first) {
		d.warn(c.firstx.line, true, "FIRSTX is %s, but the first m/z of the data table is %v", c.firstx.text, first)
	}
	if last := xs[len(xs)-1]; c.lastx.ok && !c.lastx.agrees(last) {
		d.warn(c.lastx.line, true, "LASTX is %s, but the last m/z of the data table is %v", c.lastx.text, last)
	}
}

// grid fills in the evenly spaced m/z of (X++(Y..Y)) and holds the abscissa of
// each line against them (the X-sequence check).
func (d *decoder) grid(t *table, c claims, xs []float64) error {
	var at func(i int) float64
	first := c.firstx.value
	switch {
	case c.firstx.ok && c.lastx.ok && c.npoints.ok && c.npoints.value > 1:
		span, gaps := c.lastx.value-first, c.npoints.value-1
		at = func(i int) float64 { return first + span*float64(i)/gaps }
	case c.firstx.ok && c.npoints.ok && c.npoints.value == 1:
		at = func(i int) float64 { return first + float64(i) }
	case c.firstx.ok && c.deltax.ok:
		at = func(i int) float64 { return first + c.deltax.value*float64(i) }
	case len(xs) == 0:
		return nil
	default:
		return &Error{t.line, "no m/z can be given to the ordinates; (X++(Y..Y)) needs ##FIRSTX=, ##LASTX= and ##NPOINTS="}
	}
	step := at(1) - at(0)
	if len(xs) > 1 && step == 0 {
		return &Error{c.firstx.line, fmt.Sprintf("FIRSTX is %s and the m/z don't change; (X++(Y..Y)) needs evenly spaced m/z", c.firstx.text)}
	}
	if c.deltax.ok && len(xs) > 1 && !c.deltax.agrees(step) {
		d.warn(c.deltax.line, true, "DELTAX is %s, but FIRSTX, LASTX and NPOINTS give %v", c.deltax.text, step)
	}
	for i := range xs {
		xs[i] = at(i)
	}
	for i, r := range t.rows {
		written, counted := c.xfactor.times(t.at[i].x), at(int(r.index))
		allowed := max(math.Abs(step)/2, c.xfactor.times(t.at[i].rounding)) + 1e-9*math.Abs(written)
		if math.Abs(written-counted) > allowed {
			d.warn(int(r.line), true, "the line starts at m/z %v, but by the number of ordinates before it at %v: ordinates are missing or too many", written, counted)
			break
		}
	}
	if t.open {
		d.warn(t.line, false, "the last line in DIF form isn't followed by its check ordinate")
	}
	return nil
}

// ordered returns the peaks by ascending m/z for spectrum.New, an assigned
// peak once, and warns of what was changed.
func (d *decoder) ordered(t *table, peaks []spectrum.Peak) []spectrum.Peak {
	if t.shape == steps {
		return peaks
	}
	byMZ := func(a, b spectrum.Peak) int {
		switch {
		case a.MZ < b.MZ:
			return -1
		case a.MZ > b.MZ:
			return 1
		}
		return 0
	}
	if !slices.IsSortedFunc(peaks, byMZ) {
		d.warn(t.line, false, "the m/z of the data table don't ascend; they were sorted")
		peaks = slices.Clone(peaks)
		slices.SortStableFunc(peaks, byMZ)
	}
	if t.shape == assigned {
		peaks = slices.Compact(peaks) // a peak with two assignments
	}
	for i := 1; i < len(peaks); i++ {
		if peaks[i].MZ == peaks[i-1].MZ {
			d.warn(t.line, true, "m/z %v is in the data table twice; its intensities were added up", peaks[i].MZ)
			break
		}
	}
	return peaks
}
