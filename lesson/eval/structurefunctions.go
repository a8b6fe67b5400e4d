package eval

import (
	"fmt"

	"ionwright/chem"
)

// structureFunctions follow from a compound's structure, or from a formula
// that is written out.
var structureFunctions = []Function{
	{
		Name: "formula", Forms: ofCompoundOrText, Result: "text", Kind: Formula,
		Doc:     "The molecular formula of a compound, or a written formula in Hill order, which is how formulas are compared.",
		Example: `formula("CH3CO+")`, Prints: "C2H3O+",
		bind: func(r *run, a args) (any, error) {
			f, err := r.formula(a, 0)
			return f.String(), err
		},
	}, {
		Name: "mass", Forms: ofCompoundOrText, Result: "whole number", Kind: NominalMass,
		Doc:     "The nominal mass in Da: the sum of the mass numbers of the principal isotopes.",
		Example: "mass(bottle3)", Prints: "72",
		bind: func(r *run, a args) (any, error) {
			f, err := r.formula(a, 0)
			return int64(f.NominalMass()), err
		},
	}, {
		Name: "exactMass", Forms: ofCompoundOrText, Result: "decimal", Kind: ExactMass,
		Doc:     "The monoisotopic mass in Da; of an ion without the mass of the electrons it lacks.",
		Example: `exactMass("C2H3O+")`, Prints: "43.0178",
		bind: func(r *run, a args) (any, error) {
			f, err := r.formula(a, 0)
			return float64(f.MonoisotopicMass()), err
		},
	}, {
		Name: "averageMass", Forms: ofCompoundOrText, Result: "decimal", Kind: AverageMass,
		Doc:     "The average mass in Da, from the standard atomic weights: what a balance weighs, and never where a peak stands.",
		Example: "averageMass(bottle8)", Prints: "112.56",
		bind: func(r *run, a args) (any, error) {
			f, err := r.formula(a, 0)
			return float64(f.AverageMass()), err
		},
	}, {
		Name: "dbe", Forms: ofCompoundOrText, Result: "decimal",
		Doc:     "Double bond equivalents: rings and double bonds together. Half-integer for an even-electron ion.",
		Example: "dbe(bottle8)", Prints: "4",
		bind: func(r *run, a args) (any, error) {
			f, err := r.formula(a, 0)
			return f.DBE(), err
		},
	}, {
		Name: "count", Forms: []Form{{{"compound", "compound"}, {"element", "text"}}, {{"formula", "text"}, {"element", "text"}}},
		Result:  "whole number",
		Doc:     "How many atoms of an element, given by its symbol.",
		Example: `count(bottle8, "Cl")`, Prints: "1",
		bind: func(r *run, a args) (any, error) {
			f, err := r.formula(a, 0)
			if err != nil {
				return nil, err
			}
			e, ok := chem.ElementBySymbol(a.text(1))
			if !ok {
				return nil, fmt.Errorf("%q isn't the symbol of an element", a.text(1))
			}
			return int64(f.Count(e)), nil
		},
	}, {
		Name: "resolvingPower", Forms: []Form{{{"first", "text"}, {"second", "text"}}, {{"instrument", "instrument"}},
			{{"radius", "number"}, {"slit1", "number"}, {"slit2", "number"}}}, Result: "decimal", Kind: ResolvingPower,
		Doc: "The resolving power m/Δm that tells two ions of the same nominal m/z apart: the mean of their m/z by the difference. " +
			"Of an instrument, or a radius with two slits in m: what the slits leave, by the width of a peak at its base, r / (s1 + s2) where source and collector lie symmetrically.",
		Example: `resolvingPower("C2H3O+", "C3H7+")`, Prints: "1200",
		bind: func(r *run, a args) (any, error) {
			if len(a) != 2 {
				return r.slitPower(a)
			}
			f, err := r.formula(a, 0)
			if err != nil {
				return nil, err
			}
			g, err := r.formula(a, 1)
			if err != nil {
				return nil, err
			}
			x, y := float64(f.MZ()), float64(g.MZ())
			if x == y {
				return nil, fmt.Errorf("%s and %s have the same m/z", f, g)
			}
			return (x + y) / 2 / max(x-y, y-x), nil
		},
	},
}

// formula is an argument that is a compound or a written formula.
func (r *run) formula(a args, i int) (chem.Formula, error) {
	if c := a.compound(i); c != nil {
		r.sawStructure(c.of)
		return c.of.Formula, nil
	}
	return chem.ParseFormula(a.text(i))
}
