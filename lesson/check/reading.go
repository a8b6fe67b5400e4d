package check

import (
	"regexp"
	"strings"
	"unicode"

	"github.com/yuin/goldmark/ast"

	"ionwright/lesson/diag"
	"ionwright/lesson/source"
)

// leastSample is how many words a reading level needs; below, one hard word
// decides. Flesch and Kincaid used samples of about a hundred.
const leastSample = 100

// sample counts a text for its reading level.
type sample struct {
	at                          diag.Span
	title                       string
	sentences, words, syllables int
}

// grade is the Flesch-Kincaid grade level, years of school in the United States:
// 0.39 words per sentence + 11.8 syllables per word - 15.59. J. P. Kincaid,
// R. P. Fishburne, R. L. Rogers, B. S. Chissom, Research Branch Report 8-75,
// Naval Technical Training, 1975; from memory.
func (s sample) grade() float64 {
	if s.sentences == 0 || s.words == 0 {
		return 0
	}
	return 0.39*float64(s.words)/float64(s.sentences) + 11.8*float64(s.syllables)/float64(s.words) - 15.59
}

// reading advises on long sentences and hard sections of what students read.
func (c *checker) reading() {
	limits := c.report.Source.Reading
	current := &sample{at: diag.Span{File: source.Main}, title: "the beginning"}
	finish := func() {
		if g := current.grade(); current.words >= leastSample && g > limits.Grade {
			c.add(diag.New(diag.HardReading, current.at, "%s reads like grade %.0f (Flesch-Kincaid), above the %g of this lesson", current.title, g, limits.Grade).
				Suggesting("cut long sentences in two and use shorter words, or set the level: reading: { grade: %.0f }", g+1))
		}
	}
	inFile := map[*source.Prose]bool{c.report.Source.Body: true}
	c.report.Source.Walk(func(p *source.Prose, n ast.Node) {
		switch n := n.(type) {
		case *source.Fenced:
			if b, ok := n.Block.(*source.Include); ok {
				inFile[b.Prose] = true
			}
			return
		case *ast.Heading:
			if inFile[p] {
				finish()
				f := c.filled(p, n)
				current = &sample{at: f.span(0, f.words.Len()), title: "the section \"" + f.words.String() + "\""}
			}
			return
		case *ast.Paragraph, *ast.TextBlock:
			if !inFile[p] {
				return
			}
		default:
			return
		}
		f := c.filled(p, n)
		for _, s := range sentencesOf(f.words.String()) {
			words := strings.Fields(f.words.String()[s[0]:s[1]])
			current.sentences++
			current.words += len(words)
			for _, w := range words {
				current.syllables += syllables(w)
			}
			if len(words) > limits.Words {
				c.add(diag.New(diag.LongSentence, f.span(s[0], s[0]+len(words[0])), "this sentence has %d words, more than the %d of this lesson", len(words), limits.Words).
					Suggesting("cut it in two, or set the limit: reading: { words: %d }", len(words)))
			}
		}
	})
	finish()
}

var sentenceEnds = regexp.MustCompile(`[.!?]["')\]]* +|\n`)

var shortened = regexp.MustCompile(`(?i)\b(?:e\.g|i\.e|ca|approx|fig|figs|eq|no|vs|cf|resp|al)\.\s*$`)

// sentencesOf gives the places of the sentences of a paragraph.
func sentencesOf(words string) [][2]int {
	var out [][2]int
	from := 0
	add := func(to int) {
		for from < to && words[from] == ' ' {
			from++
		}
		if strings.TrimSpace(words[from:to]) != "" {
			out = append(out, [2]int{from, to})
		}
		from = to
	}
	for _, m := range sentenceEnds.FindAllStringIndex(words, -1) {
		if !shortened.MatchString(words[from:m[1]]) {
			add(m[1])
		}
	}
	add(len(words))
	return out
}

// syllables counts a word's syllables as they are written: groups of vowels, but
// for a silent e at the end. Numbers and formulas count as one.
func syllables(word string) int {
	word = strings.ToLower(strings.TrimFunc(word, func(r rune) bool { return !unicode.IsLetter(r) }))
	if word == "" || strings.ContainsFunc(word, unicode.IsDigit) {
		return 1
	}
	count, inVowel := 0, false
	for _, r := range word {
		vowel := strings.ContainsRune("aeiouy", r)
		if vowel && !inVowel {
			count++
		}
		inVowel = vowel
	}
	if count > 1 && strings.HasSuffix(word, "e") && !strings.HasSuffix(word, "le") && !strings.HasSuffix(word, "ee") {
		count--
	}
	return max(count, 1)
}
