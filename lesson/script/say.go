package script

import (
	"regexp"
	"strings"
	"unicode"

	"ionwright/chem"
)

// units are said in full after a number.
var units = map[string]string{
	"T": "tesla", "mT": "millitesla", "V": "volts", "kV": "kilovolts", "eV": "electronvolts", "V/m": "volts per meter",
	"m": "meters", "cm": "centimeters", "mm": "millimeters", "µm": "micrometers", "m/s": "meters per second", "s": "seconds", "ms": "milliseconds",
	"µs": "microseconds", "kg": "kilograms", "C": "coulombs", "Da": "daltons", "u": "atomic mass units", "°": "degrees",
}

// signs are said as words where they stand alone.
var signs = map[string]string{
	"%": "percent", "+": "plus", "−": "minus", "-": "minus", "=": "equals", "<": "is less than", ">": "is greater than",
	"±": "plus or minus", "&": "and", "×": "times", "→": "to", "≈": "about", "m/z": "m over z", "m/z's": "m over z's",
}

var (
	numberForm  = regexp.MustCompile(`^[−-]?[0-9]+(\.[0-9]+)?$`)
	digitsIn    = regexp.MustCompile(`[0-9]+(\.[0-9]+)?`)
	powerForm   = regexp.MustCompile(`^([−-]?[0-9.]+)×10([⁻⁰¹²³⁴⁵⁶⁷⁸⁹]+)$`)
	ordinalForm = regexp.MustCompile(`^[0-9]+(st|nd|rd|th)$`)
	groupedForm = regexp.MustCompile(`^[0-9]{1,3}(,[0-9]{3})+$`)
	nuclideForm = regexp.MustCompile(`^[A-Z][a-z]?-[0-9]+$`)
	adductForm  = regexp.MustCompile(`^\[[0-9]*M([+−-][A-Za-z0-9]+)*\][0-9]*[+−•·]*`)
	peakForm    = regexp.MustCompile(`^M([+−-])([0-9]+)?([•·]?)$`)
	rangeForm   = regexp.MustCompile(`^([0-9.]+)[–-]([0-9.]+)$`)
	ratioForm   = regexp.MustCompile(`^([0-9.]+):([0-9.]+)$`)
)

// unitAfter is what a unit that stands behind a number is called, and "" for
// any other word. A C there is a carbon atom.
func unitAfter(number, word string) string {
	_, core, after := punctuation(word)
	_, bare, behind := punctuation(number)
	if full, ok := units[core]; ok && core != "C" && behind == "" && isNumber(bare) {
		return full + after
	}
	return ""
}

func isNumber(w string) bool {
	return groupedForm.MatchString(w) || numberForm.MatchString(w) || powerForm.MatchString(w)
}

// say spells a word between two spaces so that it can be read aloud; parts
// held together by no-break spaces are said one after another.
func say(word string, formula bool) string {
	var out []string
	number := false
	for _, w := range strings.Split(word, "\u00a0") {
		before, core, after := punctuation(w)
		if full, ok := units[core]; ok && number {
			core, number = full, false
		} else {
			bare := strings.TrimSuffix(core, "%")
			number = isNumber(bare)
			core = sayCore(core, formula)
		}
		if said := before + core + after; said != "" {
			out = append(out, said)
		}
	}
	return strings.Join(out, " ")
}

// punctuation takes off what surrounds a word.
func punctuation(w string) (before, core, after string) {
	if _, ok := signs[w]; ok {
		return "", w, ""
	}
	if ion := adductForm.FindString(w); ion != "" {
		return "", ion, w[len(ion):]
	}
	const opening, closing = `"'“‘([`, `"'”’)].,;:!?…`
	core = strings.TrimLeft(w, opening)
	before = w[:len(w)-len(core)]
	after = core
	core = strings.TrimRight(core, closing)
	return before, core, after[len(core):]
}

func sayCore(w string, formula bool) string {
	if text, ok := signs[w]; ok {
		return text
	}
	switch {
	case ordinalForm.MatchString(w):
		return w
	case adductForm.FindString(w) == w:
		return spell(w)
	case nuclideForm.MatchString(w):
		symbol, mass, _ := strings.Cut(w, "-")
		return symbol + "-" + number(mass)
	case groupedForm.MatchString(w):
		return number(strings.ReplaceAll(w, ",", ""))
	}
	if m := powerForm.FindStringSubmatch(w); m != nil {
		return number(m[1]) + " times ten to the " + number(leveled(m[2]))
	}
	if m := peakForm.FindStringSubmatch(w); m != nil {
		parts := []string{"M", signs[m[1]]}
		if m[2] != "" {
			parts = append(parts, number(m[2]))
		}
		if m[3] != "" {
			parts = append(parts, "dot")
		}
		return strings.Join(parts, " ")
	}
	for _, form := range []*regexp.Regexp{rangeForm, ratioForm} {
		if m := form.FindStringSubmatch(w); m != nil {
			return number(m[1]) + " to " + number(m[2])
		}
	}
	if numberForm.MatchString(w) {
		return number(w)
	}
	if bare, ok := strings.CutSuffix(w, "%"); ok && numberForm.MatchString(bare) {
		return number(bare) + " percent"
	}
	level := leveled(w)
	if _, err := chem.ParseFormula(level); err == nil && (formula || isFormula(level)) {
		return spell(level)
	}
	w = digitsIn.ReplaceAllStringFunc(level, func(d string) string { return " " + number(d) + " " })
	w = strings.Join(strings.Fields(w), " ")
	return greek.Replace(strings.NewReplacer(" -", "-", " ,", ",", " .", ".").Replace(w))
}

var greek = strings.NewReplacer("α", "alpha", "β", "beta", "γ", "gamma", "δ", "delta", "Δ", "delta ", "σ", "sigma", "π", "pi", "°", " degrees")

// isFormula tells a formula in prose from a word by its digits or charge.
func isFormula(w string) bool {
	return unicode.IsUpper(rune(w[0])) && strings.ContainsAny(w, "0123456789+−•")
}

// spell says a formula symbol by symbol and number by number, as chemists do:
// "C two H three O plus"; a single symbol is the element's name.
func spell(f string) string {
	if e, ok := chem.ElementBySymbol(f); ok {
		return e.Name()
	}
	var out []string
	for _, part := range formulaParts.FindAllString(f, -1) {
		switch {
		case part == "+":
			part = "plus"
		case part == "−" || part == "-":
			part = "minus"
		case part == "•" || part == "·":
			part = "dot"
		default:
			part = number(part)
		}
		out = append(out, part)
	}
	return strings.Join(out, " ")
}

var formulaParts = regexp.MustCompile(`[A-Z][a-z]?|[0-9]+|[+−•·-]`)
