// Package spectrum holds the values that all rooms exchange: Peak, Spectrum
// and Trace. Terms follow IUPAC's recommendations of 2013 (Murray et al., Pure
// Appl. Chem. 85 (2013) 1515).
//
// For most uses call New with peaks, or Parse with the short notation
// "43:100 58:25". A Spectrum is a plain value: its methods never change it,
// and those that return a Spectrum return new peaks. The package reads no
// files; the codecs are in the packages below it.
package spectrum

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"ionwright/chem"
)

// Peak is one line of a spectrum.
type Peak struct {
	MZ        float64 // m/z, dimensionless, positive
	Intensity float64 // any non-negative unit, the same in the whole spectrum
}

// Origin says where the intensities come from.
type Origin uint8

// The zero Origin is Unknown: a file seldom says.
const (
	Unknown  Origin = iota
	Measured        // recorded by an instrument
	Computed        // by a model of ionization or of an instrument
)

// String returns "unknown", "measured" or "computed".
func (o Origin) String() string {
	switch o {
	case Unknown:
		return "unknown"
	case Measured:
		return "measured"
	case Computed:
		return "computed"
	}
	return fmt.Sprintf("Origin(%d)", uint8(o))
}

// Info is what is known about a spectrum beside its peaks. Every field may be
// empty.
type Info struct {
	Name       string       // of the compound
	Formula    chem.Formula // of the neutral compound
	EnergyEV   float64      // energy of the ionizing electrons in eV, 0 if unknown
	Instrument string       // as the source words it
	SourceID   string       // the source's own identifier, such as an accession
	Owner      string       // who made the data or holds the rights
	License    string       // as the source words it
	Comment    string
	Origin     Origin
}

// Spectrum is a mass spectrum: peaks with ascending m/z. The zero value is an
// empty spectrum. Peaks set by hand must keep the order and signs that New
// checks.
type Spectrum struct {
	Title string
	Peaks []Peak // ascending m/z, no m/z twice
	Info  Info
}

// New returns a spectrum of the peaks in ascending m/z, with the intensities
// of equal m/z added up. It keeps peaks of zero intensity and leaves the
// argument as it was. It fails for an m/z that isn't positive and finite and
// for an intensity that is negative or not finite, and names the first one by
// its place in the argument.
func New(peaks []Peak) (Spectrum, error) {
	sorted := make([]Peak, len(peaks))
	for i, p := range peaks {
		if !(p.MZ > 0) || math.IsInf(p.MZ, 0) {
			return Spectrum{}, fmt.Errorf("making a spectrum: peak %d has m/z %v; an m/z is a positive finite number", i+1, p.MZ)
		}
		if !(p.Intensity >= 0) || math.IsInf(p.Intensity, 0) {
			return Spectrum{}, fmt.Errorf("making a spectrum: peak %d at m/z %v has intensity %v; an intensity is a finite number of zero or more", i+1, p.MZ, p.Intensity)
		}
		sorted[i] = p
	}
	slices.SortStableFunc(sorted, func(a, b Peak) int { return cmp.Compare(a.MZ, b.MZ) })
	merged := sorted[:0]
	for _, p := range sorted {
		if n := len(merged); n > 0 && merged[n-1].MZ == p.MZ {
			merged[n-1].Intensity += p.Intensity
			if math.IsInf(merged[n-1].Intensity, 0) {
				return Spectrum{}, fmt.Errorf("making a spectrum: the intensities at m/z %v add up to more than a number can hold", p.MZ)
			}
			continue
		}
		merged = append(merged, p)
	}
	return Spectrum{Peaks: merged}, nil
}

// Base returns the strongest peak, the lowest in m/z of equally strong ones,
// and false for a spectrum without intensity.
func (s Spectrum) Base() (Peak, bool) {
	var base Peak
	for _, p := range s.Peaks {
		if p.Intensity > base.Intensity {
			base = p
		}
	}
	return base, base.Intensity > 0
}

// TotalIonCurrent returns the sum of all intensities, in their unit.
func (s Spectrum) TotalIonCurrent() float64 {
	var sum float64
	for _, p := range s.Peaks {
		sum += p.Intensity
	}
	return sum
}

