package sector

import (
	"fmt"
	"math"
	"sort"

	"ionwright/spectrum"
)

// Contribution is what one cause adds to the width of a peak.
type Contribution struct {
	Cause string
	Width Metre   // at the collector, full width
	Parts float64 // the same as a part of m/z: width 1e-3 is 0.1 at m/z 100
}

// Budget tells what the width of a peak at its base is made of.
type Budget struct {
	Contributions  []Contribution // largest first
	Slits          float64        // resolving power that the two slits alone leave
	All            float64        // resolving power with all contributions added up
	Magnification  float64
	Dispersion     Metre // at the collector, per relative excess of m/z
	LargestHinders string
}

// Budget returns the contributions to the width of a peak: image of the source
// slit, collector slit, second-order error of the slope, defocus, spread of
// energies, and thermal energies (to the energy that one in a hundred passes,
// 4.6 kT). Adding them up is the width at the base; a width at half height is
// smaller, and only measured ones compare (Resolution).
func (i Instrument) Budget() (Budget, error) {
	if err := i.Check(); err != nil {
		return Budget{}, err
	}
	o, err := i.optics()
	if err != nil {
		return Budget{}, err
	}
	aberration := 0.0
	if i.Divergence > 0 {
		if aberration, err = i.aberration(o); err != nil {
			return Budget{}, err
		}
	}
	const onePercent = 4.605170185988092 // ln 100
	alpha, volts := float64(i.Divergence), float64(i.Voltage)
	widths := []Contribution{
		{Cause: "image of the source slit", Width: Metre(math.Abs(o.magnification) * float64(i.SourceSlit))},
		{Cause: "collector slit", Width: i.CollectorSlit},
		{Cause: "second-order error of the slope", Width: Metre(math.Abs(aberration) * alpha * alpha)},
		{Cause: "defocus", Width: Metre(2 * math.Abs(o.defocus) * alpha)},
		{Cause: "spread of energies", Width: Metre(math.Abs(o.energy) * float64(i.EnergySpread) / volts)},
		{Cause: "thermal energies", Width: Metre(math.Abs(o.energy) * onePercent * boltzmann * float64(i.Temperature) / volts)},
	}
	b := Budget{Magnification: o.magnification, Dispersion: Metre(o.dispersion / 2)}
	slits, all := 0.0, 0.0
	for at := range widths {
		w := &widths[at]
		w.Parts = float64(w.Width / b.Dispersion)
		all += w.Parts
		if at < 2 {
			slits += w.Parts
		}
	}
	b.Slits, b.All = 1/slits, 1/all
	const nothing = 1e-12 // in m: less is rounding
	for _, w := range widths {
		if w.Width > nothing {
			b.Contributions = append(b.Contributions, w)
		}
	}
	sort.SliceStable(b.Contributions, func(x, y int) bool { return b.Contributions[x].Width > b.Contributions[y].Width })
	b.LargestHinders = b.Contributions[0].Cause
	return b, nil
}

// Resolution is the resolving power m over width, measured from a recorded
// peak.
type Resolution struct {
	MZ         float64 // of the peak's center
	Valley10   float64 // by its width at 5 % of its height: two such peaks, equally high, have a valley of 10 % between them
	HalfHeight float64 // by its full width at half maximum
}

// Resolution measures the resolving power from the peak of a trace against the
// field that is nearest to m/z mz. It fails where the trace holds no peak, or
// one that isn't isolated: the signal beside it doesn't fall below 5 % of its
// height.
func (i Instrument) Resolution(t spectrum.Trace, mz float64) (Resolution, error) {
	against, err := i.MZTrace(t)
	if err != nil {
		return Resolution{}, err
	}
	if err := check(massToCharge(mz)); err != nil {
		return Resolution{}, err
	}
	nearest := -1
	for at, y := range against.Y {
		if y > 0 && (nearest < 0 || math.Abs(against.X[at]-mz) < math.Abs(against.X[nearest]-mz)) {
			nearest = at
		}
	}
	if nearest < 0 {
		return Resolution{}, fmt.Errorf("measuring the resolving power at m/z %v: the trace has no signal", mz)
	}
	top := climb(against.Y, nearest)
	var r Resolution
	for _, level := range []struct {
		part  float64
		power *float64
	}{{0.05, &r.Valley10}, {0.5, &r.HalfHeight}} {
		left, ok1 := crossing(against, top, -1, level.part)
		right, ok2 := crossing(against, top, 1, level.part)
		if !ok1 || !ok2 {
			return Resolution{}, fmt.Errorf("measuring the resolving power at m/z %v: the peak at m/z %.4f isn't isolated; beside it the signal doesn't fall to %v %% of its height", mz, against.X[top], level.part*100)
		}
		r.MZ = (left + right) / 2
		*level.power = r.MZ / (right - left)
	}
	return r, nil
}

// climb goes uphill from a point, over what isn't lower, and returns the
// highest point it comes to.
func climb(y []float64, at int) int {
	for _, direction := range []int{-1, 1} {
		for next := at + direction; next >= 0 && next < len(y) && y[next] >= y[at]*valley; next += direction {
			if y[next] > y[at] {
				at = next
			}
		}
	}
	return at
}

// crossing goes from the top of a peak in one direction until the trace falls
// to a part of its height, and returns where. It returns false where the trace
// ends before, or rises again to more than it has fallen.
func crossing(t spectrum.Trace, top, direction int, part float64) (x float64, ok bool) {
	height, low := t.Y[top], t.Y[top]
	for at := top + direction; at >= 0 && at < len(t.Y); at += direction {
		low = min(low, t.Y[at])
		switch {
		case t.Y[at] > height/valley, low < height/2 && t.Y[at] > 1.2*height/2:
			return 0, false
		case t.Y[at] <= part*height:
			before := at - direction
			share := (t.Y[before] - part*height) / (t.Y[before] - t.Y[at])
			return t.X[before] + share*(t.X[at]-t.X[before]), true
		}
	}
	return 0, false
}
