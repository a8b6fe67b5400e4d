package load

import (
	"bytes"
	"context"
	"errors"
	"strings"
	"testing"
	"testing/fstest"

	"ionwright/internal/fixture"
	"ionwright/lesson/diag"
	"ionwright/lesson/source"
	"ionwright/spectrum/jcamp"
	"ionwright/spectrum/table"
)

// loaded loads a lesson with one compound whose measured file has the name and
// content.
func loaded(t *testing.T, smiles, name string, content []byte) (*Lesson, diag.List) {
	t.Helper()
	files := fstest.MapFS{
		"lesson.md": {Data: []byte("---\ntitle: T\ncompounds:\n  c: { smiles: '" + smiles + "', measured: " + name + " }\n---\n")},
		name:        {Data: content},
	}
	src, diags := source.Parse(files)
	if diags.HasErrors() {
		t.Fatal(diags)
	}
	l, diags, err := Load(context.Background(), files, src)
	if err != nil {
		t.Fatal(err)
	}
	return l, diags
}

// TestMeasuredSpectra reads the same record from both formats.
func TestMeasuredSpectra(t *testing.T) {
	record := fixture.ByName(t, "2-butanone") // MassBank JP001803
	s := record.Spectrum(t)
	var jdx, csv bytes.Buffer
	if err := jcamp.Write(&jdx, s); err != nil {
		t.Fatal(err)
	}
	if err := table.Write(&csv, s); err != nil {
		t.Fatal(err)
	}
	for name, content := range map[string][]byte{"a.jdx": jdx.Bytes(), "data/a.DX": jdx.Bytes(), "a.csv": csv.Bytes()} {
		l, diags := loaded(t, record.SMILES, name, content)
		if len(diags) > 0 || len(l.Compounds) != 1 {
			t.Fatalf("%s: %v", name, diags)
		}
		c := l.Compounds[0]
		if base, _ := c.Spectrum.Base(); base.MZ != 43 || base.Intensity != 100 { // the record: m/z 43 is 1000
			t.Errorf("%s: base peak %v", name, base)
		}
		if got := c.Spectrum.Relative(72); got < 27.9 || got > 28.1 { // the record: 279.9 of 1000
			t.Errorf("%s: m/z 72 has %v %%", name, got)
		}
		if !c.Measured || c.File != name || c.Prediction == nil || c.NominalMass() != 72 {
			t.Errorf("%s: %+v", name, c)
		}
	}
}

// TestDamagedSpectra reads what isn't a spectrum. Nothing may hang or panic.
func TestDamagedSpectra(t *testing.T) {
	head := "##TITLE= x\n##JCAMP-DX= 5.00\n##DATA TYPE= MASS SPECTRUM\n##PEAK TABLE= (XY..XY)\n"
	for name, c := range map[string]struct {
		file    string
		content string
		code    diag.Code
		words   string
	}{
		"50 MB of garbage":     {"a.jdx", strings.Repeat("\x00garbage\xff\n", 50<<20/9), diag.TooLarge, "larger than the 8 MB"},
		"50 MB in a line":      {"a.jdx", strings.Repeat("9", 50<<20), diag.TooLarge, "larger than the 8 MB"},
		"8 MB of garbage":      {"a.jdx", strings.Repeat("\x00garbag\n", 1<<20), diag.BadSpectrum, "a.jdx"},
		"8 MB of digits":       {"a.jdx", head + strings.Repeat("9", 8<<20-1000), diag.BadSpectrum, "a.jdx"},
		"8 MB of labels":       {"a.jdx", strings.Repeat("##X=\n", 8<<20/5), diag.BadSpectrum, "a.jdx"},
		"8 MB of commas":       {"a.csv", strings.Repeat(",", 8<<20), diag.BadSpectrum, "a.csv"},
		"8 MB of small peaks":  {"a.csv", "m/z,intensity\n" + strings.Repeat("1,1\n", 2<<20-100), diag.BadSpectrum, "a.csv"},
		"nothing":              {"a.jdx", "", diag.BadSpectrum, "a.jdx"},
		"no peak":              {"a.csv", "m/z,intensity\n", diag.BadSpectrum, "a.csv"},
		"only zeros":           {"a.csv", "m/z,intensity\n43,0\n", diag.BadSpectrum, "no peak"},
		"two spectra":          {"a.jdx", two, diag.BadSpectrum, "holds 2 spectra"},
		"another ending":       {"a.txt", "43 100", diag.BadSpectrum, `named ".txt"`},
		"a structure's ending": {"a", "43 100", diag.BadSpectrum, "use .jdx"},
	} {
		t.Run(name, func(t *testing.T) {
			l, diags := loaded(t, "CCC(C)=O", c.file, []byte(c.content))
			if len(l.Compounds) != 0 || len(diags) != 1 || diags[0].Code != c.code || !strings.Contains(diags[0].Message, c.words) ||
				diags[0].Line != 4 {
				t.Errorf("%d compounds, %.300v, want one %s with %q", len(l.Compounds), diags, c.code, c.words)
			}
		})
	}
}

