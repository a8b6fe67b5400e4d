// Package degrade spoils good spectra in the ways in which real ones are
// spoiled, for tests and measurements of how well a reading holds up. The same
// arguments give the same spectrum.
package degrade

import (
	"math"
	"math/rand/v2"
	"slices"

	"ionwright/spectrum"
)

// Way is a way of spoiling.
type Way struct {
	Name  string
	Spoil func(s spectrum.Spectrum, random *rand.Rand) spectrum.Spectrum
}

// Ways is the visible list.
func Ways() []Way {
	return []Way{
		{"starts at m/z 40", func(s spectrum.Spectrum, _ *rand.Rand) spectrum.Spectrum { return s.From(40) }},
		{"starts at m/z 50", func(s spectrum.Spectrum, _ *rand.Rand) spectrum.Spectrum { return s.From(50) }},
		{"saturated at a third of the base peak", func(s spectrum.Spectrum, _ *rand.Rand) spectrum.Spectrum { return Saturated(s, 33) }},
		{"air and water", func(s spectrum.Spectrum, _ *rand.Rand) spectrum.Spectrum { return With(s, air, 60) }},
		{"air stronger than the base peak", func(s spectrum.Spectrum, _ *rand.Rand) spectrum.Spectrum { return With(s, air, 300) }},
		{"column bleed", func(s spectrum.Spectrum, _ *rand.Rand) spectrum.Spectrum { return With(s, bleed, 12) }},
		{"calibration gas", func(s spectrum.Spectrum, _ *rand.Rand) spectrum.Spectrum { return With(s, gas, 12) }},
		{"noise up to 1 % everywhere", Noise},
		{"profile", Profile},
		{"m/z 0.35 too high", func(s spectrum.Spectrum, _ *rand.Rand) spectrum.Spectrum { return Shifted(s, 0.35) }},
		{"m/z scattered by 0.15", Scattered},
		{"column bleed of varied heights", func(s spectrum.Spectrum, random *rand.Rand) spectrum.Spectrum {
			return With(s, varied(bleed, random), 3+30*random.Float64())
		}},
		{"calibration gas of varied heights", func(s spectrum.Spectrum, random *rand.Rand) spectrum.Spectrum {
			return With(s, varied(gas, random), 3+30*random.Float64())
		}},
	}
}

// The backgrounds as notation, the strongest peak 100: common practice, no
// source; the heights of the siloxane clusters follow from their formulas.
var (
	air   = spectrum.MustParse("14:7 16:4 17:6 18:28 28:100 29:0.8 32:26 40:1.6 44:1.2")
	bleed = spectrum.MustParse("73:40 133:8 147:6 191:9 193:6 207:100 208:20 209:14 210:2 281:45 282:13.5 283:9.4 355:12 356:5 357:3.5")
	gas   = spectrum.MustParse("69:100 100:12 119:8 131:30 132:1 219:35 220:1.5 264:8 414:3 502:1.5")
)

// varied gives each ion of a background, with its isotope peaks, another
// height: up to a factor of two up or down, as instruments differ.
func varied(background spectrum.Spectrum, random *rand.Rand) spectrum.Spectrum {
	peaks := slices.Clone(background.Peaks)
	factor, last := 1.0, 0.0
	for i, p := range peaks {
		if p.MZ > last+1.5 {
			factor = math.Exp2(2*random.Float64() - 1)
		}
		last = p.MZ
		peaks[i].Intensity *= factor
	}
	return of(background, peaks)
}

// With adds a background whose strongest peak has percent of the base peak.
func With(s, background spectrum.Spectrum, percent float64) spectrum.Spectrum {
	base, _ := s.Base()
	peaks := slices.Clone(s.Peaks)
	for _, p := range background.Peaks {
		peaks = append(peaks, spectrum.Peak{MZ: p.MZ, Intensity: p.Intensity * percent / 1e4 * base.Intensity})
	}
	return of(s, peaks)
}

// Mixed adds another spectrum whose base peak has percent of the first one's.
func Mixed(s, other spectrum.Spectrum, percent float64) spectrum.Spectrum {
	return With(s, other.Scaled(100), percent)
}

// Saturated cuts all peaks at percent of the base peak.
func Saturated(s spectrum.Spectrum, percent float64) spectrum.Spectrum {
	base, _ := s.Base()
	peaks := slices.Clone(s.Peaks)
	for i := range peaks {
		peaks[i].Intensity = min(peaks[i].Intensity, percent/100*base.Intensity)
	}
	return of(s, peaks)
}

// Noise adds up to 1 % at every m/z from the first peak to 30 above the last.
func Noise(s spectrum.Spectrum, random *rand.Rand) spectrum.Spectrum {
	base, _ := s.Base()
	peaks := slices.Clone(s.Peaks)
	for mz := math.Round(s.Peaks[0].MZ); mz <= s.Peaks[len(s.Peaks)-1].MZ+30; mz++ {
		peaks = append(peaks, spectrum.Peak{MZ: mz, Intensity: 0.01 * random.Float64() * base.Intensity})
	}
	return of(s, peaks)
}

// defect is a typical mass excess of an organic ion over its whole m/z.
func defect(mz float64) float64 { return 0.0007 * mz }

// Shifted gives peaks their mass defect and moves them all.
func Shifted(s spectrum.Spectrum, by float64) spectrum.Spectrum {
	peaks := slices.Clone(s.Peaks)
	for i, p := range peaks {
		peaks[i].MZ = p.MZ + defect(p.MZ) + by
	}
	return of(s, peaks)
}

// Scattered gives peaks their mass defect and a random error of 0.15, at most
// 0.4.
func Scattered(s spectrum.Spectrum, random *rand.Rand) spectrum.Spectrum {
	peaks := slices.Clone(s.Peaks)
	for i, p := range peaks {
		off := max(-0.4, min(0.15*random.NormFloat64(), 0.4))
		peaks[i].MZ = p.MZ + off
		if p.MZ < 300 {
			peaks[i].MZ += defect(p.MZ) * (1 - math.Abs(off))
		}
	}
	return of(s, peaks)
}

// Profile gives each peak a width of 0.5 at half height, twenty points for each
// m/z, and noise of 0.2 % of the base peak.
func Profile(s spectrum.Spectrum, random *rand.Rand) spectrum.Spectrum {
	base, _ := s.Base()
	const points, sigma = 20, 0.5 / 2.355
	first, last := s.Peaks[0].MZ-2, s.Peaks[len(s.Peaks)-1].MZ+2
	peaks := make([]spectrum.Peak, int((last-first)*points)+1)
	for i := range peaks {
		peaks[i] = spectrum.Peak{MZ: first + float64(i)/points, Intensity: 0.002 * random.Float64() * base.Intensity}
	}
	for _, p := range s.Peaks {
		at := p.MZ + defect(p.MZ)
		for i := max(0, int((at-1-first)*points)); i < len(peaks) && peaks[i].MZ < at+1; i++ {
			z := (peaks[i].MZ - at) / sigma
			peaks[i].Intensity += p.Intensity * math.Exp(-z*z/2)
		}
	}
	return of(s, slices.DeleteFunc(peaks, func(p spectrum.Peak) bool { return p.MZ <= 0 }))
}

// of is a spectrum with other peaks. The peaks come from a good spectrum, so
// New can't refuse them.
func of(s spectrum.Spectrum, peaks []spectrum.Peak) spectrum.Spectrum {
	out, err := spectrum.New(peaks)
	if err != nil {
		panic("degrade: " + err.Error())
	}
	out.Title, out.Info = s.Title, s.Info
	return out
}
