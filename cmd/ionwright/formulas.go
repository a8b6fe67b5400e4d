package main

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"

	"ionwright/chem"
	"ionwright/compose"
)

type formulasIn struct {
	Mass      float64           `json:"mass"` // Da, of the neutral
	Tolerance float64           `json:"tolerance"`
	Unit      string            `json:"unit"` // "ppm" or "Da"
	Elements  map[string][2]int `json:"elements"`
}

type formulasResult struct {
	Formulas []string `json:"formulas"` // nearest mass first
}

// organic are the elements that are tried where none are named, with the most
// atoms of each.
var organic = map[string][2]int{"C": {0, 50}, "H": {0, 100}, "N": {0, 10}, "O": {0, 15}, "S": {0, 3}, "P": {0, 2}, "F": {0, 6}, "Cl": {0, 4}, "Br": {0, 4}}

// mostFormulas is how many formulas an answer holds at most.
const mostFormulas = 2_000_000

func runFormulas(ctx context.Context, c *call) error {
	tolerance := c.flags.Float64("tolerance", 5, "how far the mass of a formula may be off")
	unit := c.flags.String("unit", "ppm", "of the tolerance: ppm or Da")
	streamed := c.flags.Bool("stream", false, "read {\"id\",\"mass\",\"tolerance\",\"unit\",\"elements\"} a line")
	args, err := c.parse(0, 1)
	if err != nil {
		return err
	}
	if *streamed {
		return stream(ctx, c, func(ctx context.Context, in formulasIn) (any, error) { return formulas(ctx, in) })
	}
	if len(args) == 0 {
		return wrongUsage("a mass is missing")
	}
	mass, err := strconv.ParseFloat(args[0], 64)
	if err != nil {
		return wrongUsage("%q isn't a mass in Da", args[0])
	}
	r, err := formulas(ctx, formulasIn{Mass: mass, Tolerance: *tolerance, Unit: *unit})
	if err != nil {
		return err
	}
	if c.json {
		return c.printJSON(r)
	}
	for _, f := range r.Formulas {
		exact := float64(chem.MustFormula(f).MonoisotopicMass())
		c.print("%-24s %11.5f Da %+8.2f ppm", f, exact, (exact-mass)/mass*1e6)
	}
	return nil
}

// formulas finds the formulas of neutral molecules that fit a mass.
func formulas(ctx context.Context, in formulasIn) (formulasResult, error) {
	const heaviest = 5000 // Da
	if !(in.Mass > 0 && in.Mass <= heaviest) {
		return formulasResult{}, fmt.Errorf("the mass must be above 0 and at most %d Da, not %g", heaviest, in.Mass)
	}
	if !(in.Tolerance >= 0) || math.IsInf(in.Tolerance, 0) {
		return formulasResult{}, fmt.Errorf("the tolerance must be at least 0, not %g", in.Tolerance)
	}
	tolerance := compose.Tolerance{Value: in.Tolerance}
	switch in.Unit {
	case "ppm", "":
		tolerance.Unit = compose.PPM
	case "Da":
		tolerance.Unit = compose.Da
	default:
		return formulasResult{}, fmt.Errorf("there is no unit %q: use ppm or Da", in.Unit)
	}
	space, err := spaceOf(in.Elements)
	if err != nil {
		return formulasResult{}, err
	}
	found := []compose.Candidate{}
	for candidate, err := range space.Each(ctx, chem.Mass(in.Mass), tolerance) {
		if err != nil {
			return formulasResult{}, err
		}
		if found = append(found, candidate); len(found) > mostFormulas {
			return formulasResult{}, fmt.Errorf("more than %d formulas fit: narrow the tolerance or the elements", mostFormulas)
		}
	}
	slices.SortStableFunc(found, func(a, b compose.Candidate) int {
		x := math.Abs(float64(a.Formula.MonoisotopicMass()) - in.Mass)
		y := math.Abs(float64(b.Formula.MonoisotopicMass()) - in.Mass)
		switch {
		case x < y:
			return -1
		case x > y:
			return 1
		}
		return 0
	})
	out := formulasResult{Formulas: make([]string, len(found))}
	for i, candidate := range found {
		out.Formulas[i] = candidate.Formula.String()
	}
	return out, nil
}

// spaceOf is the space of the elements named with their least and most atoms;
// formulas whose double bond equivalents aren't whole and at least 0 are left
// out.
func spaceOf(elements map[string][2]int) (compose.Space, error) {
	if elements == nil {
		elements = organic
	}
	most := map[string]int{}
	for symbol, n := range elements {
		if n[0] < 0 || n[1] < n[0] {
			return compose.Space{}, fmt.Errorf("%q can't have from %d to %d atoms", symbol, n[0], n[1])
		}
		most[symbol] = n[1]
	}
	ranges, err := compose.Elements(most)
	if err != nil {
		return compose.Space{}, err
	}
	for symbol, n := range elements {
		one, err := chem.ParseFormula(symbol)
		if err != nil {
			return compose.Space{}, err
		}
		for i := range ranges {
			if one.CountSpecies(ranges[i].Species) > 0 {
				ranges[i].Min = n[0]
			}
		}
	}
	slices.SortFunc(ranges, func(a, b compose.Range) int { return int(a.Species) - int(b.Species) })
	return compose.Space{Elements: ranges, Electrons: compose.EvenElectrons, DBE: &compose.Interval{Min: 0, Max: math.Inf(1)}}, nil
}
