package reading

import (
	"encoding/binary"
	"math"
	"testing"

	"ionwright/internal/fixture"
	"ionwright/spectrum"
)

// Any peaks at all: a reading comes out, with whole probabilities.
func FuzzRead(f *testing.F) {
	for _, name := range []string{"2-pentanone", "chlorobenzene", "methyl stearate", "hexamethyldisiloxane"} {
		var data []byte
		for _, p := range fixture.ByName(f, name).Peaks {
			data = binary.LittleEndian.AppendUint32(data, math.Float32bits(float32(p[0])))
			data = binary.LittleEndian.AppendUint32(data, math.Float32bits(float32(p[1])))
		}
		f.Add(data, 0)
	}
	f.Add([]byte{}, 7)
	f.Add([]byte{0, 0, 128, 63, 0, 0, 200, 66}, -3)
	f.Fuzz(func(t *testing.T, data []byte, mass int) {
		var s spectrum.Spectrum
		for ; len(data) >= 8; data = data[8:] {
			s.Peaks = append(s.Peaks, spectrum.Peak{
				MZ:        float64(math.Float32frombits(binary.LittleEndian.Uint32(data))),
				Intensity: float64(math.Float32frombits(binary.LittleEndian.Uint32(data[4:]))),
			})
		}
		r := Read(s, Given{NominalMass: mass})
		for _, c := range r.Clues {
			if !(c.Probability >= 0 && c.Probability <= 1) {
				t.Fatalf("clue %q has probability %v", c.Title, c.Probability)
			}
		}
		for _, c := range r.MolecularIon {
			if !(c.Probability >= 0 && c.Probability <= 1) {
				t.Fatalf("candidate %d has probability %v", c.MZ, c.Probability)
			}
		}
	})
}

// A million peaks, and every m/z full: a reading comes out.
func TestHugeSpectra(t *testing.T) {
	dense := spectrum.Spectrum{}
	for i := range 1_000_000 {
		dense.Peaks = append(dense.Peaks, spectrum.Peak{MZ: 1 + float64(i)/500, Intensity: float64(1 + i%97)})
	}
	flat := spectrum.Spectrum{}
	for mz := 1; mz <= 2000; mz++ {
		flat.Peaks = append(flat.Peaks, spectrum.Peak{MZ: float64(mz), Intensity: 1})
	}
	for _, s := range []spectrum.Spectrum{dense, flat} {
		r := Read(s, Given{})
		if len(r.Clues) == 0 || len(r.MolecularIon) == 0 {
			t.Errorf("%d peaks give %d clues and %d candidates", len(s.Peaks), len(r.Clues), len(r.MolecularIon))
		}
	}
}

func BenchmarkReadHuge(b *testing.B) {
	dense := spectrum.Spectrum{}
	for i := range 1_000_000 {
		dense.Peaks = append(dense.Peaks, spectrum.Peak{MZ: 1 + float64(i)/500, Intensity: float64(1 + i%97)})
	}
	for b.Loop() {
		Read(dense, Given{})
	}
}

func BenchmarkRead(b *testing.B) {
	records := fixture.Measured(b)
	var spectra []spectrum.Spectrum
	for _, r := range records {
		spectra = append(spectra, r.Spectrum(b))
	}
	for i := 0; b.Loop(); i++ {
		Read(spectra[i%len(spectra)], Given{})
	}
}
