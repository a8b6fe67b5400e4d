package main

import (
	"context"
	"errors"

	"ionwright/chem"
	"ionwright/isotope"
	"ionwright/mol/smiles"
)

type massesIn struct {
	Formula string `json:"formula"`
	SMILES  string `json:"smiles"`
}

// massesResult is what "masses" computes.
type massesResult struct {
	Formula      string       `json:"formula"`
	Monoisotopic float64      `json:"monoisotopic"` // Da
	Nominal      int          `json:"nominal"`      // Da
	Average      float64      `json:"average"`      // Da
	MZ           float64      `json:"mz,omitempty"` // of an ion
	DBE          float64      `json:"dbe"`
	Isotopes     [][2]float64 `json:"isotopes"` // mass number, abundance; the abundances sum to 1
}

func runMasses(ctx context.Context, c *call) error {
	asSMILES := c.flags.Bool("smiles", false, "the argument is a SMILES")
	streamed := c.flags.Bool("stream", false, "read {\"id\",\"formula\"} or {\"id\",\"smiles\"} a line")
	args, err := c.parse(0, 1)
	if err != nil {
		return err
	}
	if *streamed {
		return stream(ctx, c, func(_ context.Context, in massesIn) (any, error) { return masses(in) })
	}
	if len(args) == 0 {
		return wrongUsage("a formula is missing")
	}
	in := massesIn{Formula: args[0]}
	if *asSMILES {
		in = massesIn{SMILES: args[0]}
	}
	r, err := masses(in)
	if err != nil {
		return err
	}
	if c.json {
		return c.printJSON(r)
	}
	f := chem.MustFormula(r.Formula)
	c.print("formula                  %s", f.Unicode())
	c.print("nominal mass             %d Da", r.Nominal)
	c.print("monoisotopic mass        %.5f Da", r.Monoisotopic)
	c.print("average mass             %.3f Da", r.Average)
	if f.Charge() != 0 {
		c.print("m/z                      %.5f", r.MZ)
	}
	c.print("double bond equivalents  %g", r.DBE)
	c.print("isotope pattern (mass number, %% of the strongest):")
	strongest := 0.0
	for _, p := range r.Isotopes {
		strongest = max(strongest, p[1])
	}
	for _, p := range r.Isotopes {
		if percent := 100 * p[1] / strongest; percent >= 0.01 {
			c.print("%6g %8.2f", p[0], percent)
		}
	}
	return nil
}

// masses computes the masses of a formula or a structure.
func masses(in massesIn) (massesResult, error) {
	f, err := formulaOf(in)
	if err != nil {
		return massesResult{}, err
	}
	pattern := isotope.Unit(f)
	r := massesResult{
		Formula: f.String(), Monoisotopic: float64(f.MonoisotopicMass()), Nominal: f.NominalMass(),
		Average: float64(f.AverageMass()), DBE: f.DBE(), Isotopes: [][2]float64{},
	}
	if f.Charge() != 0 {
		r.MZ = float64(f.MZ())
	}
	sum := 0.0
	for _, a := range pattern.Abundance {
		sum += a
	}
	for i, a := range pattern.Abundance {
		if a > 0 {
			r.Isotopes = append(r.Isotopes, [2]float64{float64(pattern.First + i), a / sum})
		}
	}
	return r, nil
}

func formulaOf(in massesIn) (chem.Formula, error) {
	switch {
	case in.Formula != "" && in.SMILES != "":
		return chem.Formula{}, errors.New("give a formula or a SMILES, not both")
	case in.SMILES != "":
		m, err := smiles.Parse(in.SMILES)
		if err != nil {
			return chem.Formula{}, err
		}
		return m.Formula(), nil
	case in.Formula == "":
		return chem.Formula{}, errors.New("there is neither a formula nor a SMILES")
	}
	f, err := chem.ParseFormula(in.Formula)
	if err == nil && f.IsEmpty() {
		err = errors.New("the formula is empty")
	}
	return f, err
}
