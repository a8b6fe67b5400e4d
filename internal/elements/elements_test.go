package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"ionwright/internal/witness"
)

func TestTableIsGenerated(t *testing.T) {
	output := filepath.Join(t.TempDir(), "table.go")
	chem := filepath.Join(witness.Root(), "chem")
	if err := run(filepath.Join(chem, "data"), output); err != nil {
		t.Fatal(err)
	}
	want, err := os.ReadFile(output)
	if err != nil {
		t.Fatal(err)
	}
	got, err := os.ReadFile(filepath.Join(chem, "table.go"))
	if err != nil {
		t.Fatal(err)
	}
	if !bytes.Equal(got, want) {
		t.Error("chem/table.go isn't what chem/data gives: run go generate in chem, and change numbers in chem/data only")
	}
}

func TestReadErrors(t *testing.T) {
	const elements = "1\tH\thydrogen\t-\n2\tHe\thelium\t-\n"
	const hydrogen = "1\tH\t1\t1.0078\t-\tAME2020\t1\tTICE2009\n"
	const helium = "2\tHe\t4\t4.0026\t-\tAME2020\t1\tTICE2009\n"
	tests := []struct{ name, elements, isotopes, want string }{
		{"element out of order", "2\tHe\thelium\t-\n", "", `elements.tsv:1: element number "2" where 1 was expected`},
		{"too few cells", "1\tH\n", "", "elements.tsv:1: 2 cells where 4 were expected"},
		{"unknown element", elements, "3\tLi\t7\t7.016\t-\tAME2020\t1\tTICE2009\n", `isotopes.tsv:1: "3" "Li" is not an element`},
		{"mass of another nuclide", elements, strings.Replace(hydrogen, "1.0078", "2.0141", 1), `isotopes.tsv:1: mass "2.0141" is not within 0.5 Da of the mass number 1`},
		{"no number", elements, strings.Replace(hydrogen, "1.0078", "1,0078", 1), `isotopes.tsv:1: mass "1,0078"`},
		{"twice", elements, hydrogen + hydrogen, "isotopes.tsv:2: H-1 is not in ascending order"},
		{"abundances that don't add up", elements, strings.Replace(hydrogen, "\t1\tTICE", "\t0.9\tTICE", 1) + helium, "the abundances of H add up to 0.900000"},
		{"abundance without edition", elements, strings.Replace(hydrogen, "TICE2009", "-", 1), "isotopes.tsv:1: a value without its edition"},
		{"no isotope", elements, hydrogen, "the abundances of He add up to 0.000000"},
		{"representative without row", "1\tH\thydrogen\t3\n", "", "no row for the principal isotope of H"},
	}
	for _, test := range tests {
		t.Run(test.name, func(t *testing.T) {
			_, err := read(strings.NewReader(test.elements), strings.NewReader(test.isotopes))
			if err == nil || !strings.Contains(err.Error(), test.want) {
				t.Errorf("error %v, want %q in it", err, test.want)
			}
		})
	}
}
