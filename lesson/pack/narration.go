package pack

import (
	"ionwright/lesson/check"
	"ionwright/lesson/script"
)

// manifestNarration says how long the script takes to say.
type manifestNarration struct {
	Pace     int               `json:"pace"` // words a minute
	Seconds  float64           `json:"seconds"`
	Sections []manifestSpoken  `json:"sections"`
	Pages    map[string]string `json:"pages"` // what each of its files is for
}

type manifestSpoken struct {
	Title   string  `json:"title"`
	Words   int     `json:"words"` // spoken
	Seconds float64 `json:"seconds"`
}

// narration writes the script, its captions and its cue sheet.
func (p *Pack) narration(r *check.Report, figures []*figure) (manifestNarration, error) {
	files := map[string]string{}
	for _, f := range figures {
		files[f.ID] = f.File
	}
	s := script.Of(r, files)
	m := manifestNarration{
		Pace: s.Pace, Seconds: s.Time(s.Words).Seconds(), Sections: []manifestSpoken{},
		Pages: map[string]string{Script: "to read from", Captions: "WebVTT captions of what is said", CueSheet: "what to show when"},
	}
	for _, section := range s.Sections {
		m.Sections = append(m.Sections, manifestSpoken{section.Title, section.Words, s.Time(section.Words).Seconds()})
	}
	var err error
	p.Files[Script], p.Files[Captions] = s.Markdown(), s.Captions()
	p.Files[CueSheet], err = s.CueSheet()
	return m, err
}
