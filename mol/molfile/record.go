package molfile

import (
	"fmt"

	"ionwright/mol"
)

// Record is one molecule of a file.
type Record struct {
	Name    string // first line of the header, at most 80 characters
	Comment string // third line of the header
	Mol     *mol.Mol
	Points  []Point // coordinates by atom; empty where there are none
	Data    []Field // data items of an SD file, in their order
}

// Point is a place in the drawing plane or in space, in the file's units
// (customarily angstrom).
type Point struct{ X, Y, Z float64 }

// Field is a data item of an SD file.
type Field struct{ Name, Value string }

// Error says why a file can't be read, and where.
type Error struct {
	Line    int    // 1-based
	Text    string // the line, or the part that is wrong
	Problem string
	Hint    string // what to do, "" where nothing is to be said
}

// Error gives line, text and problem; the hint follows on a line of its own.
func (e *Error) Error() string {
	text := e.Text
	if len(text) > maxQuoted {
		text = text[:maxQuoted] + "..."
	}
	message := fmt.Sprintf("reading a connection table: line %d, %q: %s", e.Line, text, e.Problem)
	if e.Hint != "" {
		message += "\nhint: " + e.Hint
	}
	return message
}

// maxQuoted bounds how much of a line an error quotes, in bytes.
const maxQuoted = 80
