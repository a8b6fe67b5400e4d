package pack

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"ionwright/draw"
	"ionwright/lesson/check"
	"ionwright/lesson/load"
	"ionwright/lesson/script"
	"ionwright/lesson/slides"
	"ionwright/lesson/source"
)

// decker makes the slides of a lesson, in the order of its script.
type decker struct {
	*builder
	student bool
	deck    slides.Deck
	section *script.Section
}

// deck writes the slides. What is projected is what students may see: the
// figures of unknowns and of questions give nothing away. The instructor's deck
// has in its notes what to say and the answers, and an answer slide after each
// question; the students' has neither.
func (b *builder) deck(s *script.Script, student bool) ([]byte, error) {
	src := b.report.Source
	color := func(r draw.Role) string { return draw.Light().Color(r).Hex() }
	d := &decker{builder: b, student: student, deck: slides.Deck{
		Title: src.Title.Value, Author: src.Author.Value, Language: "en-US",
		Colors: slides.Colors{Paper: color(draw.Paper), Ink: color(draw.Ink), Muted: color(draw.Muted), Accent: color(draw.Accent)},
	}}
	d.opening(s)
	for i, section := range s.Sections {
		if err := d.add(section, i == 0 && section.ID == "" && section.Title == s.Title); err != nil {
			return nil, err
		}
	}
	d.sources()
	var out bytes.Buffer
	err := slides.Write(&out, d.deck)
	return out.Bytes(), err
}

// show begins a slide.
func (d *decker) show(s slides.Slide) {
	if !d.student {
		s.Notes = append([]string{}, s.Notes...) // a notes page, though it may be empty
	}
	d.deck.Slides = append(d.deck.Slides, s)
}

// note adds to the notes of the last slide.
func (d *decker) note(text string, paragraph bool) {
	if d.student {
		return
	}
	last := &d.deck.Slides[len(d.deck.Slides)-1]
	if n := len(last.Notes); n > 0 && !paragraph {
		last.Notes[n-1] += " " + text
		return
	}
	last.Notes = append(last.Notes, text)
}

func (d *decker) opening(s *script.Script) {
	body := []slides.Paragraph{{Runs: slides.Plain(d.report.Source.Audience.Value)}}
	if body[0].Runs[0].Text == "" {
		body = nil
	}
	body = append(body, slides.Paragraph{Runs: slides.Plain(notice), Muted: true})
	d.show(slides.Slide{Opening: true, Title: slides.Plain(s.Title), Body: body})
}

// add makes the slides of a section. The part before the first heading belongs
// to the opening slide.
func (d *decker) add(section *script.Section, first bool) error {
	d.section = section
	idea := d.idea(section.ID)
	if !first && (idea != nil || len(section.Parts) == 0 || section.Parts[0].Show == nil) {
		var body []slides.Paragraph
		if idea != nil {
			body = append(body, slides.Paragraph{Runs: d.prose(idea.Statement)})
		}
		d.show(slides.Slide{Title: slides.Plain(section.Title), Body: body})
	}
	for _, p := range section.Parts {
		if p.Hook != "" {
			d.hookSlide(p.Hook)
		}
		if p.Show == nil {
			d.note(written(p.Says), p.Paragraph || p.Item)
			continue
		}
		if err := d.cue(p.Show); err != nil {
			return err
		}
	}
	return nil
}

// written is a sentence as captions have it.
func written(words []script.Word) string {
	var all []string
	for _, w := range words {
		all = append(all, w.Written)
	}
	return strings.Join(all, " ")
}

func (d *decker) idea(key string) *source.Idea {
	i := slices.IndexFunc(d.report.Source.Ideas, func(i source.Idea) bool { return key != "" && i.Key.Value == key })
	if i < 0 {
		return nil
	}
	return &d.report.Source.Ideas[i]
}

func (d *decker) hookOf(key string) *source.Hook {
	i := slices.IndexFunc(d.report.Source.Hooks, func(h source.Hook) bool { return h.Idea.Value == key })
	if i < 0 {
		return nil
	}
	return &d.report.Source.Hooks[i]
}

// hookSlide shows the memory aid of an idea, and where it misleads.
func (d *decker) hookSlide(key string) {
	h := d.hookOf(key)
	body := []slides.Paragraph{{Runs: d.prose(h.Says)}}
	if h.Misleads != nil {
		body = append(body, slides.Paragraph{Runs: slices.Concat([]slides.Run{{Text: "Where that misleads: ", Bold: true}}, d.prose(h.Misleads))})
	}
	d.show(slides.Slide{Title: slides.Plain("To remember: " + d.section.Title), Body: body})
}

