package net

import "golang.org/x/sys/cpu"

// The loops in which the time goes, eight numbers at a time where the
// processor can and else four, with instructions that every amd64 processor
// has. The results are those of kernel_other.go, bit for bit.

// wide tells that there are registers of eight numbers.
var wide = cpu.X86.HasAVX

func axpyQuads(a float32, x, y *float32, n int) {
	if wide {
		axpyWide(a, x, y, n)
		return
	}
	axpyNarrow(a, x, y, n)
}

func dotQuads(x, y *float32, n int, sums *[16]float32) {
	if wide {
		dotWide(x, y, n, sums)
		return
	}
	dotNarrow(x, y, n, sums)
}

func adamQuads(w, gradient, first, second *float32, n int, c *adam) {
	if wide {
		adamWide(w, gradient, first, second, n, c)
		return
	}
	adamNarrow(w, gradient, first, second, n, c)
}

//go:noescape
func axpyNarrow(a float32, x, y *float32, n int)

//go:noescape
func dotNarrow(x, y *float32, n int, sums *[16]float32)

//go:noescape
func adamNarrow(w, gradient, first, second *float32, n int, c *adam)

//go:noescape
func axpyWide(a float32, x, y *float32, n int)

//go:noescape
func dotWide(x, y *float32, n int, sums *[16]float32)

//go:noescape
func adamWide(w, gradient, first, second *float32, n int, c *adam)
