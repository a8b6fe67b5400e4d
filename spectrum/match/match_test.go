package match_test

import (
	"cmp"
	"math"
	"math/rand/v2"
	"slices"
	"sync"
	"testing"

	"ionwright/internal/fixture"
	"ionwright/spectrum"
	"ionwright/spectrum/match"
)

func TestCosine(t *testing.T) {
	tests := []struct {
		a, b string
		w    match.Weights
		want float64 // by hand, the sum beside it
	}{
		{"43:100 58:25", "43:100 58:25", match.WeightsA(), 1},
		{"43:100 58:25", "43:50 58:12.5", match.WeightsA(), 1},                     // scale doesn't matter
		{"43:100", "58:100", match.WeightsA(), 0},                                  // nothing in common
		{"43:100 58:100", "43:100", match.WeightsA(), math.Sqrt(0.5)},              // 1 / sqrt 2
		{"43:4 58:1", "43:1 58:1", match.Weights{Intensity: 1}, 5 / math.Sqrt(34)}, // (4+1)/sqrt(17*2)
		{"43:4 58:1", "43:1 58:1", match.WeightsA(), 3 / math.Sqrt(10)},            // (2+1)/sqrt(5*2)
		{"1:1 2:1", "1:1", match.WeightsB(), 1 / math.Sqrt(5)},                     // 1/sqrt(1+4)
		{"1:1 2:1", "1:1", match.Weights{Intensity: 1, MZ: 2}, 1 / math.Sqrt(17)},  // 1/sqrt(1+16)
		{"43.02:1 43.05:3", "43:1", match.Weights{Intensity: 1}, 1},                // one unit m/z
		{"", "43:1", match.WeightsA(), 0},
		{"43:0", "43:1", match.WeightsA(), 0},
		{"43:1e308 58:1e308", "43:1e-308 58:1e-308", match.Weights{Intensity: 3, MZ: 3}, 1},
	}
	for _, test := range tests {
		a, b := spectrum.MustParse(test.a), spectrum.MustParse(test.b)
		if got := match.Cosine(a, b, test.w); math.Abs(got-test.want) > 1e-12 {
			t.Errorf("Cosine(%q, %q, %v) = %v, want %v", test.a, test.b, test.w, got, test.want)
		}
		if x, y := match.Cosine(a, b, test.w), match.Cosine(b, a, test.w); math.Abs(x-y) > 1e-15 {
			t.Errorf("Cosine of %q and %q is %v one way and %v the other", test.a, test.b, x, y)
		}
	}
}

func TestView(t *testing.T) {
	s := spectrum.MustParse("18:500 28:900 29:200 43:100 57:1.9 58:2") // invented: what counts is the bounds
	if got, want := match.View(s).Notation(), "29:100 43:50 58:1"; got != want {
		t.Errorf("View is %q, want %q", got, want)
	}
	water := spectrum.MustParse("18:1000 43:100 58:25")
	dry := spectrum.MustParse("43:100 58:25")
	if got := match.A(water, dry); math.Abs(got-1) > 1e-12 {
		t.Errorf("A = %v: what lies under m/z 29 counts", got)
	}
	if got := match.B(water, dry); math.Abs(got-1) > 1e-12 {
		t.Errorf("B = %v: what lies under m/z 29 counts", got)
	}
}

// The isomers' own records are nearer to themselves at another energy than to
// each other.
func TestIsomers(t *testing.T) {
	high := fixture.ByName(t, "2-pentanone").Spectrum(t)
	low := fixture.ByName(t, "2-pentanone, 20 eV").Spectrum(t)
	isomer := fixture.ByName(t, "3-pentanone").Spectrum(t)
	if same, other := match.A(high, low), match.A(high, isomer); same < 0.8 || other > 0.7 {
		t.Errorf("2-pentanone is %.3f like itself at 20 eV and %.3f like 3-pentanone", same, other)
	}
}

func TestLibraryAgreesWithCosine(t *testing.T) {
	var spectra []spectrum.Spectrum
	for _, r := range fixture.Measured(t) {
		spectra = append(spectra, r.Spectrum(t))
	}
	spectra = append(spectra, spectrum.Spectrum{}, spectra[7]) // an empty one, and one twice
	for _, w := range []match.Weights{match.WeightsA(), match.WeightsB()} {
		library := match.NewLibrary(spectra, w)
		if library.Len() != len(spectra) {
			t.Fatalf("%d spectra in the library of %d", library.Len(), len(spectra))
		}
		for q, query := range spectra {
			var want []match.Hit
			for i, s := range spectra {
				if score := match.Cosine(match.View(query), match.View(s), w); score > 0 {
					want = append(want, match.Hit{Index: i, Score: score})
				}
			}
			slices.SortStableFunc(want, func(a, b match.Hit) int { return cmp.Compare(b.Score, a.Score) })
			for _, k := range []int{0, 1, 5, len(spectra), 10 * len(spectra)} {
				got := library.Search(query, k)
				if len(got) != min(k, len(want)) {
					t.Fatalf("query %d: %d hits of %d", q, len(got), min(k, len(want)))
				}
				for i, hit := range got {
					if math.Abs(hit.Score-want[i].Score) > 1e-6 {
						t.Errorf("query %d: hit %d scores %v, want %v", q, i+1, hit.Score, want[i].Score)
					}
					if i > 0 && got[i-1].Score < hit.Score {
						t.Errorf("query %d: hit %d is better than the one before", q, i+1)
					}
				}
				if k > 0 && len(want) > 0 && want[0].Score > want[min(1, len(want)-1)].Score+1e-5 && got[0].Index != want[0].Index {
					t.Errorf("query %d: the best is %d, want %d", q, got[0].Index, want[0].Index)
				}
			}
		}
	}
}

func TestSearchesSideBySide(t *testing.T) {
	var spectra []spectrum.Spectrum
	for _, r := range fixture.Measured(t) {
		spectra = append(spectra, r.Spectrum(t))
	}
	library := match.NewLibrary(spectra, match.WeightsA())
	var group sync.WaitGroup
	for range 4 {
		group.Go(func() {
			for i, s := range spectra {
				if hits := library.Search(s, 3); math.Abs(hits[0].Score-1) > 1e-6 {
					t.Errorf("spectrum %d finds itself with %v", i, hits[0])
				}
			}
		})
	}
	group.Wait()
}

// BenchmarkSearch times the search of one spectrum among a million with 39.5
// peaks each on average, spread over m/z as in measured ones: 20 best.
func BenchmarkSearch(b *testing.B) {
	const n = 1_000_000
	r := rand.New(rand.NewPCG(1, 2))
	spectra := make([]spectrum.Spectrum, n)
	for i := range spectra {
		spectra[i] = invented(r)
	}
	library := match.NewLibrary(spectra, match.WeightsA())
	for b.Loop() {
		library.Search(spectra[4711], 20)
	}
}

// invented returns a spectrum of about 39.5 peaks from m/z 29 to about 300.
func invented(r *rand.Rand) spectrum.Spectrum {
	mass := 60 + r.IntN(300)
	var s spectrum.Spectrum
	chance := 39.5 / float64(mass-29)
	for mz := 29; mz < mass; mz++ {
		if r.Float64() < chance {
			s.Peaks = append(s.Peaks, spectrum.Peak{MZ: float64(mz), Intensity: 1 + 99*r.Float64()})
		}
	}
	return s
}
