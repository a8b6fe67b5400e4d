// Package foreign checks text that isn't a lesson: Markdown, HTML or plain
// text about mass spectra is read for numbers and statements that can be
// computed, and those that the computation contradicts are reported with the
// place, the claimed and the computed value.
//
// For most uses call Check; the prose of a lesson, whose compounds are known, is
// read by Judge. Precision goes before recall: a statement is judged
// only where its wording leaves one meaning, so a text without findings isn't
// a text without mistakes. What is looked for is the list that rules returns.
package foreign

import (
	"fmt"
	"regexp"
	"strings"
	"unicode/utf8"

	"ionwright/chem"
	"ionwright/lesson/diag"
	"ionwright/spectrum"
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
		{"a peak called the molecular ion", (*reader).molecularIonIs},
		{"a formula beside its exact mass", (*reader).formulaMass},
		{"a name beside its formula", (*reader).nameFormula},
		{"the mass of an isotope", (*reader).isotopeMass},
		{"the abundance of an isotope", (*reader).isotopeAbundance},
		{"the ratio of isotope peaks", (*reader).isotopeRatio},
		{"carbon atoms counted from M+1", (*reader).carbonCount},
		{"what isotopes add to M+1 and M+2", (*reader).isotopeSlip},
		{"the mass of a lost neutral", (*reader).neutralLoss},
		{"the m/z after a loss", (*reader).afterLoss},
		{"two m/z and the loss between them", (*reader).ladder},
		{"a difference worked out", (*reader).difference},
		{"a difference before its numbers", (*reader).differenceOf},
		{"the resolving power that two formulas need", (*reader).resolvingPower},
		{"the nitrogen rule", (*reader).nitrogenRule},
		{"how mass, charge, field and voltage bend a path", (*reader).relation},
		{"what is proportional to what in a sector", (*reader).proportion},
		{"the field for an m/z", (*reader).fieldNumber},
		{"what instruments are made of and do, and what peaks are", (*reader).instrumentSlip},
		{"the peaks of a compound whose spectrum is known", (*reader).spectrumPeaks},
		{"who keeps the electrons of a bond", (*reader).bondBreaking},
		{"a charged piece lost from a singly charged ion", (*reader).chargedLoss},
		{"mass to charge the wrong way round", (*reader).chargeToMass},
	}
}

// reader reads one text.
type reader struct {
	subjects []Subject
	quoting  bool             // findings name their sentence
	known    map[string]known // names looked up so far
	out      diag.List
}

// Subject is a compound that a text speaks of, with what is known about it.
type Subject struct {
	// Names are what the text calls it beside its chemical names: "bottle 3".
	Names []string
	// SMILES is its structure in canonical form, by which chemical names are
	// recognised.
	SMILES  string
	Formula chem.Formula
	// Spectrum is at unit m/z; without peaks, statements about it aren't judged.
	Spectrum spectrum.Spectrum
	Computed bool   // the spectrum is a computed one, whose heights are rough
	Origin   string // of the spectrum, for the messages
}

// Passage is a paragraph, heading, list item or caption as plain text.
type Passage struct {
	Words string
	Span  func(from, to int) diag.Span // the place of Words[from:to]
}

// Judge reads passages about the given compounds as [Check] reads a text, and
// judges statements about their spectra too.
func Judge(passages []Passage, subjects []Subject) diag.List {
	r := &reader{known: map[string]known{}, subjects: subjects, quoting: true}
	for _, p := range passages {
		w := &writing{}
		for i, c := range p.Words {
			w.runes(string(c), i)
		}
		w.end()
		for _, made := range w.done {
			made.span = p.Span
			r.read(made)
		}
	}
	r.out.Sort()
	return r.out
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
	r := &reader{known: map[string]known{}}
	lines := newLines(string(text))
	for _, p := range passages(formatOf(file), string(text)) {
		p.span = func(from, to int) diag.Span { return lines.span(file, from, to) }
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
var asks = regexp.MustCompile(`(?i)^\W*(?:is|are|does|do|can|could|would|true or false|suppose|if)\b.*\?\s*$|^\W*(?:suppose|imagine|assume)\b|\b(?:misconceptions?|mistake\w*|wrong\w*|incorrect\w*|erroneous\w*|myth|false)\b`)

// denies finds what can turn the meaning of a statement in words.
var denies = regexp.MustCompile(`(?i)\bnot\b|n't\b|n’t\b|\bnever\b|\bcannot\b|\brather than\b|\binstead of\b|\bneither\b|\bunless\b|\bexcept\b|\bif\b|\?\s*$`)

// report adds a finding about words[from:to] of a sentence.
func (r *reader) report(s *sentence, from, to int, code diag.Code, claimed, computed, suggestion, format string, args ...any) {
	d := diag.New(code, s.span(from, to), format, args...).Against(claimed, computed)
	if suggestion != "" {
		d = d.Suggesting("%s", suggestion)
	}
	if r.quoting {
		d = d.Noted("in the sentence: %s", shortened(strings.TrimSpace(s.words)))
	}
	r.out.Add(d)
}

// shortened is a sentence of at most so many characters.
func shortened(words string) string {
	const most = 240
	if c := []rune(words); len(c) > most {
		return string(c[:most]) + " ..."
	}
	return words
}

// span is the place of words[from:to].
func (s *sentence) span(from, to int) diag.Span {
	p := s.passage
	return p.span(p.from[s.offset+from], p.from[s.offset+to-1]+1)
}
