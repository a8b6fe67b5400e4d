package source

import "ionwright/lesson/notation"

// Lesson is a lesson's source as read: nothing is looked up or computed yet.
type Lesson struct {
	Title       Text
	Audience    Text
	Pace        int // spoken words a minute; 0 when not given
	Author      Text
	License     Text // of the lesson's own text and figures
	Notation    notation.Profile
	Compounds   []Compound
	Ideas       []Idea
	Hooks       []Hook
	Instruments []Instrument
	Glossary    []Term
	Audiences   []Audience // for which the lesson has alternatives; empty: it has none
	Reading     Reading
	Body        *Prose
	// Files are the names of all source files read, in the order of reading.
	Files []string
}

// Compound is a row of the front matter's compounds.
type Compound struct {
	Key  Text // the name by which expressions call it
	Name Text // the name students read; zero: the key
	// The structure: as SMILES, by a chemical name, or a file with its drawing.
	// One of the three is given.
	SMILES, Named, Drawn Text
	// Bare is true where SMILES is given without a key, and may be a name.
	Bare     bool
	Measured Text // file of the measured spectrum; zero: computed
	// Computed is true where the author says that the spectrum is meant to be
	// a computed one.
	Computed bool
	// Unknown says that students must find the structure, and what they are
	// told: "formula", "mass" or "spectrum"; zero: it is no unknown.
	Unknown Text
	Known   []Text // groups that they are told are there
	Accept  Text   // why the author accepts rivals; zero: not accepted
	// What the measured file doesn't say itself: who made the spectrum, under
	// which license it may be used, and why it may be published although the
	// license doesn't allow it by itself.
	Origin, License, Permission Text
}

// Structure is where the lesson gives the structure; zero where it doesn't.
func (c Compound) Structure() Text {
	for _, t := range []Text{c.SMILES, c.Named, c.Drawn} {
		if !t.IsZero() {
			return t
		}
	}
	return Text{}
}

// Idea is one thing students must take away.
type Idea struct {
	Key       Text // also the id of the heading that explains it
	Statement *Prose
}

// Hook is a memory aid for an idea.
type Hook struct {
	Idea     Text
	Says     *Prose
	Misleads *Prose // where the hook leads astray; nil when it doesn't
}

// Instrument is a magnetic sector: a half circle with slits, a preset, or what
// a file describes.
type Instrument struct {
	Key     Text
	Name    Text    // zero: the key
	Preset  Text    // name of an instrument of the program; zero for none
	File    Text    // with a description; zero for none
	Radius  float64 // of the ion path, m; 0 where preset or file has it
	Voltage float64 // accelerating, V; 0 where preset or file has it
	Slit    float64 // width of both slits, m; 0 when not given
}
