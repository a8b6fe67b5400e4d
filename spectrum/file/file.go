// Package file tells the formats of spectrum files apart by the endings of
// their names, and reads and writes them. For most uses call [Read].
package file

import (
	"fmt"
	"io"
	"path"
	"strings"

	"ionwright/spectrum"
	"ionwright/spectrum/jcamp"
	"ionwright/spectrum/table"
)

// Format is a kind of spectrum file.
type Format struct {
	Name    string
	Endings []string // of file names, in lower case with the dot
	Read    func(r io.Reader) ([]spectrum.Spectrum, error)
	Write   func(w io.Writer, s spectrum.Spectrum) error
}

// Formats is the visible list.
func Formats() []Format {
	return []Format{
		{"JCAMP-DX", []string{".jdx", ".dx", ".jcamp"}, jcamp.Read, jcamp.Write},
		{"CSV", []string{".csv"}, func(r io.Reader) ([]spectrum.Spectrum, error) {
			s, err := table.Read(r)
			return []spectrum.Spectrum{s}, err
		}, table.Write},
	}
}

// Endings lists the endings of all formats.
func Endings() []string {
	var all []string
	for _, f := range Formats() {
		all = append(all, f.Endings...)
	}
	return all
}

// FormatOf finds the format of a file by the ending of its name. It fails for
// an ending that no format has, and lists those that there are.
func FormatOf(name string) (Format, error) {
	ext := strings.ToLower(path.Ext(name))
	for _, f := range Formats() {
		for _, e := range f.Endings {
			if e == ext {
				return f, nil
			}
		}
	}
	return Format{}, fmt.Errorf("%q: spectrum files end with %s", name, strings.Join(Endings(), ", "))
}

// MaxSize is how much of a spectrum file is read, in bytes.
const MaxSize = 256 << 20

// ReadAll reads all spectra of an open file, whose name says the format. It
// fails like FormatOf and like the format's reader.
func ReadAll(name string, in io.Reader) ([]spectrum.Spectrum, error) {
	f, err := FormatOf(name)
	if err != nil {
		return nil, err
	}
	all, err := f.Read(io.LimitReader(in, MaxSize))
	if err != nil {
		return nil, fmt.Errorf("reading %q as %s: %w", name, f.Name, err)
	}
	return all, nil
}

// Read is ReadAll for a file with a single spectrum; it fails for any other.
func Read(name string, in io.Reader) (spectrum.Spectrum, error) {
	all, err := ReadAll(name, in)
	if err != nil {
		return spectrum.Spectrum{}, err
	}
	if len(all) != 1 {
		return spectrum.Spectrum{}, fmt.Errorf("%q holds %d spectra; name a file with one", name, len(all))
	}
	return all[0], nil
}
