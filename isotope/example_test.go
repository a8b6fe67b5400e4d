package isotope_test

import (
	"fmt"

	"ionwright/chem"
	"ionwright/isotope"
)

func ExampleUnit() {
	pattern := isotope.Unit(chem.MustFormula("CH2Cl2"))
	_, base := pattern.Base()
	for i, abundance := range pattern.Abundance {
		if percent := 100 * abundance / base; percent >= 0.5 {
			fmt.Printf("%d %.1f\n", pattern.First+i, percent)
		}
	}
	// Output:
	// 84 100.0
	// 85 1.1
	// 86 64.0
	// 87 0.7
	// 88 10.2
}
