package jcamp

import (
	"math"
	"strconv"

	"ionwright/spectrum"
)

// steps writes XYDATA=(X++(Y..Y)).
func (e *encoder) steps(peaks []spectrum.Peak, form Form) {
	if len(peaks) == 0 {
		e.fail("XYDATA can't hold a spectrum without peaks; a peak table can")
		return
	}
	x, values, ok := evenly(peaks)
	if !ok {
		e.fail("XYDATA needs whole or evenly spaced m/z (at most %d); write a peak table", DefaultLimits.Points)
		return
	}
	y, factor, ok := wholeNumbers(values)
	if !ok {
		e.fail("XYDATA can't hold the intensities exactly: they need more than 15 digits; write a peak table")
		return
	}
	n := len(y)
	e.record("XFACTOR", "1")
	e.record("YFACTOR", factor)
	if n > 1 {
		e.record("DELTAX", number(x(1)-x(0)))
	}
	e.ends(n, x(0), x(n-1), values[0])
	e.record("XYDATA", "(X++(Y..Y))")
	switch form {
	case Difference, Duplicate:
		e.differences(x, y, form == Duplicate)
	default:
		e.absolutes(x, y, form)
	}
}

// evenly returns the even grid under the peaks and the intensities on it.
func evenly(peaks []spectrum.Peak) (x func(i int) float64, values []float64, ok bool) {
	n := len(peaks)
	first, last := peaks[0].MZ, peaks[n-1].MZ
	whole := last-first < float64(DefaultLimits.Points)
	for _, p := range peaks {
		whole = whole && p.MZ == math.Trunc(p.MZ)
	}
	if whole {
		values = make([]float64, int(last-first)+1)
		for _, p := range peaks {
			values[int(p.MZ-first)] = p.Intensity
		}
		return func(i int) float64 { return first + float64(i) }, values, true
	}
	// The same arithmetic as in reading, so that the m/z come back exactly.
	x = func(i int) float64 { return first + (last-first)*float64(i)/float64(max(n-1, 1)) }
	for i, p := range peaks {
		if x(i) != p.MZ || n > DefaultLimits.Points {
			return nil, nil, false
		}
		values = append(values, p.Intensity)
	}
	return x, values, true
}

// wholeNumbers returns the intensities as whole numbers and the factor 10^-k,
// as text, that gives them back exactly.
func wholeNumbers(values []float64) (whole []float64, factor string, ok bool) {
	whole = make([]float64, len(values))
	tens := 1.0
	for k := range 16 {
		ok = true
		for i, v := range values {
			whole[i] = math.Round(v * tens)
			if !(whole[i] < 1e15) || whole[i]/tens != v {
				ok = false
				break
			}
		}
		if ok {
			if k == 0 {
				return whole, "1", true
			}
			return whole, "1E-" + strconv.Itoa(k), true
		}
		tens *= 10
	}
	return nil, "", false
}

// absolutes writes lines of an abscissa and ordinates in full.
func (e *encoder) absolutes(x func(int) float64, y []float64, form Form) {
	for i := 0; i < len(y); {
		line := number(x(i))
		for start := i; i < len(y); i++ {
			digits := strconv.FormatFloat(y[i], 'f', -1, 64)
			switch form {
			case Fixed:
				digits = " " + digits
			case Packed:
				digits = "+" + digits
			case Squeezed:
				digits = squeezed(y[i])
			}
			if i > start && len(line)+len(digits) > width {
				break
			}
			line += digits
		}
		e.line(line)
	}
}

// differences writes lines of an abscissa, an ordinate in full, and
// differences. Each line after the first repeats the last ordinate as a check,
// and so does a last line of its own.
func (e *encoder) differences(x func(int) float64, y []float64, count bool) {
	line := number(x(0)) + squeezed(y[0])
	for i := 1; i < len(y); {
		step := y[i] - y[i-1]
		run := 1
		for count && i+run < len(y) && y[i+run]-y[i+run-1] == step {
			run++
		}
		token := compressed(step, '%', 'J', 'j')
		if run > 1 {
			token += repeated(run)
		}
		if len(line)+len(token) > width {
			e.line(line)
			line = number(x(i-1)) + squeezed(y[i-1])
		}
		line += token
		i += run
	}
	e.line(line)
	if n := len(y); n > 1 {
		e.line(number(x(n-1)) + squeezed(y[n-1]))
	}
}

// squeezed is a number in SQZ form.
func squeezed(value float64) string { return compressed(value, '@', 'A', 'a') }

// compressed writes a whole number with a pseudo-digit in front.
func compressed(value float64, zero, plus, minus byte) string {
	digits := strconv.FormatFloat(math.Abs(value), 'f', -1, 64)
	first := digits[0] - '0'
	switch {
	case first == 0:
		return string(zero)
	case value < 0:
		return string(minus+first-1) + digits[1:]
	}
	return string(plus+first-1) + digits[1:]
}

// repeated is a repeat count in DUP form.
func repeated(n int) string {
	digits := strconv.Itoa(n)
	return string("STUVWXYZs"[digits[0]-'1']) + digits[1:]
}
