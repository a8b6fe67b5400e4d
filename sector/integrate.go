package sector

import (
	"errors"
	"math"
)

// state is what is integrated, up to four numbers of order one.
type state [4]float64

var errSteps = errors.New("the path can't be followed within the accuracy that is asked for")

// integrate follows y' = f(t, y) from t0 to t1 with the method of Dormand and
// Prince (J. Comput. Appl. Math. 6 (1980) 19): fifth order, with steps chosen
// so that the error of each, estimated by the embedded fourth order, is below
// tolerance in every component. After each step it calls watch, which may be
// nil, and ends early where that returns false.
func integrate(f func(t float64, y state) state, t0, t1 float64, y state, tolerance float64, watch func(t float64, y state) bool) (state, error) {
	const (
		mostSteps = 100_000
		safety    = 0.9
	)
	t, h := t0, (t1-t0)/100
	k1 := f(t, y)
	for range mostSteps {
		last := t+h >= t1
		if last {
			h = t1 - t
		}
		next, k7, wrong := dormandPrince(f, t, y, k1, h)
		if wrong <= tolerance {
			t, y, k1 = t+h, next, k7
			if watch != nil && !watch(t, y) {
				return y, nil
			}
			if last {
				return y, nil
			}
		}
		grow := 5.0
		if wrong > 0 {
			grow = min(5, max(0.2, safety*math.Pow(tolerance/wrong, 0.2)))
		} else if math.IsNaN(wrong) {
			grow = 0.2
		}
		h *= grow
		if h < 1e-12*(t1-t0) {
			break
		}
	}
	return y, errSteps
}

// dormandPrince makes one step and returns the new state, its slope, and the
// largest error of a component.
func dormandPrince(f func(t float64, y state) state, t float64, y, k1 state, h float64) (next, slope state, wrong float64) {
	var k2, k3, k4, k5, k6 state
	at := func(sum func(i int) float64) state {
		out := y
		for i := range out {
			out[i] += h * sum(i)
		}
		return out
	}
	k2 = f(t+h/5, at(func(i int) float64 { return k1[i] / 5 }))
	k3 = f(t+h*3/10, at(func(i int) float64 { return k1[i]*3/40 + k2[i]*9/40 }))
	k4 = f(t+h*4/5, at(func(i int) float64 { return k1[i]*44/45 - k2[i]*56/15 + k3[i]*32/9 }))
	k5 = f(t+h*8/9, at(func(i int) float64 {
		return k1[i]*19372/6561 - k2[i]*25360/2187 + k3[i]*64448/6561 - k4[i]*212/729
	}))
	k6 = f(t+h, at(func(i int) float64 {
		return k1[i]*9017/3168 - k2[i]*355/33 + k3[i]*46732/5247 + k4[i]*49/176 - k5[i]*5103/18656
	}))
	next = at(func(i int) float64 {
		return k1[i]*35/384 + k3[i]*500/1113 + k4[i]*125/192 - k5[i]*2187/6784 + k6[i]*11/84
	})
	slope = f(t+h, next)
	for i := range y {
		e := h * (k1[i]*71/57600 - k3[i]*71/16695 + k4[i]*71/1920 - k5[i]*17253/339200 + k6[i]*22/525 - slope[i]/40)
		wrong = math.Max(wrong, math.Abs(e)) // NaN stays
	}
	return next, slope, wrong
}
