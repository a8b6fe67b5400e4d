package source

// figureKeys are the keys of a figure block.
var figureKeys = []string{"id", "spectrum", "against", "label", "structures", "losses", "zoom", "caption"}

// Structure draws the structure of a compound.
type Structure struct {
	place
	ID         Text
	Compound   Text   // key
	Abbreviate []Text // groups written as labels, by name; "all": those of three atoms and more
	Pairs      bool   // with lone pairs
	Numbers    bool   // with numbered atoms
	Caption    *Prose
}

func (p *reader) figure(f fields, at place) Block {
	f.require("id", "spectrum")
	return &Figure{
		place: at, ID: p.id(f), Spectrum: f.text("spectrum"), Against: f.text("against"), Label: f.texts("label"),
		Structures: f.texts("structures"), Losses: f.texts("losses"), Zoom: f.text("zoom"), Caption: p.sentence(f, "caption"),
	}
}

func (p *reader) structure(f fields, at place) Block {
	f.require("id", "compound")
	return &Structure{
		place: at, ID: p.id(f), Compound: f.text("compound"), Abbreviate: f.texts("abbreviate"),
		Pairs: f.truth("pairs"), Numbers: f.truth("numbers"), Caption: p.sentence(f, "caption"),
	}
}
