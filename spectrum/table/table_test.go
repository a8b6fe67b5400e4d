package table_test

import (
	"bytes"
	"errors"
	"io"
	"math/rand/v2"
	"strings"
	"testing"
	"testing/iotest"

	"ionwright/internal/fixture"
	"ionwright/spectrum"
	"ionwright/spectrum/table"
)

func TestRead(t *testing.T) {
	const want = "43:100 58:25"
	for name, text := range map[string]string{
		"commas":                "43,100\n58,25\n",
		"spaces":                " 43 , 100 \n 58 , 25 \n",
		"semicolons":            "43;100\n58;25\n",
		"tabs":                  "43\t100\n58\t25",
		"header":                "m/z,intensity\n43,100\n58,25\n",
		"header with a unit":    "Mass (Da);Relative_Abundance [%]\n43;100\n58;25\n",
		"columns the other way": "Intensity,M/Z\n100,43\n25,58\n",
		"more columns":          "ion\tm/z\tint\nacetyl\t43\t100\n\"C3H6O, radical\"\t58\t25\n",
		"quotes":                "\"m/z\",\"intensity\"\n\"43\",\"100\"\n\"58\",\"25\"\n",
		"comments, empty lines": "# a file\n\n43,100\n\n# more\n58,25\n\n",
		"CR LF":                 "43,100\r\n58,25\r\n",
		"CR":                    "43,100\r58,25\r",
		"byte order mark":       "\ufeffm/z,intensity\n43,100\n58,25\n",
		"exponents":             "4.3e1,1E2\n58,25\n",
		"any order":             "58,25\n43,100\n",
	} {
		s, err := table.Read(strings.NewReader(text))
		if err != nil || s.Notation() != want {
			t.Errorf("%s: %q, %v; want %q", name, s.Notation(), err, want)
		}
	}
	s, err := table.Decode(strings.NewReader("m/z;intensity\n43,0184;100\n58,25;2,5\n"), table.Options{DecimalComma: true})
	if err != nil || s.Notation() != "43.0184:100 58.25:2.5" {
		t.Errorf("decimal commas: %q, %v", s.Notation(), err)
	}
}

func TestErrors(t *testing.T) {
	tests := []struct {
		text         string
		line, column int
		want         string
	}{
		{"", 1, 1, "no peaks; expected lines such as 43,100"},
		{"m/z,intensity\n", 1, 1, "no peaks"},
		{"43,100\n58,x\n", 2, 4, `"x" isn't an intensity; expected a number`},
		{"43,100\n58,\n", 2, 4, `"" isn't an intensity`},
		{"43,100\n  y,3\n", 2, 3, `"y" isn't an m/z`},
		{"43,100\n58\n", 2, 1, "1 fields; expected 2"},
		{"43,100\n58,25,1\n", 2, 7, "3 fields; expected 2\nif the numbers have a decimal comma"},
		{"43,0184,100,0\n", 1, 9, "4 fields; expected 2\nif the numbers have a decimal comma"},
		{"43,0184;100\n", 1, 1, `"43,0184" has a comma where an m/z stands` + "\nwrite decimal points"},
		{"43;100\n58;2,5\n", 2, 4, `"2,5" has a comma where an intensity stands`},
		{"43,100\n58,-1\n", 2, 4, "an intensity of -1; expected no negative intensity"},
		{"43,100\n0,1\n", 2, 1, "an m/z of 0; expected a positive number"},
		{"43,100\n43.0,1\n", 2, 1, "m/z 43 is in line 1 already"},
		{"43,NaN\n", 1, 4, `"NaN" isn't an intensity`},
		{"43,1e999\n", 1, 4, `"1e999" isn't an intensity`},
		{"43,0x10\n", 1, 4, `"0x10" isn't an intensity`},
		{"x,y\n43,100\n", 1, 1, `the first line starts with "x"; expected a peak such as 43,100 or a header`},
		{"m/z,mass,intensity\n", 1, 5, `the column "mass" says the same as an earlier one`},
		{"##TITLE= x\n##END=\n", 2, 1, "no peaks"},
		{"4\x003,100\n", 1, 2, "a zero byte"},
		{"é;m/z;intensity\né;43;é\n", 2, 6, `"é" isn't an intensity`},
	}
	for _, test := range tests {
		_, err := table.Read(strings.NewReader(test.text))
		var where *table.Error
		if !errors.As(err, &where) || where.Line != test.line || where.Column != test.column || !strings.Contains(err.Error(), test.want) {
			t.Errorf("%q: error %v, want line %d, column %d with %q", test.text, err, test.line, test.column, test.want)
		}
	}
	if _, err := table.Decode(strings.NewReader("43,1,2;5\n"), table.Options{DecimalComma: true}); err == nil || !strings.Contains(err.Error(), "with a decimal comma") {
		t.Errorf("two decimal commas: %v", err)
	}
	if _, err := table.Read(iotest.ErrReader(io.ErrUnexpectedEOF)); !errors.Is(err, io.ErrUnexpectedEOF) {
		t.Errorf("error %v, want the reader's", err)
	}
}

func TestGarbage(t *testing.T) {
	for name, r := range map[string]io.Reader{
		"random bytes":     rand.NewChaCha8([32]byte{1}),
		"one endless line": zeros('7'),
		"line ends":        zeros('\n'),
	} {
		if _, err := table.Read(io.LimitReader(r, 50<<20)); err == nil {
			t.Errorf("%s was read", name)
		}
	}
}

// zeros gives one byte again and again.
type zeros byte

func (z zeros) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = byte(z)
	}
	return len(p), nil
}

func TestRoundTrip(t *testing.T) {
	spectra := []spectrum.Spectrum{spectrum.MustParse("0.1:0.1 1.007825:5e-324 43.018389:1e300 1.7e308:123456789.123456789")}
	for _, r := range fixture.Measured(t) {
		spectra = append(spectra, r.Spectrum(t))
	}
	for _, s := range spectra {
		var out bytes.Buffer
		if err := table.Write(&out, s); err != nil {
			t.Fatal(err)
		}
		again, err := table.Read(&out)
		if err != nil || again.Notation() != s.Notation() {
			t.Errorf("%s came back as %q, %v; was %q", s.Title, again.Notation(), err, s.Notation())
		}
	}
}

func FuzzRead(f *testing.F) {
	f.Add("m/z,intensity\n43,100\n58,25\n", false)
	f.Add("\"a\";\"m/z\";%\n\"x\"\"y\";43,5;1\n", true)
	f.Add("43\t1\n# x\n58\t2e3", false)
	f.Fuzz(func(t *testing.T, text string, comma bool) {
		s, err := table.Decode(strings.NewReader(text), table.Options{DecimalComma: comma})
		if err != nil {
			return
		}
		var out bytes.Buffer
		if err := table.Write(&out, s); err != nil {
			t.Fatal(err)
		}
		again, err := table.Read(&out)
		if err != nil || again.Notation() != s.Notation() {
			t.Fatalf("%q gives %q and comes back as %q, %v", text, s.Notation(), again.Notation(), err)
		}
	})
}
