// Package table reads and writes a spectrum as comma-separated values: one peak
// a line, m/z and intensity.
//
// For most uses call Read and Write. Fields are divided by tabs, semicolons or
// commas; which one, the first line with fields says: a tab where it has one,
// else a semicolon, else a comma. A header is optional and names the columns;
// without one there must be two columns, m/z first. Empty lines and lines that
// start with "#" are passed over. Numbers have a decimal point: a decimal comma
// is refused with a hint, unless Options.DecimalComma says that it is meant.
//
// Title and Info aren't part of such a table; spectrum/jcamp carries them.
package table

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
	"unicode/utf8"

	"ionwright/spectrum"
)

// Options change what Decode takes.
type Options struct {
	DecimalComma bool // numbers have a decimal comma; fields are then divided by semicolons or tabs
}

// Bounds of what is read, far above any spectrum that people handle as a table.
const (
	longestLine = 64 << 10 // bytes
	mostLines   = 4_000_000
	mostPeaks   = 1_000_000
)

// Error says where reading ended and why.
type Error struct {
	Line    int // 1-based
	Column  int // 1-based, in characters
	Message string
}

// Error returns the message with its place.
func (e *Error) Error() string {
	return fmt.Sprintf("reading a peak table: line %d, column %d: %s", e.Line, e.Column, e.Message)
}

// Read returns the spectrum of a table. It fails, naming line and column, for
// what it can't read, for an m/z or intensity that spectrum.New refuses, for an
// m/z that is there twice, and for a table without peaks.
func Read(r io.Reader) (spectrum.Spectrum, error) { return Decode(r, Options{}) }

// Decode is Read with options.
func Decode(r io.Reader, o Options) (spectrum.Spectrum, error) {
	scanner := bufio.NewScanner(r)
	scanner.Buffer(nil, longestLine)
	scanner.Split(splitLines)
	d := decoder{options: o, seen: map[float64]int{}}
	for scanner.Scan() && scanner.Err() == nil {
		if d.line++; d.line > mostLines {
			return spectrum.Spectrum{}, &Error{d.line, 1, fmt.Sprintf("more than %d lines", mostLines)}
		}
		line := scanner.Bytes()
		if d.line == 1 {
			line = bytes.TrimPrefix(line, []byte("\xef\xbb\xbf")) // UTF-8 byte order mark
		}
		if err := d.readLine(line); err != nil {
			return spectrum.Spectrum{}, err
		}
	}
	switch err := scanner.Err(); {
	case errors.Is(err, bufio.ErrTooLong):
		return spectrum.Spectrum{}, &Error{d.line + 1, 1, fmt.Sprintf("more than %d bytes in a line; expected one peak a line", longestLine)}
	case err != nil:
		return spectrum.Spectrum{}, fmt.Errorf("reading a peak table: line %d: %w", d.line+1, err)
	case len(d.peaks) == 0:
		return spectrum.Spectrum{}, &Error{max(d.line, 1), 1, "no peaks; expected lines such as 43,100"}
	}
	return spectrum.New(d.peaks)
}

// splitLines is a bufio.SplitFunc for lines that end with LF, CR or CR LF.
func splitLines(data []byte, atEOF bool) (advance int, token []byte, err error) {
	i := bytes.IndexAny(data, "\r\n")
	switch {
	case i >= 0 && data[i] == '\n':
		return i + 1, data[:i], nil
	case i >= 0 && i+1 < len(data) && data[i+1] == '\n':
		return i + 2, data[:i], nil
	case i >= 0 && (i+1 < len(data) || atEOF):
		return i + 1, data[:i], nil
	case i < 0 && atEOF && len(data) > 0:
		return len(data), data, nil
	}
	return 0, nil, nil
}

// decoder reads a table line by line.
type decoder struct {
	options       Options
	line          int
	separator     byte // 0 before the first line with fields
	mz, intensity int  // columns, 0-based
	columns       int
	peaks         []spectrum.Peak
	seen          map[float64]int // m/z and its line
}

