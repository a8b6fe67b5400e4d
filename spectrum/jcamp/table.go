package jcamp

import (
	"bytes"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// shape is the arrangement of a data table.
type shape uint8

const (
	pairs    shape = iota // (XY..XY)
	steps                 // (X++(Y..Y))
	assigned              // (XYA)
)

// table is a data table as it stands in the file, before factors.
type table struct {
	label string
	shape shape
	line  int // of its label
	x, y  []float64
	rows  []row
	at    []abscissa // steps: of each row
	text  []string   // of assigned
	gap   int        // line of the first "?" among the ordinates, or 0
	open  bool       // steps: the last line ended in DIF form, without its check
}

// row says which point a line of the table starts with. (int32 because there is
// one for each line; Limits keep both far below.)
type row struct{ line, index int32 }

// abscissa is the m/z that a line of (X++(Y..Y)) starts with.
type abscissa struct {
	x        float64 // as written
	rounding float64 // half a unit of its last digit
}

// lineOf returns the line that point i came from.
func (t *table) lineOf(i int) int {
	line := t.line
	for _, r := range t.rows {
		if int(r.index) > i {
			break
		}
		line = int(r.line)
	}
	return line
}

// startRow notes that line starts with point index.
func (t *table) startRow(line, index int) {
	t.rows = append(t.rows, row{int32(min(line, math.MaxInt32)), int32(min(index, math.MaxInt32))})
}

// shapeOf reads the form that follows a table's label, such as "(XY..XY)", for
// the symbols x and y. Text after it is allowed.
func shapeOf(form, x, y string) (shape, bool) {
	form = strings.ToUpper(strings.Join(strings.Fields(form), ""))
	for s, want := range [...]string{
		pairs:    "(" + x + y + ".." + x + y + ")",
		steps:    "(" + x + "++(" + y + ".." + y + "))",
		assigned: "(" + x + y + "A)",
	} {
		if strings.HasPrefix(form, want) {
			return shape(s), true
		}
	}
	return 0, false
}

// readTable reads the lines of a data table up to the next label.
func (d *decoder) readTable(t *table) error {
	for d.lines.advance(); !d.lines.done && !d.lines.atLabel(); d.lines.advance() {
		line := bytes.TrimSpace(d.lines.line)
		if len(line) == 0 {
			continue
		}
		var err error
		switch t.shape {
		case pairs:
			err = d.readPairs(t, line)
		case steps:
			err = d.readSteps(t, line)
		case assigned:
			err = d.readAssigned(t, line)
		}
		if err != nil {
			return err
		}
	}
	return d.lines.err
}

// readPairs reads a line of (XY..XY).
//
//	line = pair { [ ";" ] pair } ; pair = number [ "," ] number
func (d *decoder) readPairs(t *table, line []byte) error {
	number := d.lines.number
	t.startRow(number, len(t.x))
	var x float64
	half := false // an x waits for its y
	first := len(t.x)
	separator := false // a comma or semicolon came since the last number
	for i := 0; i < len(line); {
		c := line[i]
		switch c {
		case ' ', '\t':
			i++
			continue
		case ',', ';':
			if separator || (c == ';' && half) || (len(t.x) == first && !half) {
				return &Error{number, fmt.Sprintf("a number is missing before %q in %q", c, clip(string(line)))}
			}
			separator = true
			i++
			continue
		}
		end := i
		for end < len(line) && !isSeparator(line[end]) {
			end++
		}
		value, err := plainNumber(string(line[i:end]))
		if err != nil {
			return &Error{number, err.Error() + "; expected pairs of m/z and intensity, such as 43,100 58,25"}
		}
		i, separator = end, false
		if !half {
			x, half = value, true
			continue
		}
		half = false
		if err := d.addPoint(t, x, value); err != nil {
			return err
		}
	}
	if half {
		return &Error{number, fmt.Sprintf("m/z %v at the end of %q has no intensity; expected pairs of m/z and intensity, such as 43,100 58,25", x, clip(string(line)))}
	}
	return nil
}

func (d *decoder) tooMany() error {
	return &Error{d.lines.number, fmt.Sprintf("more than %d points", d.limits.Points)}
}

func isSeparator(c byte) bool { return c == ' ' || c == '\t' || c == ',' || c == ';' }

// addPoint appends a point within the limit.
func (d *decoder) addPoint(t *table, x, y float64) error {
	if d.points++; d.points > d.limits.Points {
		return d.tooMany()
	}
	t.x, t.y = append(t.x, x), append(t.y, y)
	return nil
}

// plainNumber reads a decimal number with an optional exponent.
func plainNumber(text string) (float64, error) {
	for i := 0; i < len(text); i++ {
		switch c := text[i]; {
		case isDigit(c), c == '.', c == '+', c == '-', c == 'e', c == 'E':
		default:
			return 0, fmt.Errorf("%q isn't a number", clip(text))
		}
	}
	value, err := strconv.ParseFloat(text, 64)
	if err != nil || math.IsInf(value, 0) {
		return 0, fmt.Errorf("%q isn't a number", clip(text))
	}
	return value, nil
}
