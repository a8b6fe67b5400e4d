package plot

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"ionwright/draw"
	"ionwright/spectrum"
)

// CompareOptions say how two spectra are compared. The zero value gives 720 by
// 480 pixels.
type CompareOptions struct {
	Width, Height float64 // pixels; 0: 720 and 480. A crowded figure grows in height
	Upper, Lower  string  // what the spectra are called, such as "measured" and "computed"
	Options       Options // what else is shown, in both; its size, names, Losses, Zoom, Insets and PeakWidth aren't used
}

// Compare makes a figure of two spectra head to tail on one m/z axis, upper
// pointing up and lower hanging down, each in % of its own base peak. It fails
// where Spectrum does.
func Compare(upper, lower spectrum.Spectrum, o CompareOptions) (draw.Figure, error) {
	if o.Upper == "" {
		o.Upper = "above"
	}
	if o.Lower == "" {
		o.Lower = "below"
	}
	if o.Width == 0 {
		o.Width = 720
	}
	if o.Height == 0 {
		o.Height = 480
	}
	common := o.Options
	common.Width, common.Height = o.Width, max(o.Height/2, 150)
	common.Name, common.Alias, common.Losses, common.Zoom = "", "", nil, nil
	common.Insets, common.PeakWidth = nil, 0
	var charts [2]*chart
	for i, s := range []spectrum.Spectrum{upper, lower} {
		c, err := newChart(s, common)
		if err != nil {
			return draw.Figure{}, fmt.Errorf("comparing two spectra: drawing the one called %q: %w", []string{o.Upper, o.Lower}[i], err)
		}
		charts[i] = c
	}
	from, to := min(charts[0].o.From, charts[1].o.From), max(charts[0].o.To, charts[1].o.To)
	for i, s := range []spectrum.Spectrum{upper, lower} {
		common.From, common.To = from, to
		c, err := newChart(s, common)
		if err != nil {
			return draw.Figure{}, fmt.Errorf("comparing two spectra: drawing the one called %q: %w", []string{o.Upper, o.Lower}[i], err)
		}
		charts[i] = c
	}
	p := pair{charts, [2]string{o.Upper, o.Lower}}
	return draw.Figure{Scene: p.scene(o), Title: p.title(), Description: p.description(), Table: p.table()}, nil
}

// pair is two spectra in one figure.
type pair struct {
	charts [2]*chart
	names  [2]string
}

const captionHeight = 18.0

// scene draws both. The lower one is arranged as if it pointed up and then
// mirrored about the base line.
func (p pair) scene(o CompareOptions) draw.Scene {
	right := o.Width - marginRight
	for rows := 1.5; ; rows++ {
		headroom := rows*lineHeight + captionHeight
		height := max(o.Height, (2*headroom+2*marginTop+xAxisHeight)/(1-leastPart))
		f := frame{lo: p.charts[0].o.From, hi: p.charts[0].o.To, yHi: 100}
		middle := (height - xAxisHeight) / 2
		f.box = draw.Box{Left: yAxisWidth, Top: marginTop + headroom, Right: right, Bottom: middle}
		area := draw.Box{Left: f.box.Left + 2, Top: marginTop + captionHeight, Right: o.Width - 2, Bottom: middle}
		scene := draw.Scene{Width: o.Width, Height: height}
		placed := true
		var drawn []draw.Item
		most := 0
		for i, c := range p.charts {
			tags := c.tags(f)
			most = max(most, len(tags))
			spots, ok := place(tagLabels(tags), c.sticksOf(f), nil, area)
			placed = placed && ok
			flip := i == 1
			drawn = append(drawn, c.drawSticks(f, []string{"upper", "lower"}[i], flip), c.drawTags(tags, spots, middle, flip))
		}
		if !placed && rows < float64(8*most+20) {
			continue
		}
		bottom := 2*middle - marginTop
		scene.Items = append(scene.Items, p.axes(f, bottom)...)
		scene.Items = append(scene.Items, drawn...)
		for i, y := range []float64{marginTop + capHeight + 2, bottom - 4} {
			scene.Items = append(scene.Items, draw.Text{At: draw.Point{X: f.box.Left + 6, Y: y}, Size: titleSize, Role: draw.Ink, Runs: []draw.Run{{Text: p.names[i], Bold: true}}})
		}
		return scene
	}
}