// field is one field of a line.
type field struct {
	text   string
	column int // where it starts, 1-based, in characters
}

func (d *decoder) readLine(line []byte) error {
	if i := bytes.IndexByte(line, 0); i >= 0 {
		return &Error{d.line, utf8.RuneCount(line[:i]) + 1, "a zero byte; expected text (save a UTF-16 file as UTF-8)"}
	}
	if len(bytes.TrimSpace(line)) == 0 || line[0] == '#' {
		return nil
	}
	first := d.separator == 0
	if first {
		d.separator = ','
		for _, c := range []byte{'\t', ';'} {
			if bytes.IndexByte(line, c) >= 0 {
				d.separator = c
				break
			}
		}
	}
	fields := split(string(line), d.separator)
	if first {
		header, err := d.header(fields)
		if header || err != nil {
			return err
		}
	}
	if len(fields) != d.columns {
		return d.miscounted(fields)
	}
	mz, err := d.number(fields[d.mz], "an m/z")
	if err != nil {
		return err
	}
	intensity, err := d.number(fields[d.intensity], "an intensity")
	if err != nil {
		return err
	}
	switch {
	case mz <= 0:
		return &Error{d.line, fields[d.mz].column, fmt.Sprintf("an m/z of %v; expected a positive number", mz)}
	case intensity < 0:
		return &Error{d.line, fields[d.intensity].column, fmt.Sprintf("an intensity of %v; expected no negative intensity", intensity)}
	case len(d.peaks) >= mostPeaks:
		return &Error{d.line, 1, fmt.Sprintf("more than %d peaks", mostPeaks)}
	}
	if at, twice := d.seen[mz]; twice {
		return &Error{d.line, fields[d.mz].column, fmt.Sprintf("m/z %v is in line %d already; expected each m/z once", mz, at)}
	}
	d.seen[mz] = d.line
	d.peaks = append(d.peaks, spectrum.Peak{MZ: mz, Intensity: intensity})
	return nil
}

// split divides a line into fields. A field may stand in double quotes, which
// then hide separators; a doubled quote inside is one.
func split(line string, separator byte) []field {
	var fields []field
	column, at := 1, 0
	for {
		begin := at
		for at < len(line) && (line[at] == ' ' || line[at] == '\t' && separator != '\t') {
			at++
		}
		f := field{column: column + utf8.RuneCountInString(line[begin:at])}
		if at < len(line) && line[at] == '"' {
			var text strings.Builder
			for at++; at < len(line); at++ {
				if line[at] != '"' {
					text.WriteByte(line[at])
					continue
				}
				if at+1 < len(line) && line[at+1] == '"' {
					at++
					text.WriteByte('"')
					continue
				}
				at++
				break
			}
			f.text = text.String()
			if rest := strings.IndexByte(line[at:], separator); rest >= 0 {
				f.text += line[at : at+rest]
				at += rest
			} else {
				f.text += line[at:]
				at = len(line)
			}
		} else {
			end := strings.IndexByte(line[at:], separator)
			if end < 0 {
				end = len(line) - at
			}
			f.text = line[at : at+end]
			at += end
		}
		f.text = strings.TrimSpace(f.text)
		fields = append(fields, f)
		column += utf8.RuneCountInString(line[begin:at]) + 1
		if at >= len(line) {
			return fields
		}
		at++ // the separator
	}
}

// header takes the first line: it finds the columns by their names, or sets
// the two of a table without header.
func (d *decoder) header(fields []field) (bool, error) {
	if _, err := d.number(fields[0], ""); err == nil || looksNumeric(fields[0].text) {
		d.mz, d.intensity, d.columns = 0, 1, 2
		return false, nil
	}
	d.columns = len(fields)
	d.mz, d.intensity = -1, -1
	for i, f := range fields {
		var to *int
		switch {
		case isMZ(f.text):
			to = &d.mz
		case isIntensity(f.text):
			to = &d.intensity
		default:
			continue
		}
		if *to >= 0 {
			return true, &Error{d.line, f.column, fmt.Sprintf("the column %q says the same as an earlier one; expected one column of m/z and one of intensity", clip(f.text))}
		}
		*to = i
	}
	if d.mz < 0 || d.intensity < 0 {
		return true, &Error{d.line, fields[0].column, fmt.Sprintf("the first line starts with %q; expected a peak such as 43,100 or a header with the columns m/z and intensity", clip(fields[0].text))}
	}
	return true, nil
}

