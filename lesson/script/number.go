package script

import (
	"strconv"
	"strings"
)

var small = []string{"zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve", "thirteen",
	"fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen"}

var tens = []string{"", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"}

// number says a decimal number in words: "one hundred twelve", "zero point two
// three nine". Digits behind the point, numbers of ten digits and more and
// those with leading zeros are said digit by digit. What isn't a number comes
// back as it is.
func number(s string) string {
	rest := strings.TrimLeft(s, "−-")
	sign := ""
	if rest != s {
		sign = "minus "
	}
	whole, decimals, point := strings.Cut(rest, ".")
	const longest = 9
	n, err := strconv.Atoi(whole)
	if err != nil && len(whole) <= longest {
		return s
	}
	said := ""
	if len(whole) > longest || len(whole) > 1 && whole[0] == '0' {
		said = digits(whole)
	} else {
		said = cardinal(n)
	}
	if point && decimals != "" {
		said += " point " + digits(decimals)
	}
	return sign + said
}

func digits(s string) string {
	var out []string
	for _, r := range s {
		if r >= '0' && r <= '9' {
			out = append(out, small[r-'0'])
		}
	}
	return strings.Join(out, " ")
}

// cardinal says a whole number from 0 to 999 999 999.
func cardinal(n int) string {
	parts := func(unit int, word string) string {
		text := cardinal(n/unit) + " " + word
		if n%unit > 0 {
			text += " " + cardinal(n%unit)
		}
		return text
	}
	switch {
	case n >= 1_000_000:
		return parts(1_000_000, "million")
	case n >= 1000:
		return parts(1000, "thousand")
	case n >= 100:
		return parts(100, "hundred")
	case n < len(small):
		return small[n]
	case n%10 == 0:
		return tens[n/10]
	}
	return tens[n/10] + "-" + small[n%10]
}
