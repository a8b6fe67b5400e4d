package main

import (
	"ionwright/spectrum"
	"ionwright/spectrum/file"
)

// readSpectrum reads a file with a single spectrum.
func (c *call) readSpectrum(name string) (spectrum.Spectrum, error) {
	if _, err := file.FormatOf(name); err != nil {
		return spectrum.Spectrum{}, err
	}
	open, err := c.openFile(name)
	if err != nil {
		return spectrum.Spectrum{}, err
	}
	defer open.Close()
	return file.Read(name, open)
}
