package names

import (
	"strings"
	"unicode"
)

// MaxLength is the longest name that is read, in characters.
const MaxLength = 400

// text is a name in the form that the readers expect: lower case, plain
// hyphens, apostrophes as primes, round brackets, Greek letters spelled out.
type text struct {
	raw    string
	s      string
	place  []int       // 1-based character of raw for each byte of s, and one more for the end
	caps   []bool      // the byte was a capital in raw
	cased  bool        // raw has small and capital letters, so N and n differ
	marked descriptors // of a stereodescriptor after the name, which was dropped
}

var greek = map[rune]string{
	'α': "alpha", 'β': "beta", 'γ': "gamma", 'δ': "delta", 'Δ': "delta",
	'ε': "epsilon", 'ζ': "zeta", 'η': "eta", 'ω': "omega", 'ξ': "xi",
}

// plain gives the character that stands for r.
func plain(r rune) rune {
	switch r {
	case '‐', '‑', '‒', '–', '—', '−', '_':
		return '-'
	case '\'', '’', '‘', '′', '`', '´':
		return '\''
	case '[', '{':
		return '('
	case ']', '}':
		return ')'
	case '\u00a0', '\t', '\n', '\r':
		return ' '
	}
	return unicode.ToLower(r)
}

// attached lists words that belong to the word after them, and what joins the
// two.
var attached = map[string]string{
	"ortho": "-", "meta": "-", "para": "-", "o": "-", "m": "-", "p": "-", "n": "-",
	"tert": "-", "sec": "-", "tertiary": "-", "secondary": "-", "t": "-", "cis": "-", "trans": "-", "iso": "",
	"nitro": "", "chloro": "", "bromo": "", "iodo": "", "fluoro": "",
	"amino": "", "hydroxy": "", "methoxy": "", "ethoxy": "",
}

// newText puts a name into reading form. It returns false for one that is
// longer than MaxLength or not text.
func newText(raw string) (text, bool) {
	t := text{raw: raw}
	var out strings.Builder
	upper, lower := false, false
	put := func(s string, place int, capital bool) {
		out.WriteString(s)
		for range len(s) {
			t.place = append(t.place, place)
			t.caps = append(t.caps, capital)
		}
	}
	number := 0
	for _, r := range raw {
		number++
		if number > MaxLength || r == unicode.ReplacementChar || r < ' ' && !unicode.IsSpace(r) {
			return text{}, false
		}
		if word, ok := greek[r]; ok {
			put(word, number, false)
			continue
		}
		switch r {
		case '^', '*', '$': // superscript marks and relative-configuration stars
			continue
		case '″':
			put("''", number, false)
			continue
		case '±':
			put("+-", number, false)
			continue
		}
		upper = upper || unicode.IsUpper(r)
		lower = lower || unicode.IsLower(r)
		put(string(plain(r)), number, unicode.IsUpper(r))
	}
	t.s, t.cased = out.String(), upper && lower
	t.s = dotted(t.s)
	t.place = append(t.place, number+1)
	t.caps = append(t.caps, false)
	t.tidySpaces()
	return t, true
}

// dotted turns points between locants into commas (1.2.4-trimethyl); within
// parentheses they belong to a ring descriptor.
func dotted(s string) string {
	out := []byte(s)
	depth := 0
	for i, c := range out {
		switch c {
		case '(':
			depth++
		case ')':
			depth--
		case '.':
			if depth == 0 && i > 0 && i+1 < len(out) && digit(out[i-1]) && digit(out[i+1]) {
				out[i] = ','
			}
		}
	}
	return string(out)
}

// tidySpaces drops the spaces that say nothing: repeated ones, those beside a
// hyphen or within a list of locants, and those after a word that only
// modifies the next one ("ortho chlorotoluene").
func (t *text) tidySpaces() {
	var out []byte
	var place []int
	var caps []bool
	drop := func(c byte, i int) bool { // the space at i before character c
		if len(out) == 0 || c == ' ' || c == '-' || c == ',' || c == ')' {
			return true
		}
		last := out[len(out)-1]
		if last == '-' || last == '(' {
			return true
		}
		if last == ',' && len(out) > 1 {
			before := out[len(out)-2]
			return before == '\'' || before >= '0' && before <= '9' && c >= '0' && c <= '9' ||
				before == 'n' && c == 'n' && (len(out) < 3 || !letter(out[len(out)-3]))
		}
		return false
	}
	s := strings.TrimRight(t.s, " .;,")
	for i := 0; i < len(s); i++ {
		c := s[i]
		if c == ' ' {
			if i+1 >= len(s) || drop(s[i+1], i) {
				continue
			}
			word := string(out[1+lastBreak(out):])
			switch joint, ok := attached[word]; {
			case ok && joint == "-":
				c = '-'
			case ok && (word == "iso" || afterPosition(out, word)):
				continue
			}
		}
		out = append(out, c)
		place = append(place, t.place[i])
		caps = append(caps, t.caps[i])
	}
	end := t.place[len(s)]
	t.s, t.place, t.caps = string(out), append(place, end), append(caps, false)
}

// afterPosition reports whether o-, m- or p- stands before the last word: only
// then the word belongs to the next one (para nitro phenol).
func afterPosition(s []byte, word string) bool {
	before := string(s[:len(s)-len(word)])
	for _, position := range []string{"ortho-", "meta-", "para-", "o-", "m-", "p-"} {
		if head, ok := strings.CutSuffix(before, position); ok && (head == "" || !letter(head[len(head)-1])) {
			return true
		}
	}
	return false
}

func lastBreak(s []byte) int {
	for i := len(s) - 1; i >= 0; i-- {
		if s[i] == ' ' || s[i] == '-' {
			return i
		}
	}
	return -1
}

func letter(c byte) bool { return c >= 'a' && c <= 'z' }
func digit(c byte) bool  { return c >= '0' && c <= '9' }
