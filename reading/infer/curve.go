package infer

import "math"

// Curve turns a stated probability into the share in which such statements
// came true: its log-odds are a parabola in the stated log-odds, fitted to
// statements about spectra that the model hadn't seen. The zero value changes
// nothing.
type Curve [3]float64 // constant, slope less one, curvature

// leastStated is the probability below which statements, of which there are
// many and none matters, don't enter the fit and are scaled in proportion.
const leastStated = 0.02

// At returns the share for a stated probability: rising from 0 to less than 1.
func (c Curve) At(p float64) float64 {
	switch {
	case c == Curve{}:
		return p
	case p < leastStated:
		return p / leastStated * c.At(leastStated)
	}
	x := logOdds(p)
	if c[2] < 0 { // not beyond the top of the parabola
		x = min(x, -(1+c[1])/(2*c[2]))
	}
	return sigmoid(c[0] + (1+c[1])*x + c[2]*x*x)
}

// logOdds keeps off the ends.
func logOdds(p float64) float64 {
	const edge = 1e-4
	p = min(1-edge, max(edge, p))
	return math.Log(p / (1 - p))
}

// Statement is a stated probability and whether it came true.
type Statement struct {
	Stated float64
	True   bool
	Weight float64
}

// FitCurve fits a curve by logistic regression: Newton's method from the curve
// that changes nothing, with a weak pull towards it, so that few statements
// change little. No statements give the zero curve.
func FitCurve(statements []Statement) Curve {
	const rounds, pull = 30, 1.0
	var c Curve
	for range rounds {
		gradient := [3]float64{pull * c[0], pull * c[1], pull * c[2]}
		curvature := [3][3]float64{{pull}, {0, pull}, {0, 0, pull}}
		for _, s := range statements {
			if s.Stated < leastStated {
				continue
			}
			x := logOdds(s.Stated)
			f := [3]float64{1, x, x * x}
			q := sigmoid(c[0] + (1+c[1])*x + c[2]*x*x)
			d := q
			if s.True {
				d--
			}
			for i := range f {
				gradient[i] += s.Weight * d * f[i]
				for j := range f {
					curvature[i][j] += s.Weight * q * (1 - q) * f[i] * f[j]
				}
			}
		}
		step := solve(curvature, gradient)
		for i := range c {
			c[i] -= step[i]
		}
	}
	return c
}

// solve returns the solution of three linear equations whose matrix is
// symmetric and positive, by elimination.
func solve(a [3][3]float64, b [3]float64) [3]float64 {
	for i := range 3 {
		for k := i + 1; k < 3; k++ {
			q := a[k][i] / a[i][i]
			for j := i; j < 3; j++ {
				a[k][j] -= q * a[i][j]
			}
			b[k] -= q * b[i]
		}
	}
	var x [3]float64
	for i := 2; i >= 0; i-- {
		x[i] = b[i]
		for j := i + 1; j < 3; j++ {
			x[i] -= a[i][j] * x[j]
		}
		x[i] /= a[i][i]
	}
	return x
}
