package output_test

import (
	"bytes"
	"fmt"

	"ionwright/draw/output"
	"ionwright/draw/plot"
	"ionwright/spectrum"
)

// The same figure in every format there is.
func ExampleWrite() {
	f, err := plot.Spectrum(spectrum.MustParse("43:100 58:30"), plot.Options{Name: "acetone"})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, format := range output.Formats() {
		var b bytes.Buffer
		if err := output.Write(&b, "acetone"+format.Ending, f, output.Options{}); err != nil {
			fmt.Println(err)
			return
		}
		fmt.Println(format.Name, format.Type, b.Len() > 1000)
	}
	// Output:
	// SVG image/svg+xml true
	// PNG image/png true
	// PDF application/pdf true
}
