package foreign

import (
	"html"
	"path"
	"regexp"
	"sort"
	"strings"
	"unicode/utf8"

	"ionwright/lesson/diag"
)

// passage is a paragraph, heading, list item, table row or alternative text
// without its markup.
type passage struct {
	words    string
	from     []int // of each byte of words, its offset in the text
	mentions []mention
	span     func(from, to int) diag.Span // the place of a piece of the text, by its offsets
}

type format uint8

const (
	plainText format = iota
	markdown
	tagged
)

func formatOf(file string) format {
	switch strings.ToLower(path.Ext(file)) {
	case ".html", ".htm", ".xhtml", ".xml":
		return tagged
	case ".md", ".markdown":
		return markdown
	}
	return plainText
}

// writing collects passages.
type writing struct {
	done  []*passage
	words strings.Builder
	from  []int
}

func (w *writing) put(s string, from int) {
	if s == " " && (w.words.Len() == 0 || strings.HasSuffix(w.words.String(), " ")) {
		return
	}
	w.words.WriteString(s)
	for range len(s) {
		w.from = append(w.from, from)
	}
}

func (w *writing) end() {
	if strings.TrimSpace(w.words.String()) != "" {
		w.done = append(w.done, &passage{words: w.words.String(), from: w.from})
	}
	w.words.Reset()
	w.from = nil
}

// plainForm is what a character is read as: superscripts, subscripts and the
// many dashes and spaces as their plain forms.
func plainForm(c rune) string {
	switch c {
	case '⁺', '₊':
		return "+"
	case '⁻', '₋', '−', '–', '‑', '‐':
		return "-"
	case '—':
		return " - "
	case '→', '⟶':
		return "->"
	case '\u00a0', '\u202f', '\u2009', '\u2002', '\u2003', '\t', '\r':
		return " "
	case '\u200b', '\u00ad':
		return ""
	case '•', '·', '˙':
		return "."
	case '’':
		return "'"
	case '∶':
		return ":"
	case '¹', '²', '³':
		return string("123"[strings.IndexRune("¹²³", c)/2])
	}
	if c >= '₀' && c <= '₉' {
		return string('0' + c - '₀')
	}
	if c == '⁰' || c >= '⁴' && c <= '⁹' {
		return string('0' + c - '⁰')
	}
	return string(c)
}

var (
	breaking   = regexp.MustCompile(`^</?(?:p|div|li|ul|ol|dl|dt|dd|tr|table|h[1-6]|section|article|figure|figcaption|caption|blockquote|br|hr|title|body|head|para|media|image|example|exercise|problem|pre)\b`)
	cell       = regexp.MustCompile(`^</?(?:td|th)\b`)
	unspoken   = regexp.MustCompile(`^<(script|style|svg|math|code|pre)\b`)
	spokenAttr = regexp.MustCompile(`\b(?:alt|title|aria-label)\s*=\s*(?:"([^"]*)"|'([^']*)')`)
	lineStart  = regexp.MustCompile(`^(?: {0,12}(?:#{1,6} |[-*+] |\d{1,3}[.)] |> ?|\|))+`)
	linkEnd    = regexp.MustCompile(`^\]\([^()\n]{0,500}\)`)
	fence      = regexp.MustCompile("^ {0,3}(?:```|~~~)")
)

// maxTag is the length of the longest tag; a "<" without ">" within it is a
// less-than sign.
const maxTag = 2_000

// passages takes a text apart.
func passages(f format, text string) []*passage {
	w := &writing{}
	fenced, first := false, true
	for i := 0; i < len(text); {
		if first && f == markdown {
			rest := line(text[i:])
			if fence.MatchString(rest) {
				fenced = !fenced
				w.end()
				i += len(rest)
			} else if fenced {
				i += len(rest)
			} else if mark := lineStart.FindString(rest); mark != "" {
				w.end()
				i += len(mark)
			}
			first = false
			if i >= len(text) {
				break
			}
			if fenced && text[i] != '\n' {
				continue
			}
		}
		switch c := text[i]; {
		case c == '\n':
			if f != tagged && strings.TrimSpace(line(text[i+1:])) == "" {
				w.end()
			}
			w.put(" ", i)
			i++
			first = true
			continue
		case c == '<' && f != plainText:
			if n := w.tag(text[i:], i); n > 0 {
				i += n
				continue
			}
		case c == '&' && f != plainText:
			if end := strings.IndexByte(text[i:min(len(text), i+12)], ';'); end > 0 {
				w.runes(html.UnescapeString(text[i:i+end+1]), i)
				i += end + 1
				continue
			}
		case f == markdown && (c == '*' || c == '`' || c == '_' || c == '^' || c == '$' || c == '~' || c == '\\'):
			i++
			continue
		case f == markdown && c == ']':
			if link := linkEnd.FindString(text[i:min(len(text), i+600)]); link != "" {
				i += len(link)
				continue
			}
		case f == markdown && c == '[' && !strings.HasPrefix(text[i:], "[M"):
			i++
			continue
		}
		_, size := utf8.DecodeRuneInString(text[i:])
		w.runes(text[i:i+size], i)
		i += size
	}
	w.end()
	return w.done
}

