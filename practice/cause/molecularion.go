package cause

import (
	"fmt"
	"math"

	"ionwright/chem"
)

// molecularIonCauses are wrong rules that find the molecular ion or foresee a
// peak.
var molecularIonCauses = []Cause{
	{
		Code: BaseForMolecular, Title: "the base peak is taken for the molecular ion",
		Rule:   "The strongest peak is the molecule.",
		Remedy: "The strongest peak is the most abundant ion, often a fragment. Look for the molecular ion at the upper end, and test the losses below it.",
		Source: "OSX-OC (propane: the molecular ion is only about 30 % of the base peak)",
		leads: func(f Facts) []Mistake {
			base, ok := f.Spectrum.Base()
			mz := math.Round(base.MZ)
			if !ok || f.Asks != MolecularIon || mz == float64(f.Formula.NominalMass()) {
				return nil
			}
			return []Mistake{number(mz, 0, fmt.Sprintf("m/z %.0f is the strongest peak", mz))}
		},
	}, {
		Code: HighestIsMolecular, Title: "the highest m/z is taken for the molecular ion",
		Rule:   "The peak farthest to the right is the molecule.",
		Remedy: "Peaks of heavier isotopes stand above the molecular ion, and it may be missing altogether. Test it: nitrogen rule, sensible losses, isotope cluster.",
		Source: "OSX-OC (M + 1 lies above M; 2,2-dimethylpropane shows no M)",
		leads: func(f Facts) []Mistake {
			if f.Asks != MolecularIon || len(f.Spectrum.Peaks) == 0 {
				return nil
			}
			m := float64(f.Formula.NominalMass())
			var out []Mistake
			add := func(mz float64, why string) {
				for _, have := range out {
					if have.Number.Value == mz {
						return
					}
				}
				if mz != m && mz > 0 {
					out = append(out, number(mz, 0, why))
				}
			}
			last := f.Spectrum.Peaks[len(f.Spectrum.Peaks)-1]
			add(math.Round(last.MZ), fmt.Sprintf("m/z %.0f is the last peak", math.Round(last.MZ)))
			const seen = 1 // % of the base peak: what a student sees of a spectrum
			above := f.Spectrum.AtLeast(seen).Peaks
			if n := len(above); n > 0 && f.Spectrum.Relative(int(m)) < seen {
				add(math.Round(above[n-1].MZ), fmt.Sprintf("m/z %.0f is the last strong peak, but a fragment", math.Round(above[n-1].MZ)))
			}
			for offset := 1; offset <= 4; offset++ {
				if f.Spectrum.Relative(int(m)+offset) > 0 {
					add(m+float64(offset), fmt.Sprintf("m/z %.0f is an isotope peak of the molecular ion", m+float64(offset)))
				}
			}
			return out
		},
	}, {
		Code: AverageMass, Title: "average atomic masses are used",
		Rule:   "A peak stands at the molar mass from the periodic table.",
		Remedy: "An instrument separates the isotopes, so each peak belongs to one of them: use 35 or 37 for chlorine and never 35.5. The average is never seen in a spectrum.",
		Source: "UCAL; OSX-OC m00136",
		leads: func(f Facts) []Mistake {
			g := f.Formula
			if f.Asks == PeakOf {
				g = f.Ion
			}
			if g.IsEmpty() || f.Asks != MolecularIon && f.Asks != PeakOf {
				return nil
			}
			average, nominal := float64(g.AverageMass()), float64(g.NominalMass())
			if z := abs(float64(g.Charge())); z > 1 {
				average, nominal = average/z, nominal/z
			}
			const visible = 0.3
			if abs(average-nominal) < visible {
				return nil
			}
			rough := 0.0
			for s, n := range g.All() {
				rough += float64(n) * schoolMass(s.Element())
			}
			why := fmt.Sprintf("%.4g is the average over the isotopes", average)
			out := []Mistake{number(average, min(0.3, abs(average-nominal)*0.8), why)}
			if r := math.Round(rough); r != nominal && f.Spectrum.Relative(int(r)) == 0 && abs(rough-nominal) > 0.3 {
				out = append(out, number(r, 0, why+", rounded"))
			}
			return out
		},
	}, {
		Code: BiggerIsStronger, Title: "the largest fragment is taken for the strongest",
		Rule:   "The less is lost, the more abundant the ion.",
		Remedy: "Abundance follows the stability of ion and radical and not the size. Compare the ions that each bond's breaking gives.",
		Source: "CONNOR19 (invalid assumptions and heuristics drive the errors)",
		leads: func(f Facts) []Mistake {
			if f.Asks != StrongestPeak {
				return nil
			}
			base, _ := f.Spectrum.Base()
			m := f.Formula.NominalMass()
			for mz := m - 1; mz > int(math.Round(base.MZ)); mz-- {
				const fragment = 1 // % of the base peak
				if f.Spectrum.Relative(mz) >= fragment && m-mz >= 15 {
					return []Mistake{
						number(float64(mz), 0, fmt.Sprintf("m/z %d is the heaviest fragment", mz)),
						number(float64(m), 0, fmt.Sprintf("m/z %d is the molecular ion", m)),
					}
				}
			}
			if int(math.Round(base.MZ)) != m {
				return []Mistake{number(float64(m), 0, fmt.Sprintf("m/z %d is the molecular ion", m))}
			}
			return nil
		},
	},
}

// schoolMass is the relative atomic mass as a school's periodic table gives
// it, to one decimal for chlorine and whole otherwise.
func schoolMass(e chem.Element) float64 {
	a := float64(e.AverageMass())
	if e == chem.Cl || e == chem.Cu {
		return math.Round(10*a) / 10
	}
	return math.Round(a)
}
