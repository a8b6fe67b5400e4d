// Package plot makes figures of spectra: sticks with labels that never
// overlap, losses as brackets between peaks, two spectra head to tail, an
// isotope cluster close up, and recorded traces and curves.
//
// For most uses call [Spectrum]. Axes are always the same: m/z from left to
// right, relative intensity from 0 to 100 % of the base peak upward. Each
// figure comes with a title, a sentence and a table computed from the same
// peaks, in one of two modes: [Teaching] says what the peaks are, [Test] gives
// nothing away (WCAG 2.2, success criterion 1.1.1, its exception for tests).
package plot

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"ionwright/draw"
	"ionwright/spectrum"
)

// Mode is who a figure is for.
type Mode uint8

// The modes there are.
const (
	Teaching Mode = iota // with names, assignments and losses
	Test                 // axes and peaks only: in the drawing, the words and the table
)

// Options say what a figure of a spectrum shows. The zero value gives
// 720 by 400 pixels, the range of the peaks and labels for the ten strongest.
type Options struct {
	Width, Height float64 // pixels; 0: 720 and 400. A crowded figure grows in height
	Mode          Mode
	Name          string    // of the compound; empty: as the spectrum's Info has it. Not shown in Test mode
	Alias         string    // what the spectrum is called in Test mode, such as "unknown 3"; may be empty
	From, To      float64   // ends of the m/z axis; 0: round numbers around the peaks
	Decimals      int       // decimals of m/z that the instrument can tell; 0: unit resolution
	Label         []float64 // m/z of peaks whose label is shown in any case, in both modes
	Strongest     int       // how many of the strongest peaks are labelled in any case; 0: 10
	Highlight     []float64 // m/z of peaks drawn bolder, with bold labels
	MolecularIon  float64   // m/z of the molecular ion; 0: not said
	Assignments   []Assignment
	Losses        []Loss
	Zoom          *Zoom
	Insets        []Inset // drawings beside peaks
	// PeakWidth draws the spectrum as a profile: each peak as a Gaussian of this
	// full width at half its height, in m/z, and what overlaps added up. 0:
	// sticks.
	PeakWidth float64
}

// Assignment is what a peak is, set under its m/z.
type Assignment struct {
	MZ   float64
	Text []draw.Run // such as draw.Ion(formula)
}

// Loss is a bracket between two peaks.
type Loss struct {
	From, To float64    // m/z; the ion that loses something and what is left
	Text     []draw.Run // what is lost; empty: only the difference is shown
}

// Zoom asks for a part of the spectrum close up, such as an isotope cluster,
// its relative intensities still those of the whole spectrum.
type Zoom struct{ From, To float64 }

// Spectrum makes the figure of a stick spectrum. It fails if there is no peak
// with intensity in the range, if the range is empty or not finite, or if a
// peak has an m/z or intensity that spectrum.New refuses.
func Spectrum(s spectrum.Spectrum, o Options) (draw.Figure, error) {
	c, err := newChart(s, o)
	if err != nil {
		return draw.Figure{}, fmt.Errorf("drawing the spectrum %q: %w", c.name(), err)
	}
	scene, err := c.layOut()
	if err != nil {
		return draw.Figure{}, fmt.Errorf("drawing the spectrum %q: %w", c.name(), err)
	}
	return draw.Figure{Scene: scene, Title: c.title(), Description: c.description(), Detail: c.detail(), Table: c.table()}, nil
}

// peak is a stick of the figure.
type peak struct {
	mz      float64
	percent float64 // of the base peak of the whole spectrum
}

// chart is a figure of one spectrum being made.
type chart struct {
	o       Options
	info    spectrum.Info
	peaks   []peak  // in the range, with intensity, ascending m/z
	rank    []int   // places in peaks, strongest first
	overlap float64 // of a profile: its highest point over 100 %
}

