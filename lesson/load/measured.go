package load

import (
	"bytes"
	"crypto/sha256"
	"fmt"
	"io/fs"
	"path"
	"strings"

	"ionwright/lesson/diag"
	"ionwright/lesson/source"
	"ionwright/spectrum"
	"ionwright/spectrum/jcamp"
	"ionwright/spectrum/table"
)

const maxSpectrum = 8 << 20 // bytes of a spectrum file; a unit-mass spectrum has a few kB

// measure reads the compound's measured spectrum and reports false, with a
// diagnostic, when it can't be used.
func (c *Compound) measure(fsys fs.FS, diags *diag.List) bool {
	name := c.Source.Measured
	data, d, ok := source.OpenFile(fsys, name, maxSpectrum)
	if !ok {
		diags.Add(d)
		return false
	}
	s, err := readSpectrum(name.Value, data)
	if err != nil {
		diags.Add(diag.New(diag.BadSpectrum, name.Place(), "reading the spectrum of %q from %q: %v", c.Key, name.Value, err))
		return false
	}
	if f := s.Info.Formula; !f.IsEmpty() && f.Natural() != c.Formula.Natural() {
		diags.Add(diag.New(diag.SpectrumMismatch, name.Place(), "%q says it is the spectrum of %s, but %q is %s",
			name.Value, f, c.Key, c.Formula).Suggesting("name another file, or correct the SMILES %q", c.SMILES))
		return false
	}
	c.Spectrum = s.Unit().Scaled(100)
	c.Spectrum.Title, c.Spectrum.Info = s.Title, s.Info
	c.Measured, c.File, c.Hash = true, name.Value, sha256.Sum256(data)
	return true
}

// readSpectrum reads a file that holds exactly one spectrum with peaks, by the
// ending of its name.
func readSpectrum(name string, data []byte) (spectrum.Spectrum, error) {
	var all []spectrum.Spectrum
	var err error
	switch ext := strings.ToLower(path.Ext(name)); ext {
	case ".jdx", ".dx", ".jcamp":
		all, err = jcamp.Read(bytes.NewReader(data))
	case ".csv":
		var one spectrum.Spectrum
		one, err = table.Read(bytes.NewReader(data))
		all = []spectrum.Spectrum{one}
	default:
		return spectrum.Spectrum{}, fmt.Errorf("files named %q aren't read; use .jdx (JCAMP-DX) or .csv (m/z and intensity)", ext)
	}
	if err != nil {
		return spectrum.Spectrum{}, err
	}
	if len(all) != 1 {
		return spectrum.Spectrum{}, fmt.Errorf("the file holds %d spectra; a lesson takes a file with one", len(all))
	}
	if _, ok := all[0].Base(); !ok {
		return spectrum.Spectrum{}, fmt.Errorf("the file holds no peak")
	}
	return all[0], nil
}
