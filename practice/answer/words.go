package answer

import (
	"regexp"
	"strings"
	"unicode"
)

// Words are the words of a text in small letters, with signs and formulas
// kept: "M+2", "m/z", "13c". Sub- and superscripts come down, dashes become
// hyphens.
func Words(text string) []string {
	joined := signs.ReplaceAllString(flat.Replace(text), "$1$2$3") // "M + 2" is one word
	return strings.FieldsFunc(strings.ToLower(joined), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r) && !strings.ContainsRune("+-/%.'", r)
	})
}

var signs = regexp.MustCompile(`([A-Za-z])\s*([+-])\s*(\d)`)

var flat = strings.NewReplacer("₀", "0", "₁", "1", "₂", "2", "₃", "3", "₄", "4", "₅", "5", "₆", "6", "₇", "7", "₈", "8", "₉", "9",
	"⁰", "0", "¹", "1", "²", "2", "³", "3", "⁴", "4", "⁵", "5", "⁶", "6", "⁷", "7", "⁸", "8", "⁹", "9", "⁺", "+", "⁻", "-",
	"−", "-", "–", "-", "‑", "-", "—", " ", "•", "", "·", "", "’", "'")

// trimmed takes off what a sentence puts after a word.
func trimmed(word string) string { return strings.Trim(word, ".'-") }

// stem takes a plural's end off, so that "peaks" is "peak".
func stem(word string) string {
	word = trimmed(word)
	const least = 4
	if len(word) >= least && strings.HasSuffix(word, "s") && !strings.HasSuffix(word, "ss") {
		return word[:len(word)-1]
	}
	return word
}

// denials are the words that turn the meaning of what follows within a few
// words.
var denials = map[string]bool{
	"not": true, "no": true, "never": true, "without": true, "neither": true, "nor": true, "cannot": true, "lacks": true,
}

const denialReach = 3 // words

// Says tells whether the text says a phrase and doesn't deny it: its words
// one after another, plurals aside, with no denial in the three words before.
// A phrase that denies something itself ("no peak") is looked for as it is.
func Says(words []string, phrase string) bool {
	want := Words(phrase)
	if len(want) == 0 {
		return false
	}
	for i := 0; i+len(want) <= len(words); i++ {
		if matches(words[i:i+len(want)], want) && (denials[want[0]] || !denied(words[:i])) {
			return true
		}
	}
	return false
}

func matches(words, want []string) bool {
	for j := range want {
		if stem(words[j]) != stem(want[j]) {
			return false
		}
	}
	return true
}

func denied(before []string) bool {
	for _, w := range before[max(0, len(before)-denialReach):] {
		if w = trimmed(w); denials[w] || strings.HasSuffix(w, "n't") {
			return true
		}
	}
	return false
}
