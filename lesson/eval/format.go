package eval

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"ionwright/chem"
	"ionwright/draw/plot"
)

// Kind says what a value is, and with it how it is printed for students.
type Kind uint8

// The kinds of values.
const (
	Plain          Kind = iota // any number, to four significant digits
	MZ                         // m/z: a whole number, or a half for doubly charged ions
	Percent                    // relative intensity: whole percent, one digit below 10 %
	NominalMass                // Da, whole
	ExactMass                  // Da, four decimals
	AverageMass                // Da, two decimals
	Ratio                      // two significant digits
	ResolvingPower             // m/Δm, two significant digits
	Voltage                    // V, whole
	Field                      // T, three decimals
	Length                     // m, or mm below 10 cm
	Velocity                   // m/s, four significant digits
	ElectricField              // V/m, four significant digits
	Kilograms                  // kg, four significant digits
	Coulombs                   // C, four significant digits
	Time                       // s, or ms or µs where that is shorter, four significant digits
	Formula                    // with subscripts and charge
	Words
	Truth
	FigureRef // the figure's number, with a link
)

// Run is a piece of printed text in one script.
type Run struct {
	Text   string
	Script chem.Script
}

// Printed is a value as students read it.
type Printed []Run

// String is the text without its scripts: a formula reads C2H3O+.
func (p Printed) String() string {
	var b strings.Builder
	for _, r := range p {
		b.WriteString(r.Text)
	}
	return b.String()
}

// Print formats a value. This is the one place where numbers are formatted
// for students, together with plot's MZ and Percent, which it uses so that
// prose and figures can't differ; quantities with a unit carry it.
func Print(kind Kind, v any) Printed {
	switch v := v.(type) {
	case []any:
		return printList(kind, v)
	case Peak:
		return text("m/z " + number(MZ, float64(v.MZ)) + " (" + number(Percent, v.Intensity) + ")")
	case Ion:
		return append(printFormula(v.Formula), text(" at m/z "+number(MZ, float64(v.MZ)))...)
	case Loss:
		return printFormula(v.Formula)
	case Compound:
		return text(v.Name)
	case Instrument:
		return text(v.Name)
	case bool:
		if v {
			return text("yes")
		}
		return text("no")
	case int64:
		return text(number(kind, float64(v)))
	case float64:
		return text(number(kind, v))
	case string:
		if kind == Formula {
			return printFormula(v)
		}
		return text(v)
	}
	return text(fmt.Sprint(v))
}

// Message is String with ordinary spaces, for messages.
func (p Printed) Message() string { return strings.ReplaceAll(p.String(), "\u00a0", " ") }

func text(s string) Printed { return Printed{{Text: s}} }

// printFormula sets a formula; what isn't one stays as it is.
func printFormula(s string) Printed {
	f, err := chem.ParseFormula(s)
	if err != nil || f.IsEmpty() {
		return text(s)
	}
	var p Printed
	for _, part := range f.Parts() {
		p = append(p, Run{Text: part.Text, Script: part.Script})
	}
	return p
}

// printList joins alternatives with "or", anything else with "and".
func printList(kind Kind, items []any) Printed {
	word := " and "
	if kind == Formula {
		word = " or "
	}
	var p Printed
	for i, item := range items {
		switch {
		case i == 0:
		case i == len(items)-1:
			p = append(p, text(word)...)
		default:
			p = append(p, text(", ")...)
		}
		p = append(p, Print(kind, item)...)
	}
	return p
}

// number formats one number of a kind.
func number(kind Kind, x float64) string {
	switch {
	case math.IsNaN(x):
		return "not a number"
	case math.IsInf(x, 0):
		return "infinity"
	}
	switch kind {
	case MZ:
		return plot.MZ(x, 0)
	case Percent:
		return plot.Percent(x) + "\u00a0%"
	case NominalMass:
		return fixed(x, 0)
	case ExactMass:
		return fixed(x, 4)
	case AverageMass:
		return fixed(x, 2)
	case Ratio, ResolvingPower:
		return significant(x, 2)
	}
	shown, unit := quantity(kind, x)
	if unit == "" {
		return significant(x, 4)
	}
	text := ""
	switch kind {
	case Voltage:
		text = fixed(shown, 0)
	case Field:
		text = fixed(shown, 3)
	case Length:
		text = significant(shown, 3)
	case Kilograms, Coulombs:
		text = scientific(shown, 4)
	default:
		text = significant(shown, 4)
	}
	return text + "\u00a0" + unit
}

// quantity returns a number in the unit in which it is printed, and the unit;
// an empty one for a kind without.
func quantity(kind Kind, x float64) (float64, string) {
	switch kind {
	case Voltage:
		return x, "V"
	case Field:
		return x, "T"
	case Length:
		if math.Abs(x) < 0.1 {
			return 1000 * x, "mm"
		}
		return x, "m"
	case Velocity:
		return x, "m/s"
	case ElectricField:
		return x, "V/m"
	case Kilograms:
		return x, "kg"
	case Coulombs:
		return x, "C"
	case Time:
		switch a := math.Abs(x); {
		case a < 1e-3:
			return 1e6 * x, "µs"
		case a < 1:
			return 1e3 * x, "ms"
		}
		return x, "s"
	}
	return x, ""
}

// scientific writes a number with a power of ten, such as 2.68×10⁻²⁶.
func scientific(x float64, digits int) string {
	if x == 0 {
		return "0"
	}
	mantissa, power, _ := strings.Cut(strconv.FormatFloat(x, 'e', digits-1, 64), "e")
	exponent, err := strconv.Atoi(power)
	if err != nil {
		return significant(x, digits)
	}
	return mantissa + "×10" + strings.Map(func(r rune) rune { return superscripts[r] }, strconv.Itoa(exponent))
}

// superscripts are the raised characters of a power.
var superscripts = map[rune]rune{'-': '⁻', '0': '⁰', '1': '¹', '2': '²', '3': '³', '4': '⁴', '5': '⁵', '6': '⁶', '7': '⁷', '8': '⁸', '9': '⁹'}

func fixed(x float64, decimals int) string { return strconv.FormatFloat(x, 'f', decimals, 64) }

// significant rounds to a number of significant digits and writes no exponent
// for anything a lesson prints.
func significant(x float64, digits int) string {
	rounded, err := strconv.ParseFloat(strconv.FormatFloat(x, 'g', digits, 64), 64)
	if err != nil || rounded == 0 {
		return "0"
	}
	if a := math.Abs(rounded); a >= 1e12 || a < 1e-6 {
		return strconv.FormatFloat(rounded, 'g', -1, 64)
	}
	return strconv.FormatFloat(rounded, 'f', -1, 64)
}
