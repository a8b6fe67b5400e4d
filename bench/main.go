// Command bench measures speed and accuracy beside reference libraries and
// prints each result as a table. The references are run here, in the same
// minute on the same machine, so that the ratio is fair; a reference that
// isn't installed is said to be absent.
//
//	go run ./bench            lists the topics
//	go run ./bench TOPIC ...  runs them
package main

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/signal"
)

// topic is one table that bench can print.
type topic struct {
	name, doc string
	run       func(ctx context.Context, out io.Writer) error
}

// topics is the visible list: a new measurement is a new row.
var topics = []topic{
	{"spectra", "computed spectra against the measured ones of the validation part (A to F)", spectraAccuracy},
	{"predict", "computed spectra a second on one core, by size, and the memory of a long stream", predictSpeed},
	{"explain", "measured spectra explained by their structures, and by decoys (G)", explainAccuracy},
	{"energy", "how the molecular ion's share changes with the electron energy, against measurements at low energy", energyAccuracy},
	{"labels", "computed spectra of deuterium-labelled compounds against the measured ones", labelAccuracy},
	{"isotope", "isotope patterns a second, beside IsoSpec and isotopic-distribution", isotopeSpeed},
	{"formulas", "formulas of a mass, beside mf-finder", formulaSpeed},
	{"smiles", "SMILES read and made canonical a second, beside RDKit", smilesSpeed},
	{"smarts", "pairs of molecule and pattern a second, beside RDKit", smartsSpeed},
	{"isomers", "isomers made and counted a second, and rivals of unknowns", isomerSpeed},
	{"rivals", "rivals of 28 unknowns: how long they take, and which are missed", rivalRecall},
	{"layout", "layouts and drawings of structures a second, and their flaws, beside RDKit", layoutSpeed},
	{"web", "how long pages take on the server, alone and with 50 people at once", webSpeed},
	{"start", "how long the server takes from its start to the first page", webStart},
	{"live", "frames a second of the instrument with 300 ions in a browser, and what a frame costs", liveView},
	{"course", "how long the example course takes to build: cold, unchanged and after an edit", courseSpeed},
	{"reading", "molecular ion, formula, groups and calibration on the validation part", readingAccuracy},
	{"reading-spoiled", "the same on spectra that are spoiled by program", readingSpoiled},
	{"candidates", "structures of one formula ranked for the measured spectrum of one of them", candidateRanks},
	{"sector", "a magnetic sector: ions through a sweep and frames of a live view a second, accuracy of paths", sectorSpeed},
	{"fit-spectra", "fit the corrections of ionize again and write them into the source", fitSpectra},
	{"fit-candidates", "fit again what each part of the evidence for a candidate structure weighs", fitCandidates},
	{"fit-clues", "count again how often each clue of reading is right", fitClues},
	{"fit-reading", "fit the parameters of reading again and write them into the source", fitReading},
}

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if len(os.Args) < 2 {
		fmt.Println("topics:")
		for _, t := range topics {
			fmt.Printf("  %-12s %s\n", t.name, t.doc)
		}
		return
	}
	for _, name := range os.Args[1:] {
		t, ok := find(name)
		if !ok {
			fmt.Fprintf(os.Stderr, "bench: no topic %q; without arguments bench lists them\n", name)
			os.Exit(2)
		}
		if err := t.run(ctx, os.Stdout); err != nil {
			fmt.Fprintf(os.Stderr, "bench: %s: %v\n", name, err)
			os.Exit(1)
		}
	}
}

func find(name string) (topic, bool) {
	for _, t := range topics {
		if t.name == name {
			return t, true
		}
	}
	return topic{}, false
}
