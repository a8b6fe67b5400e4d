package sector

import "math"

// Limits of the drift that EnergyFocus looks through, in radii of the magnet.
const (
	longestBetween = 20.0
	betweenSteps   = 2000
)

// EnergyFocus returns the shortest drift between electric sector and magnet for
// which ions of different energy meet at the image of the source slit: the
// instrument is then double focusing. The collector is taken to follow the
// image. It fails without an electric sector and where no drift up to twenty
// radii does it.
func (i Instrument) EnergyFocus() (Metre, error) {
	if i.Electric == nil {
		return 0, &SettingError{"number of electric sectors", 0, "", "one magnet focuses only slopes; energies need an electric sector too"}
	}
	i.After = 0
	e := *i.Electric
	i.Electric = &e
	e.Between = 0
	if err := check(radius(i.Radius)); err != nil {
		return 0, err
	}
	if err := e.check(); err != nil {
		return 0, err
	}
	energy := func(between float64) (float64, bool) {
		e.Between = Metre(between)
		if i.Check() != nil {
			return 0, false
		}
		o, err := i.optics()
		return o.energy, err == nil
	}
	step := longestBetween * float64(i.Radius) / betweenSteps
	last, known := energy(0)
	for n := 1; n <= betweenSteps; n++ {
		here, ok := energy(step * float64(n))
		if known && ok && last*here <= 0 {
			return Metre(bisect(func(x float64) float64 { y, _ := energy(x); return y }, step*float64(n-1), step*float64(n))), nil
		}
		last, known = here, ok
	}
	return 0, &SettingError{"drift from electric sector to magnet", step * betweenSteps, "m", "up to this drift ions of different energy don't meet where those of different slope do; change the radii, angles or the drift before"}
}

// bisect returns a zero of f between a and b, where f has different signs, to
// the last digits.
func bisect(f func(float64) float64, a, b float64) float64 {
	low := f(a)
	for range 200 {
		middle := (a + b) / 2
		if middle == a || middle == b {
			break
		}
		if y := f(middle); math.Signbit(y) == math.Signbit(low) {
			a = middle
		} else {
			b = middle
		}
	}
	return b
}
