package mechanism_test

import (
	"context"
	"fmt"

	"ionwright/draw/mechanism"
	"ionwright/ionize"
	"ionwright/mol/smiles"
)

// How bromine leaves 2-bromopropane.
func ExamplePeak() {
	m, err := smiles.Parse("CC(C)Br")
	if err != nil {
		fmt.Println(err)
		return
	}
	p, err := ionize.Predict(context.Background(), m, ionize.Settings{})
	if err != nil {
		fmt.Println(err)
		return
	}
	f, err := mechanism.Peak(p, 43, mechanism.Options{Name: "2-bromopropane"})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(f.Title)
	fmt.Println(f.Description)
	fmt.Println(f.Detail)
	// Output:
	// How m/z 43 of 2-bromopropane comes about
	// Mechanism with electron arrows: m/z 122, C₃H₇Br⁺• by inductive cleavage with loss of a bromine atom (Br) gives m/z 43, C₃H₇⁺.
	// Atoms are numbered from 1 in the order of the structure. Inductive cleavage: two electrons of the bond between Br4 and C2 to Br4.
}

// Where the ions of 2-bromopropane come from.
func ExampleMap() {
	m, err := smiles.Parse("CC(C)Br")
	if err != nil {
		fmt.Println(err)
		return
	}
	p, err := ionize.Predict(context.Background(), m, ionize.Settings{})
	if err != nil {
		fmt.Println(err)
		return
	}
	f, err := mechanism.Map(p, mechanism.MapOptions{Name: "2-bromopropane", Most: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(f.Title)
	fmt.Println(f.Description)
	// Output:
	// Which ions of 2-bromopropane come from which
	// Map of the fragmentation: a tree of 1 ion from the molecular ion at m/z 122, which goes directly to m/z 43.
}
