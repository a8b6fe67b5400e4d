package jcamp

import (
	"fmt"
	"math"
)

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
