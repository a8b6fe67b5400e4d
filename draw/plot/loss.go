package plot

import (
	"cmp"
	"slices"
	"strings"

	"ionwright/draw"
)

// bracket is a loss with its place above the peaks.
type bracket struct {
	loss        Loss
	text        []draw.Run
	left, right float64 // x of the two peaks
	textX       float64 // middle of the text
	lane        int     // 0: lowest
}

const laneHeight = 23.0

// brackets puts each loss in the lowest lane in which neither its line nor its
// text touches another's: shorter ones first, so that they lie nearer to the
// peaks. It returns the number of lanes too.
func (c *chart) brackets(f frame) ([]bracket, int) {
	var all []bracket
	for _, l := range c.o.Losses {
		text := lossRuns(l, c.o.Decimals)
		b := bracket{loss: l, text: text, left: f.x(min(l.From, l.To)), right: f.x(max(l.From, l.To))}
		half := draw.RunsWidth(text, smallSize) / 2
		b.textX = min(max((b.left+b.right)/2, f.box.Left+half), f.box.Right+marginRight-half-2)
		all = append(all, b)
	}
	slices.SortStableFunc(all, func(a, b bracket) int { return cmp.Compare(a.right-a.left, b.right-b.left) })
	const gap = 5
	lanes := 0
	for i := range all {
		span := func(b bracket) (float64, float64) {
			half := draw.RunsWidth(b.text, smallSize) / 2
			return min(b.left, b.textX-half), max(b.right, b.textX+half)
		}
		left, right := span(all[i])
		for taken := true; taken; {
			taken = false
			for _, b := range all[:i] {
				if l, r := span(b); b.lane == all[i].lane && l < right+gap && left < r+gap {
					all[i].lane++
					taken = true
					break
				}
			}
		}
		lanes = max(lanes, all[i].lane+1)
	}
	return all, lanes
}

// lossRuns is the text of a bracket: "−15", and what is lost if that is said.
func lossRuns(l Loss, decimals int) []draw.Run {
	runs := []draw.Run{{Text: "−" + MZ(max(l.From, l.To)-min(l.From, l.To), decimals)}}
	if len(l.Text) == 0 {
		return runs
	}
	runs = append(runs, draw.Run{Text: " ("})
	runs = append(runs, l.Text...)
	return append(runs, draw.Run{Text: ")"})
}

// laneY is the height of a lane's line.
func (l *arrangement) laneY(lane int) float64 {
	return l.top() - laneHeight*float64(lane) - 5
}

// drops lists the upright lines from the brackets' ends to the peaks, each
// owned by the tag of its peak, so that other labels keep off them.
func (c *chart) drops(l *arrangement) []block {
	var blocks []block
	for _, b := range l.brackets {
		for _, mz := range []float64{b.loss.From, b.loss.To} {
			i := c.find(mz)
			owner := slices.IndexFunc(l.tags, func(t tag) bool { return i >= 0 && t.peak == i })
			x := l.f.x(mz)
			blocks = append(blocks, block{draw.Box{Left: x - 1.5, Top: l.laneY(b.lane), Right: x + 1.5, Bottom: l.f.y(c.percent(mz))}, owner})
		}
	}
	return blocks
}

// drawBrackets draws the losses; the lines down to a peak end above its label.
func (c *chart) drawBrackets(l *arrangement) *draw.Group {
	g := &draw.Group{Class: "losses"}
	for _, b := range l.brackets {
		y := l.laneY(b.lane)
		one := &draw.Group{Class: "loss", Title: strings.TrimSpace("loss of " + strings.TrimPrefix(draw.RunsString(b.text), "−"))}
		one.Add(draw.Polyline(draw.Stroke{Role: draw.Ink, Width: 1}, draw.Point{X: b.left, Y: y + 4}, draw.Point{X: b.left, Y: y}, draw.Point{X: b.right, Y: y}, draw.Point{X: b.right, Y: y + 4}))
		for _, mz := range []float64{b.loss.From, b.loss.To} {
			if !topmostAt(l.brackets, b, mz) {
				continue // the line from the bracket above passes here
			}
			x, end := l.f.x(mz), l.f.y(c.percent(mz))-2
			for k, t := range l.tags {
				if s := l.spots[k]; s != nil && t.peak == c.find(mz) && s.box.Left < x && x < s.box.Right {
					end = min(end, s.box.Top-2)
				}
			}
			if end > y+7 {
				one.Add(draw.Polyline(draw.Stroke{Role: draw.Muted, Width: 0.8, Dash: []float64{1.5, 2.5}}, draw.Point{X: x, Y: y + 5}, draw.Point{X: x, Y: end}))
			}
		}
		one.Add(draw.Text{At: draw.Point{X: b.textX, Y: y - 5}, Anchor: draw.Middle, Size: smallSize, Role: draw.Ink, Runs: b.text})
		g.Add(one)
	}
	return g
}

// topmostAt reports whether b is the highest of the brackets that end at mz.
func topmostAt(all []bracket, b bracket, mz float64) bool {
	for _, o := range all {
		if (o.loss.From == mz || o.loss.To == mz) && o.lane > b.lane {
			return false
		}
	}
	return true
}
