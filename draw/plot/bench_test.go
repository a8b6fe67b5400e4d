package plot_test

import (
	"math"
	"testing"

	"ionwright/draw/plot"
	"ionwright/spectrum"
)

// A spectrum of the kind that a steroid gives: 200 peaks in runs of
// neighbours.
func BenchmarkSpectrum(b *testing.B) {
	var peaks []spectrum.Peak
	for mz := 27; mz < 303; mz++ {
		if mz%14 < 10 {
			peaks = append(peaks, spectrum.Peak{MZ: float64(mz), Intensity: 5 + 5*math.Sin(float64(mz*mz))})
		}
	}
	peaks = append(peaks, spectrum.Peak{MZ: 303, Intensity: 50})
	s, err := spectrum.New(peaks)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := plot.Spectrum(s, plot.Options{MolecularIon: 303}); err != nil {
			b.Fatal(err)
		}
	}
}
