package reading

import (
	"cmp"
	"math"
	"slices"
	"sync"

	"ionwright/chem"
	"ionwright/isotope"
)

// marker is a set of the elements that isotope peaks betray.
type marker struct {
	cl, br, s, si int
	pattern       []float64 // abundance by mass number above the lightest, the lightest = 1
	mass          int       // nominal, of the lightest isotopes
	prior         float64   // natural logarithm
}

// Largest counts that are told apart by the pattern.
const (
	mostCl, mostBr, mostS, mostSi = 6, 4, 3, 4
	patternReach                  = 12
)

// countPrior is the natural logarithm of the share of compounds with n atoms
// of a marker element: rounded shares in the spectra that the model was fitted
// to (1,000 compounds: 70 with chlorine, 50 with sulfur, 25 with bromine), each further atom about a third as frequent.
func countPrior(share float64, n int) float64 {
	if n == 0 {
		return math.Log(1 - share)
	}
	return math.Log(share*2/3) - float64(n-1)*math.Log(3)
}

var markers = sync.OnceValue(func() []marker {
	var out []marker
	for cl := range mostCl + 1 {
		for br := range mostBr + 1 {
			for s := range mostS + 1 {
				for si := range mostSi + 1 {
					f, err := chem.FormulaOf(
						chem.Count{Species: chem.NaturalSpecies(chem.Cl), N: cl}, chem.Count{Species: chem.NaturalSpecies(chem.Br), N: br},
						chem.Count{Species: chem.NaturalSpecies(chem.S), N: s}, chem.Count{Species: chem.NaturalSpecies(chem.Si), N: si})
					if err != nil {
						continue // counts as small as these always fit
					}
					unit := isotope.Unit(f)
					m := marker{cl: cl, br: br, s: s, si: si, mass: 35*cl + 79*br + 32*s + 28*si}
					for k := range patternReach + 1 {
						m.pattern = append(m.pattern, unit.At(m.mass+k)/unit.At(m.mass))
					}
					m.prior = countPrior(0.07, cl) + countPrior(0.025, br) + countPrior(0.05, s)
					out = append(out, m)
				}
			}
		}
	}
	return out
})

// carbonRatio is the abundance of carbon-13 over that of carbon-12.
func carbonRatio() float64 {
	heavy, _ := chem.C.Isotope(13)
	light, _ := chem.C.Isotope(12)
	return heavy.Abundance / light.Abundance
}

// withCarbons is the marker's pattern with n carbons beside it.
func (m marker) withCarbons(n float64, out *[patternReach + 1]float64) {
	one := n * carbonRatio()
	two := one * one / 2
	for k := range out {
		v := m.pattern[k]
		if k >= 1 {
			v += m.pattern[k-1] * one
		}
		if k >= 2 {
			v += m.pattern[k-2] * (two + 0.003) // oxygen-18, one or two atoms
		}
		out[k] = v
	}
}

// match is a marker with the probability that it explains a cluster.
type match struct {
	marker
	probability float64
}

// clusterFit is the log-likelihood, but for a constant, of the peaks above mz
// under expected ratios to it. The spread is that of measured molecular ions
// (1,884 of 20 % or more in the spectra of the fit): a hundredth, more for weak
// ions, and heavy tails; M+1 is too high more often than too low.
func (d *desk) clusterFit(mz int, expected *[patternReach + 1]float64, even bool) float64 {
	r := d.rel(mz)
	score := 0.0
	for k := 1; k <= 8; k++ {
		e, o := expected[k], d.rel(mz+k)/r
		if o == 0 && e*r < 1.5 {
			continue // would be under the threshold of most records
		}
		if e < 0.002 && !even && k > 2 {
			continue // another fragment may stand there
		}
		sigma := 0.07*e + 0.006 + 0.3/r
		if k == 1 {
			sigma += 0.05 * e
			if o > e {
				sigma += 0.1*e + 0.01 // a hydrogen gained in the source
			}
		}
		if !even && o > e {
			sigma += 0.03 // another fragment may overlap
		}
		z := (o - e) / sigma
		score -= 2.5 * math.Log(1+z*z/4)
	}
	return score
}

// readCluster compares the peaks from mz up with the patterns of all markers
// and returns those that explain them, most probable first. It needs a peak of
// at least 2 % at mz.
func (d *desk) readCluster(mz int, even bool) []match {
	r := d.rel(mz)
	if r < 2 {
		return nil
	}
	var out []match
	// Five sixths of the compounds with silicon show (CH₃)₃Si⁺ at 73 or
	// (CH₃)₂SiOH⁺ at 75: shares in the measured spectra with and without.
	silicon := 0.025
	if d.rel(73) >= 5 || d.rel(75) >= 5 {
		silicon = 0.34
	}
	var expected [patternReach + 1]float64
	top := math.Inf(-1)
	for _, m := range markers() {
		if m.mass > mz {
			continue
		}
		best := math.Inf(-1)
		for _, perCarbon := range [...]float64{12.4, 14, 16, 20, 26} {
			m.withCarbons(float64(mz-m.mass)/perCarbon, &expected)
			best = max(best, d.clusterFit(mz, &expected, even))
		}
		score := m.prior + countPrior(silicon, m.si) + best
		out = append(out, match{m, score})
		top = max(top, score)
	}
	sum := 0.0
	for i := range out {
		out[i].probability = math.Exp(out[i].probability - top)
		sum += out[i].probability
	}
	for i := range out {
		out[i].probability /= sum
	}
	slices.SortStableFunc(out, func(a, b match) int { return cmp.Compare(b.probability, a.probability) })
	return out[:min(8, len(out))]
}
