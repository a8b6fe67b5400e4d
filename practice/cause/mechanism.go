package cause

import (
	"slices"
	"strconv"

	"ionwright/chem"
	"ionwright/mol"
	"ionwright/mol/smiles"
	"ionwright/practice/answer"
)

// mechanismCauses are wrong rules about what happens in a step.
var mechanismCauses = []Cause{
	{
		Code: AtomsNotBonds, Title: "the atoms are there, but no such piece comes off",
		Rule:   "Any set of the molecule's atoms with the right mass is a fragment.",
		Remedy: "A fragment is a piece of the drawn structure, or what a known rearrangement makes of it. Mark on the structure which bonds must break.",
		Source: "CULL15 (for IR)",
		leads:  unconnected,
	}, {
		Code: StepIncomplete, Title: "an intermediate lacks hydrogens, charge or electrons",
		Rule:   "A sketch of the carbon skeleton says enough.",
		Remedy: "Write formula, charge and unpaired electron of every species of a step, and check that atoms, charge and electrons add up on both sides.",
		Source: "DOMIN12",
		leads: func(f Facts) []Mistake {
			if f.Asks != Identity || f.Ion.IsEmpty() || f.Compound == nil {
				return nil
			}
			for i := range f.Compound.NumAtoms() {
				a := f.Compound.Atom(i)
				if a.Hydrogens == 0 {
					continue
				}
				a.Hydrogens--
				b := f.Compound.Edit()
				b.SetAtom(i, a)
				m, err := b.Mol()
				if err != nil {
					return nil
				}
				return []Mistake{{Structure: smiles.Write(m), Because: "a hydrogen is missing at atom " + strconv.Itoa(i+1)}}
			}
			return nil
		},
		fits: func(f Facts, a Given) bool {
			for _, v := range a.Pairs {
				if v == "" {
					return true
				}
			}
			return f.Asks == Identity && !f.Ion.IsEmpty() && a.Structure != nil && f.Compound != nil &&
				answer.Skeleton(a.Structure, false) == answer.Skeleton(f.Compound, false) && !answer.SameIon(a.Structure, f.Compound)
		},
	}, {
		Code: ArrowKind, Title: "an arrow moves the wrong number of electrons",
		Rule:   "Arrows show that something moves; which head they have doesn't matter.",
		Remedy: "A half arrow moves one electron, a full arrow a pair. A bond that parts evenly needs two half arrows, one from each electron.",
		Source: "FERG08",
		leads: func(f Facts) []Mistake {
			if len(f.Moves) == 0 {
				return nil
			}
			var wrong []string
			for _, m := range f.Moves {
				a, err := answer.ParseArrow(m.Text)
				if err != nil {
					return nil
				}
				a.Half = !a.Half
				wrong = append(wrong, a.String())
			}
			return []Mistake{{List: wrong, Because: "full and half arrows are exchanged"}}
		},
		fits: func(f Facts, a Given) bool {
			if len(f.Moves) == 0 || len(a.Arrows) == 0 {
				return false
			}
			for _, given := range a.Arrows {
				given.Half = !given.Half
				if slices.ContainsFunc(f.Moves, func(m Move) bool { return m.Text == given.String() }) {
					return true
				}
			}
			return false
		},
	}, {
		Code: ElectronParity, Title: "the ion is written as if in solution, with all electrons paired",
		Rule:   "An ion is a molecule with a proton more or less.",
		Remedy: "Electron ionization takes one electron away: the molecular ion has an unpaired electron and the mass of the molecule. Count the electrons of every ion, and put the dot where it belongs.",
		Source: "BOUCH",
		leads: func(f Facts) []Mistake {
			if !f.asksIon() && f.Asks != PeakOf || !f.Ion.OddElectron() {
				return nil
			}
			var out []Mistake
			for _, change := range []int{1, -1} {
				g, ok := withHydrogens(f.Ion, change)
				if !ok {
					continue
				}
				why := map[int]string{1: "that is the protonated molecule", -1: "that is the ion less a hydrogen atom"}[change]
				if f.Asks == PeakOf {
					out = append(out, number(g.NominalMZ(), 0, why))
				} else {
					out = append(out, formula(g, why))
				}
			}
			return out
		},
		fits: func(f Facts, a Given) bool {
			return a.Formula != nil && f.asksIon() && a.Formula.Formula == f.Ion &&
				(f.DotAsked && f.Ion.OddElectron() && !a.Formula.Dot || a.Formula.Dot && !f.Ion.OddElectron())
		},
	},
}

