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
	"strconv"
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
