package source

// Mechanism draws how a peak of a compound comes about, with electron arrows.
type Mechanism struct {
	place
	ID       Text
	Compound Text // key
	MZ       Text
	Caption  *Prose
}

// Map draws which ions of a compound come from which.
type Map struct {
	place
	ID       Text
	Compound Text // key
	Caption  *Prose
}

func (p *reader) mechanism(f fields, at place) Block {
	f.require("id", "compound", "mz")
	return &Mechanism{place: at, ID: p.id(f), Compound: f.text("compound"), MZ: f.text("mz"), Caption: p.sentence(f, "caption")}
}

func (p *reader) fragmentMap(f fields, at place) Block {
	f.require("id", "compound")
	return &Map{place: at, ID: p.id(f), Compound: f.text("compound"), Caption: p.sentence(f, "caption")}
}
