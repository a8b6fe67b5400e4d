package main

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"path/filepath"
	"strings"

	"ionwright/draw/layout"
	"ionwright/mol"
	"ionwright/mol/molfile"
	"ionwright/mol/smiles"
	"ionwright/spectrum/file"
)

// structureFormat is a kind of structure file.
type structureFormat struct {
	name, ending string
	read         func(text string) (m *mol.Mol, title string, err error)
	write        func(m *mol.Mol, title string) (string, error)
}

// structureFormats is the visible list.
func structureFormats() []structureFormat {
	return []structureFormat{
		{"SMILES", ".smi", readSMILES, writeSMILES},
		{"a MOL file", ".mol", readMOL, writeMOL},
	}
}

// structureFormatOf finds the format of a file by the ending of its name.
func structureFormatOf(name string) (structureFormat, bool) {
	for _, f := range structureFormats() {
		if strings.EqualFold(filepath.Ext(name), f.ending) {
			return f, true
		}
	}
	return structureFormat{}, false
}

// readSMILES reads one line: a SMILES, and what follows a blank as its title.
func readSMILES(text string) (*mol.Mol, string, error) {
	text = strings.TrimSpace(text)
	if strings.Contains(text, "\n") {
		return nil, "", errors.New("there is more than one line; give one SMILES")
	}
	written, title := text, ""
	if i := strings.IndexAny(text, " \t"); i >= 0 {
		written, title = text[:i], strings.TrimSpace(text[i:])
	}
	m, err := smiles.Parse(written)
	return m, title, err
}

func writeSMILES(m *mol.Mol, title string) (string, error) {
	return strings.TrimSpace(smiles.Canonical(m)+" "+title) + "\n", nil
}

func readMOL(text string) (*mol.Mol, string, error) {
	record, err := molfile.Read(strings.NewReader(text))
	return record.Mol, record.Name, err
}

// customaryBond is the length of a bond in drawn MOL files, in angstrom.
const customaryBond = 1.5

// writeMOL draws the structure too: a table with coordinates keeps what one
// without would lose.
func writeMOL(m *mol.Mol, title string) (string, error) {
	var points []molfile.Point
	for _, p := range layout.Coordinates(m) {
		points = append(points, molfile.Point{X: customaryBond * p.X, Y: customaryBond * p.Y})
	}
	var text bytes.Buffer
	err := molfile.Write(&text, molfile.Record{Name: title, Mol: m, Points: points}, molfile.Fitting)
	return text.String(), err
}

// convertText turns the text of a file into another format; the names'
// endings say which. It returns what it wrote in words.
func convertText(from, to string, in io.Reader) (text []byte, what string, err error) {
	if into, ok := structureFormatOf(to); ok {
		return convertStructure(from, to, into, in)
	}
	if f, ok := structureFormatOf(from); ok {
		return nil, "", fmt.Errorf("%q is %s and %q isn't: a structure can't be turned into a spectrum; predict computes one", from, f.name, to)
	}
	into, err := file.FormatOf(to)
	if err != nil {
		return nil, "", err
	}
	s, err := file.Read(from, in)
	if err != nil {
		return nil, "", err
	}
	var out bytes.Buffer
	if err := into.Write(&out, s); err != nil {
		return nil, "", fmt.Errorf("writing %q as %s: %w", to, into.Name, err)
	}
	return out.Bytes(), count(len(s.Peaks), "peak"), nil
}

func convertStructure(from, to string, into structureFormat, in io.Reader) ([]byte, string, error) {
	f, ok := structureFormatOf(from)
	if !ok {
		return nil, "", fmt.Errorf("%q is %s: it is made from a structure file (.smi, .mol), which %q isn't", to, into.name, from)
	}
	all, err := io.ReadAll(io.LimitReader(in, file.MaxSize))
	if err != nil {
		return nil, "", fmt.Errorf("reading %q: %w", from, err)
	}
	m, title, err := f.read(string(all))
	if err != nil {
		return nil, "", fmt.Errorf("reading %q as %s: %w", from, f.name, err)
	}
	written, err := into.write(m, title)
	if err != nil {
		return nil, "", fmt.Errorf("writing %q as %s: %w", to, into.name, err)
	}
	return []byte(written), count(m.NumAtoms(), "atom"), nil
}
