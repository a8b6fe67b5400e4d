package motion

import (
	"bytes"
	"fmt"
	"html"
	"math"
	"slices"
	"strconv"
	"strings"

	"ionwright/draw"
	"ionwright/draw/svg"
)

// dashes and roles tell the ions apart, with and without colour.
var (
	dashes = [...]string{"", "7 3", "2 2.5", "10 3 2 3", "14 4", "4 4"}
	roles  = [...]draw.Role{draw.Second, draw.Third, draw.Ink}
)

// SVG returns the animation as one document that plays by itself, over and
// over; a click on it stops it and lets it go on. Where the reader's device asks
// for less motion it stands still and shows the path of each ion at the field
// that brings the middle one of them to the detector, and the whole trace.
func (f *Film) SVG() ([]byte, error) {
	text, err := f.document()
	if err != nil {
		return nil, err
	}
	const script = "<script>document.documentElement.addEventListener('click',function(){var s=document.documentElement;s.animationsPaused()?s.unpauseAnimations():s.pauseAnimations()})</script>\n"
	return bytes.Replace(text, []byte("</svg>"), []byte(script+"</svg>"), 1), nil
}

// document is the animation without a script.
func (f *Film) document() ([]byte, error) {
	// The text that moves needs its letters in the embedded font too.
	figure := f.figure
	var letters []string
	for _, a := range f.arrivals {
		letters = append(letters, f.arrived(a))
	}
	figure.Scene.Items = append(figure.Scene.Items[:len(figure.Scene.Items):len(figure.Scene.Items)],
		&draw.Group{Class: "letters", Items: []draw.Item{draw.Text{At: draw.Point{X: 0, Y: -50}, Size: 12, Role: draw.Ink, Runs: draw.Words(strings.Join(letters, " "))}}})
	text, err := svg.Marshal(figure, svg.Options{Palette: draw.Light(), Dark: draw.Dark()})
	if err != nil {
		return nil, err
	}
	// The curve is drawn twice: one that grows, and one that stands.
	const curve = `<g id="series-1" class="series">`
	from := bytes.Index(text, []byte(curve))
	if from < 0 {
		return nil, fmt.Errorf("animating a sweep: the trace has no curve")
	}
	to := from + bytes.Index(text[from:], []byte("</g>")) + len("</g>")
	text = slices.Concat(text[:from], []byte("<defs>"), text[from:to], []byte("</defs>"), text[to:])
	var b strings.Builder
	b.WriteString(`<style>.still{display:none}@media (prefers-reduced-motion:reduce){.ionwright-figure:not(.play) .still{display:inline}.ionwright-figure:not(.play) .moving{display:none}}</style>` + "\n")
	f.moving(&b)
	f.standing(&b)
	b.WriteString("</svg>")
	return bytes.Replace(text, []byte("</svg>"), []byte(b.String()), 1), nil
}

func number(v float64) string { return strconv.FormatFloat(v, 'f', 1, 64) }

// part writes a part of the whole duration.
func part(v float64) string { return strconv.FormatFloat(min(max(v, 0), 1), 'f', 5, 64) }

func color(r draw.Role) string { return "var(--ionwright-" + r.String() + ")" }

// animate writes one animated attribute.
func (f *Film) animate(b *strings.Builder, attribute string, times, values []string, steps bool) {
	mode := ""
	if steps {
		mode = ` calcMode="discrete"`
	}
	fmt.Fprintf(b, `<animate attributeName="%s" dur="%ss" repeatCount="indefinite"%s keyTimes="%s" values="%s"/>`,
		attribute, number(f.duration), mode, strings.Join(times, ";"), strings.Join(values, ";"))
}

// during gives an attribute one value while an ion arrives and another else.
func (f *Film) during(b *strings.Builder, attribute string, ion int, within, rest string) {
	times, values := []string{"0"}, []string{rest}
	for _, a := range f.arrivals {
		if a.ion == ion {
			times, values = append(times, part(a.from), part(a.to)), append(values, within, rest)
		}
	}
	f.animate(b, attribute, times, values, true)
}

