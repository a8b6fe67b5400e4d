package foreign

import (
	"cmp"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"

	"ionwright/lesson/diag"
	"ionwright/sector"
)

const relatedNoun = `(m ?/ ?z|radius|(?:magnetic )?field|(?:accelerating )?voltage|speed|velocity)`

var proportional = regexp.MustCompile(`(?i)\b` + relatedNoun + `(?: (?:of|needed|required|that|the|path|ions?|is|its|magnetic|accelerating|an?))* (?:is|grows|rises|increases|goes|varies|changes)(?: (directly|inversely))?(?: proportional(?:ly)?)? (?:to|with|as) (?:the )?(?:(square root|square) of (?:the )?)?` + relatedNoun + `\b`)

// exponents are those of each quantity in what it is proportional to, from
// m/z = e B² r² / (2 V u) and e V = m v² / 2.
var exponents = map[string]map[string]float64{
	"m/z":     {"field": 2, "radius": 2, "voltage": -1},
	"radius":  {"m/z": 0.5, "voltage": 0.5, "field": -1},
	"field":   {"m/z": 0.5, "voltage": 0.5, "radius": -1},
	"voltage": {"field": 2, "radius": 2, "m/z": -1},
	"speed":   {"voltage": 0.5, "m/z": -0.5},
}

// proportion judges "m/z is proportional to the square of the field".
func (r *reader) proportion(s *sentence) {
	if denies.MatchString(s.words) {
		return
	}
	for _, m := range proportional.FindAllStringSubmatchIndex(s.words, -1) {
		left, right := plainQuantity(s.words[m[2]:m[3]]), plainQuantity(s.words[m[8]:m[9]])
		want, known := exponents[left][right]
		if !known {
			continue
		}
		said := 1.0
		switch group(s.words, m, 3) {
		case "square root":
			said = 0.5
		case "square":
			said = 2
		}
		exact := m[6] >= 0 || strings.Contains(strings.ToLower(s.words[m[0]:m[1]]), "proportional")
		if strings.EqualFold(group(s.words, m, 2), "inversely") {
			said = -said
		}
		if said == want || !exact && (said > 0) == (want > 0) {
			continue
		}
		words := exponentWords(want, right)
		r.report(s, m[0], m[1], diag.InstrumentFalse, s.words[m[0]:m[1]], words, "write "+words, "m/z = e B² r² / (2 V u): the %s goes otherwise with the %s", left, right)
	}
}

func plainQuantity(words string) string {
	words = strings.ReplaceAll(strings.ToLower(words), " ", "")
	for _, name := range []string{"field", "voltage", "radius", "m/z"} {
		if strings.HasSuffix(words, name) {
			return name
		}
	}
	return "speed"
}

func exponentWords(e float64, of string) string {
	words := map[float64]string{1: "the " + of, 2: "the square of the " + of, 0.5: "the square root of the " + of}[math.Abs(e)]
	if e < 0 {
		return "inversely proportional to " + words
	}
	return "proportional to " + words
}

var (
	teslas    = regexp.MustCompile(`(\d+(?:\.\d+)?) ?T\b`)
	kilovolts = regexp.MustCompile(`(\d+(?:\.\d+)?) ?(kV|V)\b`)
	lengths   = regexp.MustCompile(`(\d+(?:\.\d+)?) ?(cm|mm|m)\b`)
	oneMZ     = regexp.MustCompile(`m ?/ ?z (?:of |= ?)?(\d+(?:\.\d+)?)`)
)

// fieldNumber judges the field that a sentence gives for one m/z, voltage and
// radius.
func (r *reader) fieldNumber(s *sentence) {
	b, v := teslas.FindAllStringSubmatchIndex(s.words, -1), kilovolts.FindAllStringSubmatch(s.words, -1)
	l, m := lengths.FindAllStringSubmatch(s.words, -1), oneMZ.FindAllStringSubmatch(s.words, -1)
	if len(b) != 1 || len(v) != 1 || len(l) != 1 || len(m) != 1 || denies.MatchString(s.words) || strings.Contains(s.words, "doubly") {
		return
	}
	value := func(text string) float64 { x, _ := strconv.ParseFloat(text, 64); return x }
	volts := value(v[0][1]) * map[string]float64{"V": 1, "kV": 1000}[v[0][2]]
	radius := value(l[0][1]) * map[string]float64{"m": 1, "cm": 0.01, "mm": 0.001}[l[0][2]]
	field, err := sector.Field(value(m[0][1]), sector.Volt(volts), sector.Metre(radius))
	text := s.words[b[0][2]:b[0][3]]
	if err != nil || math.Abs(value(text)-float64(field)) <= 0.02*float64(field) {
		return
	}
	right := fmt.Sprintf("%.3f T", float64(field))
	r.report(s, b[0][0], b[0][1], diag.InstrumentFalse, text+" T", right, "write "+right, "m/z %s at %g V on %g m needs another field", m[0][1], volts, radius)
}

