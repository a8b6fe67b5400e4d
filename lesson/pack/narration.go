package pack

import "ionwright/lesson/script"

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

// narration is the script of the lesson, with the figures that students see.
func (b *builder) narration() *script.Script {
	files := map[string]string{}
	for _, f := range b.figures {
		files[f.ID] = f.student.File
	}
	return script.Of(b.report, files)
}

// speech writes the script, its captions and its cue sheet.
func (p *Pack) speech(s *script.Script) error {
	cues, err := s.CueSheet()
	if err != nil {
		return err
	}
	p.add(Entry{Script, "what is said, to read from", false}, s.Markdown())
	p.add(Entry{CueSheet, "what to show when", false}, cues)
	p.add(Entry{Captions, "captions of what is said (WebVTT)", true}, s.Captions())
	return nil
}

// spokenOf says how long a script takes to say.
func spokenOf(s *script.Script) manifestNarration {
	m := manifestNarration{
		Pace: s.Pace, Seconds: s.Time(s.Words).Seconds(), Sections: []manifestSpoken{},
		Pages: map[string]string{Script: "to read from", Captions: "WebVTT captions of what is said", CueSheet: "what to show when"},
	}
	for _, section := range s.Sections {
		m.Sections = append(m.Sections, manifestSpoken{section.Title, section.Words, s.Time(section.Words).Seconds()})
	}
	return m
}
