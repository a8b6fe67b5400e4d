package net

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The loops in assembly do what these few lines of Go do, at every length.
func TestKernels(t *testing.T) {
	random := rand.New(rand.NewPCG(3, 4))
	draw := func(n int) []float32 {
		out := make([]float32, n)
		for i := range out {
			out[i] = float32(random.NormFloat64())
		}
		return out
	}
	for n := range 70 {
		x, y := draw(n), draw(n)
		a := float32(random.NormFloat64())
		want := make([]float32, n)
		product, size := 0.0, 1e-9
		for i := range x {
			want[i] = y[i] + float32(a*x[i])
			product += float64(x[i]) * float64(y[i])
			size += math.Abs(float64(x[i]) * float64(y[i]))
		}
		if got := float64(dot(x, y)); math.Abs(got-product) > 1e-6*size {
			t.Errorf("%d: product %v, want %v", n, got, product)
		}
		axpy(a, x, y)
		for i := range want {
			if y[i] != want[i] {
				t.Fatalf("%d: place %d is %v, want %v", n, i, y[i], want[i])
			}
		}
	}
}

// One step of Adam from rest moves each weight by the rate against its
// gradient's sign (Kingma and Ba 2015, section 2.1), less what decays.
func TestFirstStep(t *testing.T) {
	l := newLayer(1, 5, nil)
	copy(l.w, []float32{1, -2, 0.5, 3, -1})
	copy(l.gradient, []float32{0.3, -4, 1e-3, 0, 2})
	l.step(0.01, 0.1, 1)
	for i, want := range []float64{1 - 0.01 - 0.001, -2 + 0.01 + 0.002, 0.5 - 0.01 - 0.0005, 3 - 0.003, -1 - 0.01 + 0.001} {
		if math.Abs(float64(l.w[i])-want) > 2e-6 {
			t.Errorf("weight %d is %v, want %v", i, l.w[i], want)
		}
		if l.gradient[i] != 0 {
			t.Errorf("gradient %d is left at %v", i, l.gradient[i])
		}
	}
}
