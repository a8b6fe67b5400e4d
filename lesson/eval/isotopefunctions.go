package eval

import (
	"fmt"

	"ionwright/chem"
	"ionwright/isotope"
)

// isotopeFunctions follow from the natural abundances of the isotopes.
var isotopeFunctions = []Function{
	{
		Name: "isotopeRatio", Forms: []Form{
			{{"compound", "compound"}, {"step", "number"}}, {{"formula", "text"}, {"step", "number"}}},
		Result: "decimal", Kind: Percent,
		Doc: "The isotope peak at M+step in percent of the peak M of the principal isotopes, computed from the natural abundances and " +
			"not read from the spectrum.",
		Example: "isotopeRatio(bottle8, 2)", Prints: "32\u00a0%",
		bind: func(r *run, a args) (any, error) {
			f, err := r.formula(a, 0)
			if err != nil {
				return nil, err
			}
			step, err := a.mz(1)
			if err != nil {
				return nil, err
			}
			if f.IsEmpty() {
				return nil, fmt.Errorf("the formula is empty")
			}
			pattern, mass := isotope.Unit(f), f.NominalMass()
			r.note("from the natural abundances of the isotopes in %s", f)
			return 100 * pattern.At(mass+step) / pattern.At(mass), nil
		},
	}, {
		Name: "abundance", Forms: []Form{{{"element", "text"}, {"mass number", "number"}}}, Result: "decimal", Kind: Percent,
		Doc:     "The natural abundance of an isotope, in percent of all atoms of the element; 0 for an isotope that isn't natural.",
		Example: `abundance("Cl", 37)`, Prints: "24\u00a0%",
		bind: func(r *run, a args) (any, error) {
			e, ok := chem.ElementBySymbol(a.text(0))
			if !ok {
				return nil, fmt.Errorf("%q isn't the symbol of an element", a.text(0))
			}
			number, err := a.mz(1)
			if err != nil {
				return nil, err
			}
			i, ok := e.Isotope(number)
			if !ok {
				return nil, fmt.Errorf("%s has no isotope of mass number %d", e.Name(), number)
			}
			return 100 * i.Abundance, nil
		},
	},
}
