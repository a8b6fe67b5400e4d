package plot

import (
	"fmt"
	"slices"
	"strings"

	"ionwright/draw"
)

// tag is a label with its text.
type tag struct {
	peak  int
	lines [][]draw.Run
	label
}

const lineHeight = 14.0

// tags lists the labels that peaks may get: those that must be shown, and
// those of the other peaks that stand out.
func (c *chart) tags(f frame) []tag {
	must := map[int]bool{}
	for _, i := range c.rank[:min(c.o.Strongest, len(c.rank))] {
		must[i] = true
	}
	for _, mz := range slices.Concat(c.o.Label, c.o.Highlight, []float64{c.o.MolecularIon}) {
		if i := c.find(mz); i >= 0 {
			must[i] = true
		}
	}
	for _, a := range c.o.Assignments {
		if i := c.find(a.MZ); i >= 0 {
			must[i] = true
		}
	}
	for _, l := range c.o.Losses {
		for _, mz := range []float64{l.From, l.To} {
			if i := c.find(mz); i >= 0 {
				must[i] = true
			}
		}
	}
	var tags []tag
	for _, i := range c.rank {
		if !must[i] && !c.standsOut(i) {
			continue
		}
		p := c.peaks[i]
		t := tag{peak: i, lines: c.lines(i)}
		t.tip = draw.Point{X: f.x(p.mz), Y: f.y(c.height(i))}
		if c.o.PeakWidth > 0 {
			t.tip.Y -= 1.5 // half of the line, and the pixel that its slope takes
		}
		t.must = must[i]
		t.weight = p.percent
		for k, line := range t.lines {
			t.width = max(t.width, draw.RunsWidth(line, lineSize(k)))
		}
		t.height = capHeight + lineHeight*float64(len(t.lines)-1)
		if len(t.lines) > 1 {
			t.height += 3 // subscripts below the last line
		}
		tags = append(tags, t)
	}
	return tags
}

const capHeight = 0.745 * textSize

func lineSize(k int) float64 {
	if k > 0 {
		return smallSize
	}
	return textSize
}

// standsOut reports whether a peak of less than the strongest is worth a
// label: at least 2 %, and the strongest within two units.
func (c *chart) standsOut(i int) bool {
	p := c.peaks[i]
	if p.percent < 2 {
		return false
	}
	for _, q := range c.peaks {
		if q.mz != p.mz && q.mz >= p.mz-2.1 && q.mz <= p.mz+2.1 && q.percent >= p.percent {
			return false
		}
	}
	return true
}

// lines is the text of a peak's label: its m/z, and under it what it is.
func (c *chart) lines(i int) [][]draw.Run {
	number := draw.Run{Text: MZ(c.peaks[i].mz, c.o.Decimals), Bold: c.isHighlighted(i)}
	lines := [][]draw.Run{{number}}
	if c.o.MolecularIon > 0 && c.find(c.o.MolecularIon) == i {
		lines = append(lines, molecularIonRuns())
	}
	for _, a := range c.o.Assignments {
		if c.find(a.MZ) == i && len(a.Text) > 0 {
			lines = append(lines, a.Text)
		}
	}
	return lines
}

func molecularIonRuns() []draw.Run {
	return []draw.Run{{Text: "M"}, {Text: "+•", Script: draw.Super}}
}

// stickWidth is the width of sticks that are pixels apart per unit of m/z.
func stickWidth(pixelsPerUnit float64) float64 {
	return min(2.5, max(1.2, 0.4*pixelsPerUnit))
}

// drawSticks draws the peaks, each in a group of its own whose id is name and
// the m/z; hanging down from the base line with flip.
func (c *chart) drawSticks(f frame, name string, flip bool) *draw.Group {
	if c.o.PeakWidth > 0 {
		return c.drawProfile(f)
	}
	g := &draw.Group{Class: "peaks"}
	width := stickWidth(f.box.Width() / (f.hi - f.lo))
	used := map[string]int{}
	for i, p := range c.peaks {
		stroke := draw.Stroke{Role: draw.Ink, Width: width}
		if c.isHighlighted(i) {
			stroke = draw.Stroke{Role: draw.Accent, Width: width + 1.5}
		}
		id := name + "-" + strings.ReplaceAll(MZ(p.mz, c.o.Decimals), ".", "-")
		if used[id]++; used[id] > 1 {
			id += fmt.Sprintf("-no%d", used[id])
		}
		x, y := f.x(p.mz), f.y(p.percent)
		if flip {
			y = 2*f.y(0) - y
		}
		g.Add(&draw.Group{
			ID: id, Class: "peak", Title: "m/z " + MZ(p.mz, c.o.Decimals) + ", " + Percent(p.percent) + " %",
			Items: []draw.Item{draw.Polyline(stroke, draw.Point{X: x, Y: f.y(0)}, draw.Point{X: x, Y: y})},
		})
	}
	return g
}

// drawTags draws the labels that have a spot. With flip the peaks hang down,
// and the spots are mirrored about the line y = mirror.
func (c *chart) drawTags(tags []tag, spots []*spot, mirror float64, flip bool) *draw.Group {
	g := &draw.Group{Class: "labels"}
	at := func(p draw.Point) draw.Point {
		if flip {
			p.Y = 2*mirror - p.Y
		}
		return p
	}
	for k, t := range tags {
		s := spots[k]
		if s == nil {
			continue
		}
		one := &draw.Group{Class: "label"}
		if s.leader {
			from, to := s.line(t.tip)
			one.Add(draw.Polyline(draw.Stroke{Role: draw.Muted, Width: 0.8}, at(from), at(to)))
		}
		top := s.box.Top
		if flip {
			top = 2*mirror - s.box.Bottom
		}
		role := draw.Ink
		if c.isHighlighted(t.peak) {
			role = draw.Accent
		}
		for j, runs := range t.lines {
			one.Add(draw.Text{
				At:     draw.Point{X: s.box.Center().X, Y: top + capHeight + float64(j)*lineHeight},
				Anchor: draw.Middle, Size: lineSize(j), Role: role, Halo: draw.Paper, Runs: runs,
			})
		}
		g.Add(one)
	}
	return g
}

func tagLabels(tags []tag) []label {
	labels := make([]label, len(tags))
	for i, t := range tags {
		labels[i] = t.label
	}
	return labels
}

// sticksOf lists the peaks as obstacles.
func (c *chart) sticksOf(f frame) []stick {
	if c.o.PeakWidth > 0 {
		return c.profileColumns(f)
	}
	half := stickWidth(f.box.Width()/(f.hi-f.lo)) / 2
	sticks := make([]stick, len(c.peaks))
	for i, p := range c.peaks {
		sticks[i] = stick{f.x(p.mz), f.y(p.percent), half}
		if c.isHighlighted(i) {
			sticks[i].halfWidth += 0.75
		}
	}
	return sticks
}
