package jcamp

import (
	"fmt"
	"math"
	"strconv"
)

// The ASDF forms of an ordinate (Appl. Spectrosc. 42 (1988) 151, table VII): a
// first character stands for delimiter, sign, form and first digit at once.
// Further digits are plain.
//
//	          0  1  2  3  4  5  6  7  8  9
//	SQZ  +    @  A  B  C  D  E  F  G  H  I
//	SQZ  -       a  b  c  d  e  f  g  h  i
//	DIF  +    %  J  K  L  M  N  O  P  Q  R
//	DIF  -       j  k  l  m  n  o  p  q  r
//	DUP          S  T  U  V  W  X  Y  Z  s
type form uint8

const (
	absolute   form = iota // AFFN, PAC and SQZ: the value itself
	difference             // DIF: the difference from the ordinate before
	duplicate              // DUP: how often the ordinate before stands, itself counted
	missing                // "?": no value
)

// pseudo returns form, sign and first digit of a pseudo-digit.
func pseudo(c byte) (f form, negative bool, digit byte, ok bool) {
	switch {
	case c >= '@' && c <= 'I':
		return absolute, false, c - '@' + '0', true
	case c >= 'a' && c <= 'i':
		return absolute, true, c - 'a' + '1', true
	case c == '%':
		return difference, false, '0', true
	case c >= 'J' && c <= 'R':
		return difference, false, c - 'J' + '1', true
	case c >= 'j' && c <= 'r':
		return difference, true, c - 'j' + '1', true
	case c >= 'S' && c <= 'Z':
		return duplicate, false, c - 'S' + '1', true
	case c == 's':
		return duplicate, false, '9', true
	}
	return 0, false, 0, false
}

// ordinate is one number of a line of XYDATA.
type ordinate struct {
	form  form
	value float64
}

// exactInteger bounds what differences are added up exactly in a float64.
const exactInteger = 1 << 53

// ordinates reads the numbers of one line of (X++(Y..Y)): the abscissa and
// what follows.
//
//	line     = number { [ separator ] ( number | pseudo { digit } | "?" ) }
//	number   = [ sign ] ( digits [ "." [ digits ] ] | "." digits ) [ exponent ]
//	exponent = "E" sign digit digit [ digit ]
//
// The letter E alone is SQZ for +5, so an exponent needs its sign and two or
// three digits (the same source, section 5.3).
func ordinates(line []byte, dst []ordinate) ([]ordinate, error) {
	for i := 0; i < len(line); {
		c := line[i]
		switch {
		case c == ' ' || c == '\t' || c == ',' || c == ';':
			i++
			continue
		case c == '?':
			dst = append(dst, ordinate{form: missing})
			i++
			continue
		}
		if f, negative, digit, ok := pseudo(c); ok {
			end := i + 1
			for end < len(line) && isDigit(line[end]) {
				end++
			}
			if end-i > 15 {
				return dst, fmt.Errorf("the compressed number %q has more than 15 digits", clip(string(line[i:end])))
			}
			if end < len(line) && line[end] == '.' {
				return dst, fmt.Errorf("the compressed number %q has a decimal point; compressed ordinates are whole numbers", clip(string(line[i:end+1])))
			}
			value := float64(digit - '0')
			for _, d := range line[i+1 : end] {
				value = value*10 + float64(d-'0')
			}
			if negative {
				value = -value
			}
			dst = append(dst, ordinate{f, value})
			i = end
			continue
		}
		end, err := affn(line, i)
		if err != nil {
			return dst, err
		}
		value, err := strconv.ParseFloat(string(line[i:end]), 64)
		if err != nil || math.IsInf(value, 0) {
			return dst, fmt.Errorf("%q isn't a number that can be held", clip(string(line[i:end])))
		}
		dst = append(dst, ordinate{absolute, value})
		i = end
	}
	return dst, nil
}

// affn returns where the AFFN number that starts at i ends.
func affn(line []byte, i int) (end int, err error) {
	start, digits := i, 0
	if line[i] == '+' || line[i] == '-' {
		i++
	}
	for ; i < len(line) && isDigit(line[i]); i++ {
		digits++
	}
	if i < len(line) && line[i] == '.' {
		for i++; i < len(line) && isDigit(line[i]); i++ {
			digits++
		}
	}
	if digits == 0 {
		return 0, fmt.Errorf("%q isn't a number; expected digits, a sign, or a compressed number (@A-Ia-i, %%J-Rj-r, S-Zs)", clip(string(line[start:min(start+10, len(line))])))
	}
	if i+1 < len(line) && line[i] == 'E' && (line[i+1] == '+' || line[i+1] == '-') {
		j := i + 2
		for j < len(line) && isDigit(line[j]) {
			j++
		}
		if n := j - i - 2; n < 2 || n > 3 {
			return 0, fmt.Errorf("%q can be an exponent or a compressed 5; write an exponent with two or three digits, such as E+03", clip(string(line[start:j])))
		}
		i = j
	}
	return i, nil
}

func isDigit(c byte) bool { return c >= '0' && c <= '9' }
