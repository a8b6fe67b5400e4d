package jcamp

import (
	"fmt"
	"strings"
)

// readAssigned reads a line of (XYA). A text may go on in further lines.
//
//	entry = "(" number "," number [ "," "<" text ">" ] ")"
func (d *decoder) readAssigned(t *table, line []byte) error {
	number := d.lines.number
	entry, err := d.wholeEntry(decodeText(line))
	if err != nil {
		return err
	}
	for rest := entry; rest != ""; {
		a, after, err := assignment(rest)
		if err != nil {
			return &Error{number, fmt.Sprintf("%v in %q; expected entries such as (43, 100, <C2H3O+>)", err, clip(rest))}
		}
		t.startRow(number, len(t.x))
		if err := d.addPoint(t, a.MZ, a.Intensity); err != nil {
			return err
		}
		if d.text += overhead + len(a.Text); d.text > d.limits.AllText {
			return &Error{number, fmt.Sprintf("more than %d bytes of text", d.limits.AllText)}
		}
		t.text = append(t.text, a.Text)
		rest = strings.TrimLeft(after, " \t,;")
	}
	return nil
}

// wholeEntry returns the line with those after it that the text between < and >
// goes on in.
func (d *decoder) wholeEntry(line string) (string, error) {
	number := d.lines.number
	var whole strings.Builder
	whole.WriteString(line)
	for open := strings.LastIndexByte(line, '<') > strings.LastIndexByte(line, '>'); open; {
		d.lines.advance()
		if d.lines.err != nil {
			return "", d.lines.err
		}
		if d.lines.done || d.lines.atLabel() {
			return "", &Error{number, fmt.Sprintf("the text of %q has no closing >", clip(line))}
		}
		more := strings.TrimSpace(decodeText(d.lines.line))
		if end := strings.LastIndexByte(more, '>'); end >= 0 {
			open = strings.LastIndexByte(more, '<') > end
		}
		whole.WriteString(" " + more)
		if whole.Len() > d.limits.TextBytes {
			return "", &Error{number, fmt.Sprintf("an assignment of more than %d bytes", d.limits.TextBytes)}
		}
	}
	return whole.String(), nil
}

// assignment reads one entry of (XYA) and returns what follows it.
func assignment(text string) (a Assignment, rest string, err error) {
	inside, found := strings.CutPrefix(text, "(")
	if !found {
		return a, "", fmt.Errorf("no opening (")
	}
	end := strings.IndexAny(inside, "<)")
	if end < 0 {
		return a, "", fmt.Errorf("no closing )")
	}
	numbers := strings.FieldsFunc(inside[:end], func(r rune) bool { return r == ',' || r == ' ' || r == '\t' })
	if len(numbers) != 2 {
		return a, "", fmt.Errorf("%d numbers where m/z and intensity belong", len(numbers))
	}
	if a.MZ, err = plainNumber(numbers[0]); err != nil {
		return a, "", err
	}
	if a.Intensity, err = plainNumber(numbers[1]); err != nil {
		return a, "", err
	}
	rest = inside[end:]
	if after, found := strings.CutPrefix(rest, "<"); found {
		a.Text, rest, _ = strings.Cut(after, ">")
		rest = strings.TrimLeft(rest, " \t")
	}
	rest, found = strings.CutPrefix(rest, ")")
	if !found {
		return a, "", fmt.Errorf("no closing )")
	}
	return a, rest, nil
}
