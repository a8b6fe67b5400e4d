package chem

import (
	"strings"
	"unicode/utf8"
)

// charge = spaces [ radical ] [ [ "^" ] ( sign { sign } | sign number | number sign ) ] [ radical ] .
// Signs may be superscripts, and numbers before a sign too.
func (p *parser) charge(f *Formula) *ParseError {
	before := p.at
	p.spaces()
	begin := p.at
	radical := p.radical()
	caret := strings.HasPrefix(p.text[p.at:], "^")
	if caret {
		p.at++
	}
	numberAt := p.at
	n, given, err := p.chargeNumber()
	if err != nil {
		return err
	}
	r, size := p.peek()
	sign := signOf(r)
	switch {
	case sign == 0 && (given || caret):
		return p.fail(p.at, "a charge is written 2+ or +2", "no sign + or - where the charge's was expected")
	case sign == 0 && !radical:
		p.at = before
		return nil
	case sign == 0:
	case given:
		p.at += size
	default:
		p.at += size
		n, err = p.afterSign(sign)
		if err != nil {
			return err
		}
	}
	if n > 32767 {
		return p.fail(numberAt, "", "the charge is too large; at most 32767 is possible")
	}
	f.charge = int16(sign * n)
	if (p.radical() || radical) && !f.OddElectron() {
		return p.fail(begin, "leave the dot out, or check the number of hydrogen atoms",
			"a dot marks an odd number of electrons, but these atoms and this charge have %d", f.Electrons())
	}
	return nil
}

// afterSign reads what may follow the first sign: more of the same sign, or a
// number. It returns the number of charges.
func (p *parser) afterSign(sign int) (int, *ParseError) {
	n := 1
	for {
		r, size := p.peek()
		if signOf(r) != sign {
			break
		}
		n++
		p.at += size
	}
	if n > 1 {
		return n, nil
	}
	number, given, err := p.chargeNumber()
	if given {
		n = number
	}
	return n, err
}

// chargeNumber = number | superscript digits .
func (p *parser) chargeNumber() (int, bool, *ParseError) {
	begin, n := p.at, 0
	for {
		r, size := p.peek()
		digit := superscriptOf(r)
		if digit < 0 {
			break
		}
		n = n*10 + digit
		if n == 0 || n > MaxCount {
			return 0, true, p.fail(begin, "", "a charge is between 1 and 32767")
		}
		p.at += size
	}
	if p.at > begin {
		return n, true, nil
	}
	return p.number()
}

// radical reads a dot that only the end, spaces or a charge follow.
func (p *parser) radical() bool {
	r, size := p.peek()
	if !isDot(r) {
		return false
	}
	rest := strings.TrimLeft(p.text[p.at+size:], " ")
	next, _ := utf8.DecodeRuneInString(rest)
	if rest != "" && signOf(next) == 0 && superscriptOf(next) < 0 && next != '^' {
		return false
	}
	p.at += size
	return true
}

// adduct reads a dot that another part follows.
func (p *parser) adduct() bool {
	r, size := p.peek()
	if !isDot(r) || r == '•' {
		return false
	}
	next, _ := utf8.DecodeRuneInString(p.text[p.at+size:])
	if !isCapital(next) && !isOpening(next) && digitOf(next) < 0 && !(superscriptOf(next) >= 0 && (&parser{text: p.text, at: p.at + size}).labelAhead()) {
		return false
	}
	p.at += size
	return true
}

// labelAhead tells whether superscript digits and then a capital are next.
func (p *parser) labelAhead() bool {
	rest := strings.TrimLeft(p.text[p.at:], "⁰¹²³⁴⁵⁶⁷⁸⁹")
	next, _ := utf8.DecodeRuneInString(rest)
	return isCapital(next)
}

// chargeAhead tells whether a number, one sign and then the end are next.
func (p *parser) chargeAhead() bool {
	rest := strings.TrimLeft(p.text[p.at:], "0123456789")
	sign, size := utf8.DecodeRuneInString(rest)
	if signOf(sign) == 0 {
		return false
	}
	return strings.Trim(rest[size:], " .·•") == ""
}

// spaces = { " " } .
func (p *parser) spaces() {
	for p.at < len(p.text) && p.text[p.at] == ' ' {
		p.at++
	}
}

// peek returns the next character and its size in bytes; 0 and 0 at the end.
func (p *parser) peek() (rune, int) {
	if p.at >= len(p.text) {
		return 0, 0
	}
	if b := p.text[p.at]; b < utf8.RuneSelf {
		return rune(b), 1
	}
	return utf8.DecodeRuneInString(p.text[p.at:])
}

// rest is the next few characters, for a message.
func (p *parser) rest() string {
	rest := p.text[p.at:]
	for end := range rest {
		if end >= 10 {
			return rest[:end]
		}
	}
	return rest
}

func isCapital(r rune) bool { return 'A' <= r && r <= 'Z' }

func isOpening(r rune) bool { return r == '(' || r == '[' || r == '{' }

func isASCIIDigit(b byte) bool { return '0' <= b && b <= '9' }

func isDot(r rune) bool { return r == '.' || r == '·' || r == '•' }

// digitOf is the value of an ASCII or subscript digit, -1 for others.
func digitOf(r rune) int {
	switch {
	case '0' <= r && r <= '9':
		return int(r - '0')
	case '₀' <= r && r <= '₉':
		return int(r - '₀')
	}
	return -1
}

// superscriptOf is the value of a superscript digit, -1 for others.
func superscriptOf(r rune) int {
	switch r {
	case '¹':
		return 1
	case '²':
		return 2
	case '³':
		return 3
	}
	if r == '⁰' || '⁴' <= r && r <= '⁹' {
		return int(r - '⁰')
	}
	return -1
}

// signOf is +1 or -1 for a charge's sign (ASCII, superscript, or the true
// minus), 0 for others.
func signOf(r rune) int {
	switch r {
	case '+', '⁺':
		return 1
	case '-', '⁻', '−':
		return -1
	}
	return 0
}

// hintFor says what to do about a character that can't stand in a formula.
func hintFor(r rune) string {
	switch {
	case 'a' <= r && r <= 'z':
		return "element symbols begin with a capital: C6H6, not c6h6"
	case r == '=' || r == '#' || r == '-' || r == '+':
		return "a formula has no bonds; a charge comes last"
	case r == ')' || r == ']' || r == '}':
		return "this bracket was not opened"
	}
	return ""
}