// moving writes what moves.
func (f *Film) moving(b *strings.Builder) {
	times := make([]string, len(f.times))
	for k, t := range f.times {
		times[k] = part(t)
	}
	b.WriteString(`<g class="moving">` + "\n")
	widths, xs := make([]string, len(f.times)), make([]string, len(f.times))
	for k, x := range f.cursor {
		widths[k], xs[k] = number(x-f.left+1), number(x)
	}
	fmt.Fprintf(b, `<clipPath id="gone"><rect x="%s" y="0" width="%s" height="%s">`, number(f.left-1), number(f.right-f.left+2), number(f.figure.Scene.Height))
	f.animate(b, "width", times, widths, false)
	b.WriteString("</rect></clipPath>\n" + `<g clip-path="url(#gone)"><use href="#series-1"/></g>` + "\n")
	fmt.Fprintf(b, `<line y1="%s" y2="%s" x1="%s" x2="%[3]s" stroke="%s" stroke-width="1">`, number(f.top), number(f.bottom), number(f.left), color(draw.Muted))
	f.animate(b, "x1", times, xs, false)
	f.animate(b, "x2", times, xs, false)
	b.WriteString("</line>\n")
	for k, flight := range f.flights {
		own := color(roles[k%len(roles)])
		ways := make([]string, len(flight.ways))
		for n, way := range flight.ways {
			ways[n] = list(way)
		}
		fmt.Fprintf(b, `<polyline fill="none" stroke="%s" stroke-width="1.5" stroke-dasharray="%s" points="%s"><title>m/z %s</title>`, own, dashes[k%len(dashes)], ways[0], mzText(flight.mz))
		f.animate(b, "points", times, ways, false)
		f.during(b, "stroke", k, color(draw.Accent), own)
		f.during(b, "stroke-width", k, "3", "1.5")
		b.WriteString("</polyline>\n")
		x, y := make([]string, len(flight.ways)), make([]string, len(flight.ways))
		for n := range flight.ways {
			at := flight.label(n)
			x[n], y[n] = number(at.X), number(at.Y)
		}
		fmt.Fprintf(b, `<text font-size="12" text-anchor="middle" fill="%s" stroke="%s" stroke-width="3" paint-order="stroke">%s`, own, color(draw.Paper), mzText(flight.mz))
		f.animate(b, "x", times, x, false)
		f.animate(b, "y", times, y, false)
		f.during(b, "opacity", k, "0", "1")
		b.WriteString("</text>\n")
	}
	for _, a := range f.arrivals {
		at := f.peak(a)
		fmt.Fprintf(b, `<text x="%s" y="%s" font-size="12" text-anchor="middle" fill="%s" opacity="0">%s`, number(at.X), number(at.Y), color(draw.Ink), mzText(f.flights[a.ion].mz))
		f.animate(b, "opacity", []string{"0", part(a.from)}, []string{"0", "1"}, true)
		b.WriteString("</text>\n")
		fmt.Fprintf(b, `<text x="%s" y="%s" font-size="14" text-anchor="middle" fill="%s" opacity="0">%s`, number(f.readout.X), number(f.readout.Y), color(draw.Accent), mzHTML(f.arrived(a)))
		f.animate(b, "opacity", []string{"0", part(a.from), part(a.to)}, []string{"0", "1", "0"}, true)
		b.WriteString("</text>\n")
	}
	b.WriteString("</g>\n")
}

// standing writes what is shown instead where motion isn't wanted.
func (f *Film) standing(b *strings.Builder) {
	b.WriteString(`<g class="still">` + "\n" + `<use href="#series-1"/>` + "\n")
	first := f.arrivals[len(f.arrivals)/2]
	at := 0
	for at < len(f.times)-1 && f.times[at] < first.from {
		at++
	}
	for k, flight := range f.flights {
		own, width := color(roles[k%len(roles)]), "1.5"
		if k == first.ion {
			own, width = color(draw.Accent), "3"
		}
		fmt.Fprintf(b, `<polyline fill="none" stroke="%s" stroke-width="%s" stroke-dasharray="%s" points="%s"/>`+"\n", own, width, dashes[k%len(dashes)], list(flight.ways[at]))
		place := flight.label(at)
		fmt.Fprintf(b, `<text x="%s" y="%s" font-size="12" text-anchor="middle" fill="%s" stroke="%s" stroke-width="3" paint-order="stroke">%s</text>`+"\n", number(place.X), number(place.Y), own, color(draw.Paper), mzText(flight.mz))
	}
	for _, a := range f.arrivals {
		at := f.peak(a)
		fmt.Fprintf(b, `<text x="%s" y="%s" font-size="12" text-anchor="middle" fill="%s">%s</text>`+"\n", number(at.X), number(at.Y), color(draw.Ink), mzText(f.flights[a.ion].mz))
	}
	fmt.Fprintf(b, `<text x="%s" y="%s" font-size="14" text-anchor="middle" fill="%s">%s</text>`+"\n</g>\n", number(f.readout.X), number(f.readout.Y), color(draw.Accent), mzHTML(f.arrived(first)))
}

// mzHTML sets m/z in italics.
func mzHTML(text string) string {
	return strings.ReplaceAll(html.EscapeString(text), "m/z", `<tspan font-style="italic">m/z</tspan>`)
}

func list(way []draw.Point) string {
	var b strings.Builder
	for k, p := range way {
		if k > 0 {
			b.WriteByte(' ')
		}
		b.WriteString(number(p.X))
		b.WriteByte(',')
		b.WriteString(number(p.Y))
	}
	return b.String()
}

// peak is above the top of the curve where an ion arrives.
func (f *Film) peak(a arrival) draw.Point {
	k := 0
	for k < len(f.times)-1 && f.times[k] < a.from {
		k++
	}
	at := draw.Point{X: f.cursor[k], Y: f.bottom}
	for _, p := range f.curve {
		if math.Abs(p.X-at.X) < 2 {
			at.Y = min(at.Y, p.Y)
		}
	}
	at.Y -= 5
	return at
}

// label is where an ion's m/z stands in a picture: beyond the end of its path,
// away from the middle of the beam.
func (f flight) label(picture int) draw.Point {
	way := f.ways[picture]
	end, before := way[len(way)-1], way[len(way)-3]
	dx, dy := end.X-before.X, end.Y-before.Y
	if length := dx*dx + dy*dy; length > 0 {
		side := 20.0 // to the right of the way, on the screen, is outward
		if f.inner[picture] {
			side = -side
		}
		scale := 1 / math.Sqrt(length)
		return draw.Point{X: end.X - dy*scale*side, Y: end.Y + dx*scale*side + 4}
	}
	return draw.Point{X: end.X, Y: end.Y - 12}
}
