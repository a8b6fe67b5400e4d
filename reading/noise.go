package reading

import (
	"ionwright/reading/infer"
	"ionwright/spectrum"
)

// A background at every m/z shows above the molecular ion, where a clean
// spectrum has nothing: so many m/z at the upper end, nearly all taken, all
// weak and none far above the others.
const (
	noiseReach = 25
	noiseTaken = 23
	noiseMost  = 1.5 // % of base
)

// noiseOf returns the height in % of base under which peaks are background, 0
// for a spectrum without such a background.
func noiseOf(v *infer.View) float64 {
	if v.Top-v.Low < 2*noiseReach {
		return 0
	}
	taken, sum, highest := 0, 0.0, 0.0
	for mz := v.Top - noiseReach + 1; mz <= v.Top; mz++ {
		if r := v.At(mz); r > 0 {
			taken++
			sum += r
			highest = max(highest, r)
		}
	}
	const spread = 4 // how far the highest may be above the mean
	if taken < noiseTaken || highest > noiseMost || highest > spread*sum/float64(taken) {
		return 0
	}
	return 1.1 * highest
}

// above keeps the peaks whose unit m/z reaches a height in % of base.
func above(peaks []spectrum.Peak, v *infer.View, height float64) []spectrum.Peak {
	var out []spectrum.Peak
	for _, p := range peaks {
		if v.At(spectrum.UnitMZ(p.MZ)) >= height {
			out = append(out, p)
		}
	}
	return out
}