// fragmentCauses are rules of thumb for groups used where they don't hold.
var fragmentCauses = []Cause{
	{
		Code: ThirtyOne, Title: "m/z 31 is taken as proof of a primary alcohol",
		Rule:   "A peak at m/z 31 means a primary alcohol.",
		Remedy: "CH₂OH⁺ at m/z 31 also comes from ethers and other alcohols by rearrangement. It speaks for a primary alcohol only where it is strong and other clues agree.",
		Source: "WHIT 6.10",
		leads: func(f Facts) []Mistake {
			if f.Asks != Group && f.Asks != Evidence || f.Compound == nil || f.Spectrum.Relative(31) == 0 || primaryAlcohol(f.Compound) {
				return nil
			}
			return []Mistake{{Words: "primary alcohol", Because: "it rests on m/z 31 alone"}}
		},
	}, {
		Code: WaterMust, Title: "a loss of water is claimed that the spectrum doesn't show",
		Rule:   "Every alcohol shows M − 18.",
		Remedy: "Many alcohols lose water, but not all show the peak. Look whether it is there before you use it.",
		Source: "OSX-OC (2-methylpentan-3-ol has no m/z 84)",
		leads: func(f Facts) []Mistake {
			if f.Formula.Count(chem.O) == 0 || !f.showsNoWaterLoss() {
				return nil
			}
			mz := f.Formula.NominalMass() - water
			return []Mistake{number(float64(mz), 0, "M − 18 isn't seen here"),
				{Words: "m-18", Because: "M − 18 isn't seen here"}}
		},
		fits: func(f Facts, a Given) bool {
			return f.Asks == Peaks && f.Formula.Count(chem.O) > 0 && f.showsNoWaterLoss() &&
				slices.Contains(a.List, strconv.Itoa(f.Formula.NominalMass()-water))
		},
	}, {
		Code: NoGammaHydrogen, Title: "a hydrogen rearrangement without a hydrogen in reach",
		Rule:   "Every carbonyl compound gives the rearrangement ion.",
		Remedy: "The hydrogen comes from the third atom beyond the carbonyl carbon, through a six-membered ring. Number the chain and look whether that atom is there and bears a hydrogen.",
		Source: "OSX-OC; WHIT 6.11",
		leads: func(f Facts) []Mistake {
			if f.Compound == nil || f.Asks != Rearranged && f.Asks != Peaks && f.Asks != StrongestPeak {
				return nil
			}
			var out []Mistake
			for _, mz := range enolsWithoutHydrogen(f.Compound) {
				out = append(out, number(float64(mz), 0, "no hydrogen stands on the third atom from the carbonyl carbon"))
			}
			return out
		},
		fits: func(f Facts, a Given) bool {
			if f.Asks != Peaks || f.Compound == nil {
				return false
			}
			for _, mz := range enolsWithoutHydrogen(f.Compound) {
				if slices.Contains(a.List, strconv.Itoa(mz)) && f.Spectrum.Relative(mz) < 1 {
					return true
				}
			}
			return false
		},
	},
}

const water = 18 // nominal mass, Da

// showsNoWaterLoss tells whether the compound is an alcohol without a visible
// peak at M - 18.
func (f Facts) showsNoWaterLoss() bool {
	if f.Compound == nil || len(f.Spectrum.Peaks) == 0 || f.Asks != Peaks && f.Asks != Evidence && f.Asks != StrongestPeak && f.Asks != Anything {
		return false
	}
	const visible = 1 // % of the base peak
	return hydroxyl(f.Compound, func(mol.Atom) bool { return true }) && f.Spectrum.Relative(f.Formula.NominalMass()-water) < visible
}
