package plot

import (
	"math"
	"strconv"
	"strings"
)

// MZ writes an m/z as a spectrum of unit resolution knows it: a whole number,
// or with its half for a doubly charged ion of odd mass. decimals > 0 asks for
// that many places, for an instrument that can tell them.
func MZ(mz float64, decimals int) string {
	if decimals > 0 {
		return strconv.FormatFloat(mz, 'f', decimals, 64)
	}
	if half := math.Round(2*mz) / 2; math.Abs(mz-half) < 1e-6 && half != math.Round(half) {
		return strconv.FormatFloat(half, 'f', 1, 64)
	}
	return strconv.FormatFloat(math.Floor(mz+0.5), 'f', 0, 64)
}

// Percent writes a relative intensity of percent % of the base peak with the
// digits that a recorded one has: whole numbers from 10 %, one decimal below,
// and "<0.1" for less than can be told from nothing.
func Percent(percent float64) string {
	switch {
	case percent >= 9.95:
		return strconv.FormatFloat(percent, 'f', 0, 64)
	case percent >= 0.05:
		return strconv.FormatFloat(percent, 'f', 1, 64)
	case percent > 0:
		return "<0.1"
	}
	return "0"
}

// tickText writes the value of a tick whose neighbours are step away, with as
// many decimals as step needs and a true minus sign.
func tickText(v, step float64) string {
	decimals := 0
	for s := step; decimals < 9 && math.Abs(s-math.Round(s)) > 1e-6*step; decimals++ {
		s *= 10
		step *= 10
	}
	text := strconv.FormatFloat(v, 'f', decimals, 64)
	if strings.Trim(text, "-0.") == "" {
		return strings.TrimPrefix(text, "-")
	}
	return strings.Replace(text, "-", "−", 1)
}

// niceStep is the smallest of 1, 2, 5 times a power of ten that is at least
// atLeast; atLeast must be positive and finite.
func niceStep(atLeast float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(atLeast)))
	for _, m := range []float64{1, 2, 5, 10} {
		if m*power >= atLeast*(1-1e-9) {
			return m * power
		}
	}
	return 10 * power
}

// ticks lists the multiples of step from lo to hi.
func ticks(lo, hi, step float64) []float64 {
	var out []float64
	first := math.Ceil(lo/step - 1e-9)
	for i := 0; i < 10000; i++ {
		v := (first + float64(i)) * step
		if v > hi+1e-9*math.Abs(step) {
			break
		}
		out = append(out, v)
	}
	return out
}
