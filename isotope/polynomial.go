package isotope

import "math"

// scratch is how many terms the fixed work space of a product holds. Longer
// polynomials are allocated.
const scratch = 256

// tail bounds what one pruning takes from each end of a product of elements,
// and all prunings on the way to the power of one element together take
// below ten times as much from it. With at most 16 elements that keeps the
// whole below Loss.
const tail = 5e-12

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

// prune cuts terms off both ends of p whose sum at each end is at most
// limit, and returns how many it cut in front.
func prune(p []float64, limit float64) ([]float64, int) {
	begin, end := 0, len(p)
	for sum := 0.0; begin < end-1; begin++ {
		if sum += p[begin]; sum > limit {
			break
		}
	}
	for sum := 0.0; end > begin+1; end-- {
		if sum += p[end-1]; sum > limit {
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
		return appendBinomial(dst, p[1]/p[0], n)
	case p[0] >= 0.5 && float64(n)*(1-p[0]) < mostExpected:
		return appendSeries(dst, p, n), 0
	}
	return appendSquarings(dst, p, n)
}

// mostExpected is the expected number of heavier isotopes up to which the
// first coefficient of a power, (lightest)^n, is large enough to begin with.
const mostExpected = 40

// appendSeries appends the n-th power of p, whose first coefficient is at
// least 0.5, by the recurrence for powers of a power series
//
//	k p[0] c[k] = sum over i of (i (n + 1) - k) p[i] c[k-i]
//
// (Knuth, The Art of Computer Programming, vol. 2, section 4.7), until all but
// tail is found. With such a p the recurrence doesn't amplify rounding errors.
func appendSeries(dst, p []float64, n int) []float64 {
	start := len(dst)
	dst = append(dst, math.Pow(p[0], float64(n)))
	rest, perFirst := 1-dst[start], 1/p[0]
	for k := 1; k < (len(p)-1)*n+1 && rest > tail; k++ {
		sum := 0.0
		for i := 1; i < len(p) && i <= k; i++ {
			sum += float64(i*(n+1)-k) * p[i] * dst[start+k-i]
		}
		term := max(0, sum*perFirst/float64(k))
		dst = append(dst, term)
		rest -= term
	}
	return dst
}

// negligible ends a binomial distribution: a term so small beside the largest
// that all behind it add up to less than tail.
const negligible = 1e-16

// appendBinomial appends the binomial distribution of n trials, ratio being
// that of success to failure in one: from the mode to both sides by the ratio
// of neighbours, then scaled to a sum of 1.
func appendBinomial(dst []float64, ratio float64, n int) ([]float64, int) {
	mode := int(float64(n+1) * ratio / (1 + ratio))
	begin := mode
	for x := 1.0; begin > 0; begin-- {
		if x *= float64(begin) / (float64(n-begin+1) * ratio); x < negligible {
			break
		}
	}
	start := len(dst)
	for range mode - begin {
		dst = append(dst, 0)
	}
	sum := 1.0
	for x, k := 1.0, mode; k > begin; k-- {
		x *= float64(k) / (float64(n-k+1) * ratio)
		dst[start+k-1-begin] = x
		sum += x
	}
	dst = append(dst, 1)
	for x, k := 1.0, mode; k < n; k++ {
		if x *= float64(n-k) * ratio / float64(k+1); x < negligible {
			break
		}
		dst = append(dst, x)
		sum += x
	}
	for i := range dst[start:] {
		dst[start+i] /= sum
	}
	return dst, begin
}

// appendSquarings appends the n-th power of p by repeated squaring. What is
// cut from an early square counts as often as the square is in the power, so
// the limit is divided by n.
func appendSquarings(dst, p []float64, n int) ([]float64, int) {
	var a, b, c, d [scratch]float64
	power, spare := append(a[:0], 1), b[:0]
	square, other := append(c[:0], p...), d[:0]
	skipped, squareSkipped := 0, 0
	limit := tail / float64(n)
	for {
		cut := 0
		if n&1 != 0 {
			spare = multiply(spare[:0], power, square)
			power, spare = spare, power
			power, cut = prune(power, limit)
			skipped += squareSkipped + cut
		}
		if n >>= 1; n == 0 {
			return append(dst, power...), skipped
		}
		other = multiply(other[:0], square, square)
		square, other = other, square
		square, cut = prune(square, limit)
		squareSkipped = 2*squareSkipped + cut
	}
}
