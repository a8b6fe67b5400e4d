package jcamp

import (
	"fmt"
	"strings"
)

// ntuples is the state of reading an NTUPLES section: variables with symbols,
// then pages with one data table each (Appl. Spectrosc. 48 (1994) 1545).
type ntuples struct {
	page     string // what ##PAGE= says
	pageLine int    // of ##PAGE=, 0 before the first and after a page's table
}

// Bounds of a list record such as SYMBOL or FACTOR.
const (
	mostVariables = 16
	longestList   = 1000 // bytes
)

// list returns the entries of a list record.
func list(r Record) ([]string, error) {
	entries := strings.SplitN(r.Text, ",", mostVariables+1)
	if len(entries) > mostVariables || len(r.Text) > longestList {
		return nil, &Error{r.Line, fmt.Sprintf("%s lists more than %d variables", r.Label, mostVariables)}
	}
	for i := range entries {
		entries[i] = strings.TrimSpace(entries[i])
	}
	return entries, nil
}

// readPage reads the data table of a page.
//
//	page       = "##PAGE=" text { record } data-table
//	data-table = "##DATA TABLE=" form [ "," kind ] lines
func (d *decoder) readPage(h *header, form string) error {
	t := &table{label: "DATATABLE", line: d.lines.number}
	switch h.dataType() {
	case otherData:
		return d.passOver()
	case unsaid:
		return &Error{t.line, "a data table, but the block doesn't say of what; expected ##DATA TYPE= MASS SPECTRUM before it"}
	}
	x, y, err := t.variables(h, form)
	if err != nil {
		return err
	}
	units, _ := h.get("UNITS")
	entries, err := list(units)
	if err != nil {
		return err
	}
	if x < len(entries) && !isMZ(entries[x]) {
		d.warn(t.line, true, "the unit of the abscissa is %q; expected M/Z", clip(entries[x]))
	}
	if err := d.readTable(t); err != nil {
		return err
	}
	c, err := pageClaims(h, t.shape, x, y)
	if err != nil {
		return err
	}
	if !h.paged {
		d.checkHeader(h)
	}
	h.paged = true
	if !c.npoints.ok {
		d.warn(t.line, false, "no ##NPOINTS= on the page, so the number of points isn't checked")
	}
	b := Block{Line: t.line}
	if h.series.pageLine > 0 {
		b.Line, b.Page = h.series.pageLine, h.series.page
	}
	err = d.addSpectrum(h, t, c, b)
	h.page, h.series.pageLine = nil, 0
	return err
}

// variables finds the form of a page's table and which variables its x and y
// are.
func (t *table) variables(h *header, form string) (x, y int, err error) {
	record, _ := h.get("SYMBOL")
	symbols, err := list(record)
	if err != nil {
		return 0, 0, err
	}
	for i, a := range symbols {
		for j, b := range symbols {
			if i == j || a == "" || b == "" {
				continue
			}
			if s, ok := shapeOf(form, strings.ToUpper(a), strings.ToUpper(b)); ok && s != assigned {
				t.shape = s
				return i, j, nil
			}
		}
	}
	return 0, 0, &Error{t.line, fmt.Sprintf("the form of the data table is %q; expected (XY..XY) or (X++(Y..Y)) with two of the symbols %q", clip(form), clip(record.Text))}
}

// pageClaims reads what the section and the page say about variables x and y.
// First, last and number that the section gives hold for the even grid of all
// pages; for peaks, which differ from page to page, only the page's own count.
func pageClaims(h *header, s shape, x, y int) (c claims, err error) {
	var xfactor, yfactor given
	for _, want := range []struct {
		label string
		index int
		to    *given
	}{
		{"FIRST", x, &c.firstx}, {"LAST", x, &c.lastx}, {"VARDIM", y, &c.npoints},
		{"FACTOR", x, &xfactor}, {"FACTOR", y, &yfactor},
	} {
		record, found := h.own(want.label)
		if !found && (s == steps || want.label == "FACTOR") {
			record, found = h.get(want.label)
		}
		entries, err := list(record)
		if err != nil {
			return c, err
		}
		if !found || want.index >= len(entries) {
			continue
		}
		if *want.to, err = givenIn(want.label, entries[want.index], record.Line, true); err != nil {
			return c, err
		}
	}
	npoints, err := h.given("NPOINTS")
	if err != nil {
		return c, err
	}
	if npoints.ok {
		c.npoints = npoints
	}
	if c.xfactor, err = factorOf(xfactor); err != nil {
		return c, err
	}
	c.yfactor, err = factorOf(yfactor)
	return c, err
}