// UnitMZ returns the whole m/z that a centroid is counted with: the nearest
// one, and the upper one for a half (a doubly charged ion of odd mass).
// Nearest is right up to about m/z 500, where the mass defect of a
// hydrogen-rich ion reaches half a unit; beyond, it can be one too high.
// Above math.MaxInt32, where no ion is, it stays there.
func UnitMZ(mz float64) int { return int(min(math.Floor(mz+0.5), math.MaxInt32)) }

// within returns the range of peaks whose UnitMZ is mz.
func (s Spectrum) within(mz int) []Peak {
	from, _ := slices.BinarySearchFunc(s.Peaks, mz, func(p Peak, mz int) int { return cmp.Compare(UnitMZ(p.MZ), mz) })
	to := from
	for to < len(s.Peaks) && UnitMZ(s.Peaks[to].MZ) == mz {
		to++
	}
	return s.Peaks[from:to]
}

// At returns the intensity at a unit m/z: the sum over the peaks that round to
// it, 0 where there is none.
func (s Spectrum) At(mz int) float64 {
	return Spectrum{Peaks: s.within(mz)}.TotalIonCurrent()
}

// Relative returns the relative intensity at a unit m/z in % of the base peak
// at unit resolution (0 to 100), and 0 where there is no peak or no intensity
// at all.
func (s Spectrum) Relative(mz int) float64 {
	at := s.At(mz)
	if at == 0 {
		return 0
	}
	var base, sum float64
	last := 0
	for _, p := range s.Peaks {
		if unit := UnitMZ(p.MZ); unit != last {
			last, sum = unit, 0
		}
		sum += p.Intensity
		base = max(base, sum)
	}
	return at / base * 100
}

// Unit returns the spectrum at unit resolution: each m/z as UnitMZ gives it,
// intensities that fall together added up. A spectrum of whole m/z comes back
// with the same peaks. A peak under m/z 0.5 is dropped: there is no ion of
// m/z 0.
func (s Spectrum) Unit() Spectrum {
	out := s
	out.Peaks = make([]Peak, 0, len(s.Peaks))
	for _, p := range s.Peaks {
		mz := float64(UnitMZ(p.MZ))
		if mz == 0 {
			continue
		}
		if n := len(out.Peaks); n > 0 && out.Peaks[n-1].MZ == mz {
			out.Peaks[n-1].Intensity += p.Intensity
			continue
		}
		out.Peaks = append(out.Peaks, Peak{MZ: mz, Intensity: p.Intensity})
	}
	return out
}

// Scaled returns the spectrum with intensities multiplied so that the base
// peak has the intensity base. A spectrum without intensity comes back as it
// is. base must be positive and finite.
func (s Spectrum) Scaled(base float64) Spectrum {
	if !(base > 0) || math.IsInf(base, 0) {
		panic(fmt.Sprintf("spectrum: Scaled to a base of %v; it must be positive and finite", base))
	}
	strongest, ok := s.Base()
	out := s
	out.Peaks = slices.Clone(s.Peaks)
	if !ok {
		return out
	}
	for i := range out.Peaks {
		// Divide first: the quotient is at most 1, so the base peak comes out
		// as base exactly and nothing overflows.
		out.Peaks[i].Intensity = out.Peaks[i].Intensity / strongest.Intensity * base
	}
	return out
}

// From returns the part of the spectrum at and above m/z lowest.
func (s Spectrum) From(lowest float64) Spectrum {
	from, _ := slices.BinarySearchFunc(s.Peaks, lowest, func(p Peak, mz float64) int { return cmp.Compare(p.MZ, mz) })
	out := s
	out.Peaks = slices.Clone(s.Peaks[from:])
	return out
}

// AtLeast returns the spectrum without the peaks under percent of the base
// peak and without peaks of no intensity.
func (s Spectrum) AtLeast(percent float64) Spectrum {
	base, _ := s.Base()
	out := s
	out.Peaks = make([]Peak, 0, len(s.Peaks))
	for _, p := range s.Peaks {
		if p.Intensity > 0 && p.Intensity >= percent/100*base.Intensity {
			out.Peaks = append(out.Peaks, p)
		}
	}
	return out
}

// Strongest returns up to n peaks, strongest first, lower m/z first among
// equals.
func (s Spectrum) Strongest(n int) []Peak {
	peaks := slices.Clone(s.Peaks)
	slices.SortStableFunc(peaks, func(a, b Peak) int { return cmp.Compare(b.Intensity, a.Intensity) })
	return peaks[:min(max(n, 0), len(peaks))]
}
