package cause

import (
	"fmt"
	"math"

	"ionwright/chem"
	"ionwright/isotope"
)

// isotopeCauses are wrong rules about isotope patterns and the counting of
// atoms.
var isotopeCauses = []Cause{
	{
		Code: HalogenPattern, Title: "the pattern of one halogen atom is used for several",
		Rule:   "Chlorine gives 3 : 1 and bromine 1 : 1, however many there are.",
		Remedy: "Each atom chooses its isotope by itself: multiply the patterns, (3 : 1) × (3 : 1) = 9 : 6 : 1.",
		Source: "CIE (CH2BrCl); JCE-CALC",
		leads: func(f Facts) []Mistake {
			cl, br := f.Formula.Count(chem.Cl), f.Formula.Count(chem.Br)
			if f.Asks != Pattern || f.Offset%2 != 0 || f.Offset == 0 || cl+br == 0 {
				return nil
			}
			right := patternPercent(f.Formula, f.Offset)
			var out []Mistake
			add := func(v float64, why string) {
				const close = 3 // percentage points by which a textbook rounds
				if abs(v-right) > close {
					out = append(out, number(v, min(close, abs(v-right)*0.6), why))
				}
			}
			one := map[chem.Element]float64{chem.Cl: 32.0, chem.Br: 97.3}
			if cl > 0 {
				add(one[chem.Cl], "it is the partner of one chlorine atom")
			}
			if br > 0 {
				add(one[chem.Br], "it is the partner of one bromine atom")
			}
			if n := f.Offset / 2; cl+br > 1 && n == cl+br {
				add(float64(cl)*one[chem.Cl]+float64(br)*one[chem.Br], "the atoms' patterns were added")
			}
			return out
		},
	}, {
		Code: CarbonCount, Title: "M + 1 over 1.1 is taken as it comes",
		Rule:   "The ratio of M + 1 to M, divided by 1.1 %, is the number of carbon atoms, exactly.",
		Remedy: "A number of atoms is whole: round to the nearest, and remember that nitrogen, silicon and sulfur add to M + 1 and that a measured ratio has an error.",
		Source: "CIE M19, M20 (keys 13.0 and 13.1 need rounding)",
		leads: func(f Facts) []Mistake {
			if f.Asks != Carbons || f.Ratio <= 0 {
				return nil
			}
			right, x := float64(f.Formula.Count(chem.C)), f.Ratio/1.1
			var out []Mistake
			add := func(v, within float64, why string) {
				if v != right && v > 0 {
					out = append(out, number(v, within, why))
				}
			}
			add(x, min(0.045, abs(x-right)/2), fmt.Sprintf("%.1f / 1.1 is %.2f, which isn't rounded", f.Ratio, x))
			add(math.Floor(x), 0, fmt.Sprintf("%.2f was cut off", x))
			add(math.Ceil(x), 0, fmt.Sprintf("%.2f was rounded up", x))
			add(math.Round(x), 0, "what other elements add to M + 1 wasn't taken off")
			add(math.Round(f.Ratio), 0, "the ratio wasn't divided by 1.1")
			return out
		},
	}, {
		Code: NitrogenRule, Title: "the nitrogen rule is misapplied",
		Rule:   "Odd means one nitrogen, even means none, for any peak.",
		Remedy: "For a molecular ion an odd m/z means an odd number of nitrogen atoms, and an even one none, two or four. For even-electron fragments it is the other way round.",
		Source: "GROSS 6.2; OSX-OC",
		leads: func(f Facts) []Mistake {
			g := f.Ion
			if g.IsEmpty() {
				g = f.Formula
			}
			if f.Asks != Nitrogens || g.IsEmpty() {
				return nil
			}
			right, naive := float64(g.Count(chem.N)), float64(g.NominalMass()%2)
			if right == naive {
				return []Mistake{number(1-naive, 0, "odd and even were exchanged")}
			}
			if g == f.Ion && !g.OddElectron() {
				return []Mistake{number(naive, 0, "the rule for molecular ions was used for an even-electron fragment")}
			}
			return []Mistake{number(naive, 0, "an even m/z was taken to mean no nitrogen, and an odd one just one")}
		},
		fits: func(f Facts, a Given) bool {
			if f.Asks != Nitrogens || a.Number == nil {
				return false
			}
			g := f.Ion
			if g.IsEmpty() {
				g = f.Formula
			}
			return math.Mod(abs(*a.Number-float64(g.Count(chem.N))), 2) == 1
		},
	}, {
		Code: ChargeTwo, Title: "m/z is taken for the mass of a doubly charged ion",
		Rule:   "m/z is the mass.",
		Remedy: "m/z is the mass over the number of charges. With two charges the ion weighs twice its m/z; peaks at half units show it.",
		Source: "GB-MZ; SKOOG-IM 20-14",
		leads: func(f Facts) []Mistake {
			z := abs(float64(f.Ion.Charge()))
			if z < 2 || f.Asks != PeakOf && f.Asks != MassOf {
				return nil
			}
			m := float64(f.Ion.NominalMass())
			if f.Asks == MassOf {
				return []Mistake{
					number(m/z, 0.3, fmt.Sprintf("that is the m/z; the mass is %.0f times that", z)),
					number(m/z/z, 0.3, fmt.Sprintf("the m/z was divided by %.0f instead of multiplied", z)),
				}
			}
			return []Mistake{
				number(m, 0.3, fmt.Sprintf("that is the mass; the m/z is the mass over %.0f", z)),
				number(m*z, 0.3, fmt.Sprintf("the mass was multiplied by %.0f instead of divided", z)),
			}
		},
	}, {
		Code: MassNumberPlace, Title: "the particle's mass number is put on one atom",
		Rule:   "The m/z goes before the formula as its mass number.",
		Remedy: "A mass number before a symbol belongs to one atom of that element: ¹⁶O₂⁺ weighs 32, and there is no ³²O.",
		Source: "EDX, mark scheme's reject list",
		leads: func(f Facts) []Mistake {
			if f.Asks != Isotopologue {
				return nil
			}
			total := f.Ion.NominalMass()
			var first chem.Element
			for s := range f.Ion.All() {
				first = s.Element()
			}
			return []Mistake{{Words: fmt.Sprintf("%d%s", total, f.Ion.Natural().WithCharge(0).String()),
				Because: fmt.Sprintf("no atom of %s has the mass number %d", first.Name(), total)}}
		},
		fits: func(f Facts, a Given) bool { return a.Formula != nil && a.Formula.Heavy > 0 },
	},
}

// patternPercent is the height of the peak at M + offset in % of that at M,
// of the isotopologues of principal isotopes.
func patternPercent(f chem.Formula, offset int) float64 {
	p := isotope.Unit(f)
	m := p.At(f.NominalMass())
	if m == 0 {
		return 0
	}
	return 100 * p.At(f.NominalMass()+offset) / m
}
