// Package script makes the narration of a checked lesson: what is said, when
// at the lesson's pace, and what is shown meanwhile. For most uses call [Of],
// then [Script.Markdown], [Script.Captions] (WebVTT) and [Script.CueSheet].
//
// Headings, captions of figures, tables, notes, claims and answers aren't
// said. The package records no sound, and counts no time for showing things or
// for thinking about a question.
package script

import (
	"time"

	"ionwright/lesson/check"
	"ionwright/lesson/load"
	"ionwright/lesson/source"
)

// DefaultPace is the pace of a lesson that names none, in words a minute: a
// teacher who explains rather than reads a story.
const DefaultPace = 130 // common practice, no source

// Script is a lesson's narration.
type Script struct {
	Title    string
	Pace     int // spoken words a minute
	Sections []*Section
	Words    int // spoken, of all sections
}

// Section is what is said and shown under a heading, or before the first.
type Section struct {
	Title string
	ID    string // of the heading, where it has one; the idea that it explains
	At    int    // spoken words before it
	Words int    // spoken in it
	Parts []Part
}

// Part is a sentence, or a cue for showing something.
type Part struct {
	At        int    // spoken words before it
	Says      []Word // the sentence; nil for a cue
	Show      *Cue   // nil for a sentence
	Paragraph bool   // begins a paragraph
	Item      bool   // begins a point of a list
	Hook      string // the idea whose hook begins here; else empty
}

// Word is a piece of a sentence between two spaces, with the punctuation that
// clings to it.
type Word struct {
	Written string // as in captions: "m/z 43", "C₂H₃O⁺"; may hold no-break spaces
	Spoken  string // as in the script: "m over z forty-three", "C two H three O plus"
	count   int    // words to say
}

// Cue is something to show: one of the things below What, or none of them where
// it is only described.
type Cue struct {
	What       string
	File       string // in the pack; "" where the thing stands in the page only
	Figure     *check.Figure
	Question   *check.Question
	Recap      *source.Recap
	Instrument *load.Instrument
}

// Of makes the script of a lesson that was checked without errors. Files names
// the figures' files by the figures' ids.
func Of(r *check.Report, files map[string]string) *Script {
	n := &narrator{report: r, files: files, script: &Script{Title: oneLine(r.Source.Title.Value), Pace: r.Source.Pace}, shown: map[string]bool{}}
	if n.script.Pace == 0 {
		n.script.Pace = DefaultPace
	}
	n.begin(n.script.Title, "")
	n.prose(r.Source.Body)
	n.end(0)
	n.ask()
	if first := n.script.Sections[0]; len(first.Parts) == 0 {
		n.script.Sections = n.script.Sections[1:]
	}
	return n.script
}

// Time is when a number of words has been said.
func (s *Script) Time(words int) time.Duration {
	return time.Duration(words) * time.Minute / time.Duration(s.Pace)
}
