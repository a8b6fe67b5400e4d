package cause

import (
	"fmt"
	"math"
	"slices"

	"ionwright/chem"
	"ionwright/reading"
)

// otherMeanings are the common formulas of the m/z or loss asked about that
// aren't what this compound gives.
func otherMeanings(f Facts) []Mistake {
	var out []Mistake
	switch f.Asks {
	case IonAt:
		for _, a := range reading.Common(int(math.Round(f.MZ))) {
			if a.Formula != f.Ion && !slices.Contains(f.Possible, a.Formula) && a.Formula.NominalMZ() == f.MZ {
				out = append(out, formula(a.Formula, fmt.Sprintf("m/z %.0f is often %s, but not in this compound", f.MZ, named(a.Formula, a.Name))))
			}
		}
	case LostTo:
		lost := f.lost()
		for _, a := range reading.Losses(lost.NominalMass()) {
			if a.Formula != lost {
				out = append(out, formula(a.Formula, fmt.Sprintf("a loss of %d is often %s, but not here", lost.NominalMass(), named(a.Formula, a.Name))))
			}
		}
	}
	return out
}

func named(f chem.Formula, name string) string {
	if name == "" || name == f.Unicode() {
		return f.Unicode()
	}
	return f.Unicode() + " (" + name + ")"
}

// unconnected are compositions of the m/z asked about that the compound holds
// but doesn't give, apart from those that are learned by heart.
func unconnected(f Facts) []Mistake {
	if f.Asks != IonAt || f.Formula.IsEmpty() || f.MZ != math.Trunc(f.MZ) || len(f.Possible) == 0 {
		return nil
	}
	const most = 200 // above, a peak has too many compositions to foresee
	if f.MZ > most {
		return nil
	}
	common := reading.Common(int(f.MZ))
	var out []Mistake
	for _, a := range reading.Compositions(int(f.MZ)) {
		learned := slices.ContainsFunc(common, func(c reading.Assignment) bool { return c.Formula == a.Formula })
		if !learned && a.Formula != f.Ion && f.Formula.Contains(a.Formula) && !slices.Contains(f.Possible, a.Formula) {
			out = append(out, formula(a.Formula, a.Formula.Unicode()+" has the right mass, but no such piece of the structure comes off"))
		}
	}
	return out
}
