package jcamp

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"

	"ionwright/spectrum"
)

// Form is how Encode writes peaks.
type Form uint8

// The forms. All but PeakTable are XYDATA=(X++(Y..Y)), for whole m/z (gaps
// become zeros) or evenly spaced ones. Reading XYDATA back leaves out points of
// zero intensity.
const (
	PeakTable  Form = iota // PEAK TABLE=(XY..XY)
	Fixed                  // FIX: numbers with a space between
	Packed                 // PAC: the sign is the delimiter
	Squeezed               // SQZ: the first digit is the delimiter too
	Difference             // DIF: differences, with check ordinates
	Duplicate              // DIF with DUP: repeated differences counted
)

// width is the longest line that is written, in characters.
const width = 80

// Encode writes one block as it is and several inside a LINK block. A block
// with Assignments is written as PEAK ASSIGNMENTS=(XYA). Of a block, Spectrum
// and Assignments are written; Page, Records and Line are not. It fails,
// naming the block and field, for peaks out of order, for numbers and texts
// that the form can't carry exactly, and where w fails.
func Encode(w io.Writer, blocks []Block, form Form) error {
	e := &encoder{w: bufio.NewWriter(w)}
	if len(blocks) == 0 {
		return errors.New("writing JCAMP-DX: no spectrum to write")
	}
	if len(blocks) > 1 {
		e.record("TITLE", fmt.Sprintf("%d mass spectra", len(blocks)))
		e.record("JCAMP-DX", "5.00")
		e.record("DATA TYPE", "LINK")
		e.record("BLOCKS", strconv.Itoa(len(blocks)))
	}
	for i, b := range blocks {
		e.block(b, form)
		if e.err != nil {
			return fmt.Errorf("writing JCAMP-DX: spectrum %d (%q): %w", i+1, clip(b.Spectrum.Title), e.err)
		}
	}
	if len(blocks) > 1 {
		e.record("END", "")
	}
	if err := e.w.Flush(); err != nil {
		return fmt.Errorf("writing JCAMP-DX: %w", err)
	}
	return e.err
}

// encoder writes lines and keeps the first error.
type encoder struct {
	w   *bufio.Writer
	err error
}

func (e *encoder) fail(format string, args ...any) {
	if e.err == nil {
		e.err = fmt.Errorf(format, args...)
	}
}

func (e *encoder) line(text string) {
	if e.err != nil {
		return
	}
	if utf8.RuneCountInString(text) > width {
		e.fail("a line of more than %d characters: %q", width, clip(text))
		return
	}
	if _, err := e.w.WriteString(text + "\n"); err != nil {
		e.err = err
	}
}

// record writes a labelled record, folded at single spaces.
func (e *encoder) record(label, text string) {
	if problem := unwritable(text); problem != "" {
		e.fail("##%s= can't hold %q: %s", label, clip(text), problem)
		return
	}
	head := "##" + label + "="
	if text != "" {
		head += " "
	}
	lines, ok := fold(head, text)
	if !ok {
		e.fail("##%s= can't hold %q: a word of it doesn't fit a line of %d characters", label, clip(text), width)
		return
	}
	for _, line := range lines {
		e.line(line)
	}
}

// unwritable says what in a text JCAMP-DX can't carry, or "".
func unwritable(text string) string {
	switch {
	case !utf8.ValidString(text):
		return "it isn't UTF-8"
	case strings.Contains(text, "$$"):
		return "$$ starts a comment"
	case strings.TrimSpace(text) != text:
		return "space at its ends gets lost"
	case strings.ContainsFunc(text, unicode.IsControl):
		return "it has a line end or another control character"
	}
	return ""
}

// fold breaks head and text into lines. It breaks only at single spaces and
// never before "##", so that joining the lines with a space gives text again.
func fold(head, text string) (lines []string, ok bool) {
	line := []rune(head)
	rest := []rune(text)
	room := func() int { return width - len(line) }
	for len(rest) > room() {
		at := -1
		for i := min(room(), len(rest)-2); i > 0; i-- {
			if rest[i] == ' ' && !unicode.IsSpace(rest[i-1]) && !unicode.IsSpace(rest[i+1]) && !strings.HasPrefix(string(rest[i+1:]), "##") {
				at = i
				break
			}
		}
		switch {
		case at > 0:
			lines = append(lines, string(line)+string(rest[:at]))
			rest = rest[at+1:]
		case len(lines) == 0 && strings.HasPrefix(string(line), "##") && !strings.HasPrefix(string(rest), "##"):
			// Nothing of the text fits beside the label.
			lines = append(lines, strings.TrimRight(head, " "))
		default:
			return nil, false
		}
		line = nil
	}
	return append(lines, string(line)+string(rest)), true
}