// runes puts characters in their plain forms.
func (w *writing) runes(s string, from int) {
	for _, c := range s {
		w.put(plainForm(c), from)
	}
}

// tag reads the tag or comment at the start of text and gives its length, 0
// where there is none.
func (w *writing) tag(text string, from int) int {
	if strings.HasPrefix(text, "<!--") {
		if end := strings.Index(text, "-->"); end >= 0 {
			return end + 3
		}
		return len(text)
	}
	if len(text) < 2 || !strings.ContainsRune("/!?abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ", rune(text[1])) {
		return 0
	}
	end := strings.IndexByte(text[:min(len(text), maxTag)], '>')
	if end < 0 {
		return 0
	}
	lower := strings.ToLower(text[:end+1])
	for _, m := range spokenAttr.FindAllStringSubmatchIndex(text[:end], -1) {
		from0, to := max(m[2], m[4]), max(m[3], m[5])
		part := &writing{}
		for i, c := range text[from0:to] {
			part.runes(string(c), from+from0+i)
		}
		part.end()
		w.done = append(w.done, part.done...)
	}
	switch {
	case unspoken.MatchString(lower):
		name := unspoken.FindStringSubmatch(lower)[1]
		w.end()
		if close := strings.Index(text[end:], "</"+name); close >= 0 {
			return end + close
		}
		return len(text)
	case breaking.MatchString(lower):
		w.end()
	case cell.MatchString(lower):
		w.put("|", from)
	}
	return end + 1
}

func line(text string) string {
	if end := strings.IndexByte(text, '\n'); end >= 0 {
		return text[:end]
	}
	return text
}

var sentenceEnd = regexp.MustCompile(`[.!?]['")\]]? +`)

var abbreviated = regexp.MustCompile(`(?i)\b(?:e\.g|i\.e|ca|approx|fig|figs|eq|no|vs|cf|resp|al)\.$`)

// maxSentence is the length of the longest sentence that is read; longer ones
// aren't prose.
const maxSentence = 3_000

// sentences gives the places of the passage's sentences.
func (p *passage) sentences() [][2]int {
	var out [][2]int
	from := 0
	for _, m := range sentenceEnd.FindAllStringIndex(p.words, -1) {
		if abbreviated.MatchString(strings.TrimSpace(p.words[max(from, m[1]-12):m[1]])) {
			continue
		}
		if m[1]-from <= maxSentence {
			out = append(out, [2]int{from, m[1]})
		}
		from = m[1]
	}
	if from < len(p.words) && len(p.words)-from <= maxSentence {
		out = append(out, [2]int{from, len(p.words)})
	}
	return out
}

// lines knows where the lines of a text begin.
type lines struct {
	text   string
	starts []int
}

func newLines(text string) *lines {
	l := &lines{text: text, starts: []int{0}}
	for i := range len(text) {
		if text[i] == '\n' {
			l.starts = append(l.starts, i+1)
		}
	}
	return l
}

// place gives line and column, 1-based, in characters.
func (l *lines) place(offset int) (line, col int) {
	line = sort.SearchInts(l.starts, offset+1)
	return line, utf8.RuneCountInString(l.text[l.starts[line-1]:offset]) + 1
}

// span is the place of the piece of a file between two offsets; a piece that
// goes on in the next line ends with its first character.
func (l *lines) span(file string, from, to int) diag.Span {
	line, col := l.place(from)
	endLine, endCol := l.place(to - 1)
	if endLine != line {
		endCol = col
	}
	return diag.Span{File: file, Line: line, Col: col, EndCol: endCol + 1}
}
