package file

import (
	"bytes"
	"strings"
	"testing"

	"ionwright/spectrum"
)

func TestEveryFormatReadsWhatItWrites(t *testing.T) {
	want := spectrum.MustParse("43:100 58:25 72:16")
	want.Title = "butanone"
	for _, f := range Formats() {
		for _, ending := range f.Endings {
			var text bytes.Buffer
			if err := f.Write(&text, want); err != nil {
				t.Fatal(err)
			}
			got, err := Read("A"+strings.ToUpper(ending), &text)
			if err != nil || got.Notation() != want.Notation() {
				t.Errorf("%s: %q, %v", ending, got.Notation(), err)
			}
		}
	}
}

func TestRefusals(t *testing.T) {
	two := "##TITLE=a\n##JCAMP-DX=5.00\n##DATA TYPE=LINK\n##BLOCKS=2\n" +
		strings.Repeat("##TITLE=b\n##JCAMP-DX=5.00\n##DATA TYPE=MASS SPECTRUM\n##XUNITS=M/Z\n##YUNITS=RELATIVE ABUNDANCE\n##NPOINTS=1\n##PEAK TABLE=(XY..XY)\n43,100\n##END=\n", 2) + "##END=\n"
	for name, c := range map[string]struct{ text, want string }{
		"a.exe": {"", `spectrum files end with .jdx`},
		"a.csv": {"x,y,z\n", `reading "a.csv" as CSV`},
		"a.jdx": {two, `holds 2 spectra`},
	} {
		if _, err := Read(name, strings.NewReader(c.text)); err == nil || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %v, want %q", name, err, c.want)
		}
	}
}
