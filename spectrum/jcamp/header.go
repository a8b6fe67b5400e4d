package jcamp

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"ionwright/spectrum"
)

// header is what the labelled records of a block say.
type header struct {
	line    int      // of ##TITLE=
	records []Record // of the block
	last    map[string]int
	page    []Record // of the current page of NTUPLES
	tables  []*table
	link    bool // holds blocks
	paged   bool // holds pages of NTUPLES
	series  *ntuples
	known   *spectrum.Info // info, once it was asked for by a page
}

// keep adds a record of the block or, in a page, of the page.
func (h *header) keep(r Record) {
	if h.series != nil && h.series.pageLine > 0 {
		h.page = append(h.page, r)
		return
	}
	if h.last == nil {
		h.last = map[string]int{}
	}
	h.last[r.Label] = len(h.records)
	h.records = append(h.records, r)
}

// get returns the last record of that label. What a page says goes before
// what its block says.
func (h *header) get(label string) (Record, bool) {
	if r, ok := h.own(label); ok {
		return r, true
	}
	if i, ok := h.last[label]; ok {
		return h.records[i], true
	}
	return Record{}, false
}

// own returns the last record of that label that the current page holds.
func (h *header) own(label string) (Record, bool) {
	for i := len(h.page) - 1; i >= 0; i-- {
		if h.page[i].Label == label {
			return h.page[i], true
		}
	}
	return Record{}, false
}

// text returns the text of a record, or "".
func (h *header) text(label string) string {
	r, _ := h.get(label)
	return r.Text
}

// dataType tells what the block says it holds.
type dataType uint8

const (
	unsaid dataType = iota
	massSpectrum
	otherData
)

// dataType reads ##DATA TYPE=, and ##XUNITS= where that is missing.
func (h *header) dataType() dataType {
	text := strings.ToUpper(h.text("DATATYPE"))
	switch {
	case strings.Contains(text, "MASS SPECTR"):
		return massSpectrum
	case strings.Contains(text, "PEAK ASSIGNMENTS") && isMZ(h.text("XUNITS")):
		return massSpectrum
	case text != "":
		return otherData
	case isMZ(h.text("XUNITS")):
		return massSpectrum
	}
	return unsaid
}

// isMZ reports whether a unit is one of the ways m/z is written.
func isMZ(unit string) bool {
	switch strings.ToUpper(strings.Join(strings.Fields(unit), "")) {
	case "M/Z", "M/E", "MZ", "M/Z(DA)":
		return true
	}
	return false
}

// given is a number that a record states, with its text for the comparison.
type given struct {
	name  string
	text  string
	line  int
	value float64
	ok    bool
}

// given returns the number of a record. A record that isn't there or is empty
// gives ok false; one that isn't a number is an error.
func (h *header) given(label string) (given, error) {
	r, found := h.get(label)
	return givenIn(label, r.Text, r.Line, found)
}

func givenIn(name, text string, line int, found bool) (given, error) {
	g := given{name: name, text: strings.TrimSpace(text), line: line}
	if !found || g.text == "" {
		return g, nil
	}
	value, err := plainNumber(g.text)
	if err != nil {
		return g, &Error{line, fmt.Sprintf("%s is %q; expected a number", name, clip(text))}
	}
	g.value, g.ok = value, true
	return g, nil
}

// agrees reports whether a number is the one given, within half a unit of the
// last digit that the file writes.
func (g given) agrees(value float64) bool {
	return math.Abs(value-g.value) <= g.rounding()+1e-9*math.Abs(value)
}

// rounding returns half a unit of the last digit of the text.
func (g given) rounding() float64 {
	mantissa, exponentText, _ := strings.Cut(strings.ToUpper(g.text), "E")
	exponent, _ := strconv.Atoi(exponentText) // no exponent is 0
	_, decimals, _ := strings.Cut(mantissa, ".")
	return 0.5 * math.Pow(10, float64(exponent-len(decimals)))
}

// factor is XFACTOR or YFACTOR.
type factor struct {
	value  float64
	tenths float64 // where the factor is 10^-k: 10^k, else 0
}

// factorOf reads a factor; an absent one is 1.
func factorOf(g given) (factor, error) {
	if !g.ok {
		return factor{value: 1}, nil
	}
	if !(g.value > 0) {
		return factor{}, &Error{g.line, fmt.Sprintf("%s is %q; expected a positive number", g.name, g.text)}
	}
	f := factor{value: g.value}
	for tens := 10.0; tens <= 1e22; tens *= 10 {
		if g.value == 1/tens {
			f.tenths = tens
		}
	}
	return f, nil
}

// times applies the factor. For a factor of 10^-k it divides by 10^k, which
// gives the number that the decimal digits mean: 266 times 0.1 is 26.6, not
// 26.6 and a rounding error.
func (f factor) times(value float64) float64 {
	switch {
	case f.tenths != 0:
		return value / f.tenths
	case f.value == 1:
		return value
	}
	return value * f.value
}
