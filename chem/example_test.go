package chem_test

import (
	"fmt"

	"ionwright/chem"
)

func Example() {
	f, err := chem.ParseFormula("[C7H7]2+")
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(f.Unicode(), f.NominalMass(), f.NominalMZ())
	fmt.Printf("%.4f %.4f\n", f.MonoisotopicMass(), f.MZ())
	// Output:
	// C₇H₇²⁺ 91 45.5
	// 91.0537 45.5268
}

func ExampleFormula_Minus() {
	molecularIon, loss := chem.MustFormula("C4H8O+"), chem.MustFormula("C2H5")
	fragment, ok := molecularIon.Minus(loss)
	fmt.Println(fragment, ok, fragment.NominalMass(), fragment.OddElectron())
	// Output: C2H3O+ true 43 false
}

func ExampleParseFormula_error() {
	_, err := chem.ParseFormula("C6h6")
	fmt.Println(err)
	// Output:
	// reading formula "C6h6": position 3: unexpected 'h'
	// element symbols begin with a capital: C6H6, not c6h6
}
