package cause

import (
	"strconv"

	"ionwright/chem"
)

// ionCauses are wrong rules about what an ion is and what it weighs.
var ionCauses = []Cause{
	{
		Code: ChargeLeftOff, Title: "the charge is missing",
		Rule:   "The formula says what the peak is; the charge needn't be written.",
		Remedy: "Only ions reach the detector: a neutral species gives no peak. Write the charge with the formula.",
		Source: "IB15, examiners' report and mark scheme",
		leads: func(f Facts) []Mistake {
			if f.Ion.Charge() == 0 || !f.asksIon() {
				return nil
			}
			return []Mistake{formula(f.Ion.WithCharge(0), "it is "+f.Ion.Unicode()+" without its charge")}
		},
		fits: func(f Facts, a Given) bool {
			return a.Structure != nil && f.Ion.Charge() != 0 && a.Structure.Formula() == f.Ion.WithCharge(0)
		},
	}, {
		Code: MassDiffers, Title: "the formula doesn't weigh what the peak says",
		Rule:   "A piece that looks right for the compound is what the peak is.",
		Remedy: "Add up the nominal masses of the formula and compare them with the m/z of the peak before you go on.",
		Source: "IB15, examiners' report",
		leads: func(f Facts) []Mistake {
			if f.Asks != IonAt && f.Asks != LostTo {
				return nil
			}
			right := f.Ion
			if f.Asks == LostTo {
				right = f.lost()
			}
			var out []Mistake
			for _, off := range []int{-2, -1, 1, 2} {
				if off*off == 1 && right.OddElectron() {
					continue // a proton more or less: the electrons, not the mass
				}
				if g, ok := withHydrogens(right, off); ok {
					out = append(out, formula(g, "it weighs "+strconv.Itoa(g.NominalMass())+", not "+strconv.Itoa(right.NominalMass())))
				}
			}
			return out
		},
		fits: func(f Facts, a Given) bool {
			switch {
			case a.Formula == nil:
				return false
			case f.Asks == IonAt && f.MZ > 0:
				g := a.Formula.Formula
				if g.Charge() == 0 {
					g = g.WithCharge(1)
				}
				return g.NominalMZ() != f.MZ
			case f.Asks == LostTo:
				return a.Formula.NominalMass() != f.lost().NominalMass()
			}
			return false
		},
	}, {
		Code: NeutralPeak, Title: "a whole molecule is given for a fragment",
		Rule:   "Every peak is the compound itself, or a neutral molecule.",
		Remedy: "A molecular ion breaks into an ion, which is detected, and a neutral, which is not. Write both, and ask which of them the peak is.",
		Source: "OAK, misconceptions listed for teachers",
		leads: func(f Facts) []Mistake {
			if f.Asks != IonAt || f.Formula.IsEmpty() || f.Ion.WithCharge(0) == f.Formula {
				return nil
			}
			return []Mistake{
				formula(f.Formula, "that is the whole molecule, uncharged"),
				formula(f.Formula.WithCharge(1), "that is the molecular ion, not the fragment"),
			}
		},
		fits: func(f Facts, a Given) bool {
			return f.Asks == Evidence && (says(a, "molecule breaks into molecules") || says(a, "neutral molecule is detected") ||
				says(a, "molecules are detected") || says(a, "molecules reach the detector"))
		},
	}, {
		Code: LostPart, Title: "the part that was lost is given for the ion",
		Rule:   "The piece that breaks off is what the detector sees.",
		Remedy: "Ion and neutral together make up M. The peak is the part that keeps the charge; the neutral that left gives no peak.",
		Source: "CLARK; OSX-OC m00135",
		leads: func(f Facts) []Mistake {
			lost := f.lost()
			if lost.IsEmpty() || lost.WithCharge(f.Ion.Charge()) == f.Ion {
				return nil
			}
			why := "what you give is the rest of the molecule, which left"
			switch f.Asks {
			case IonAt:
				return []Mistake{formula(lost, why), formula(lost.WithCharge(1), why)}
			case PeakOf, Rearranged:
				return []Mistake{number(float64(lost.NominalMass()), 0, why)}
			case LostTo:
				return []Mistake{formula(f.Ion, "that is the ion that stays"), formula(f.Ion.WithCharge(0), "that is the part that stays")}
			}
			return nil
		},
	},
}

// asksIon tells whether the answer is an ion's formula.
func (f Facts) asksIon() bool {
	return f.Asks == IonAt || f.Asks == Isotopologue || f.Asks == Rearranged
}

// lost is what the molecular ion has lost when it is Ion; empty where that
// isn't known.
func (f Facts) lost() chem.Formula {
	lost, ok := f.Formula.Minus(f.Ion.WithCharge(0).Natural())
	if !ok || f.Ion.IsEmpty() {
		return chem.Formula{}
	}
	return lost
}

func withHydrogens(f chem.Formula, change int) (chem.Formula, bool) {
	n := f.CountSpecies(chem.NaturalSpecies(chem.H)) + change
	if n < 0 {
		return f, false
	}
	f.SetCount(chem.NaturalSpecies(chem.H), n)
	return f, !f.IsEmpty()
}
