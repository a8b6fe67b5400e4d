package eval

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"ionwright/lesson/diag"
	"ionwright/lesson/load"
)

// run is what one evaluation leaves behind.
type run struct {
	notes         []string // where values came from, in order, without repetition
	seen          []seen   // spectra looked at
	structures    []*load.Compound
	assigned      []int // m/z given one formula
	lost          []int // nominal losses given one formula
	listedIons    []int // m/z whose assignments are all listed
	listedLosses  []int
	molecularIons []*load.Compound
	figures       []string
	figureNumbers map[string]int
}

// seen is a spectrum that was looked at, and where.
type seen struct {
	compound *load.Compound
	mz       []int
}

func (r *run) note(format string, args ...any) {
	if note := fmt.Sprintf(format, args...); !slices.Contains(r.notes, note) {
		r.notes = append(r.notes, note)
	}
}

func (r *run) sawPeak(c *load.Compound, mz int) {
	for i := range r.seen {
		if r.seen[i].compound == c {
			r.seen[i].mz = append(r.seen[i].mz, mz)
			return
		}
	}
	r.seen = append(r.seen, seen{c, []int{mz}})
}

func (r *run) sawStructure(c *load.Compound) {
	if !slices.Contains(r.structures, c) {
		r.structures = append(r.structures, c)
	}
}

// origins says where the values of the run came from: the peaks looked at and
// the strongest of each spectrum, the structures, and the functions' own notes.
func (r *run) origins() []string {
	var out []string
	for _, s := range r.seen {
		out = append(out, fmt.Sprintf("from the peaks of %s (%s): %s", s.compound.Key, s.compound.Origin(), peakList(s)))
	}
	for _, c := range r.structures {
		out = append(out, fmt.Sprintf("from the structure of %s: %s is %s", c.Key, c.SMILES, c.Formula))
	}
	return append(out, r.notes...)
}

// peakList is "43: 100 %, 72: 28 %": the peaks asked for, then the strongest
// others.
func peakList(s seen) string {
	const others = 5
	show := slices.Clone(s.mz)
	for _, p := range s.compound.Spectrum.Strongest(others) {
		show = append(show, unit(p.MZ))
	}
	slices.Sort(show)
	show = slices.Compact(show)
	parts := make([]string, len(show))
	for i, mz := range show {
		parts[i] = fmt.Sprintf("m/z %d: %s", mz, plainSpace(number(Percent, s.compound.Spectrum.Relative(mz))))
	}
	return strings.Join(parts, ", ")
}

// plainSpace puts ordinary spaces for no-break ones, for messages.
func plainSpace(s string) string { return strings.ReplaceAll(s, "\u00a0", " ") }

// knownIons lists the m/z of a compound's ions for a suggestion.
func knownIons(c *load.Compound) string {
	const most = 12
	var list []int
	for _, ion := range c.Prediction.Ions {
		if !slices.Contains(list, ion.MZ) && len(list) < most {
			list = append(list, ion.MZ)
		}
	}
	slices.Sort(list)
	text := make([]string, len(list))
	for i, mz := range list {
		text[i] = fmt.Sprint(mz)
	}
	return strings.Join(text, ", ")
}

// failure is an error of a function with a code of its own and a suggestion.
type failure struct {
	code       diag.Code
	message    string
	suggestion string
}

func (f *failure) Error() string { return f.message }

func unit(mz float64) int { return int(math.Round(mz)) }
