package compose_test

import (
	"context"
	"fmt"

	"ionwright/chem"
	"ionwright/compose"
)

func ExampleSpace_Find() {
	elements, err := compose.Elements(map[string]int{"C": 20, "H": 42, "N": 4, "O": 6})
	if err != nil {
		fmt.Println(err)
		return
	}
	// The molecular ion at m/z 136.0519, charge one.
	space := compose.Space{
		Elements:  elements,
		Charge:    1,
		DBE:       &compose.Interval{Min: 0, Max: 20},
		Electrons: compose.OddElectrons,
	}
	found, err := space.Find(context.Background(), chem.Mass(136.0519), compose.Tolerance{Value: 40, Unit: compose.PPM})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, c := range found {
		fmt.Printf("%s %+.1f ppm\n", c.Formula, c.PPM())
	}
	// Output:
	// C8H8O2+ -0.1 ppm
	// C3H8N2O4+ -29.7 ppm
}
