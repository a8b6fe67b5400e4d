// Package match tells how alike mass spectra are: the cosine of weighted
// intensities at unit m/z, and the search of a spectrum in a library of many.
//
// For most uses call A for two spectra, and NewLibrary and Search for many. The
// weighted cosine is the "dot product" of Stein and Scott, J. Am. Soc. Mass
// Spectrom. 5 (1994) 859 (from memory). There is no penalty for peaks that only
// one of the spectra has beside what the cosine gives, and m/z aren't shifted.
package match

import (
	"math"

	"ionwright/spectrum"
)

// Weights are the powers that a peak's intensity and m/z are raised to; the
// product is the peak's weight.
type Weights struct{ Intensity, MZ float64 }

// weight returns the weight of a peak, 0 for one without intensity.
func (w Weights) weight(p spectrum.Peak) float64 {
	if p.Intensity <= 0 {
		return 0
	}
	weight := p.Intensity
	switch w.Intensity {
	case 1:
	case 0.5:
		weight = math.Sqrt(weight)
	default:
		weight = math.Pow(weight, w.Intensity)
	}
	switch w.MZ {
	case 0:
	case 1:
		weight *= p.MZ
	default:
		weight *= math.Pow(p.MZ, w.MZ)
	}
	return weight
}

// WeightsA weigh by the square root of the intensity.
func WeightsA() Weights { return Weights{Intensity: 0.5} }

// WeightsB weigh by the square root of the intensity times m/z.
func WeightsB() Weights { return Weights{Intensity: 0.5, MZ: 1} }

// lowestMZ and leastPercent bound what View shows.
const (
	lowestMZ     = 29
	leastPercent = 1
)

// View returns the part of a spectrum that scores compare: unit m/z of 29 and
// more, scaled to a base of 100 in that range, without peaks under 1 % of it.
// Below m/z 29 many measured spectra don't reach, and under 1 % many were cut.
func View(s spectrum.Spectrum) spectrum.Spectrum {
	return s.Unit().From(lowestMZ).Scaled(100).AtLeast(leastPercent)
}

// A returns metric A of two spectra: the cosine of the square roots of
// intensities, in the View of both. It is 0 to 1, the same either way round,
// and 0 where a view is empty.
func A(a, b spectrum.Spectrum) float64 { return Cosine(View(a), View(b), WeightsA()) }

// B returns metric B of two spectra: as A, but with the square roots times m/z.
func B(a, b spectrum.Spectrum) float64 { return Cosine(View(a), View(b), WeightsB()) }

// Cosine returns the cosine of two spectra at unit m/z with the given weights:
// the sum of the products of the weights of common peaks, over the square root
// of the product of the sums of squares. It is 0 to 1, and 0 where a spectrum
// has no intensity.
func Cosine(a, b spectrum.Spectrum, w Weights) float64 {
	x, y := vector(a, w), vector(b, w)
	var dot float64
	for i, j := 0, 0; i < len(x) && j < len(y); {
		switch {
		case x[i].MZ < y[j].MZ:
			i++
		case x[i].MZ > y[j].MZ:
			j++
		default:
			dot += x[i].Intensity * y[j].Intensity
			i++
			j++
		}
	}
	return min(dot, 1) // rounding can give a little more
}

// vector returns unit m/z with weights that have the length 1 together, or
// nothing for a spectrum without intensity. Weights are taken of intensities
// relative to the base peak and of m/z relative to the largest, so that powers
// don't overflow.
func vector(s spectrum.Spectrum, w Weights) []spectrum.Peak {
	unit := s.Unit()
	base, ok := unit.Base()
	if !ok {
		return nil
	}
	largest := unit.Peaks[len(unit.Peaks)-1].MZ
	out := unit.Peaks[:0]
	var squares float64
	for _, p := range unit.Peaks {
		weight := w.weight(spectrum.Peak{MZ: p.MZ / largest, Intensity: p.Intensity / base.Intensity})
		if weight > 0 {
			out = append(out, spectrum.Peak{MZ: p.MZ, Intensity: weight})
			squares += weight * weight
		}
	}
	length := math.Sqrt(squares)
	if length == 0 || math.IsInf(length, 0) {
		return nil
	}
	for i := range out {
		out[i].Intensity /= length
	}
	return out
}
