package infer

import (
	"math"
	"testing"
)

// Statements that come true with half the stated odds: the curve must say so.
// The expected shares follow from that definition.
func TestCurve(t *testing.T) {
	half := func(p float64) float64 { return p / 2 / (p/2 + 1 - p) } // of half the odds
	var list []Statement
	for i := 3; i < 98; i++ {
		p := float64(i) / 100
		for k := range 200 {
			list = append(list, Statement{Stated: p, True: (float64(k)+0.5)/200 < half(p), Weight: 1})
		}
	}
	c := FitCurve(list)
	for _, p := range []float64{0.05, 0.3, 0.5, 0.8, 0.95} {
		if got := c.At(p); math.Abs(got-half(p)) > 0.01 {
			t.Errorf("stated %.2f comes true in %.3f, want %.3f", p, got, half(p))
		}
	}
}

func TestCurveRises(t *testing.T) {
	for _, c := range []Curve{{}, {-0.5, 0.2, -0.1}, {0.4, -0.1, -0.3}, {0.1, 0.3, 0.05}} {
		last := -1.0
		for p := 0.0; p <= 1; p += 0.005 {
			v := c.At(p)
			if v < last-1e-12 || v < 0 || v > 1 {
				t.Fatalf("%v falls or leaves 0 to 1 at %.3f: %v after %v", c, p, v, last)
			}
			last = v
		}
	}
	if got := FitCurve(nil); got != (Curve{}) {
		t.Errorf("no statements give %v", got)
	}
	if got := (Curve{}).At(0.37); got != 0.37 {
		t.Errorf("the zero curve makes 0.37 %v", got)
	}
}