// axes draws the base line, the m/z axis under everything, and an intensity
// axis for each half.
func (p pair) axes(f frame, bottom float64) []draw.Item {
	line := draw.Stroke{Role: draw.Muted, Width: axisWidth}
	base := f.box.Bottom
	below := f
	below.box.Bottom = bottom
	step := 50.0
	text := func(v float64) string { return tickText(math.Abs(v), step) }
	both := f
	both.yLo, both.box.Bottom = -100, 2*base-f.box.Top
	return []draw.Item{
		draw.Polyline(line, draw.Point{X: f.box.Left, Y: base}, draw.Point{X: f.box.Right, Y: base}),
		below.xAxis(draw.Words("m/z"), p.charts[0].o.Decimals == 0),
		both.yAxis(draw.Plain("relative intensity (%)"), -100, 100, step, text),
	}
}

func (p pair) title() string {
	return "Two mass spectra head to tail: " + p.names[0] + " above, " + p.names[1] + " below"
}

// description gives each spectrum's base peak and the peaks that differ most;
// in Test mode only what is drawn.
func (p pair) description() string {
	up, down := p.charts[0], p.charts[1]
	lo, hi := up.mzText(up.o.From), up.mzText(up.o.To)
	if up.o.Mode == Test {
		return fmt.Sprintf("Stick spectra head to tail, m/z from %s to %s and relative intensity from 0 to 100 %% each: %s above, %s below; the table lists them.", lo, hi, count(len(up.peaks), "peak"), count(len(down.peaks), "peak"))
	}
	sentence := fmt.Sprintf("Stick spectra head to tail, m/z %s to %s: strongest peak at m/z %s above, at m/z %s below", lo, hi, up.mzText(up.peaks[up.rank[0]].mz), down.mzText(down.peaks[down.rank[0]].mz))
	rows := p.rows()
	slices.SortStableFunc(rows, func(a, b pairRow) int { return cmp.Compare(b.gap(), a.gap()) })
	var words []string
	for _, r := range rows[:min(3, len(rows))] {
		if r.gap() >= 5 {
			words = append(words, fmt.Sprintf("m/z %s (%s %% above, %s %% below)", r.mz, Percent(r.percent[0]), Percent(r.percent[1])))
		}
	}
	if len(words) == 0 {
		return sentence + "; no peak differs by as much as 5 %."
	}
	return sentence + "; they differ most at " + list(words) + "."
}

// pairRow is one m/z of the two spectra.
type pairRow struct {
	mz      string
	value   float64
	percent [2]float64
}

func (r pairRow) gap() float64 { return math.Abs(r.percent[0] - r.percent[1]) }

// rows lists all m/z in ascending order; peaks whose m/z is written the same
// are one row.
func (p pair) rows() []pairRow {
	var rows []pairRow
	for side, c := range p.charts {
		for _, peak := range c.peaks {
			text := c.mzText(peak.mz)
			i := slices.IndexFunc(rows, func(r pairRow) bool { return r.mz == text })
			if i < 0 {
				i = len(rows)
				rows = append(rows, pairRow{mz: text, value: peak.mz})
			}
			rows[i].percent[side] += peak.percent
		}
	}
	slices.SortStableFunc(rows, func(a, b pairRow) int { return cmp.Compare(a.value, b.value) })
	return rows
}

func (p pair) table() draw.Table {
	t := draw.Table{Caption: "Peaks: " + strings.ToLower(p.title()[:1]) + p.title()[1:], Columns: []string{"m/z", p.names[0] + " (%)", p.names[1] + " (%)"}}
	for _, r := range p.rows() {
		t.Rows = append(t.Rows, []string{r.mz, Percent(r.percent[0]), Percent(r.percent[1])})
	}
	return t
}
