package main

import (
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"ionwright/spectrum"
	"ionwright/spectrum/jcamp"
	"ionwright/spectrum/table"
)

// format is a kind of spectrum file.
type format struct {
	name    string
	endings []string
	read    func(r io.Reader) ([]spectrum.Spectrum, error)
	write   func(w io.Writer, s spectrum.Spectrum) error
}

// formats is the visible list.
func formats() []format {
	return []format{
		{"JCAMP-DX", []string{".jdx", ".dx", ".jcamp"}, jcamp.Read, jcamp.Write},
		{"CSV", []string{".csv"}, func(r io.Reader) ([]spectrum.Spectrum, error) {
			s, err := table.Read(r)
			return []spectrum.Spectrum{s}, err
		}, table.Write},
	}
}

// formatOf finds the format of a file by the ending of its name.
func formatOf(name string) (format, error) {
	ext := strings.ToLower(filepath.Ext(name))
	var known []string
	for _, f := range formats() {
		for _, e := range f.endings {
			if e == ext {
				return f, nil
			}
			known = append(known, e)
		}
	}
	return format{}, fmt.Errorf("%q: spectrum files end with %s", name, strings.Join(known, ", "))
}

// maxSpectrumFile is how much of a spectrum file is read, in bytes.
const maxSpectrumFile = 256 << 20

// spectraIn reads all spectra of an open file.
func spectraIn(name string, in io.Reader) ([]spectrum.Spectrum, error) {
	f, err := formatOf(name)
	if err != nil {
		return nil, err
	}
	all, err := f.read(io.LimitReader(in, maxSpectrumFile))
	if err != nil {
		return nil, fmt.Errorf("reading %q as %s: %w", name, f.name, err)
	}
	return all, nil
}

// spectrumIn reads an open file with a single spectrum.
func spectrumIn(name string, in io.Reader) (spectrum.Spectrum, error) {
	all, err := spectraIn(name, in)
	if err != nil {
		return spectrum.Spectrum{}, err
	}
	if len(all) != 1 {
		return spectrum.Spectrum{}, fmt.Errorf("%q holds %d spectra; name a file with one", name, len(all))
	}
	return all[0], nil
}

// readSpectra reads all spectra of a file.
func (c *call) readSpectra(name string) ([]spectrum.Spectrum, error) {
	if _, err := formatOf(name); err != nil {
		return nil, err
	}
	file, err := c.openFile(name)
	if err != nil {
		return nil, err
	}
	defer file.Close()
	return spectraIn(name, file)
}

// readSpectrum reads a file with a single spectrum.
func (c *call) readSpectrum(name string) (spectrum.Spectrum, error) {
	all, err := c.readSpectra(name)
	if err != nil {
		return spectrum.Spectrum{}, err
	}
	if len(all) != 1 {
		return spectrum.Spectrum{}, fmt.Errorf("%q holds %d spectra; name a file with one", name, len(all))
	}
	return all[0], nil
}