// block writes a data block.
func (e *encoder) block(b Block, form Form) {
	s := b.Spectrum
	if err := check(s.Peaks); err != nil {
		e.fail("%v", err)
		return
	}
	class := "PEAK TABLE"
	switch {
	case b.Assignments != nil:
		class = "PEAK ASSIGNMENTS"
	case form != PeakTable:
		class = "XYDATA"
	}
	e.record("TITLE", s.Title)
	e.record("JCAMP-DX", "5.00")
	e.record("DATA TYPE", "MASS SPECTRUM")
	e.record("DATA CLASS", class)
	e.info(s.Info)
	e.record("XUNITS", "M/Z")
	e.record("YUNITS", "RELATIVE ABUNDANCE")
	switch {
	case b.Assignments != nil:
		e.assignments(b.Assignments)
	case form == PeakTable:
		e.peakTable(s.Peaks)
	default:
		e.steps(s.Peaks, form)
	}
	e.record("END", "")
}

// check returns an error where peaks aren't what a Spectrum promises.
func check(peaks []spectrum.Peak) error {
	for i, p := range peaks {
		switch {
		case !(p.MZ > 0) || math.IsInf(p.MZ, 0) || !(p.Intensity >= 0) || math.IsInf(p.Intensity, 0):
			return fmt.Errorf("peak %d is m/z %v, intensity %v; spectrum.New refuses such a peak", i+1, p.MZ, p.Intensity)
		case i > 0 && p.MZ <= peaks[i-1].MZ:
			return fmt.Errorf("peak %d at m/z %v doesn't come after m/z %v; spectrum.New puts peaks in order", i+1, p.MZ, peaks[i-1].MZ)
		}
	}
	return nil
}

// info writes what info reads.
func (e *encoder) info(info spectrum.Info) {
	e.record("ORIGIN", info.Origin.String())
	e.record("OWNER", info.Owner)
	optional := func(label, text string) {
		if text != "" {
			e.record(label, text)
		}
	}
	optional("NAMES", info.Name)
	if text := spacedFormula(info.Formula); text != "" {
		if again, err := parseFormula(text); err != nil || again != info.Formula {
			e.fail("MOLFORM can't hold the formula %q", info.Formula)
			return
		}
		e.record("MOLFORM", text)
	}
	optional("SOURCE REFERENCE", info.SourceID)
	optional("SPECTROMETER/DATA SYSTEM", info.Instrument)
	switch {
	case info.EnergyEV > 0 && !math.IsInf(info.EnergyEV, 0):
		e.record(".IONIZATION MODE", "EI+")
		e.record(".IONIZATION ENERGY", number(info.EnergyEV))
	case info.EnergyEV != 0:
		e.fail("an electron energy of %v eV; expected a positive number, or 0 for unknown", info.EnergyEV)
	}
	optional("$LICENSE", info.License)
	if info.Origin != spectrum.Unknown {
		e.record("$SPECTRUM ORIGIN", info.Origin.String())
	}
	if info.Comment != "" {
		// One record a line keeps the lines apart.
		for _, line := range strings.Split(info.Comment, "\n") {
			e.record("COMMENTS", line)
		}
	}
}

// number writes a number with the fewest digits that give it back.
func number(value float64) string {
	if text := strconv.FormatFloat(value, 'f', -1, 64); len(text) <= 24 {
		return text
	}
	return strconv.FormatFloat(value, 'E', -1, 64)
}

// ends writes what the table's first and last values are.
func (e *encoder) ends(n int, firstX, lastX, firstY float64) {
	e.record("NPOINTS", strconv.Itoa(n))
	if n > 0 {
		e.record("FIRSTX", number(firstX))
		e.record("LASTX", number(lastX))
		e.record("FIRSTY", number(firstY))
	}
}

func (e *encoder) peakTable(peaks []spectrum.Peak) {
	e.record("XFACTOR", "1")
	e.record("YFACTOR", "1")
	if n := len(peaks); n > 0 {
		e.ends(n, peaks[0].MZ, peaks[n-1].MZ, peaks[0].Intensity)
	} else {
		e.ends(0, 0, 0, 0)
	}
	e.record("PEAK TABLE", "(XY..XY)")
	line := ""
	for _, p := range peaks {
		pair := number(p.MZ) + "," + number(p.Intensity)
		if line != "" && len(line)+1+len(pair) > width {
			e.line(line)
			line = ""
		}
		if line != "" {
			line += " "
		}
		line += pair
	}
	if line != "" {
		e.line(line)
	}
}

func (e *encoder) assignments(list []Assignment) {
	e.record("NPOINTS", strconv.Itoa(len(list)))
	e.record("PEAK ASSIGNMENTS", "(XYA)")
	for _, a := range list {
		if err := check([]spectrum.Peak{{MZ: a.MZ, Intensity: a.Intensity}}); err != nil {
			e.fail("%v", err)
			return
		}
		problem := unwritable(a.Text)
		if strings.ContainsAny(a.Text, "<>") {
			problem = "< and > enclose an assignment"
		}
		if problem != "" {
			e.fail("the assignment of m/z %v can't hold %q: %s", a.MZ, clip(a.Text), problem)
			return
		}
		head := fmt.Sprintf("(%s, %s, <", number(a.MZ), number(a.Intensity))
		lines, ok := fold(head, a.Text+">)")
		if !ok {
			e.fail("the assignment of m/z %v can't hold %q: a word of it doesn't fit a line of %d characters", a.MZ, clip(a.Text), width)
			return
		}
		for _, line := range lines {
			e.line(line)
		}
	}
}
