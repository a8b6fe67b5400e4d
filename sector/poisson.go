package sector

import (
	"math"
	"math/rand/v2"
)

// poisson returns a random count with the given mean: by multiplying even
// random numbers for small means, by transformed rejection (Hörmann, Insurance:
// Mathematics and Economics 12 (1993) 39, algorithm PTRS) for large ones. Both
// are exact.
func poisson(r *rand.Rand, mean float64) float64 {
	switch {
	case !(mean > 0):
		return 0
	case mean < 12:
		limit, product := math.Exp(-mean), r.Float64()
		n := 0.0
		for product > limit {
			product *= r.Float64()
			n++
		}
		return n
	}
	b := 0.931 + 2.53*math.Sqrt(mean)
	a := -0.059 + 0.02483*b
	alpha := 1.1239 + 1.1328/(b-3.4)
	v0 := 0.9277 - 3.6224/(b-2)
	logMean := math.Log(mean)
	for {
		u, v := r.Float64()-0.5, r.Float64()
		us := 0.5 - math.Abs(u)
		k := math.Floor((2*a/us+b)*u + mean + 0.43)
		if us >= 0.07 && v <= v0 {
			return k
		}
		if k < 0 || us < 0.013 && v > us {
			continue
		}
		gamma, _ := math.Lgamma(k + 1)
		if math.Log(v)+math.Log(alpha)-math.Log(a/(us*us)+b) <= k*logMean-mean-gamma {
			return k
		}
	}
}
