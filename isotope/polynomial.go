package isotope

import "math"

// scratch is how many terms the fixed work space of a product holds. Longer
// polynomials are allocated.
const scratch = 256

// tail bounds what one pruning takes from each end. There are at most 16
// products and, for each of 16 elements, 2 x 16 squarings and products on the
// way to a power of 65,535, the effect of an early one being multiplied by the
// rest of the exponent: at most 65,535 x 16 x 2 tails in all for the largest
// formula, and below 100 for a molecule of common size.
const tail = 1e-12

// multiply appends the product of two polynomials to dst, which must not
// overlap them.
func multiply(dst, p, q []float64) []float64 {
	if len(p) < len(q) {
		p, q = q, p
	}
	n := len(p) + len(q) - 1
	for range n {
		dst = append(dst, 0)
	}
	for i, x := range q {
		if x == 0 {
			continue
		}
		out := dst[i : i+len(p)]
		for j, y := range p {
			out[j] += x * y
		}
	}
	return dst
}

// prune cuts terms off both ends of p whose sum at each end is at most tail,
// and returns how many it cut in front.
func prune(p []float64) ([]float64, int) {
	begin, end := 0, len(p)
	for sum := 0.0; begin < end-1; begin++ {
		if sum += p[begin]; sum > tail {
			break
		}
	}
	for sum := 0.0; end > begin+1; end-- {
		if sum += p[end-1]; sum > tail {
			break
		}
	}
	return p[begin:end], begin
}

// appendPower appends the n-th power of the polynomial p (n > 0), pruned, to
// dst and returns how many terms were pruned in front.
func appendPower(dst, p []float64, n int) ([]float64, int) {
	switch {
	case n == 1:
		return append(dst, p...), 0
	case len(p) == 2:
		return appendBinomial(dst, p[1], n)
	}
	return appendSquarings(dst, p, n)
}

// appendBinomial appends the binomial distribution of n trials with
// probability q in (0, 1): from its mode to both sides by the ratio of
// neighbours, until a term and so the tail behind it is negligible.
func appendBinomial(dst []float64, q float64, n int) ([]float64, int) {
	ratio := q / (1 - q)
	mode := int(float64(n+1) * q)
	top := 1.0
	if mode == 0 && n < 1000 {
		top = math.Pow(1-q, float64(n))
	} else {
		top = binomialTerm(q, n, mode)
	}
	// Downwards first, so that the terms come out in order.
	begin := mode
	for x := top; begin > 0 && x > tail*0.01; begin-- {
		x *= float64(begin) / (float64(n-begin+1) * ratio)
	}
	for range mode - begin {
		dst = append(dst, 0)
	}
	out := dst[len(dst)-(mode-begin):]
	for x, k := top, mode; k > begin; k-- {
		x *= float64(k) / (float64(n-k+1) * ratio)
		out[k-1-begin] = x
	}
	dst = append(dst, top)
	for x, k := top, mode; k < n; k++ {
		x *= float64(n-k) * ratio / float64(k+1)
		if x <= tail*0.01 {
			break
		}
		dst = append(dst, x)
	}
	return dst, begin
}

// binomialTerm is the probability of k successes in n trials.
func binomialTerm(q float64, n, k int) float64 {
	a, _ := math.Lgamma(float64(n + 1))
	b, _ := math.Lgamma(float64(k + 1))
	c, _ := math.Lgamma(float64(n - k + 1))
	return math.Exp(a - b - c + float64(k)*math.Log(q) + float64(n-k)*math.Log1p(-q))
}

// appendSquarings appends the n-th power of p by repeated squaring.
func appendSquarings(dst, p []float64, n int) ([]float64, int) {
	var a, b, c, d [scratch]float64
	power, spare := append(a[:0], 1), b[:0]
	square, other := append(c[:0], p...), d[:0]
	skipped, squareSkipped := 0, 0
	for {
		if n&1 != 0 {
			spare = multiply(spare[:0], power, square)
			power, spare = spare, power
			cut := 0
			power, cut = prune(power)
			skipped += squareSkipped + cut
		}
		if n >>= 1; n == 0 {
			return append(dst, power...), skipped
		}
		other = multiply(other[:0], square, square)
		square, other = other, square
		cut := 0
		square, cut = prune(square)
		squareSkipped = 2*squareSkipped + cut
	}
}
