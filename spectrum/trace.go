package spectrum

import (
	"fmt"
	"math"
)

// Trace is what a detector records while something is swept: the signal Y
// against X. X and Y have the same length and X never goes back.
type Trace struct {
	X     []float64 // the swept quantity, in XUnit
	Y     []float64 // the signal, in any one unit
	XUnit string    // "T", "V", "s" or "m/z"
}

// Check returns an error that names the first place where X and Y aren't what
// a Trace promises: the same length, finite numbers, X ascending.
func (t Trace) Check() error {
	if len(t.X) != len(t.Y) {
		return fmt.Errorf("checking a trace: %d values of x but %d of y", len(t.X), len(t.Y))
	}
	for i, x := range t.X {
		if math.IsNaN(x) || math.IsInf(x, 0) || math.IsNaN(t.Y[i]) || math.IsInf(t.Y[i], 0) {
			return fmt.Errorf("checking a trace: point %d is (%v, %v); both must be finite", i+1, x, t.Y[i])
		}
		if i > 0 && x < t.X[i-1] {
			return fmt.Errorf("checking a trace: x goes back from %v to %v at point %d", t.X[i-1], x, i+1)
		}
	}
	return nil
}

// Area returns the area under the trace in units of X times Y, by the
// trapezoidal rule; 0 for fewer than two points.
func (t Trace) Area() float64 {
	var sum float64
	for i := 1; i < len(t.X); i++ {
		sum += (t.X[i] - t.X[i-1]) * (t.Y[i] + t.Y[i-1]) / 2
	}
	return sum
}
