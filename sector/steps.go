package sector

import (
	"fmt"
	"math"
)

// Bounds of the number of steps of a sweep, and how many of them fall into the
// width of the narrowest peak where the number isn't given.
const (
	mostSteps        = 10_000_000
	fewestByDefault  = 1000
	mostByDefault    = 1_000_000
	stepsAcrossAPeak = 10
)

// ramp is a range that a sweep goes through.
type ramp struct {
	what, unit  string // such as "T"
	from, to    float64
	steps       int     // 0: enough for peaks of this width
	width       float64 // relative, of the narrowest peak
	exponential bool
}

// points returns the values from one end to the other.
func (r ramp) points() ([]float64, error) {
	for _, end := range []quantity{{"start of the sweep", r.from, r.unit, "a sweep starts at a positive " + r.what}, {"end of the sweep", r.to, r.unit, "a sweep ends at a positive " + r.what}} {
		if err := check(end); err != nil {
			return nil, err
		}
	}
	if r.to <= r.from {
		return nil, &SettingError{"end of the sweep", r.to, r.unit, fmt.Sprintf("not above its start of %.6g %s", r.from, r.unit)}
	}
	n := r.steps
	if n == 0 {
		across := (r.to/r.from - 1) / r.width
		if r.exponential {
			across = math.Log(r.to/r.from) / r.width
		}
		n = int(min(max(math.Ceil(across*stepsAcrossAPeak), fewestByDefault), mostByDefault))
	}
	if n < 2 || n > mostSteps {
		return nil, &SettingError{"number of steps", float64(n), "", fmt.Sprintf("expected 2 to %d", mostSteps)}
	}
	out := make([]float64, n)
	for at := range out {
		part := float64(at) / float64(n-1)
		if r.exponential {
			out[at] = r.from * math.Pow(r.to/r.from, part)
		} else {
			out[at] = r.from + (r.to-r.from)*part
		}
	}
	return out, nil
}

// record adds to y what the points x between from and to get, and reports
// whether any of them gets something.
func record(x, y []float64, from, to float64, current func(x float64) float64) bool {
	seen := false
	for at := firstFrom(x, from); at < len(x) && x[at] <= to; at++ {
		got := current(x[at])
		y[at] += got
		seen = seen || got > 0
	}
	return seen
}

// firstFrom returns the index of the first of the ascending x that isn't below
// from.
func firstFrom(x []float64, from float64) int {
	low, high := 0, len(x)
	for low < high {
		if middle := (low + high) / 2; x[middle] < from {
			low = middle + 1
		} else {
			high = middle
		}
	}
	return low
}
