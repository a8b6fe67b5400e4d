package eval

import (
	"fmt"

	"ionwright/reading"
)

// commonFunctions look up what is common, whatever the compound.
var commonFunctions = []Function{
	{
		Name: "assignments", Forms: []Form{{{"mz", "number"}}}, Result: "texts", Kind: Formula,
		Doc: "All common assignments of an ion at a nominal m/z, the one met most often first: what else a peak could be. " +
			"Fails where no ion is common.",
		Example: "assignments(43)", Prints: "C3H7+, C2H3O+, C2H5N+ or CHNO+",
		bind: func(r *run, a args) (any, error) {
			mz, err := a.mz(0)
			if err != nil {
				return nil, err
			}
			r.listedIons = append(r.listedIons, mz)
			list := formulasAt(mz)
			if len(list) == 0 {
				return nil, fmt.Errorf("no ion is common at m/z %d", mz)
			}
			return list, nil
		},
	}, {
		Name: "losses", Forms: []Form{{{"mass", "number"}}}, Result: "texts", Kind: Formula,
		Doc:     "All neutrals of a nominal mass in Da that molecular ions commonly lose, the most common first. Fails where none is.",
		Example: "losses(28)", Prints: "C2H4, CO, N2 or CH2N",
		bind: func(r *run, a args) (any, error) {
			mass, err := a.mz(0)
			if err != nil {
				return nil, err
			}
			r.listedLosses = append(r.listedLosses, mass)
			list := lossesOf(mass)
			if len(list) == 0 {
				return nil, fmt.Errorf("no loss of %d Da is common", mass)
			}
			return list, nil
		},
	},
}

// formulasAt are the formulas of the common ions of an m/z.
func formulasAt(mz int) []string {
	var list []string
	for _, a := range reading.Common(mz) {
		list = append(list, a.Formula.String())
	}
	return list
}

// lossesOf are the formulas of the common losses of a nominal mass.
func lossesOf(mass int) []string {
	var list []string
	for _, l := range reading.Losses(mass) {
		list = append(list, l.Formula.String())
	}
	return list
}

// AlternativesAt are the common assignments of an ion's m/z, as formulas.
func AlternativesAt(mz int) []string { return formulasAt(mz) }

// AlternativeLosses are the common losses of a nominal mass, as formulas.
func AlternativeLosses(mass int) []string { return lossesOf(mass) }
