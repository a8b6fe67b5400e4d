// Package slides is a presentation as a value, and its writer: Office Open XML
// (ECMA-376, PresentationML), which the usual programs for presentations open.
// For most uses fill a [Deck] and call [Write].
//
// A slide has a title, and below it text, a picture, or both side by side. It
// is made to be read without being seen: each slide has a title of its own,
// the parts stand in reading order, every picture has its alternative text, and
// the language is named. There are no animations. Equal decks give equal bytes.
package slides

// Deck is a presentation.
type Deck struct {
	Title    string
	Author   string // may be empty
	Language string // of all text, such as "en-US"
	Colors   Colors
	Slides   []Slide
}

// Colors are the colours of the deck, as six hexadecimal digits. Text must stand
// out from the paper by 4.5 to 1 (WCAG 2.2, success criterion 1.4.3).
type Colors struct{ Paper, Ink, Muted, Accent string }

// Slide is one slide.
type Slide struct {
	// Opening is for the first slide: the title large, the text below it.
	Opening bool
	Title   []Run
	Body    []Paragraph // right below the title, or beside the picture
	Picture *Picture
	Caption []Run // below the picture
	// Notes are what the speaker reads, a paragraph each; nil: the slide has no
	// notes page.
	Notes []string
}

// Paragraph is a paragraph of a slide's text.
type Paragraph struct {
	Runs   []Run
	Bullet bool
	Indent bool // as far as the text behind a bullet
	Muted  bool // said quietly, such as where something comes from
}

// Run is a part of a text in one style.
type Run struct {
	Text   string
	Bold   bool
	Italic bool
	Script Script
}

// Script raises or lowers a run.
type Script int8

// The scripts there are.
const (
	Sub    Script = -1
	Normal Script = 0
	Super  Script = 1
)

// Picture is a PNG with its size and its alternative text.
type Picture struct {
	PNG           []byte
	Width, Height int // pixels; only their ratio matters
	Name          string
	Alt           string
}

// Plain is text in a single run.
func Plain(text string) []Run { return []Run{{Text: text}} }

// TextOf is the text of runs without their styles.
func TextOf(runs []Run) string {
	var all []byte
	for _, r := range runs {
		all = append(all, r.Text...)
	}
	return string(all)
}
