package sector

import (
	"math"
	"slices"
)

// response is what the instrument makes of one ion: the share of its current
// that gets through the collector slit when its image lies at x. The image of
// the source slit, evenly lit, moving across the collector slit gives a
// trapezoid; divergence and energies widen it.
type response struct {
	image, collector float64   // widths of image and slit, m
	low, step        float64   // of the table, m
	table            []float64 // share at low + i step; nil for the trapezoid itself
}

// Numbers of points that the response is computed with.
const (
	slopeNodes     = 2048
	responsePoints = 4096
	thermalTail    = 14 // energies up to so many kT: the rest is below a millionth
)

// response returns the response of the instrument.
func (i Instrument) response(o optics) (response, error) {
	s := response{image: math.Abs(o.magnification) * float64(i.SourceSlit), collector: float64(i.CollectorSlit)}
	var aberration float64
	alpha := float64(i.Divergence)
	if alpha > 0 {
		var err error
		if aberration, err = i.aberration(o); err != nil {
			return s, err
		}
	}
	// What arrives beside the image lies in the slit when the image lies as
	// far on the other side.
	offset := func(slope float64) float64 { return -(o.defocus*slope + aberration*slope*slope) }
	left, right := min(0, offset(alpha), offset(-alpha)), max(0, offset(alpha), offset(-alpha))
	if aberration != 0 {
		if turn := -o.defocus / (2 * aberration); math.Abs(turn) < alpha {
			left, right = min(left, offset(turn)), max(right, offset(turn))
		}
	}
	// What the energies add: an even spread, and thermal ones, which only add.
	spread := math.Abs(o.energy) * float64(i.EnergySpread/i.Voltage)
	thermal := -o.energy * boltzmann * float64(i.Temperature) / float64(i.Voltage)
	reach := (s.image + s.collector) / 2
	// A slope that hits a wall brings nothing.
	gates := i.gates()
	passes := func(slope float64) bool {
		for _, g := range gates {
			if !g.passes(0, slope, 0) {
				return false
			}
		}
		return true
	}
	if right-left < 1e-6*reach && spread < 1e-6*reach && math.Abs(thermal) < 1e-6*reach {
		return s, nil
	}
	s.low = left - reach - spread/2 + min(thermal, 0)*thermalTail
	high := right + reach + spread/2 + max(thermal, 0)*thermalTail
	s.step = (high - s.low) / (responsePoints - 1)
	// The slopes are evenly spread; what each adds is shared between the two
	// points beside it, which keeps its mean. Source slit, collector slit and
	// the spread of energies then each take a running mean.
	table := make([]float64, responsePoints)
	passed := 0
	for n := range slopeNodes {
		slope := alpha * (2*(float64(n)+0.5)/slopeNodes - 1)
		if !passes(slope) {
			continue
		}
		passed++
		at := (offset(slope) - s.low) / s.step
		k := min(int(at), responsePoints-2)
		part := at - float64(k)
		table[k] += (1 - part) / slopeNodes
		table[k+1] += part / slopeNodes
	}
	table = averaged(table, s.image/s.step)
	table = averaged(table, s.collector/s.step)
	table = averaged(table, spread/s.step)
	delayed(table, thermal/s.step)
	// The area stays that of the slit; what was cut off or rounded goes here.
	var area float64
	for _, share := range table {
		area += share * s.step
	}
	if passed == 0 {
		return s, &SettingError{"chamber width", float64(i.Chamber), "m", "so narrow that the whole beam hits a wall"}
	}
	for at := range table {
		table[at] *= s.collector / area * float64(passed) / slopeNodes
	}
	s.table = table
	return s, nil
}

// averaged returns the running mean over a width, in points.
func averaged(y []float64, width float64) []float64 {
	if width < 1e-3 {
		return y
	}
	// The integral up to each point, by trapezoids, and between them.
	sums := make([]float64, len(y))
	for i := 1; i < len(y); i++ {
		sums[i] = sums[i-1] + (y[i]+y[i-1])/2
	}
	upTo := func(x float64) float64 {
		if x <= 0 {
			return 0
		}
		i := int(x)
		if i >= len(y)-1 {
			return sums[len(y)-1]
		}
		part := x - float64(i)
		return sums[i] + part*(y[i]+part*(y[i+1]-y[i])/2)
	}
	out := make([]float64, len(y))
	for i := range out {
		out[i] = (upTo(float64(i)+width/2) - upTo(float64(i)-width/2)) / width
	}
	return out
}

// delayed folds y with an exponential tail of the given mean, in points; a
// negative one goes the other way.
func delayed(y []float64, mean float64) {
	if math.Abs(mean) < 1e-3 {
		return
	}
	if mean < 0 {
		slices.Reverse(y)
		defer slices.Reverse(y)
		mean = -mean
	}
	keep := math.Exp(-1 / mean)
	// Exact for y that is straight between points.
	newer := 1 - mean*(1-keep)
	older := mean*(1-keep) - keep
	value, last := 0.0, 0.0
	for i, now := range y {
		value = keep*value + older*last + newer*now
		last, y[i] = now, value
	}
}

// trapezoid returns the share of an evenly lit image that lies in the slit when
// its center is at x.
func (s response) trapezoid(x float64) float64 {
	left := max(x-s.image/2, -s.collector/2)
	right := min(x+s.image/2, s.collector/2)
	switch {
	case right < left:
		return 0
	case s.image == 0:
		return 1
	}
	return min((right-left)/s.image, 1)
}

// share returns the share, 0 to 1, that gets through when the image lies at x.
func (s response) share(x float64) float64 {
	if s.table == nil {
		return s.trapezoid(x)
	}
	at := (x - s.low) / s.step
	i := int(at)
	if !(at >= 0) || i >= len(s.table)-1 {
		return 0
	}
	part := at - float64(i)
	return min(s.table[i]*(1-part)+s.table[i+1]*part, 1)
}

// mean returns the mean share over places of the image from a to b.
func (s response) mean(a, b float64) float64 {
	low, high := s.bounds()
	from, to := max(a, low), min(b, high)
	switch {
	case b-a < 1e-9*(high-low):
		return s.share((a + b) / 2)
	case to <= from:
		return 0
	}
	const points = 64
	var sum float64
	for n := range points {
		sum += s.share(from + (to-from)*(float64(n)+0.5)/points)
	}
	return sum / points * (to - from) / (b - a)
}

// bounds returns between which places of the image anything gets through.
func (s response) bounds() (low, high float64) {
	if s.table == nil {
		return -(s.image + s.collector) / 2, (s.image + s.collector) / 2
	}
	// A thermal tail ends where a millionth of the peak is left.
	last := len(s.table) - 1
	for last > 0 && s.table[last] < 1e-6 {
		last--
	}
	first := 0
	for first < last && s.table[first] < 1e-6 {
		first++
	}
	return s.low + s.step*float64(max(first-1, 0)), s.low + s.step*float64(min(last+1, len(s.table)-1))
}
