package eval

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"ionwright/chem"
)

// Agrees reports whether words of the prose state the value r: a number to
// the digits in which it is written ("43", "0.36 T", "three"), a formula in
// any order of its elements, or the same text. Where the value is true or
// false, the words are a statement and must be true.
func (r Result) Agrees(words string) bool {
	words = strings.TrimSpace(strings.ReplaceAll(words, "\u00a0", " "))
	switch v := r.Value.(type) {
	case bool:
		return v
	case int64:
		return statesNumber(words, r.Kind, float64(v))
	case float64:
		return statesNumber(words, r.Kind, v)
	case string:
		return words == v || words == r.Text.String() || sameFormula(words, v)
	case []any:
		return r.statesList(words, v)
	}
	return words == r.Text.String()
}

// statesNumber reports whether words are a number that x rounds to, in the
// unit in which x is printed.
func statesNumber(words string, kind Kind, x float64) bool {
	if i := slices.Index(smallNumbers, strings.ToLower(words)); i >= 0 {
		return x == float64(i)
	}
	printed, unit, _ := strings.Cut(number(kind, x), "\u00a0")
	x, _ = quantity(kind, x)
	words = strings.TrimSpace(strings.TrimSuffix(words, unit))
	if words == printed {
		return true
	}
	words = plainPower(strings.ReplaceAll(strings.ReplaceAll(words, "\u2212", "-"), ",", ""))
	written, err := strconv.ParseFloat(words, 64)
	if err != nil || math.IsNaN(written) {
		return false
	}
	mantissa, power, _ := strings.Cut(strings.ToLower(words), "e")
	exponent, _ := strconv.Atoi(power)
	decimals := -exponent
	if _, after, ok := strings.Cut(mantissa, "."); ok {
		decimals += len(after)
	}
	half := 0.5 * math.Pow(10, -float64(decimals))
	if whole := x == math.Trunc(x); whole && decimals == 0 {
		return written == x
	}
	return math.Abs(written-x) <= half*(1+1e-9)
}

// plainPower writes a power of ten such as 2.68×10⁻²⁶ or 2.68×10^-26 as 2.68e-26.
func plainPower(words string) string {
	words = strings.ReplaceAll(strings.ReplaceAll(words, " ", ""), "·", "×")
	mantissa, power, ok := strings.Cut(words, "×10")
	if !ok {
		return words
	}
	return mantissa + "e" + strings.Map(func(r rune) rune {
		for plain, raised := range superscripts {
			if r == raised {
				return plain
			}
		}
		return r
	}, strings.TrimPrefix(power, "^"))
}

var smallNumbers = []string{"zero", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve"}

func sameFormula(a, b string) bool {
	f, err := chem.ParseFormula(a)
	if err != nil {
		return false
	}
	g, err := chem.ParseFormula(b)
	return err == nil && f == g
}

// statesList reports whether words name every item, in any order, separated
// by commas, "and" or "or".
func (r Result) statesList(words string, items []any) bool {
	parts := strings.FieldsFunc(strings.NewReplacer(" and ", ",", " or ", ",").Replace(words), func(c rune) bool { return c == ',' })
	if len(parts) != len(items) {
		return false
	}
	left := slices.Clone(items)
	for _, part := range parts {
		i := slices.IndexFunc(left, func(item any) bool {
			return Result{Value: item, Kind: r.Kind, Text: Print(r.Kind, item)}.Agrees(part)
		})
		if i < 0 {
			return false
		}
		left = slices.Delete(left, i, i+1)
	}
	return true
}
