package structure_test

import (
	"fmt"

	"ionwright/draw/structure"
	"ionwright/mol/smiles"
)

// The molecular ion of acetone, with its lone pair.
func ExampleDraw() {
	ion, err := smiles.Parse("CC(C)=[O+]")
	if err != nil {
		fmt.Println(err)
		return
	}
	f, err := structure.Draw(ion, structure.Options{LonePairs: true})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(f.Title)
	fmt.Println(f.Description)
	// Output:
	// Structure of C3H6O+
	// Skeletal formula, C3H6O+: 3 carbon atoms and 1 oxygen atom; 1 double bond C=O; 1 positive charge on oxygen and 1 unpaired electron on oxygen.
}

// Groups written as labels.
func ExampleAbbreviationNames() {
	m, err := smiles.Parse("C[Si](C)(C)OCCc1ccccc1")
	if err != nil {
		fmt.Println(err)
		return
	}
	f, err := structure.Draw(m, structure.Options{Abbreviate: structure.AbbreviationNames(3)})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(f.Detail)
	// Output:
	// Abbreviated: OTMS for trimethylsiloxy and Bn for benzyl.
}
