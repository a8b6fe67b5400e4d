//go:build !amd64

package net

import (
	"math"
	"unsafe"
)

func axpyQuads(a float32, x, y *float32, n int) {
	xs, ys := unsafe.Slice(x, n), unsafe.Slice(y, n)
	for i, v := range xs {
		ys[i] += float32(a * v) // rounded, so that no processor fuses the two
	}
}

func dotQuads(x, y *float32, n int, sums *[16]float32) {
	xs, ys := unsafe.Slice(x, n), unsafe.Slice(y, n)
	clear(sums[:])
	whole := n &^ 15
	for i := range whole {
		sums[i&15] += float32(xs[i] * ys[i])
	}
	for i := whole; i < n; i++ {
		sums[i&3] += float32(xs[i] * ys[i])
	}
}

func adamQuads(w, gradient, first, second *float32, n int, c *adam) {
	ws, gs, ms, vs := unsafe.Slice(w, n), unsafe.Slice(gradient, n), unsafe.Slice(first, n), unsafe.Slice(second, n)
	for i, g := range gs {
		ms[i] = float32(c.keepFirst*ms[i]) + float32(c.addFirst*g)
		vs[i] = float32(c.keepSecond*vs[i]) + float32(c.addSecond*float32(g*g))
		root := float32(math.Sqrt(float64(float32(c.scaleSecond * vs[i]))))
		ws[i] -= float32(float32(c.rate*ms[i])/(root+c.least)) + float32(c.decay*ws[i])
		gs[i] = 0
	}
}