const two = `##TITLE= both
##JCAMP-DX= 5.00
##DATA TYPE= LINK
##BLOCKS= 2
##TITLE= one
##JCAMP-DX= 5.00
##DATA TYPE= MASS SPECTRUM
##DATA CLASS= PEAK TABLE
##ORIGIN= a test
##OWNER= nobody
##XUNITS= M/Z
##YUNITS= RELATIVE ABUNDANCE
##NPOINTS= 1
##PEAK TABLE= (XY..XY)
43,100
##END=
##TITLE= two
##JCAMP-DX= 5.00
##DATA TYPE= MASS SPECTRUM
##DATA CLASS= PEAK TABLE
##ORIGIN= a test
##OWNER= nobody
##XUNITS= M/Z
##YUNITS= RELATIVE ABUNDANCE
##NPOINTS= 1
##PEAK TABLE= (XY..XY)
57,100
##END=
##END=
`

// TestAMeasuredCompoundMayBeBeyondTheEngine: then its ions aren't known.
func TestAMeasuredCompoundMayBeBeyondTheEngine(t *testing.T) {
	l, diags := loaded(t, "C[Pb](C)(C)C", "a.csv", []byte("m/z,intensity\n253,100\n"))
	if len(diags) > 0 || len(l.Compounds) != 1 || l.Compounds[0].Prediction != nil {
		t.Errorf("%v, %v", l.Compounds, diags)
	}
}

func TestLoadStopsWithItsContext(t *testing.T) {
	files := fstest.MapFS{"lesson.md": {Data: []byte("---\ntitle: T\ncompounds: { c: CCCCCCCCCCCC }\n---\n")}}
	src, _ := source.Parse(files)
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if l, _, err := Load(ctx, files, src); l != nil || !errors.Is(err, context.Canceled) {
		t.Errorf("got %v, %v", l, err)
	}
}

// An instrument can be a preset or in a file, with changes.
func TestInstruments(t *testing.T) {
	load := func(line string) (*Lesson, diag.List) {
		t.Helper()
		files := fstest.MapFS{
			"lesson.md": {Data: []byte("---\ntitle: T\ncompounds: { c: C }\ninstruments:\n  bench: " + line + "\n---\n")},
			"mine.yaml": {Data: []byte("radius: 30 cm\nvoltage: 2 kV\ncollector slit: 0.3 mm\nangle: 90 deg\ndrift before: 30 cm\n")},
			"bad.yaml":  {Data: []byte("radius: 30 cm\nvolts: 2 kV\n")},
		}
		src, diags := source.Parse(files)
		l, more, err := Load(context.Background(), files, src)
		if err != nil {
			t.Fatal(err)
		}
		return l, append(diags, more...)
	}
	l, diags := load("{ preset: double-focusing, voltage: 3 kV, slit: 0.05 mm, name: Large }")
	if len(diags) > 0 || len(l.Instruments) != 1 {
		t.Fatalf("%v", diags)
	}
	if s := l.Instruments[0].Sector; s.Electric == nil || s.Voltage != 3000 || s.Name != "Large" || s.SourceSlit != s.CollectorSlit || s.Radius != 0.15 {
		t.Errorf("the preset with changes: %+v", s)
	}
	l, diags = load("{ file: mine.yaml }")
	if len(diags) > 0 || len(l.Instruments) != 1 || l.Instruments[0].Sector.Radius != 0.3 || l.Instruments[0].Sector.Voltage != 2000 {
		t.Errorf("the file: %v", diags)
	}
	for line, want := range map[string]string{
		"{ preset: other }":                           `there is no preset "other"`,
		"{ preset: half-circle, file: mine.yaml }":    "can't be both a preset and in a file",
		"{ file: bad.yaml }":                          `line 2, column 1: there is no setting "volts"`,
		"{ file: none.yaml }":                         "none.yaml",
		"{ voltage: 3 kV }":                           `needs "radius"`,
		"{ preset: 60-degrees, radius: 80 cm }":       "no image of the source slit forms",
		"{ radius: 1 mm, voltage: 3 kV, slit: 2 mm }": "a slit as wide as the radius",
	} {
		_, diags := load(line)
		if len(diags) == 0 || !strings.Contains(diags[0].Message, want) {
			t.Errorf("%s: %v, want %q", line, diags, want)
		}
	}
}
