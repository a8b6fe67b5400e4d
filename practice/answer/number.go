package answer

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"unicode"
)

// Number is a number as it was written.
type Number struct {
	Value float64
	// Least and Most are the significant digits: zeros at the end of a whole
	// number may or may not count.
	Least, Most int
	Last        float64 // what one more in the last digit written would add
	Unit        string  // as written, without blanks around it; empty: none
}

// ReadNumber reads a number and the unit after it, if there is one:
//
//	112   m/z = 112   0,239 T   1.44e5 m/s   1.44 × 10^5 m/s   1.44·10⁵ m/s   32 %
//
// A comma is a decimal comma unless exactly three digits follow it and one to
// three digits stand before it. It fails where no number begins the text, and
// for what isn't finite.
func ReadNumber(text string) (Number, error) {
	s := plain(text)
	s = strings.TrimSpace(s)
	for _, lead := range []string{"m/z", "=", "about", "ca.", "~", "≈"} {
		s = strings.TrimSpace(strings.TrimPrefix(s, lead))
	}
	mantissa, rest := leading(s)
	if !strings.ContainsFunc(mantissa, unicode.IsDigit) {
		return Number{}, fmt.Errorf("reading the number %q: it doesn't begin with digits", short(text))
	}
	exponent, rest := power(rest)
	digits := thousands(mantissa)
	value, err := strconv.ParseFloat(digits+"e"+strconv.Itoa(exponent), 64)
	if err != nil || math.IsInf(value, 0) || math.IsNaN(value) {
		return Number{}, fmt.Errorf("reading the number %q: it is too large, or no number", short(text))
	}
	n := Number{Value: value, Unit: strings.TrimSpace(rest)}
	n.Least, n.Most = significant(digits)
	_, after, _ := strings.Cut(digits, ".")
	n.Last = math.Pow10(exponent - len(after))
	if tooLarge.MatchString(n.Unit) {
		return Number{}, fmt.Errorf("reading the number %q: its power of ten is too large", short(text))
	}
	if n.Unit != "" && strings.ContainsFunc(n.Unit[:1], func(r rune) bool { return unicode.IsDigit(r) || r == '+' || r == '-' || r == '.' }) {
		return Number{}, fmt.Errorf("reading the number %q: a second number follows the first", short(text))
	}
	return n, nil
}

// tooLarge is a power of ten that wasn't taken for one.
var tooLarge = regexp.MustCompile(`^[eE][-+]?\d`)

// leading cuts the sign, digits, points and commas off the front. Blanks
// between groups of three digits belong to the number.
func leading(s string) (number, rest string) {
	i := 0
	if i < len(s) && (s[i] == '-' || s[i] == '+') {
		i++
	}
	for i < len(s) {
		switch c := s[i]; {
		case c >= '0' && c <= '9', c == '.', c == ',':
			i++
		case c == ' ' && groupFollows(s[i+1:]) && i > 0 && isDigit(s[i-1]):
			i++
		default:
			return s[:i], s[i:]
		}
	}
	return s, ""
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }

// groupFollows tells whether exactly three digits stand next.
func groupFollows(s string) bool {
	n := 0
	for n < len(s) && isDigit(s[n]) {
		n++
	}
	return n == 3
}

// thousands takes separators out and makes the decimal sign a point.
func thousands(s string) string {
	s = strings.ReplaceAll(s, " ", "")
	if strings.Count(s, ",") == 1 && !strings.Contains(s, ".") {
		before, after, _ := strings.Cut(s, ",")
		before = strings.TrimLeft(before, "+-")
		if len(after) != 3 || len(before) == 0 || len(before) > 3 || before[0] == '0' {
			return strings.Replace(s, ",", ".", 1)
		}
	}
	return strings.ReplaceAll(s, ",", "")
}

// power reads a power of ten: e5, E-3, x 10^5, × 10-3.
func power(s string) (exponent int, rest string) {
	t := strings.TrimLeft(s, " ")
	if len(t) > 1 && (t[0] == 'e' || t[0] == 'E') {
		if n, rest, ok := signed(t[1:]); ok {
			return n, rest
		}
	}
	for _, times := range []string{"x", "X", "*"} {
		after, ok := strings.CutPrefix(t, times)
		if !ok {
			continue
		}
		after, ok = strings.CutPrefix(strings.TrimLeft(after, " "), "10")
		if !ok {
			continue
		}
		after = strings.TrimLeft(strings.TrimPrefix(strings.TrimPrefix(after, "**"), "^"), " ({")
		if n, rest, ok := signed(after); ok {
			return n, strings.TrimLeft(rest, ")}")
		}
	}
	return 0, s
}

func signed(s string) (n int, rest string, ok bool) {
	i := 0
	if i < len(s) && (s[i] == '-' || s[i] == '+') {
		i++
	}
	start := i
	for i < len(s) && isDigit(s[i]) {
		i++
	}
	const most = 4 // digits of an exponent
	if i == start || i-start > most {
		return 0, s, false
	}
	n, err := strconv.Atoi(s[:i])
	return n, s[i:], err == nil
}

// significant counts the significant digits of a decimal number.
func significant(s string) (least, most int) {
	s = strings.TrimLeft(s, "+-")
	whole, after, point := strings.Cut(s, ".")
	all := strings.TrimLeft(whole+after, "0")
	if all == "" {
		return 1, 1
	}
	if point {
		return len(all), len(all)
	}
	return len(strings.TrimRight(all, "0")), len(all)
}

// plain replaces the typographic characters of numbers, units and charges by
// ASCII: superscripts after a ten become a power.
func plain(s string) string {
	var b strings.Builder
	raised := false
	for _, r := range s {
		up, isUp := superscripts[r]
		if isUp && !raised {
			b.WriteByte('^')
		}
		raised = isUp
		switch {
		case isUp:
			b.WriteRune(up)
		case r == '−' || r == '–' || r == '‒' || r == '﹣' || r == '－':
			b.WriteByte('-')
		case r == '×' || r == '·' || r == '⋅' || r == '∙' || r == '✕':
			b.WriteByte('x')
		case r == '\u00a0' || r == '\u202f' || r == '\u2009' || r == '\t' || r == '\n' || r == '\r':
			b.WriteByte(' ')
		case r == 'μ':
			b.WriteRune('µ')
		default:
			b.WriteRune(r)
		}
	}
	return b.String()
}

var superscripts = map[rune]rune{
	'⁰': '0', '¹': '1', '²': '2', '³': '3', '⁴': '4', '⁵': '5', '⁶': '6', '⁷': '7', '⁸': '8', '⁹': '9', '⁺': '+', '⁻': '-',
}

// short is a text cut for a message.
func short(s string) string {
	const most = 60
	runes := []rune(strings.ToValidUTF8(strings.TrimSpace(s), "?"))
	if len(runes) > most {
		return string(runes[:most]) + "…"
	}
	return string(runes)
}
