package sector

import (
	"math"
	"math/rand/v2"
	"testing"
)

// bench is a 90-degree instrument with tilted faces, out of symmetry.
var tilted = Instrument{Radius: 0.2, Voltage: 3000, SourceSlit: 1e-4, CollectorSlit: 1e-4, Angle: math.Pi / 2, Before: 0.45, EntryFace: 0.3, ExitFace: -0.2}

// double is Nier and Johnson's arrangement in outline: an electric sector of 90
// degrees, then a magnet of 60; the radii are ours.
var double = Instrument{Radius: 0.15, Voltage: 3000, SourceSlit: 1e-4, CollectorSlit: 1e-4, Angle: math.Pi / 3, Before: 0.07,
	Electric: &ElectricSector{Radius: 0.19, Angle: math.Pi / 2, Between: 0.35}}

func instruments() map[string]Instrument {
	opposite := double
	e := *double.Electric
	e.Opposite = true
	opposite.Electric = &e
	return map[string]Instrument{
		"half circle": {Radius: 0.25, Voltage: 4000, SourceSlit: 1e-4, CollectorSlit: 1e-4},
		"60 degrees":  {Radius: 0.25, Voltage: 4000, SourceSlit: 1e-4, CollectorSlit: 1e-4, Angle: math.Pi / 3, Before: Metre(0.25 / math.Tan(math.Pi/6))},
		"tilted":      tilted,
		"double":      double,
		"opposite":    opposite,
	}
}

// The matrices are the slopes of the exact paths.
func TestMatricesAgreeWithPaths(t *testing.T) {
	for name, i := range instruments() {
		o, err := i.optics()
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if i.After == 0 && math.Abs(o.defocus) > 1e-12 {
			t.Errorf("%s: at its image the instrument is out of focus by %v", name, o.defocus)
		}
		const h = 1e-5
		slope := func(ray func(sign float64) ray) float64 {
			plus, ok1 := i.fly(ray(1), o.after)
			minus, ok2 := i.fly(ray(-1), o.after)
			if !ok1 || !ok2 {
				t.Fatalf("%s: a ray doesn't get through", name)
			}
			return (plus.x - minus.x) / (2 * h)
		}
		for what, pair := range map[string][2]float64{
			"magnification": {o.magnification, slope(func(s float64) ray { return newRay(s*h, 0, 1, 0) })},
			"defocus":       {o.defocus, slope(func(s float64) ray { return newRay(0, s*h, 1, 0) })},
			"dispersion":    {o.dispersion / 2, slope(func(s float64) ray { return newRay(0, 0, 1+s*h, 0) })}, // m/z goes with the square of the momentum
			"energy":        {o.energy, slope(func(s float64) ray { return newRay(0, 0, 1, s*h) })},
		} {
			if math.Abs(pair[0]-pair[1]) > 1e-6*(1+math.Abs(pair[0])) {
				t.Errorf("%s: %s is %v by matrices and %v by paths", name, what, pair[0], pair[1])
			}
		}
	}
}

func TestCentralPath(t *testing.T) {
	for name, i := range instruments() {
		o, _ := i.optics()
		p, ok := i.fly(newRay(0, 0, 1, 0), o.after)
		if !ok || math.Abs(p.x) > 1e-12 || math.Abs(p.angle) > 1e-12 {
			t.Errorf("%s: the central ray ends at %+v", name, p)
		}
	}
}

func TestSymmetricOptics(t *testing.T) {
	for name, angle := range map[string]float64{"180": math.Pi, "90": math.Pi / 2, "60": math.Pi / 3} {
		i := Instrument{Radius: 0.25, Voltage: 4000, SourceSlit: 1e-4, CollectorSlit: 1e-4, Angle: Radian(angle), Before: Metre(0.25 / math.Tan(angle/2))}
		if angle == math.Pi {
			i.Before = 0
		}
		o, err := i.optics()
		if err != nil {
			t.Fatal(err)
		}
		// every textbook: a symmetric magnet images one to one, inverted, with
		// dispersion 2 r per momentum, that is r per mass.
		if math.Abs(o.magnification+1) > 1e-12 || math.Abs(o.dispersion-0.5) > 1e-12 || math.Abs(o.after-float64(i.Before)) > 1e-9 {
			t.Errorf("%s degrees: %+v", name, o)
		}
		// W. E. Stephens, Phys. Rev. 45 (1934) 513, from memory: the image error
		// of the slope is r alpha^2. For the half circle also by hand:
		// 2 r cos alpha - 2 r is -r alpha^2.
		a, err := i.Aberration()
		if err != nil || math.Abs(float64(a)+0.25) > 1e-6 {
			t.Errorf("%s degrees: aberration %v, %v; want -0.25", name, a, err)
		}
	}
}