// miscounted is the error for a line with the wrong number of fields.
func (d *decoder) miscounted(fields []field) error {
	want := d.columns
	message := fmt.Sprintf("%d fields; expected %d", len(fields), want)
	if d.separator == ',' && len(fields) > want {
		message += "\nif the numbers have a decimal comma, write decimal points or divide the fields by semicolons"
	}
	column := fields[len(fields)-1].column
	if len(fields) > want {
		column = fields[want].column
	}
	return &Error{d.line, column, message}
}

// looksNumeric reports whether a text was meant as a number, so that a damaged
// first line isn't taken for a header.
func looksNumeric(text string) bool {
	return text != "" && strings.Trim(text, "0123456789.,+-eE ") == ""
}

// number reads the number of a field.
func (d *decoder) number(f field, what string) (float64, error) {
	text := f.text
	if strings.Contains(text, ",") {
		if !d.options.DecimalComma {
			return 0, &Error{d.line, f.column, fmt.Sprintf("%q has a comma where %s stands\nwrite decimal points, or say that the file has decimal commas", clip(text), what)}
		}
		if strings.Contains(text, ".") || strings.Count(text, ",") > 1 {
			return 0, &Error{d.line, f.column, fmt.Sprintf("%q isn't %s with a decimal comma; expected a number such as 43,0184", clip(text), what)}
		}
		text = strings.Replace(text, ",", ".", 1)
	}
	value, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsInf(value, 0) || math.IsNaN(value) || strings.ContainsAny(text, "xX_") {
		return 0, &Error{d.line, f.column, fmt.Sprintf("%q isn't %s; expected a number", clip(f.text), what)}
	}
	return value, nil
}

// isMZ and isIntensity know the names of the columns, in any letter case, and
// with a unit in brackets behind.
func isMZ(name string) bool {
	switch plain(name) {
	case "m/z", "mz", "m/e", "mass", "mass/charge", "mass-to-charge ratio":
		return true
	}
	return false
}

func isIntensity(name string) bool {
	switch plain(name) {
	case "intensity", "int", "int.", "abundance", "relative intensity", "relative abundance", "rel. int.", "rel. intensity", "counts", "height", "%", "% of base":
		return true
	}
	return false
}

func plain(name string) string {
	if at := strings.IndexAny(name, "(["); at > 0 {
		name = name[:at]
	}
	return strings.ToLower(strings.Join(strings.Fields(strings.ReplaceAll(name, "_", " ")), " "))
}

// clip shortens what a message quotes.
func clip(text string) string {
	const most = 40
	if utf8.RuneCountInString(text) <= most {
		return text
	}
	return string([]rune(text)[:most]) + "..."
}

// Write writes the peaks under the header "m/z,intensity", with the fewest
// digits that give the same numbers back.
func Write(w io.Writer, s spectrum.Spectrum) error {
	out := bufio.NewWriter(w)
	fmt.Fprintln(out, "m/z,intensity")
	for _, p := range s.Peaks {
		fmt.Fprintf(out, "%s,%s\n", number(p.MZ), number(p.Intensity))
	}
	if err := out.Flush(); err != nil {
		return fmt.Errorf("writing a peak table: %w", err)
	}
	return nil
}

func number(value float64) string {
	if text := strconv.FormatFloat(value, 'f', -1, 64); len(text) <= 24 {
		return text
	}
	return strconv.FormatFloat(value, 'e', -1, 64)
}
