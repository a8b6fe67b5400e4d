package net

// The loops in which the time goes, four numbers at a time with instructions
// that every amd64 processor has. The results are those of kernel_other.go.

//go:noescape
func axpyQuads(a float32, x, y *float32, n int)

//go:noescape
func dotQuads(x, y *float32, n int, sums *[16]float32)

//go:noescape
func adamQuads(w, gradient, first, second *float32, n int, c *adam)
