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

// readSteps reads a line of (X++(Y..Y)): the x of its first ordinate, then
// ordinates. Where the line before ended in DIF form, the first ordinate
// repeats the last one of that line as a check and is no new point.
func (d *decoder) readSteps(t *table, line []byte) error {
	number := d.lines.number
	numbers, err := ordinates(line, d.ordinates[:0])
	d.ordinates = numbers
	if err != nil {
		return &Error{number, err.Error()}
	}
	if numbers[0].form != absolute {
		return &Error{number, fmt.Sprintf("%q doesn't start with an m/z; expected lines of m/z and ordinates", clip(string(line)))}
	}
	t.at = append(t.at, abscissa{numbers[0].value, lastDigit(line)})
	first := len(t.y)
	numbers = numbers[1:]
	if len(numbers) == 0 {
		return &Error{number, fmt.Sprintf("%q has an m/z but no ordinate", clip(string(line)))}
	}
	var last ordinate // the form of the last ordinate, DUP seen through
	var step, y float64
	known := false
	if t.open {
		want := t.y[len(t.y)-1]
		if numbers[0].form != absolute {
			return &Error{number, fmt.Sprintf("%q has no check ordinate; after a line in DIF form the next repeats its last ordinate, %v, in full", clip(string(line)), want)}
		}
		if numbers[0].value != want {
			return &Error{number, fmt.Sprintf("the check ordinate is %v, but the line before ends at %v: the data are damaged at this line or the one before", numbers[0].value, want)}
		}
		first--
		last, y, known = numbers[0], want, true
		numbers = numbers[1:]
	}
	t.open = false
	t.startRow(number, first)
	for i, o := range numbers {
		repeat := 1
		switch o.form {
		case missing:
			if t.gap == 0 {
				t.gap = number
			}
			known = false
		case absolute:
			y, known = o.value, true
		case difference:
			if !known {
				return &Error{number, fmt.Sprintf("ordinate %d of the line is a difference, but no ordinate stands before it", i+1)}
			}
			step = o.value
			y += step
		case duplicate:
			if last.form == duplicate || (i == 0 && !known) {
				return &Error{number, fmt.Sprintf("ordinate %d of the line is a repeat count, but there is nothing before it to repeat", i+1)}
			}
			repeat = int(min(o.value, float64(d.limits.Points)+1)) - 1
			if last.form == difference {
				// The difference is what is repeated.
				for range repeat {
					y += step
					if err := d.addStep(t, y); err != nil {
						return err
					}
				}
				repeat = 0
			}
		}
		value := y
		if !known {
			value = math.NaN()
		}
		for range repeat {
			if err := d.addStep(t, value); err != nil {
				return err
			}
		}
		if o.form == duplicate {
			t.open = last.form == difference
			last = ordinate{form: duplicate}
			continue
		}
		last = o
		t.open = o.form == difference
	}
	return nil
}

// lastDigit returns half a unit of the last digit of the abscissa that starts a
// line; an exponent, which is rare there, counts as none.
func lastDigit(line []byte) float64 {
	unit, point := 1.0, false
	for i, c := range line {
		switch {
		case c == '.':
			point = true
		case isDigit(c) && point:
			unit /= 10
		case isDigit(c), i == 0: // a sign may stand first
		default:
			return unit / 2
		}
	}
	return unit / 2
}

// addStep appends an ordinate; NaN stands for a missing one.
func (d *decoder) addStep(t *table, y float64) error {
	if math.Abs(y) > exactInteger {
		return &Error{d.lines.number, fmt.Sprintf("the ordinate %v is too large to be added up exactly", y)}
	}
	if d.points++; d.points > d.limits.Points {
		return d.tooMany()
	}
	t.y = append(t.y, y)
	return nil
}

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
