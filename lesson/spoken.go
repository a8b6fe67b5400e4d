package lesson

import (
	"time"

	"github.com/yuin/goldmark/ast"

	"ionwright/lesson/check"
	"ionwright/lesson/diag"
	"ionwright/lesson/script"
	"ionwright/lesson/source"
)

// Spoken is how long a section takes to say, at the lesson's pace.
type Spoken struct {
	Title string
	Words int
	Time  time.Duration
	Place diag.Span // of its heading; the beginning of the lesson for what stands before the first
}

// Lengths says how long each section of a lesson that was checked without
// errors takes to say. Time for looking and thinking isn't counted.
func Lengths(r *check.Report) []Spoken {
	var places []diag.Span
	r.Source.Walk(func(p *source.Prose, n ast.Node) {
		if h, ok := n.(*ast.Heading); ok {
			at := p.Text.Place()
			if first := h.Lines(); first.Len() > 0 {
				at = p.Span(first.At(0).Start, first.At(0).Stop)
			}
			places = append(places, at)
		}
	})
	s := script.Of(r, nil)
	beginning := len(s.Sections) - len(places)
	var out []Spoken
	for i, section := range s.Sections {
		at := diag.Span{File: source.Main}
		if k := i - beginning; k >= 0 && k < len(places) {
			at = places[k]
		}
		out = append(out, Spoken{section.Title, section.Words, s.Time(section.Words), at})
	}
	return out
}

// longSections advises on sections that take longer to say than the lesson's
// limit.
func longSections(r *check.Report, found diag.List) diag.List {
	if r == nil || found.HasErrors() {
		return found
	}
	limit := r.Source.Reading.Minutes
	for _, s := range Lengths(r) {
		if minutes := s.Time.Minutes(); minutes > limit {
			found = append(found, diag.New(diag.LongSection, s.Place, "%q takes %.1f minutes to say (%d words), more than the %g of this lesson", s.Title, minutes, s.Words, limit).
				Suggesting("divide it with a heading, or set the limit: reading: { minutes: %.0f }", minutes+1))
		}
	}
	found.Sort()
	return found
}
