package main

import (
	"fmt"
	"path/filepath"

	"ionwright/internal/witness"
)

// sharedRecords reads a file of the shared spectra.
func sharedRecords(name string) ([]witness.Record, error) {
	dir, ok := witness.SharedDir()
	if !ok {
		return nil, fmt.Errorf("the folder of shared spectra is absent: set IONWRIGHT_SPECTRA to it")
	}
	return witness.ReadRecords(filepath.Join(dir, name))
}