// cue makes the slide of what the script shows.
func (d *decker) cue(c *script.Cue) error {
	switch {
	case c.Figure != nil:
		return d.figureSlide(c.Figure)
	case c.Question != nil:
		return d.question(c.Question)
	case c.Recap != nil:
		d.recapSlide(c.Recap)
	case c.Instrument != nil:
		return d.instrumentSlide(c.Instrument)
	default: // a table or a listing, which stands in the pages
		d.note("["+c.What+"]", true)
	}
	return nil
}

func (d *decker) figureSlide(of *check.Figure) error {
	i := slices.IndexFunc(d.figures, func(f *figure) bool { return f.Figure == of })
	f := d.figures[i]
	picture, err := d.picture(f.student.File, func() (draw.Figure, error) { return f.student.drawing(slideSize) })
	if err != nil {
		return err
	}
	var caption []slides.Run
	if p := captionOf(of); p != nil {
		caption = append(d.prose(p), slides.Run{Text: " "})
	}
	caption = append(caption, d.words(f.Origin(false))...)
	d.show(slides.Slide{Title: d.words(fmt.Sprintf("Figure %d: %s", of.Number, script.Subject(of))), Picture: picture, Caption: caption})
	return nil
}

// captionOf is what the author says below a figure; nil for nothing.
func captionOf(f *check.Figure) *source.Prose {
	switch {
	case f.Structure != nil:
		return f.Structure.Caption
	case f.Sweep != nil:
		return f.Sweep.Caption
	case f.Paths != nil:
		return f.Paths.Caption
	case f.Mechanism != nil:
		return f.Mechanism.Caption
	case f.Map != nil:
		return f.Map.Caption
	}
	return f.Spectrum.Caption
}

// picture is a figure as PNG with its words, drawn once for all slides.
func (b *builder) picture(name string, drawing func() (draw.Figure, error)) (*slides.Picture, error) {
	if p, ok := b.pictures[name]; ok {
		return p, nil
	}
	f, err := drawing()
	if err != nil {
		return nil, err
	}
	pixels, err := b.pixels(f, slideScale)
	if err != nil {
		return nil, err
	}
	p := &slides.Picture{
		PNG: pixels, Width: int(f.Scene.Width), Height: int(f.Scene.Height), Name: f.Title,
		Alt: strings.TrimSpace(f.Title + ". " + f.Description + " " + f.Detail),
	}
	b.pictures[name] = p
	return p, nil
}

func (d *decker) recapSlide(r *source.Recap) {
	var body []slides.Paragraph
	for _, t := range r.Ideas {
		if idea := d.idea(t.Value); idea != nil {
			body = append(body, slides.Paragraph{Runs: d.prose(idea.Statement), Bullet: true})
		}
		if h := d.hookOf(t.Value); h != nil {
			body = append(body, slides.Paragraph{Runs: d.prose(h.Says), Indent: true, Muted: true})
		}
	}
	d.show(slides.Slide{Title: slides.Plain(d.section.Title), Body: body})
}

func (d *decker) instrumentSlide(i *load.Instrument) error {
	data, err := instrumentOf(i)
	if err != nil {
		return err
	}
	row := func(what, value string) slides.Paragraph {
		return slides.Paragraph{Runs: []slides.Run{{Text: what + ": "}, {Text: value, Bold: true}}, Bullet: true}
	}
	body := []slides.Paragraph{row("Radius of the ion path", data.Radius), row("Angle of the magnet", data.Angle)}
	if data.Electric != "" {
		body = append(body, row("Angle of the electric sector before it", data.Electric))
	}
	body = append(body, row("Accelerating voltage", data.Voltage), row("Width of the slits", data.Slit), row("Resolving power m/Δm, full width at the base, by the slits alone", data.Power))
	if data.Whole != "" {
		body = append(body, row("Resolving power with everything that widens a peak", data.Whole))
	}
	body = append(body, slides.Paragraph{Runs: []slides.Run{{Text: "Caution. ", Bold: true}, {Text: data.Caution}}})
	d.show(slides.Slide{Title: slides.Plain(i.Name + ", a magnetic sector instrument"), Body: body})
	return nil
}

// sources says where the spectra come from.
func (d *decker) sources() {
	var body []slides.Paragraph
	for _, row := range d.sourceRows(false) {
		text := ": " + row.From
		if row.Measured {
			text = ": measured, " + row.From
		}
		if row.License != "" {
			text += ". License: " + row.License
		}
		body = append(body, slides.Paragraph{Runs: []slides.Run{{Text: row.Name, Bold: true}, {Text: text + "."}}, Bullet: true})
	}
	body = append(body, slides.Paragraph{Runs: slides.Plain(notice), Muted: true})
	d.show(slides.Slide{Title: slides.Plain("Where the spectra come from"), Body: body})
}

// notice goes with everything that is handed out.
const notice = "For teaching only; no result may be used for a clinical, forensic or safety decision."
