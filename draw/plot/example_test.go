package plot_test

import (
	"fmt"
	"os"

	"ionwright/chem"
	"ionwright/draw"
	"ionwright/draw/plot"
	"ionwright/draw/svg"
	"ionwright/spectrum"
)

// A figure for teaching: its sentence and a row of its table.
func ExampleSpectrum() {
	s := spectrum.MustParse("15:10 27:8 29:18 43:100 57:8 72:25 73:1")
	f, err := plot.Spectrum(s, plot.Options{
		Name:         "bottle 7",
		MolecularIon: 72,
		Assignments:  []plot.Assignment{{MZ: 43, Text: draw.Ion(chem.MustFormula("C2H3O+"))}},
		Losses:       []plot.Loss{{From: 72, To: 43, Text: draw.Formula(chem.MustFormula("C2H5"))}},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(f.Title)
	fmt.Println(f.Description)
	fmt.Println(f.Table.Rows[3])
	// Output:
	// Mass spectrum of bottle 7
	// Stick spectrum, m/z 10 to 80: base peak at m/z 43; molecular ion at m/z 72 (25 %); main losses: 29 (C2H5) to m/z 43.
	// [43 100 C2H3O+]
}

// The same figure for a test says only what is drawn.
func ExampleSpectrum_test() {
	s := spectrum.MustParse("15:10 27:8 29:18 43:100 57:8 72:25 73:1")
	f, err := plot.Spectrum(s, plot.Options{Mode: plot.Test, Alias: "unknown 3", MolecularIon: 72})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(f.Title)
	fmt.Println(f.Description)
	// Output:
	// Mass spectrum of unknown 3
	// Stick spectrum with 7 peaks, m/z from 10 to 80 and relative intensity from 0 to 100 %; the table lists them.
}

// Writing a figure as SVG that follows the reader's choice of light or dark.
func ExampleCompare() {
	measured := spectrum.MustParse("43:100 58:30")
	computed := spectrum.MustParse("43:100 58:42")
	f, err := plot.Compare(measured, computed, plot.CompareOptions{Upper: "measured", Lower: "computed"})
	if err != nil {
		fmt.Println(err)
		return
	}
	file, err := os.CreateTemp("", "compare-*.svg")
	if err != nil {
		fmt.Println(err)
		return
	}
	defer os.Remove(file.Name())
	if err := svg.Write(file, f, svg.Options{Dark: draw.Dark()}); err != nil {
		fmt.Println(err)
	}
	fmt.Println(f.Description)
	// Output:
	// Stick spectra head to tail, m/z 40 to 65: strongest peak at m/z 43 above, at m/z 43 below; they differ most at m/z 58 (30 % above, 42 % below).
}
