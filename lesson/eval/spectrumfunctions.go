package eval

import (
	"fmt"

	"ionwright/lesson/diag"
	"ionwright/lesson/load"
)

// spectrumFunctions read a compound's spectrum.
var spectrumFunctions = []Function{
	{
		Name: "energy", Forms: ofCompound, Result: "decimal",
		Doc:     "The energy of the ionizing electrons in eV. Fails where a measured spectrum's file doesn't say it.",
		Example: "energy(bottle3)", Prints: "70",
		bind: func(r *run, a args) (any, error) {
			c := a.compound(0).of
			ev := c.Spectrum.Info.EnergyEV
			if !c.Measured {
				ev = c.Prediction.Settings.EnergyEV
			}
			if ev == 0 {
				return nil, fmt.Errorf("the file %q of %s doesn't say the energy of the electrons", c.File, c.Key)
			}
			return ev, nil
		},
	}, {
		Name: "basePeak", Forms: ofCompound, Result: "peak",
		Doc:     "The base peak: the strongest peak of the spectrum, with the fields mz and intensity (100 by definition).",
		Example: "basePeak(bottle3).mz", Prints: "43",
		bind: func(r *run, a args) (any, error) {
			c := a.compound(0).of
			base, _ := c.Spectrum.Base()
			r.sawPeak(c, unit(base.MZ))
			return Peak{MZ: unit(base.MZ), Intensity: base.Intensity}, nil
		},
	}, {
		Name: "molecularIon", Forms: ofCompound, Result: "peak",
		Doc: "The peak of the molecular ion: where it must stand for the compound's structure, and its relative intensity in the " +
			"spectrum, which is 0 when none is seen.",
		Example: "molecularIon(bottle8).mz", Prints: "112",
		bind: func(r *run, a args) (any, error) {
			c := a.compound(0).of
			r.molecularIons = append(r.molecularIons, c)
			return r.peak(c, c.NominalMass()), nil
		},
	}, {
		Name: "peak", Forms: atMZ, Result: "peak",
		Doc:     "The peak at an m/z, with the fields mz and intensity (relative, in percent of the base peak; 0 where there is none).",
		Example: "peak(bottle3, 43).intensity", Prints: "100\u00a0%",
		bind: func(r *run, a args) (any, error) {
			mz, err := a.mz(1)
			if err != nil {
				return nil, err
			}
			return r.peak(a.compound(0).of, mz), nil
		},
	}, {
		Name: "peakRatio", Forms: []Form{{{"compound", "compound"}, {"first", "number"}, {"second", "number"}}}, Result: "decimal", Kind: Ratio,
		Doc:     "How many times stronger the first peak is than the second, in the spectrum. Fails when there is no second peak.",
		Example: "peakRatio(bottle8, 112, 114)", Prints: "3.1",
		bind: func(r *run, a args) (any, error) {
			c := a.compound(0).of
			first, err := a.mz(1)
			if err != nil {
				return nil, err
			}
			second, err := a.mz(2)
			if err != nil {
				return nil, err
			}
			x, y := r.peak(c, first), r.peak(c, second)
			if y.Intensity == 0 {
				return nil, fmt.Errorf("%s has no peak at m/z %d (%s)", c.Key, second, c.Origin())
			}
			return x.Intensity / y.Intensity, nil
		},
	}, {
		Name: "strongest", Forms: []Form{{{"compound", "compound"}, {"count", "number"}}}, Result: "numbers", Kind: MZ,
		Doc:     "The m/z of the strongest peaks, the strongest first.",
		Example: "strongest(bottle3, 1)", Prints: "43",
		bind: func(r *run, a args) (any, error) {
			n, err := a.mz(1)
			if err != nil {
				return nil, err
			}
			c := a.compound(0).of
			list := []int64{}
			for _, p := range c.Spectrum.Strongest(n) {
				r.sawPeak(c, unit(p.MZ))
				list = append(list, int64(unit(p.MZ)))
			}
			return list, nil
		},
	}, {
		Name: "ion", Forms: atMZ, Result: "ion",
		Doc: "The ion that the engine gives the peak at an m/z: the most abundant one with a route from the molecular ion. Its fields are " +
			"mz, formula (with charge), exactMass (Da, the electron's mass counted), oddElectron and route (a sentence). Fails where the " +
			"engine knows no such ion of the compound.",
		Example: "ion(bottle3, 43).formula", Prints: "C2H3O+",
		bind: func(r *run, a args) (any, error) {
			mz, err := a.mz(1)
			if err != nil {
				return nil, err
			}
			c := a.compound(0).of
			r.assigned = append(r.assigned, mz)
			return r.ion(c, mz)
		},
	}, {
		Name: "loss", Forms: atMZ, Result: "loss",
		Doc: "The neutral that the molecular ion has lost when it is the ion at an m/z, in one step or several: the fields mass (Da, nominal) and " +
			"formula. Fails where the engine knows no such ion.",
		Example: "loss(bottle3, 43).formula", Prints: "C2H5",
		bind: func(r *run, a args) (any, error) {
			mz, err := a.mz(1)
			if err != nil {
				return nil, err
			}
			return r.loss(a.compound(0).of, mz)
		},
	},
}

// peak reads one peak and leaves a trace of it.
func (r *run) peak(c *load.Compound, mz int) Peak {
	r.sawPeak(c, mz)
	return Peak{MZ: mz, Intensity: c.Spectrum.Relative(mz)}
}

// ion finds the engine's ion at an m/z.
func (r *run) ion(c *load.Compound, mz int) (Ion, error) {
	if c.Prediction == nil {
		return Ion{}, &failure{code: diag.NoIon,
			message: fmt.Sprintf("the ions of %s aren't known: its structure is beyond the engine", c.Key)}
	}
	r.sawPeak(c, mz)
	ions := c.Prediction.At(mz)
	if len(ions) == 0 {
		return Ion{}, &failure{code: diag.NoIon,
			message:    fmt.Sprintf("the engine knows no ion of %s at m/z %d", c.Key, mz),
			suggestion: "it knows ions at m/z " + knownIons(c)}
	}
	best := ions[0]
	return Ion{
		MZ: best.MZ, Formula: best.Formula.String(), ExactMass: float64(best.Formula.MonoisotopicMass()),
		OddElect: best.OddElectron, Route: c.Prediction.Sentence(best),
	}, nil
}

func (r *run) loss(c *load.Compound, mz int) (Loss, error) {
	ion, err := r.ion(c, mz)
	if err != nil {
		return Loss{}, err
	}
	formula, ok := c.Prediction.MolecularIon().Formula.Minus(c.Prediction.At(mz)[0].Formula)
	if !ok {
		return Loss{}, fmt.Errorf("the ion %s isn't a part of the molecular ion of %s", ion.Formula, c.Key)
	}
	mass := formula.NominalMass()
	if mass > 0 {
		r.lost = append(r.lost, mass)
	}
	return Loss{Mass: mass, Formula: formula.String()}, nil
}