var twoMagnets = regexp.MustCompile(`(?i)double[- ]focus(?:s?ing)?\b[^;]{0,80}?\b(?:has|have|with|uses?|using|contains?|consists? of|of|combines?)(?: its| their)? ((?:two|a pair of|2) (?:magnetic sectors|magnets|electric sectors|electrostatic sectors|magnetic analy[sz]ers))`)

// misnomer is a statement about instruments or spectra that is wrong as it
// stands.
type misnomer struct {
	pattern        *regexp.Regexp // group 1: what is wrong
	unless         *regexp.Regexp // in a sentence with this, nothing is wrong
	right, because string
	code           diag.Code // empty: instrument-false
}

// misnomers is the visible list.
var misnomers = []misnomer{
	{twoMagnets, nil, "a magnetic and an electric sector",
		"double focusing takes a magnetic sector, which focuses directions, and an electric sector, which makes up for the spread of energies", ""},
	{regexp.MustCompile(`(?i)\bions?\b[^;,]{0,60}\b(?:leave|enter|come|are accelerated|pass|reach|have)\b[^;,]{0,60}\bthe same (velocity|speed)\b`),
		regexp.MustCompile(`(?i)same mass|same m ?/ ?z|selector|equal mass`), "kinetic energy", "one voltage gives ions of one charge the same kinetic energy, and the lighter ones more speed", ""},
	{regexp.MustCompile(`(?i)\belectric sector (?:sorts|separates|focuses|selects|filters)(?: \w+){0,5}? (charge sign|masses|mass|m ?/ ?z|momentum)\b`), nil, "kinetic energy", "an electric sector bends ions by their energy per charge", ""},
	{regexp.MustCompile(`(?i)\bmagnetic sector (?:sorts|separates|selects)(?: \w+){0,4}? by(?: \w+)? (kinetic energy|velocity|size|shape|charge alone)\b`), nil, "m/z", "a magnetic sector sorts ions of one energy by their m/z", ""},
	{regexp.MustCompile(`(?i)\bdoubly charged\b[^;]{0,40}\b(?:appears?|stands?|found|lies?|seen|shows?)\b[^;]{0,20}\bat (twice its|its full|four times its) mass\b`), nil, "half its", "m/z is the mass divided by the number of charges", ""},
	{regexp.MustCompile(`(?i)\b(?:two charges|doubly charged)\b[^;]{0,40}\ba (larger|higher|greater) m ?/ ?z than\b[^;]{0,60}\bsame mass`), nil, "smaller", "m/z is the mass divided by the number of charges", ""},
	{regexp.MustCompile(`(?i)\b(?:doubling the|twice the|double the) (?:magnetic )?field\b[^;]{0,60}?\b(two times|twice|half|three times|eight times) the (?:m ?/ ?z|mass)`), nil, "four times", "m/z goes with the square of the field", ""},
	{regexp.MustCompile(`(?i)\b(neutral molecules?|neutrals|radicals?) (?:reach(?:es)? the detector|(?:is|are) detected|gives? a peak|(?:is|are) deflected)\b`),
		regexp.MustCompile(`(?i)\bno\b|radical cations?|ions?\b`), "ions", "only ions are accelerated, bent and detected", ""},
	{regexp.MustCompile(`(?i)\bthe base peak (?:is (?:always|by definition|defined as)|always is) (the (?:peak of the )?molecular ion|the (?:peak|ion) (?:at|of|with) (?:the )?highest m ?/ ?z|the rightmost peak)\b`), nil,
		"the strongest peak", "the base peak is the strongest peak, whichever ion gives it", diag.PeakFalse},
	{regexp.MustCompile(`(?i)\bthe molecular ion (?:is always|always gives|by definition gives|is by definition) (the (?:base|strongest|tallest|most intense|largest) peak)\b`), nil,
		"the peak of the whole molecule", "the molecular ion can be weak or absent", diag.PeakFalse},
}

// instrumentSlip judges statements by the list of misnomers.
func (r *reader) instrumentSlip(s *sentence) {
	if denies.MatchString(s.words) {
		return
	}
	for _, slip := range misnomers {
		if slip.unless != nil && slip.unless.MatchString(s.words) {
			continue
		}
		if m := slip.pattern.FindStringSubmatchIndex(s.words); m != nil {
			code := cmp.Or(slip.code, diag.InstrumentFalse)
			r.report(s, m[2], m[3], code, s.words[m[2]:m[3]], slip.right, "write "+slip.right, "%s", slip.because)
		}
	}
}
