package source

import "ionwright/lesson/diag"

// Block is a fenced block with a meaning in lessons.
type Block interface {
	// Place is where the block's opening line stands.
	Place() diag.Span
}

// place is the part all blocks share.
type place struct{ span diag.Span }

func (p place) Place() diag.Span { return p.span }

// Claim is a statement that is computed and must hold for the pack to build.
type Claim struct {
	place
	That    Text   // a CEL expression that must be true
	Says    *Prose // the statement in words, for the key page; nil when absent
	Teaches Text   // the idea it belongs to; zero when absent
}

// Figure draws the spectrum of a compound.
type Figure struct {
	place
	ID       Text
	Spectrum Text   // the compound's key
	Label    []Text // m/z to label with the ion's formula; empty: the strongest peaks, m/z only
	// Structures are m/z whose ions are drawn beside their peaks; Losses are
	// pairs of m/z such as "72-43" with a bracket between them; Zoom is such a
	// range shown close up; Against is the key of a compound whose spectrum
	// hangs below.
	Structures []Text
	Losses     []Text
	Zoom       Text
	Against    Text
	Caption    *Prose
}

// Recap lists the ideas to take away, each with its hook.
type Recap struct {
	place
	Ideas []Text
}

// InstrumentBlock describes one of the lesson's instruments, with the caution
// that goes with real ones.
type InstrumentBlock struct {
	place
	Show Text // the instrument's key
}

// Note is for the instructor: it appears on the key page only.
type Note struct {
	place
	Says *Prose
}

// Include puts another Markdown file of the lesson's folder here.
type Include struct {
	place
	File  Text
	Prose *Prose
}
