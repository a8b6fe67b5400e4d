package source

import (
	"sort"
	"unicode/utf8"

	"ionwright/lesson/diag"
)

// Text is a piece of a lesson's source that knows where each of its parts
// stands in the file it came from, so that whoever finds a mistake in it can
// point at it. A Text made of pieces (a fenced block inside a quotation, a
// folded YAML string) keeps a mark for each. The zero Text is empty and stands
// nowhere.
type Text struct {
	Value string
	file  string
	marks []mark // ascending offset, the first at 0
}

// mark says that the byte Value[offset] stands at line and col (1-based, col
// in characters) of the file, and what follows it up to the next mark follows
// it on that line.
type mark struct{ offset, line, col int }

// fileText is the whole of a file.
func fileText(file, value string) Text {
	t := Text{Value: value, file: file, marks: []mark{{0, 1, 1}}}
	for i, line := 0, 1; i < len(value); i++ {
		if value[i] == '\n' {
			line++
			t.marks = append(t.marks, mark{i + 1, line, 1})
		}
	}
	return t
}

// IsZero reports whether the lesson says nothing here.
func (t Text) IsZero() bool { return t.marks == nil }

// File is the name of the file the text stands in.
func (t Text) File() string { return t.file }

// at gives line and col of a byte offset from 0 to len(Value).
func (t Text) at(offset int) (line, col int) {
	if len(t.marks) == 0 {
		return 0, 0
	}
	offset = max(0, min(offset, len(t.Value)))
	i := sort.Search(len(t.marks), func(i int) bool { return t.marks[i].offset > offset }) - 1
	m := t.marks[max(i, 0)]
	return m.line, m.col + utf8.RuneCountInString(t.Value[m.offset:offset])
}

// Span gives the place of Value[from:to]. Where the piece runs over several
// lines, the span ends with the first of them.
func (t Text) Span(from, to int) diag.Span {
	line, col := t.at(from)
	span := diag.Span{File: t.file, Line: line, Col: col}
	for _, m := range t.marks {
		if m.offset > from && m.offset < to && m.line != line {
			to = m.offset
			break
		}
	}
	to = min(to, len(t.Value))
	if to > from && t.Value[to-1] == '\n' {
		to--
	}
	if to > from && line > 0 {
		span.EndCol = col + utf8.RuneCountInString(t.Value[from:to])
	}
	return span
}

// Place gives the place of the whole text.
func (t Text) Place() diag.Span { return t.Span(0, len(t.Value)) }

// Sub is the piece Value[from:to] with its place.
func (t Text) Sub(from, to int) Text {
	line, col := t.at(from)
	sub := Text{Value: t.Value[from:to], file: t.file, marks: []mark{{0, line, col}}}
	for _, m := range t.marks {
		if m.offset > from && m.offset < to {
			sub.marks = append(sub.marks, mark{m.offset - from, m.line, m.col})
		}
	}
	return sub
}

// Trimmed is the text without white space at its ends.
func (t Text) Trimmed() Text {
	from, to := 0, len(t.Value)
	for from < to && isSpace(t.Value[from]) {
		from++
	}
	for to > from && isSpace(t.Value[to-1]) {
		to--
	}
	return t.Sub(from, to)
}

// join puts pieces of t, given as byte ranges in ascending order, one after
// another.
func (t Text) join(ranges [][2]int) Text {
	out := Text{file: t.file}
	var value []byte
	for _, r := range ranges {
		line, col := t.at(r[0])
		out.marks = append(out.marks, mark{len(value), line, col})
		value = append(value, t.Value[r[0]:r[1]]...)
	}
	if out.marks == nil {
		out.marks = []mark{{0, 1, 1}}
	}
	out.Value = string(value)
	return out
}

// offsetOf is the byte offset of line and col (1-based, within the text
// itself, not within its file). What lies outside is moved to the nearest
// place inside.
func (t Text) offsetOf(line, col int) int {
	offset := 0
	for ; line > 1; line-- {
		for offset < len(t.Value) && t.Value[offset] != '\n' {
			offset++
		}
		if offset == len(t.Value) {
			return offset
		}
		offset++
	}
	for ; col > 1 && offset < len(t.Value) && t.Value[offset] != '\n'; col-- {
		_, size := utf8.DecodeRuneInString(t.Value[offset:])
		offset += size
	}
	return offset
}

// align gives the place of every part of value, which a YAML reader made of
// what stands in t from start on by folding lines, taking off indentation and
// quotes. Where escapes make the two differ, the rest of the value stands
// where the difference began.
func (t Text) align(value string, start int) Text {
	out := Text{Value: value, file: t.file}
	line, col := t.at(start)
	out.marks = []mark{{0, line, col}}
	i, j, moved := 0, start, false
	for i < len(value) && j < len(t.Value) {
		switch {
		case value[i] == t.Value[j]:
			if moved {
				line, col := t.at(j)
				out.marks = append(out.marks, mark{i, line, col})
			}
			moved = value[i] == '\n'
			i, j = i+1, j+1
		case isSpace(value[i]) && isSpace(t.Value[j]):
			i, j, moved = i+1, j+1, true
		case isSpace(t.Value[j]):
			j, moved = j+1, true
		default:
			return out
		}
	}
	return out
}

func isSpace(c byte) bool { return c == ' ' || c == '\t' || c == '\n' || c == '\r' }