func newChart(s spectrum.Spectrum, o Options) (*chart, error) {
	c := &chart{o: o, info: s.Info}
	if c.o.Name == "" {
		c.o.Name = s.Info.Name
		if c.o.Name == "" {
			c.o.Name = s.Title
		}
	}
	if o.Mode == Test {
		c.o.Highlight, c.o.MolecularIon, c.o.Assignments, c.o.Losses, c.o.Insets = nil, 0, nil, nil, nil
	}
	if c.o.Width == 0 {
		c.o.Width = 720
	}
	if c.o.Height == 0 {
		c.o.Height = 400
	}
	if c.o.Strongest == 0 {
		c.o.Strongest = 10
	}
	if !(c.o.Width >= 200 && c.o.Width <= 10000 && c.o.Height >= 150 && c.o.Height <= 10000) {
		return c, fmt.Errorf("the canvas is %v by %v pixels; it can be 200 by 150 to 10000 by 10000", c.o.Width, c.o.Height)
	}
	checked, err := spectrum.New(s.Peaks)
	if err != nil {
		return c, err
	}
	base, ok := checked.Base()
	if !ok {
		return c, fmt.Errorf("it has no peak with intensity")
	}
	if err := c.setRange(checked); err != nil {
		return c, err
	}
	for _, p := range checked.Peaks {
		if p.Intensity > 0 && c.inRange(p.MZ) {
			c.peaks = append(c.peaks, peak{p.MZ, p.Intensity / base.Intensity * 100})
		}
	}
	if len(c.peaks) == 0 {
		return c, fmt.Errorf("it has no peak from m/z %v to %v", c.o.From, c.o.To)
	}
	for _, l := range c.o.Losses {
		if !(c.inRange(l.From) && c.inRange(l.To) && l.From != l.To) {
			return c, fmt.Errorf("a loss from m/z %v to %v has to lie on the axis from m/z %v to %v", l.From, l.To, c.o.From, c.o.To)
		}
	}
	if err := c.checkInsets(); err != nil {
		return c, err
	}
	if !(o.PeakWidth >= 0 && o.PeakWidth <= c.o.To-c.o.From) {
		return c, fmt.Errorf("peaks are to be %v wide, on an axis from m/z %v to %v", o.PeakWidth, c.o.From, c.o.To)
	}
	c.measureOverlap()
	c.rank = make([]int, len(c.peaks))
	for i := range c.rank {
		c.rank[i] = i
	}
	slices.SortStableFunc(c.rank, func(a, b int) int { return cmp.Compare(c.peaks[b].percent, c.peaks[a].percent) })
	return c, nil
}

// setRange fills in the ends of the m/z axis that weren't given: round numbers
// around the peaks of at least 0.2 % and all m/z that the options speak of.
func (c *chart) setRange(s spectrum.Spectrum) error {
	lo, hi := math.Inf(1), math.Inf(-1)
	include := func(mz float64) {
		if mz > 0 && !math.IsInf(mz, 0) {
			lo, hi = min(lo, mz), max(hi, mz)
		}
	}
	for _, p := range s.AtLeast(0.2).Peaks {
		include(p.MZ)
	}
	include(c.o.MolecularIon)
	for _, mz := range c.o.Label {
		include(mz)
	}
	for _, l := range c.o.Losses {
		include(l.From)
		include(l.To)
	}
	step := niceStep((hi - lo + 8) / 16)
	step = max(step, 5)
	if c.o.From == 0 {
		c.o.From = max(0, math.Floor((lo-2-0.01*(hi-lo))/step)*step)
	}
	if c.o.To == 0 {
		c.o.To = math.Ceil((hi+2+0.02*(hi-lo))/step) * step
	}
	if !(c.o.From >= 0 && c.o.From < c.o.To && c.o.To <= 1e6) {
		return fmt.Errorf("the m/z axis from %v to %v is empty or not finite", c.o.From, c.o.To)
	}
	return nil
}

func (c *chart) inRange(mz float64) bool { return mz >= c.o.From && mz <= c.o.To }

// find is the place of the peak at mz, within half a unit (at unit
// resolution) or half of the last decimal, and -1 if there is none.
func (c *chart) find(mz float64) int {
	tolerance := 0.26 // so that m/z 45.5 is a peak of its own
	if c.o.Decimals > 0 {
		tolerance = 0.5 * math.Pow(10, -float64(c.o.Decimals))
	}
	best := -1
	for i, p := range c.peaks {
		if d := math.Abs(p.mz - mz); d <= tolerance && (best < 0 || d < math.Abs(c.peaks[best].mz-mz)) {
			best = i
		}
	}
	return best
}

// percent is the relative intensity at mz, 0 where there is no peak.
func (c *chart) percent(mz float64) float64 {
	if i := c.find(mz); i >= 0 {
		return c.peaks[i].percent
	}
	return 0
}

func (c *chart) isHighlighted(i int) bool {
	return slices.ContainsFunc(c.o.Highlight, func(mz float64) bool { return c.find(mz) == i })
}
