package ionize

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"ionwright/isotope"
	"ionwright/mol"
	"ionwright/spectrum"
)

// MostSteps is the longest route that counts as an explanation of a peak.
const MostSteps = 4

// plausible is the least part of a peak's measured share of the ion current
// that the ions with a route must have in the computed spectrum for the peak to
// count as explained. With any route counting, wrong structures would be
// explained nearly as well as right ones. It is a compromise: a larger value
// sets right structures farther apart from their isomers, but leaves more of
// their peaks unexplained, since computed heights are often wrong by more.
// "go run ./bench explain" shows both on structures that nothing was fitted to.
const plausible = 0.05

// minorOrigin is the part of what is computed at an m/z below which an ion
// isn't named as an origin of the peak, and mostOrigins how many are named.
const (
	minorOrigin = 0.05
	mostOrigins = 4
)

// Assignment explains a measured spectrum by a structure.
type Assignment struct {
	Prediction *Prediction
	Peaks      []AssignedPeak // those measured, by ascending m/z
	// Explained is the share of the measured ion current, 0 to 1, that is on
	// explained peaks, from From on.
	Explained float64
	From      int // lowest m/z that counts
}

// AssignedPeak is a measured peak with the ions that make it.
type AssignedPeak struct {
	MZ        int
	Intensity float64 // as measured
	Relative  float64 // as measured, % of the base peak
	Computed  float64 // height in the computed spectrum, % of its base peak
	// Explained says that ions with routes of at most MostSteps steps are
	// computed to make the peak, not far below its measured height.
	Explained bool
	Origins   []Origin // the most abundant first; none where nothing is computed at this m/z by a short route
}

// Origin is an ion that makes a peak, itself or by its heavier isotopes.
type Origin struct {
	Ion    Ion
	Above  int     // mass units above the ion of principal isotopes; 0 for the ion itself
	Share  float64 // of what is computed at this m/z, 0 to 1
	Route  []Step  // from the molecular ion, at most MostSteps; none for the molecular ion
	Height float64 // computed height, % of the computed base peak
}

// countedFrom is the lowest m/z that counts in the explained share where the
// spectrum has peaks from there on; few spectra are complete below.
const countedFrom = 29

// Explain computes the spectrum of m and assigns the peaks of the measured
// spectrum, at unit m/z, to its ions. It fails as [Predict] does, and for a
// spectrum without ion current.
//
// A peak counts as explained when the ions at its m/z that have a route of at
// most MostSteps steps carry, in the computed spectrum, at least a twentieth of
// the share of the ion current that the peak has in the measured one: a step
// that can be written but that hardly any ion takes explains nothing.
func Explain(ctx context.Context, m *mol.Mol, measured spectrum.Spectrum, settings Settings) (*Assignment, error) {
	if base, ok := measured.Base(); !ok || !(base.Intensity > 0) {
		return nil, fmt.Errorf("explaining the spectrum: it has no peak with intensity")
	}
	p, err := Predict(ctx, m, settings)
	if err != nil {
		return nil, err
	}
	return p.Assign(measured), nil
}

// Assign assigns the peaks of a measured spectrum to the ions of the
// prediction, as [Explain] does.
func (p *Prediction) Assign(measured spectrum.Spectrum) *Assignment {
	unit := measured.Unit()
	a := &Assignment{Prediction: p, From: countedFrom}
	if len(unit.From(countedFrom).Peaks) == 0 {
		a.From = 0
	}
	counted := unit.From(float64(a.From))
	current := counted.TotalIonCurrent()
	origins, computed := p.origins()
	first := a.From
	if len(counted.Peaks) > 0 {
		first = max(first, spectrum.UnitMZ(counted.Peaks[0].MZ))
	}
	computedCurrent, computedBase := 0.0, 0.0
	for mz, n := range computed {
		computedBase = max(computedBase, n)
		if mz >= first {
			computedCurrent += n
		}
	}
	explained := 0.0
	for _, peak := range unit.Peaks {
		mz := spectrum.UnitMZ(peak.MZ)
		out := AssignedPeak{MZ: mz, Intensity: peak.Intensity, Relative: unit.Relative(mz), Computed: 100 * computed[mz] / computedBase}
		short := 0.0
		for _, o := range origins[mz] {
			short += o.Share
		}
		if short > 0 && current > 0 && computedCurrent > 0 {
			out.Explained = short/computedCurrent >= plausible*peak.Intensity/current
		}
		out.Origins = named(origins[mz], computed[mz], computedBase)
		if out.Explained && mz >= a.From {
			explained += peak.Intensity
		}
		a.Peaks = append(a.Peaks, out)
	}
	if current > 0 {
		a.Explained = explained / current
	}
	for i := range a.Peaks {
		for k := range a.Peaks[i].Origins {
			o := &a.Peaks[i].Origins[k]
			o.Route = p.shortRoute(o.Ion.ID)
		}
	}
	return a
}

// named keeps the origins worth naming; their Share, so far in ions, becomes a
// share of all computed at the m/z.
func named(origins []Origin, all, base float64) []Origin {
	slices.SortStableFunc(origins, func(x, y Origin) int { return cmp.Compare(y.Share, x.Share) })
	var out []Origin
	for _, o := range origins {
		if len(out) == mostOrigins || len(out) > 0 && o.Share < minorOrigin*all {
			break
		}
		o.Height = 100 * o.Share / base
		o.Share /= all
		out = append(out, o)
	}
	return out
}

// origins lists, by m/z, the ions with a short route and their isotopes, with
// Share in ions of one molecular ion that come by short routes; and what is
// computed there in all.
func (p *Prediction) origins() (by map[int][]Origin, computed map[int]float64) {
	by, computed = map[int][]Origin{}, map[int]float64{}
	short := p.shortShares()
	for _, ion := range p.Ions {
		if ion.Abundance < leastAbundance {
			continue
		}
		pattern := isotope.Unit(ion.Formula)
		for k, share := range pattern.Abundance {
			mz := pattern.First + k
			n := ion.Abundance * share
			computed[mz] += n
			if n *= short[ion.ID]; n > leastAbundance {
				by[mz] = append(by[mz], Origin{Ion: ion, Above: mz - ion.MZ, Share: n})
			}
		}
	}
	return by, computed
}

// leastAbundance is the share of all ions below which an ion or one of its
// isotopologues is left out.
const leastAbundance = 1e-7

// strongComputed is the height in % of the base from which a computed peak
// that wasn't measured is worth saying.
const strongComputed = 20

// Missing returns the strong computed peaks, in % of the computed base peak,
// at m/z that the measured spectrum covers and where it has nothing, by
// ascending m/z. They speak against the structure, as far as the computed
// spectrum can be trusted.
func (a *Assignment) Missing() []spectrum.Peak {
	if len(a.Peaks) == 0 {
		return nil
	}
	measured := map[int]bool{}
	for _, peak := range a.Peaks {
		measured[peak.MZ] = measured[peak.MZ] || peak.Intensity > 0
	}
	var out []spectrum.Peak
	for _, peak := range a.Prediction.Spectrum().AtLeast(strongComputed).Peaks {
		if mz := spectrum.UnitMZ(peak.MZ); mz >= max(a.From, a.Peaks[0].MZ) && !measured[mz] {
			out = append(out, peak)
		}
	}
	return out
}
