// Command elements writes chem's tables of elements and isotopes from the text
// files in chem/data. Run it with go generate in chem.
package main

import (
	"fmt"
	"os"
	"path/filepath"
)

func main() {
	if len(os.Args) != 3 {
		fmt.Fprintln(os.Stderr, "usage: elements DATA-FOLDER OUTPUT.go")
		os.Exit(2)
	}
	if err := run(os.Args[1], os.Args[2]); err != nil {
		fmt.Fprintf(os.Stderr, "elements: %v\n", err)
		os.Exit(1)
	}
}

func run(data, output string) error {
	elements, err := os.Open(filepath.Join(data, "elements.tsv"))
	if err != nil {
		return err
	}
	defer elements.Close()
	isotopes, err := os.Open(filepath.Join(data, "isotopes.tsv"))
	if err != nil {
		return err
	}
	defer isotopes.Close()
	table, err := read(elements, isotopes)
	if err != nil {
		return err
	}
	source, err := table.source()
	if err != nil {
		return err
	}
	return os.WriteFile(output, source, 0o644)
}