// The electric sector alone focuses after 127.3 degrees, pi / sqrt 2, from edge
// to edge (Hughes and Rojansky 1929, from memory), and disperses by its radius
// for each relative excess of energy.
func TestElectricFocus(t *testing.T) {
	m := electricBend(0.2, math.Pi/math.Sqrt2, false)
	if math.Abs(m.xa) > 1e-15 || math.Abs(m.xx+1) > 1e-15 || math.Abs(m.xe-0.2) > 1e-15 {
		t.Errorf("%+v", m)
	}
	e := &ElectricSector{Radius: 0.2, Angle: Radian(math.Pi / math.Sqrt2)}
	p, ok := e.fly(newRay(0, 1e-4, 1, 0), opticalTolerance, nil)
	if !ok || math.Abs(p.x) > 1e-8 {
		t.Errorf("a slope of 0.1 mrad arrives at %v", p.x)
	}
	// The plates' voltage for a radius of 0.2 m, 1 cm gap and 4 kV by hand:
	// 2 * 4000 ln(0.205/0.195) = 400.08 V.
	e.Gap = 0.01
	if v, err := e.PlateVoltage(4000); err != nil || math.Abs(float64(v)-400.08) > 0.01 {
		t.Errorf("plate voltage %v, %v", v, err)
	}
}

// The electric sector conserves energy, and reversing the flight comes back to
// the start.
func TestElectricReverses(t *testing.T) {
	e := double.Electric
	p := newRay(0.003, 0.02, 1, 0.01)
	q, ok := e.fly(p, opticalTolerance, nil)
	if !ok {
		t.Fatal("the ray doesn't get through")
	}
	if math.Abs(q.energy/p.energy-1) > 1e-9 {
		t.Errorf("the energy goes from %v to %v", p.energy, q.energy)
	}
	q.angle = -q.angle
	back, ok := e.fly(q, opticalTolerance, nil)
	if !ok || math.Abs(back.x-p.x) > 1e-11 || math.Abs(back.angle+p.angle) > 1e-11 {
		t.Errorf("went in as %+v, came back as %+v", p, back)
	}
}

func TestLostRays(t *testing.T) {
	i := Instrument{Radius: 0.25, Voltage: 4000, SourceSlit: 1e-4, CollectorSlit: 1e-4, Angle: math.Pi / 3, Before: 0.433}
	for _, mz := range []float64{1e-6, 0.01, 0.1, 100, 1e6} {
		if p, ok := i.fly(newRay(0, 0, mz, 0), 0.433); ok && math.Abs(p.x) < 0.05 {
			t.Errorf("%v times the central m/z arrives at %v", mz, p.x)
		}
	}
	e := *double.Electric
	e.Gap = 0.01
	if _, ok := e.fly(newRay(0, 0.1, 1, 0), opticalTolerance, nil); ok {
		t.Error("a steep ray misses the plates")
	}
	if _, ok := e.fly(newRay(-0.5, 0, 1, 0), opticalTolerance, nil); ok {
		t.Error("a ray beyond the center of the electric sector gets through")
	}
}

// The method has fifth order: ten times the steps' accuracy costs far fewer
// than ten times the steps, and the circle comes out.
func TestIntegrateConverges(t *testing.T) {
	circle := func(_ float64, y state) state { return state{y[2], y[3], -y[3], y[2]} }
	var wrong, steps []float64
	for _, tolerance := range []float64{1e-4, 1e-6, 1e-8, 1e-10, 1e-12} {
		n := 0.0
		y, err := integrate(circle, 0, 2*math.Pi, state{1, 0, 0, 1}, tolerance, func(float64, state) bool { n++; return true })
		if err != nil {
			t.Fatal(err)
		}
		wrong = append(wrong, math.Hypot(y[0]-1, y[1]))
		steps = append(steps, n)
	}
	for k := 1; k < len(wrong); k++ {
		if wrong[k] > wrong[k-1]/20 {
			t.Errorf("a hundredth of the tolerance leaves %v of an error of %v", wrong[k], wrong[k-1])
		}
		// The error of a step is of order h^5, so steps grow like tolerance^(-1/5).
		if growth := steps[k] / steps[k-1]; growth > 3 {
			t.Errorf("a hundredth of the tolerance takes %v times the steps", growth)
		}
	}
	if wrong[4] > 1e-10 {
		t.Errorf("at tolerance 1e-12 the circle is open by %v", wrong[4])
	}
	if _, err := integrate(func(t float64, y state) state { return state{math.NaN()} }, 0, 1, state{}, 1e-6, nil); err == nil {
		t.Error("a path of NaN is followed")
	}
	if _, err := integrate(func(t float64, y state) state { return state{y[0] * y[0]} }, 0, 2, state{1}, 1e-9, nil); err == nil {
		t.Error("a path to infinity is followed")
	}
}

