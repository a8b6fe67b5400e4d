package jcamp

import (
	"bufio"
	"bytes"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"
)

// lineReader gives the lines of a file one after the other, with one line of
// lookahead. Lines end with LF, CR or CR LF.
type lineReader struct {
	scanner *bufio.Scanner
	limits  Limits
	number  int    // of the current line, 1-based
	line    []byte // current line without its comment; valid until the next advance
	done    bool
	err     error
	latin1  int // first line that isn't UTF-8, or 0
}

func newLineReader(r io.Reader, limits Limits) *lineReader {
	scanner := bufio.NewScanner(r)
	scanner.Buffer(make([]byte, 0, min(4096, limits.LineBytes)), limits.LineBytes)
	scanner.Split(splitLines)
	lines := &lineReader{scanner: scanner, limits: limits}
	lines.advance()
	return lines
}

// splitLines is a bufio.SplitFunc for the three line ends.
func splitLines(data []byte, atEOF bool) (advance int, token []byte, err error) {
	for i, c := range data {
		switch {
		case c == '\n':
			return i + 1, data[:i], nil
		case c == '\r' && i+1 < len(data):
			if data[i+1] == '\n' {
				return i + 2, data[:i], nil
			}
			return i + 1, data[:i], nil
		case c == '\r' && atEOF:
			return i + 1, data[:i], nil
		case c == '\r':
			return 0, nil, nil // an LF may follow
		}
	}
	if atEOF && len(data) > 0 {
		return len(data), data, nil
	}
	return 0, nil, nil
}

// advance goes to the next line.
func (l *lineReader) advance() {
	if l.done {
		return
	}
	if !l.scanner.Scan() {
		l.done, l.line = true, nil
		l.number++
		switch err := l.scanner.Err(); {
		case errors.Is(err, bufio.ErrTooLong):
			l.err = &Error{l.number, fmt.Sprintf("more than %d bytes in a line; JCAMP-DX has lines of 80 characters", l.limits.LineBytes)}
		case err != nil:
			l.err = fmt.Errorf("reading JCAMP-DX: line %d: %w", l.number, err)
		}
		return
	}
	l.number++
	if err := l.scanner.Err(); err != nil {
		// What is still in the buffer may be cut off in the middle.
		l.err, l.done, l.line = fmt.Errorf("reading JCAMP-DX: line %d: %w", l.number, err), true, nil
		return
	}
	line := l.scanner.Bytes()
	if l.number == 1 {
		line = bytes.TrimPrefix(line, []byte("\xef\xbb\xbf")) // UTF-8 byte order mark
	}
	if bytes.IndexByte(line, 0) >= 0 {
		l.fail("a zero byte; JCAMP-DX is text (save a UTF-16 file as UTF-8)")
		return
	}
	if l.number > l.limits.Lines {
		l.fail(fmt.Sprintf("more than %d lines", l.limits.Lines))
		return
	}
	if i := bytes.Index(line, []byte("$$")); i >= 0 {
		line = line[:i]
	}
	if l.latin1 == 0 && !utf8.Valid(line) {
		l.latin1 = l.number
	}
	l.line = line
}

func (l *lineReader) fail(message string) {
	l.err, l.done, l.line = &Error{l.number, message}, true, nil
}

// atLabel reports whether the current line starts a labelled record.
func (l *lineReader) atLabel() bool {
	return !l.done && bytes.HasPrefix(bytes.TrimLeft(l.line, " \t"), []byte("##"))
}

// label splits the current line into the compared form of the label and the
// text after the equals sign. Only an end may come without one.
//
//	record = "##" label "=" text { line }
func (l *lineReader) label() (label, text string, err error) {
	line := decodeText(bytes.TrimLeft(l.line, " \t"))[2:]
	left, right, found := strings.Cut(line, "=")
	label = comparedLabel(left)
	if !found && label != "END" && label != "ENDNTUPLES" {
		return "", "", &Error{l.number, fmt.Sprintf("expected ##LABEL= here, but %q has no equals sign", clip(line))}
	}
	return label, strings.TrimSpace(right), nil
}

// comparedLabel returns a label as labels are compared: upper case, without
// space, "-", "/" and "_" (Appl. Spectrosc. 42 (1988) 151, section 4).
func comparedLabel(label string) string {
	return strings.ToUpper(strings.Map(func(r rune) rune {
		switch r {
		case ' ', '\t', '-', '/', '_':
			return -1
		}
		return r
	}, label))
}

// decodeText returns a line as a string, byte for byte as ISO 8859-1 where it
// isn't UTF-8.
func decodeText(line []byte) string {
	if utf8.Valid(line) {
		return string(line)
	}
	runes := make([]rune, len(line))
	for i, c := range line {
		runes[i] = rune(c)
	}
	return string(runes)
}

// clip shortens what a message quotes.
func clip(text string) string {
	const most = 40
	if utf8.RuneCountInString(text) <= most {
		return text
	}
	return string([]rune(text)[:most]) + "..."
}
