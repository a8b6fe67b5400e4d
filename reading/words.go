package reading

import (
	"fmt"
	"strings"

	"ionwright/chem"
	"ionwright/reading/infer"
)

// percent words a relative intensity: whole numbers, one digit more below 1 %.
func percent(r float64) string {
	if r > 0 && r < 0.95 {
		return fmt.Sprintf("%.1f %%", r)
	}
	return fmt.Sprintf("%.0f %%", r)
}

// list words "a, b and c".
func list(words []string, last string) string {
	switch len(words) {
	case 0:
		return ""
	case 1:
		return words[0]
	}
	return strings.Join(words[:len(words)-1], ", ") + " " + last + " " + words[len(words)-1]
}

// peakList words "m/z 43 (100 %), 57 (45 %) and 71 (20 %)".
func (d *desk) peakList(mz []int) string { return peakList(d.view, mz) }

func peakList(v *infer.View, mz []int) string {
	words := make([]string, len(mz))
	for i, m := range mz {
		words[i] = fmt.Sprintf("%d (%s)", m, percent(v.At(m)))
	}
	return "m/z " + list(words, "and")
}

// numbers words "43, 57 and 71".
func numbers(mz []int) string {
	words := make([]string, len(mz))
	for i, m := range mz {
		words[i] = fmt.Sprint(m)
	}
	return list(words, "and")
}

// sure words a probability without claiming more than it says.
func sure(p float64) string {
	switch {
	case p >= 0.97:
		return "almost certainly"
	case p >= 0.85:
		return "very probably"
	case p >= 0.65:
		return "probably"
	case p >= 0.4:
		return "possibly"
	case p >= 0.15:
		return "perhaps"
	}
	return "hardly"
}

// ionText is the formula of an ion with the sign, and a dot for an odd
// electron: "C₇H₇⁺", "C₃H₆O⁺•".
func ionText(f chem.Formula) string {
	text := f.Unicode()
	if f.OddElectron() {
		text += "•"
	}
	return text
}

// capital makes the first letter of a sentence a capital one.
func capital(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

func plural(n int, one, many string) string {
	if n == 1 {
		return fmt.Sprintf("%d %s", n, one)
	}
	return fmt.Sprintf("%d %s", n, many)
}
