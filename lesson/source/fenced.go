package source

import (
	"slices"
	"strings"

	"github.com/yuin/goldmark/ast"

	"ionwright/lesson/diag"
)

// blockForm is a fenced block that means something in a lesson: the word after
// the fence, the keys, and the function that reads them.
type blockForm struct {
	word string
	keys []string
	read func(p *reader, f fields, at place) Block
}

// blockForms is the visible list. A function, because the include block's
// reader leads back to it.
func blockForms() []blockForm {
	return []blockForm{
		{"claim", []string{"that", "says", "teaches"}, (*reader).claim},
		{"figure", figureKeys, (*reader).figure},
		{"structure", []string{"id", "compound", "abbreviate", "pairs", "numbers", "caption"}, (*reader).structure},
		{"question", questionKeys, (*reader).question},
		{"recap", []string{"ideas"}, (*reader).recap},
		{"instrument", []string{"show"}, (*reader).instrumentBlock},
		{"sweep", []string{"id", "instrument", "ions", "from", "to", "field", "seconds", "rate", "seed", "caption"}, (*reader).sweep},
		{"paths", []string{"id", "instrument", "ions", "field", "caption"}, (*reader).paths},
		{"mechanism", []string{"id", "compound", "mz", "caption"}, (*reader).mechanism},
		{"map", []string{"id", "compound", "caption"}, (*reader).fragmentMap},
		{"note", []string{"says"}, (*reader).note},
		{"glossary", []string{"terms"}, (*reader).glossaryBlock},
		{"only", []string{"audience", "says", "file"}, (*reader).only},
		{"include", []string{"file"}, (*reader).includeBlock},
	}
}

// fencedWords are the words of the list.
func fencedWords() []string {
	var words []string
	for _, b := range blockForms() {
		words = append(words, b.word)
	}
	return words
}

// fenced reads a code block of the list, or returns nil for one that is code.
func (p *reader) fenced(prose *Prose, code *ast.FencedCodeBlock) Block {
	if code.Info == nil {
		return nil
	}
	info := prose.Text.Sub(code.Info.Segment.Start, code.Info.Segment.Stop)
	word, _, _ := strings.Cut(info.Value, " ")
	at := place{prose.Span(code.Info.Segment.Start, code.Info.Segment.Start+len(word))}
	i := slices.Index(fencedWords(), word)
	if i < 0 {
		if near, ok := diag.Nearest(word, fencedWords()); ok {
			p.diags.Add(diag.New(diag.UnknownBlock, at.span, "there is no block %q", word).Suggesting("did you mean %q?", near))
		}
		return nil
	}
	b := blockForms()[i]
	var ranges [][2]int
	for _, line := range code.Lines().Sliced(0, code.Lines().Len()) {
		ranges = append(ranges, [2]int{line.Start, line.Stop})
	}
	what := "this " + word
	if len(ranges) == 0 {
		p.diags.Add(diag.New(diag.MissingKey, at.span, "%s is empty", what).Suggesting("its keys are %s", strings.Join(b.keys, ", ")))
		return nil
	}
	v, ok := readYAML(prose.Text.join(ranges), &p.diags)
	if !ok {
		return nil
	}
	return b.read(p, fieldsOf(what, at.span, v, &p.diags, b.keys...), at)
}

func (p *reader) claim(f fields, at place) Block {
	f.require("that")
	return &Claim{place: at, That: f.text("that"), Says: p.sentence(f, "says"), Teaches: f.text("teaches")}
}

func (p *reader) recap(f fields, at place) Block {
	f.require("ideas")
	return &Recap{place: at, Ideas: f.texts("ideas")}
}

func (p *reader) instrumentBlock(f fields, at place) Block {
	f.require("show")
	return &InstrumentBlock{place: at, Show: f.text("show")}
}

func (p *reader) note(f fields, at place) Block {
	f.require("says")
	return &Note{place: at, Says: p.sentence(f, "says")}
}

func (p *reader) includeBlock(f fields, at place) Block {
	f.require("file")
	b := &Include{place: at, File: f.text("file")}
	if !b.File.IsZero() {
		p.include(b)
	}
	return b
}

// sentence parses a key's text as Markdown; nil when absent.
func (p *reader) sentence(f fields, key string) *Prose {
	t := f.text(key)
	if t.IsZero() {
		return nil
	}
	return p.prose(t, false)
}

func (p *reader) id(f fields) Text {
	id := f.text("id")
	if !id.IsZero() {
		p.name(strings.TrimPrefix(f.what, "this "), id, nil)
	}
	return id
}
