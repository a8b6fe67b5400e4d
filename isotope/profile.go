package isotope

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"ionwright/chem"
)

// Profile is the signal that an instrument records over an isotope pattern.
type Profile struct {
	MZ        []float64 // ascending
	Intensity []float64 // of the highest point = 1, at the same index
}

// At returns the intensity at an m/z by linear interpolation, 0 outside the
// profile.
func (p Profile) At(mz float64) float64 {
	i, exact := slices.BinarySearch(p.MZ, mz)
	if exact {
		return p.Intensity[i]
	}
	if i == 0 || i == len(p.MZ) {
		return 0
	}
	share := (mz - p.MZ[i-1]) / (p.MZ[i] - p.MZ[i-1])
	return p.Intensity[i-1] + share*(p.Intensity[i]-p.Intensity[i-1])
}

// Limits of NewProfile.
const (
	mostPoints = 2_000_000
	perWidth   = 20   // points for each full width at half maximum
	reach      = 3.0  // widths to both sides of a peak that are drawn; the Gaussian is below 2e-11 there
	covered    = 0.99 // least share of all isotopologues that is drawn
)

// NewProfile returns the profile of f at a resolving power m/Δm, Δm being the
// full width of a peak at half its height. Each isotopologue gives a Gaussian
// of its own width whose height is its probability (a scanning instrument
// records the ion current, whatever width in m/z it has), at its m/z: the mass less
// the missing electrons over the number of charges (the mass, where f is
// neutral). There are 20 points for the width of the lightest, and none where
// nothing is; at the ends of each stretch the intensity is 0.
//
// Isotopologues rarer than 1e-7 are left out; where the others add up to less
// than 0.99 (polymers), the bound is lowered as far as it goes. It fails for
// the empty formula, for a resolving power that isn't between 10 and 1e8, and
// where more than 500,000 isotopologues or 2,000,000 points would be needed.
func NewProfile(f chem.Formula, resolvingPower float64) (Profile, error) {
	if f.IsEmpty() {
		return Profile{}, fmt.Errorf("drawing a profile: the formula is empty")
	}
	if !(resolvingPower >= 10 && resolvingPower <= 1e8) {
		return Profile{}, fmt.Errorf("drawing the profile of %s: the resolving power %g is not within 10 to 1e8", f, resolvingPower)
	}
	peaks, err := profilePeaks(f)
	if err != nil {
		return Profile{}, fmt.Errorf("drawing the profile of %s: %w", f, err)
	}
	p, err := drawProfile(peaks, resolvingPower)
	if err != nil {
		return Profile{}, fmt.Errorf("drawing the profile of %s: %w", f, err)
	}
	return p, nil
}

// profilePeak is an isotopologue's m/z and height.
type profilePeak struct{ mz, height float64 }

// profilePeaks returns the isotopologues that matter, ascending m/z.
func profilePeaks(f chem.Formula) ([]profilePeak, error) {
	charges := math.Max(1, math.Abs(float64(f.Charge())))
	for minimum := 1e-7; ; minimum /= 10 {
		var peaks []profilePeak
		sum := 0.0
		err := enumerate(f, minimum, mostIsotopologues, func(i Isotopologue, _ []*partial) {
			peaks = append(peaks, profilePeak{float64(i.Mass) / charges, i.Probability})
			sum += i.Probability
		})
		if err != nil {
			return nil, err
		}
		if sum >= covered {
			slices.SortFunc(peaks, func(a, b profilePeak) int { return cmp.Compare(a.mz, b.mz) })
			return peaks, nil
		}
	}
}

// drawProfile adds up the peaks' Gaussians, stretch by stretch.
func drawProfile(peaks []profilePeak, resolvingPower float64) (Profile, error) {
	var p Profile
	step := peaks[0].mz / resolvingPower / perWidth
	for begin := 0; begin < len(peaks); {
		// A stretch ends where no peak reaches.
		end := begin + 1
		high := peaks[begin].mz * (1 + reach/resolvingPower)
		for end < len(peaks) && peaks[end].mz*(1-reach/resolvingPower) <= high+step {
			high = peaks[end].mz * (1 + reach/resolvingPower)
			end++
		}
		low := peaks[begin].mz * (1 - reach/resolvingPower)
		points := int(math.Ceil((high-low)/step)) + 1
		if len(p.MZ)+points > mostPoints {
			return p, fmt.Errorf("more than %d points are needed\nlower the resolving power", mostPoints)
		}
		p.stretch(peaks[begin:end], low, step, points, resolvingPower)
		begin = end
	}
	top := slices.Max(p.Intensity)
	for i := range p.Intensity {
		p.Intensity[i] /= top
	}
	return p, nil
}

// stretch appends the points of neighbouring peaks, from low on.
func (p *Profile) stretch(peaks []profilePeak, low, step float64, points int, resolvingPower float64) {
	first := len(p.MZ)
	for i := range points {
		p.MZ = append(p.MZ, low+float64(i)*step)
		p.Intensity = append(p.Intensity, 0)
	}
	signal := p.Intensity[first:]
	for _, peak := range peaks {
		width := peak.mz / resolvingPower
		from := max(1, int((peak.mz-reach*width-low)/step))
		to := min(points-2, int((peak.mz+reach*width-low)/step)+1)
		for i := from; i <= to; i++ {
			d := (low + float64(i)*step - peak.mz) / width
			signal[i] += peak.height * math.Exp(-4*math.Ln2*d*d)
		}
	}
}
