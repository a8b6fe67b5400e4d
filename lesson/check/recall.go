package check

import (
	"regexp"
	"strings"

	"github.com/yuin/goldmark/ast"

	"ionwright/lesson/diag"
	"ionwright/lesson/source"
)

// recall reports hooks that aren't recalled after the section that gives them,
// terms of the glossary that nothing uses, and computed spectra that the text
// calls measured.
func (c *checker) recall() {
	c.hooksRecalled()
	c.termsUsed()
	for _, p := range c.report.Lesson.Compounds {
		if !p.Measured {
			c.calledMeasured()
			return
		}
	}
}

// hooksRecalled looks for a recap with the hook behind the section that explains
// its idea.
func (c *checker) hooksRecalled() {
	at, explained, recapped := 0, map[string]int{}, map[string]int{}
	c.report.Source.Walk(func(_ *source.Prose, n ast.Node) {
		at++
		switch n := n.(type) {
		case *ast.Heading:
			explained[headingID(n)] = at
		case *source.Fenced:
			if b, ok := n.Block.(*source.Recap); ok {
				for _, t := range b.Ideas {
					recapped[t.Value] = at
				}
			}
		}
	})
	for _, h := range c.report.Source.Hooks {
		section, recap := explained[h.Idea.Value], recapped[h.Idea.Value]
		if section > 0 && recap > 0 && recap < section {
			c.add(diag.New(diag.HookNotRecalled, h.Idea.Place(), "the hook of the idea %q is given in its section and never recalled: the recap that lists it comes before", h.Idea.Value).
				Suggesting("put a recap block with %s behind the section {#%s}", h.Idea.Value, h.Idea.Value))
		}
	}
}

// termsUsed reports terms that the glossary block leaves out, or that stand
// nowhere in the text.
func (c *checker) termsUsed() {
	glossary := c.report.Source.Glossary
	if len(glossary) == 0 {
		return
	}
	var text strings.Builder
	for _, p := range c.passages() {
		text.WriteString(" " + strings.ToLower(p.words.String()))
	}
	all := strings.Join(strings.Fields(text.String()), " ")
	for _, term := range glossary {
		least := 0
		if term.Shown {
			least = 1 // the row of the glossary itself
		} else {
			c.add(diag.New(diag.TermUnused, term.Word.Place(), "no glossary block shows the term %q", term.Word.Value).
				Suggesting("add a glossary block with terms: all"))
		}
		if strings.Count(all, strings.ToLower(strings.Join(strings.Fields(term.Word.Value), " "))) <= least {
			c.add(diag.New(diag.TermUnused, term.Word.Place(), "the text never uses the term %q of its glossary", term.Word.Value).
				Suggesting("use it where it is explained, or leave it out"))
		}
	}
}

var (
	saidMeasured = regexp.MustCompile(`(?i)\b(?:measured|experimental|recorded) (?:mass )?spectr(?:um|a)\b|\bspectr(?:um|a)\b[^.;:]{0,60}\b(?:was|were|is|are|has been|have been) (?:measured|recorded|taken|run)\b|\b(?:we|i) (?:measured|recorded)\b`)
	saidComputed = regexp.MustCompile(`(?i)\b(?:computed|calculated|simulated|not|never|if|would)\b|n't\b`)
)

// calledMeasured reports sentences that call a computed spectrum measured.
func (c *checker) calledMeasured() {
	for _, p := range c.passages() {
		words := p.words.String()
		for _, s := range sentencesOf(words) {
			sentence := words[s[0]:s[1]]
			m := saidMeasured.FindStringIndex(sentence)
			if m == nil || saidComputed.MatchString(sentence) {
				continue
			}
			for _, compound := range c.report.Lesson.Compounds {
				if compound.Measured || !p.speaksOf(compound.Name, s, sentence, c.figuresOf(compound.Key)) {
					continue
				}
				c.add(diag.New(diag.CalledMeasured, p.span(s[0]+m[0], s[0]+m[1]), "%q: the spectrum of %s is computed (confidence %.2f)",
					strings.TrimSpace(sentence), compound.Name, compound.Prediction.Confidence).
					Suggesting("say that it is computed, or give the measured one: measured: file.jdx"))
				break
			}
		}
	}
}

// figuresOf are the ids of the figures that show a compound's spectrum.
func (c *checker) figuresOf(key string) map[string]bool {
	out := map[string]bool{}
	for _, f := range c.report.Figures {
		if f.Compound != nil && f.Compound.Key == key && f.Spectrum != nil {
			out[f.ID] = true
		}
	}
	return out
}

// speaksOf reports that a sentence names a compound or one of some figures.
func (p *passage) speaksOf(name string, s [2]int, sentence string, figures map[string]bool) bool {
	if len(name) > 2 && strings.Contains(strings.ToLower(sentence), strings.ToLower(name)) {
		return true
	}
	for _, piece := range p.pieces {
		if piece.from >= s[0] && piece.from < s[1] {
			for _, id := range piece.figures {
				if figures[id] {
					return true
				}
			}
		}
	}
	return false
}
