// Package foreign checks text that isn't a lesson: Markdown, HTML or plain
// text about mass spectra is read for numbers and statements that can be
// computed, and those that the computation contradicts are reported with the
// place, the claimed and the computed value.
//
// For most uses call Check. Precision goes before recall: a statement is judged
// only where its wording leaves one meaning, so a text without findings isn't
// a text without mistakes. What is looked for is the list that rules returns.
package foreign

import (
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"

	"ionwright/lesson/diag"
)

// MaxLength is the length in bytes of the longest text that is read.
const MaxLength = 4 << 20

// sentence is a sentence of the text without its markup.
type sentence struct {
	words    string
	offset   int // of words in the passage
	passage  *passage
	mentions []mention
	numbers  []number
}

// rule looks for one kind of statement.
type rule struct {
	name string
	find func(*reader, *sentence)
}

// rules is the visible list of what is looked for.
func rules() []rule {
	return []rule{
		{"the mass or molecular ion of a compound", (*reader).compoundMass},
		{"a formula beside its exact mass", (*reader).formulaMass},
		{"a name beside its formula", (*reader).nameFormula},
		{"the mass of an isotope", (*reader).isotopeMass},
		{"the abundance of an isotope", (*reader).isotopeAbundance},
		{"the ratio of isotope peaks", (*reader).isotopeRatio},
		{"carbon atoms counted from M+1", (*reader).carbonCount},
		{"the mass of a lost neutral", (*reader).neutralLoss},
		{"the m/z after a loss", (*reader).afterLoss},
		{"a difference worked out", (*reader).difference},
		{"the resolving power that two formulas need", (*reader).resolvingPower},
		{"the nitrogen rule", (*reader).nitrogenRule},
		{"how mass and charge bend a path", (*reader).bending},
		{"the field that heavier ions need", (*reader).neededField},
		{"the sectors of a double-focusing instrument", (*reader).doubleFocusing},
		{"who keeps the electrons of a bond", (*reader).bondBreaking},
		{"a charged piece lost from a singly charged ion", (*reader).chargedLoss},
		{"mass to charge the wrong way round", (*reader).chargeToMass},
	}
}

// reader reads one text.
type reader struct {
	file  string
	lines *lines
	known map[string]known // names looked up so far
	out   diag.List
}

// Check reads text, which came from the named file, and gives what the
// computation contradicts, in the order of the text. The name's ending says
// how the text is marked up: .html, .htm, .xhtml and .xml for tags, .md and
// .markdown for Markdown with tags, anything else for plain text. It fails
// where text isn't UTF-8 text or longer than MaxLength.
func Check(file string, text []byte) (diag.List, error) {
	if len(text) > MaxLength {
		return nil, fmt.Errorf("reading %q: it has %d bytes, and at most %d are read\nhint: split it", file, len(text), MaxLength)
	}
	if !utf8.Valid(text) || strings.IndexByte(string(text), 0) >= 0 {
		return nil, fmt.Errorf("reading %q: it isn't text in UTF-8\nhint: give a Markdown, HTML or plain-text file", file)
	}
	r := &reader{file: file, lines: newLines(string(text)), known: map[string]known{}}
	for _, p := range passages(formatOf(file), string(text)) {
		r.read(p)
	}
	r.out.Sort()
	return r.out, nil
}

func (r *reader) read(p *passage) {
	var all []*sentence
	for _, span := range p.sentences() {
		s := &sentence{words: p.words[span[0]:span[1]], offset: span[0], passage: p}
		s.mentions = r.mentionsIn(s.words)
		s.numbers = numbersIn(s.words, s.mentions)
		p.mentions = append(p.mentions, s.mentions...)
		all = append(all, s)
	}
	for _, s := range all {
		if asks.MatchString(s.words) {
			continue
		}
		for _, rule := range rules() {
			rule.find(r, s)
		}
	}
}

// asks finds questions that assert nothing and sentences about a mistake.
var asks = regexp.MustCompile(`(?i)^\W*(?:is|are|does|do|can|could|would|true or false|suppose|if)\b.*\?\s*$|\b(?:misconceptions?|mistake\w*|wrong\w*|incorrect\w*|erroneous\w*|myth|false)\b`)

// denies finds what can turn the meaning of a statement in words.
var denies = regexp.MustCompile(`(?i)\bnot\b|n't\b|n’t\b|\bnever\b|\bcannot\b|\brather than\b|\binstead of\b|\bneither\b|\bunless\b|\bexcept\b|\bif\b|\?\s*$`)

// report adds a finding about words[from:to] of a sentence.
func (r *reader) report(s *sentence, from, to int, code diag.Code, claimed, computed, suggestion, format string, args ...any) {
	d := diag.New(code, r.span(s, from, to), format, args...).Against(claimed, computed)
	if suggestion != "" {
		d = d.Suggesting("%s", suggestion)
	}
	r.out.Add(d)
}

// span is the place of words[from:to]; a piece that goes on in the next line
// ends with its first character.
func (r *reader) span(s *sentence, from, to int) diag.Span {
	p := s.passage
	line, col := r.lines.place(p.from[s.offset+from])
	endLine, endCol := r.lines.place(p.from[s.offset+to-1])
	if endLine != line {
		endCol = col
	}
	return diag.Span{File: r.file, Line: line, Col: col, EndCol: endCol + 1}
}