// Three ways, one answer: matrices with the second-order term, closed forms
// with sharp edges, and integration through the falling field.
func TestThreeWaysAgree(t *testing.T) {
	for _, name := range []string{"60 degrees", "tilted"} {
		i := instruments()[name]
		o, err := i.optics()
		if err != nil {
			t.Fatal(err)
		}
		b, err := i.Field(100)
		if err != nil {
			t.Fatal(err)
		}
		second, err := i.Aberration()
		if err != nil {
			t.Fatal(err)
		}
		for _, slope := range []float64{-0.01, 0, 0.01} {
			exact, ok := i.fly(newRay(0, slope, 1, 0), o.after)
			if !ok {
				t.Fatal("a ray doesn't get through")
			}
			matrix := o.defocus*slope + float64(second)*slope*slope
			if math.Abs(matrix-exact.x) > 0.05*math.Abs(float64(second))*slope*slope+1e-12 {
				t.Errorf("%s, slope %v: %v by matrices, %v by closed forms", name, slope, matrix, exact.x)
			}
			var last float64
			for _, gap := range []Metre{0.02, 0.01, 0.005} {
				soft := i
				soft.Gap = gap
				track, err := soft.Follow(100, b, 0, Radian(slope), 1e-11)
				if err != nil || !track.Reached {
					t.Fatalf("%s: %+v, %v", name, track.Reached, err)
				}
				if math.Abs(track.Energy-1) > 1e-9 {
					t.Errorf("%s, gap %v: the energy goes to %v of itself", name, gap, track.Energy)
				}
				// A falling edge shifts the path by about the square of its
				// length over the radius.
				off := math.Abs(float64(track.Beside) - exact.x)
				if bound := float64(gap*gap/i.Radius) / 2; off > bound {
					t.Errorf("%s, slope %v, gap %v: %v off the sharp-edged path, more than %v", name, slope, gap, off, bound)
				}
				if last > 0 && off > last/2 {
					t.Errorf("%s, slope %v: with half the gap the difference goes from %v to %v only", name, slope, last, off)
				}
				last = off
			}
		}
	}
}

// Counts have mean and variance alike, and each count comes as often as the
// distribution says (chi squared).
func TestPoisson(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 2))
	const n = 200_000
	for _, mean := range []float64{0.01, 1, 5, 11.9, 12.1, 40, 1e4} {
		var sum, squares float64
		counts := map[int]float64{}
		for range n {
			k := poisson(r, mean)
			sum += k
			squares += (k - mean) * (k - mean)
			counts[int(k)]++
		}
		if off := math.Abs(sum/n-mean) / math.Sqrt(mean/n); off > 5 {
			t.Errorf("mean %v comes out as %v", mean, sum/n)
		}
		// The variance of a variance of n counts is (2 mean^2 + mean) / n.
		if off := math.Abs(squares/n-mean) / math.Sqrt((2*mean*mean+mean)/n); off > 5 {
			t.Errorf("mean %v has the variance %v", mean, squares/n)
		}
		var chi, cells float64
		for k := range counts {
			gamma, _ := math.Lgamma(float64(k) + 1)
			expected := n * math.Exp(float64(k)*math.Log(mean)-mean-gamma)
			if expected >= 10 {
				chi += (counts[k] - expected) * (counts[k] - expected) / expected
				cells++
			}
		}
		if off := (chi - cells) / math.Sqrt(2*cells); off > 5 {
			t.Errorf("mean %v: chi squared %v over %v counts", mean, chi, cells)
		}
	}
	if poisson(r, 0) != 0 || poisson(r, math.NaN()) != 0 {
		t.Error("no mean gives a count")
	}
}
