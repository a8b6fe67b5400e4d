package jcamp_test

import (
	"errors"
	"io"
	"math/rand/v2"
	"runtime"
	"strings"
	"testing"
	"testing/iotest"

	"ionwright/spectrum/jcamp"
)

// Errors name the line and what was expected there. Line 5 is the first one
// that a test gives.
func TestErrors(t *testing.T) {
	tests := []struct {
		text string
		line int
		want string
	}{
		{"", 1, "expected ##TITLE= as the first record"},
		{"\n\n$$ only a comment\n", 1, "nothing in the file"},
		{"MZ,INTENSITY\n43,100\n", 1, `expected ##TITLE= here, not "MZ,INTENSITY"`},
		{"##JCAMP-DX= 5.00\n", 1, "expected ##TITLE= as the first record of a block, not ##JCAMPDX="},
		{"##TITLE\n", 1, `"TITLE" has no equals sign`},
		{"##TITLE= x\n##DATA TYPE= MASS SPECTRUM\n", 3, "the file ends inside the block that starts at line 1; expected ##END="},
		{"\x00\x01", 1, "a zero byte"},
		{"\xff\xfe#\x00#\x00", 1, "UTF-16"},
		{file("##PEAK TABLE= (XY..XY)", "43,100 x58,25"), 6, `"x58" isn't a number; expected pairs of m/z and intensity`},
		{file("##PEAK TABLE= (XY..XY)", "43,100 58"), 6, `m/z 58 at the end of "43,100 58" has no intensity`},
		{file("##PEAK TABLE= (XY..XY)", "43,,100"), 6, "a number is missing before ','"},
		{file("##PEAK TABLE= (XY..XY)", "43;100"), 6, "a number is missing before ';'"},
		{file("##PEAK TABLE= (XY..XY)", ",43,100"), 6, "a number is missing before ','"},
		{file("##PEAK TABLE= (XY..XY)", "43,1e999"), 6, `"1e999" isn't a number`},
		{file("##PEAK TABLE= (XY..XY)", "43,NaN"), 6, `"NaN" isn't a number`},
		{file("##PEAK TABLE= (XY..XY)", "43,0x10"), 6, `"0x10" isn't a number`},
		{file("##PEAK TABLE= (XY..XY)", "43,100", "58,-25"), 7, "the intensity at m/z 58 is -25; expected no negative intensity"},
		{file("##PEAK TABLE= (XY..XY)", "43,100", "0,25"), 7, "an m/z of 0; expected a positive number"},
		{file("##YFACTOR= 1E300", "##PEAK TABLE= (XY..XY)", "43,1E300"), 7, "more than a number can hold"},
		{file("##PEAK TABLE= (XYW..XYW)", "43,100,1"), 5, `the form of the data table is "(XYW..XYW)"; expected (XY..XY)`},
		{file("##XYDATA=", "43,100"), 5, "expected (X++(Y..Y)) or (XY..XY)"},
		{file("##PEAK ASSIGNMENTS= (XYA)", "(43, 100, <C2H3O+)"), 6, "has no closing >"},
		{file("##PEAK ASSIGNMENTS= (XYA)", "(43, 100, <C2H3O+>"), 6, "no closing )"},
		{file("##PEAK ASSIGNMENTS= (XYA)", "(43, <C2H3O+>)"), 6, "1 numbers where m/z and intensity belong"},
		{file("##PEAK ASSIGNMENTS= (XYA)", "43, 100"), 6, "no opening ("},
		{file("##PEAK TABLE= (XY..XY)"), 5, "the data table has no data"},
		{file("##XUNITS= M/Z"), 1, "the mass spectrum that starts at this line has no data"},
		{file("##XYDATA= (X++(Y..Y))", "43 100 25"), 5, "needs ##FIRSTX=, ##LASTX= and ##NPOINTS="},
		{file("##FIRSTX= 43", "##LASTX= 43", "##NPOINTS= 2", "##XYDATA= (X++(Y..Y))", "43 100 25"), 5, "the m/z don't change"},
		{file("##NPOINTS= two", "##PEAK TABLE= (XY..XY)", "43,100"), 5, `NPOINTS is "two"; expected a number`},
		{file("##YFACTOR= 0", "##PEAK TABLE= (XY..XY)", "43,100"), 5, `YFACTOR is "0"; expected a positive number`},
		{file("##NPOINTS= 3", "##FIRSTX= 43", "##LASTX= 45", "##XYDATA= (X++(Y..Y))", "43A00J", "44A02J", "45A03"), 10, "the check ordinate is 102, but the line before ends at 101"},
		{file("##NPOINTS= 3", "##FIRSTX= 43", "##LASTX= 45", "##XYDATA= (X++(Y..Y))", "43 1 2", "45 -3"), 10, "the intensity at m/z 45 is -3"},
		{file("##PAGE= N=1"), 5, "##PAGE= outside NTUPLES"},
		{file("##DATA TABLE= (XY..XY), PEAKS"), 5, "##DATA TABLE= outside NTUPLES"},
		{file("##NTUPLES= MASS SPECTRUM", "##SYMBOL= M, I", "##PAGE= N=1", "##DATA TABLE= (XY..XY), PEAKS", "43,100"), 8, `with two of the symbols "M, I"`},
		{file("##NTUPLES= MASS SPECTRUM", "##SYMBOL= "+strings.Repeat("A,", 20)), 1, "has no data"},
		{file("##NTUPLES= MASS SPECTRUM", "##SYMBOL= "+strings.Repeat("A,", 20), "##PAGE= N=1", "##DATA TABLE= (XY..XY)", "43,100"), 6, "lists more than 16 variables"},
		{"##TITLE= x\n##DATA TYPE= INFRARED SPECTRUM\n##XYDATA= (X++(Y..Y))\n1 2\n##END=\n", 1, `no mass spectrum in the file, only "INFRARED SPECTRUM" at line 1`},
		{"##TITLE= x\n##PEAK TABLE= (XY..XY)\n43,100\n##END=\n", 2, "expected ##DATA TYPE= MASS SPECTRUM before it"},
		{file("##TITLE= again"), 5, "##TITLE= inside the block that starts at line 1"},
		{file("##PEAK TABLE= (XY..XY)", "43,100") + "and more\n", 8, `expected ##TITLE= here, not "and more"`},
		{strings.Repeat("##TITLE= x\n##DATA TYPE= LINK\n", 20), 19, "LINK blocks nested deeper than 8"},
	}
	for _, test := range tests {
		_, err := jcamp.Read(strings.NewReader(test.text))
		var where *jcamp.Error
		if !errors.As(err, &where) || where.Line != test.line || !strings.Contains(err.Error(), test.want) {
			t.Errorf("error %v, want line %d with %q, of\n%s", err, test.line, test.want, test.text)
		}
	}
}

// What can be read but contradicts itself is a doubt: Decode gives spectrum and
// warning, Read an error with the line.
func TestDoubts(t *testing.T) {
	tests := []struct {
		text string
		line int
		want string
	}{
		{file("##NPOINTS= 3", "##PEAK TABLE= (XY..XY)", "43,100 58,25"), 5, "NPOINTS is 3, but the data table of line 6 has 2 points"},
		{file("##NPOINTS= 2", "##FIRSTX= 15", "##PEAK TABLE= (XY..XY)", "43,100 58,25"), 6, "FIRSTX is 15, but the first m/z of the data table is 43"},
		{file("##NPOINTS= 2", "##LASTX= 59", "##PEAK TABLE= (XY..XY)", "43,100 58,25"), 6, "LASTX is 59, but the last m/z of the data table is 58"},
		{file("##NPOINTS= 2", "##FIRSTY= 99", "##PEAK TABLE= (XY..XY)", "43,100 58,25"), 6, "FIRSTY is 99, but the first intensity of the data table is 100"},
		{file("##NPOINTS= 2", "##PEAK TABLE= (XY..XY)", "43,100 43,25"), 6, "m/z 43 is in the data table twice"},
		{file("##NPOINTS= 4", "##FIRSTX= 43", "##LASTX= 46", "##XYDATA= (X++(Y..Y))", "43 1 2", "46 3 4"), 10, "the line starts at m/z 46, but by the number of ordinates before it at 45"},
		{file("##NPOINTS= 2", "##FIRSTX= 43", "##LASTX= 44", "##DELTAX= 0.5", "##XYDATA= (X++(Y..Y))", "43 1 2"), 8, "DELTAX is 0.5, but FIRSTX, LASTX and NPOINTS give 1"},
		{file("##NPOINTS= 2", "##FIRSTX= 43", "##LASTX= 44", "##XYDATA= (X++(Y..Y))", "43 1 ?"), 9, "an ordinate is missing (?)"},
		{file("##XUNITS= SECONDS", "##NPOINTS= 1", "##PEAK TABLE= (XY..XY)", "43,100"), 5, `XUNITS is "SECONDS"; expected M/Z`},
		{"##TITLE= both\n##DATA TYPE= LINK\n##BLOCKS= 2\n" + file("##NPOINTS= 1", "##PEAK TABLE= (XY..XY)", "43,100") + "##END=\n", 3, "##BLOCKS= says 2, but the LINK block that starts at line 1 holds 1"},
	}
	for _, test := range tests {
		f, err := jcamp.Decode(strings.NewReader(test.text), jcamp.Limits{})
		if err != nil || len(f.Blocks) != 1 {
			t.Errorf("Decode: %v, of\n%s", err, test.text)
			continue
		}
		found := false
		for _, w := range f.Warnings {
			found = found || w.Doubt && w.Line == test.line && strings.Contains(w.Message, test.want)
		}
		if !found {
			t.Errorf("warnings %v, want line %d with %q, of\n%s", f.Warnings, test.line, test.want, test.text)
		}
		if _, err := jcamp.Read(strings.NewReader(test.text)); err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("Read: error %v, want one with %q", err, test.want)
		}
	}
}

// Warnings that cast no doubt on the peaks don't keep Read from reading.
func TestWarnings(t *testing.T) {
	tests := map[string]string{
		"##TITLE= x\n##DATA TYPE= MASS SPECTRUM\n##PEAK TABLE= (XY..XY)\n43,100\n##END=\n":                                   "no ##JCAMP-DX= with the version|no ##OWNER=|no ##NPOINTS=",
		strings.Replace(file("##NPOINTS= 1", "##PEAK TABLE= (XY..XY)", "43,100"), "5.00", "6.00", 1):                         `the version is "6.00"`,
		file("##MOLFORM= Xx5", "##NPOINTS= 1", "##PEAK TABLE= (XY..XY)", "43,100"):                                           "MOLFORM isn't understood",
		file("##.IONIZATION ENERGY= seventy", "##NPOINTS= 1", "##PEAK TABLE= (XY..XY)", "43,100"):                            "expected a number of eV",
		file("##NPOINTS= 2", "##FIRSTX= 43", "##LASTX= 44", "##XYDATA= (X++(Y..Y))", "43A00J"):                               "isn't followed by its check ordinate",
		file("##NPOINTS= 2", "##PEAK TABLE= (XY..XY)", "58,25 43,100"):                                                       "they were sorted",
		file("##NPOINTS= 1", "##PEAK TABLE= (XY..XY)", "43,100") + "##TITLE= s\n##JCAMP-CS= 3.7\n##ATOMLIST=\n1 C\n##END=\n": "skipped the block",
	}
	for text, want := range tests {
		f, err := jcamp.Decode(strings.NewReader(text), jcamp.Limits{})
		if err != nil {
			t.Errorf("%v, of\n%s", err, text)
			continue
		}
		all := ""
		for _, w := range f.Warnings {
			all += w.String() + "\n"
		}
		for _, part := range strings.Split(want, "|") {
			if !strings.Contains(all, part) {
				t.Errorf("warnings\n%swithout %q, of\n%s", all, part, text)
			}
		}
		if _, err := jcamp.Read(strings.NewReader(text)); err != nil {
			t.Errorf("Read: %v", err)
		}
	}
}

// Large damaged files end in an error, early and without keeping what they
// hold. (How long it takes is in BenchmarkGarbage.)
func TestGarbage(t *testing.T) {
	for name, text := range garbage() {
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		spectra, err := jcamp.Read(text())
		runtime.ReadMemStats(&after)
		if err == nil {
			t.Errorf("%s: read as %d spectra", name, len(spectra))
		}
		if used := after.TotalAlloc - before.TotalAlloc; used > 400<<20 {
			t.Errorf("%s: %d MB allocated in all", name, used>>20)
		}
	}
}

// endless gives unit again and again.
type endless struct {
	unit string
	at   int
}

func (e *endless) Read(p []byte) (int, error) {
	for i := range p {
		p[i] = e.unit[e.at]
		if e.at++; e.at == len(e.unit) {
			e.at = 0
		}
	}
	return len(p), nil
}

// garbageSize is what each of garbage gives, in bytes.
const garbageSize = 50 << 20

// garbage is what isn't a spectrum, each made anew by its function.
func garbage() map[string]func() io.Reader {
	head := strings.TrimSuffix(file("##PEAK TABLE= (XY..XY)"), "##END=\n")
	in := func(table string) string { return strings.Replace(head, "##PEAK TABLE= (XY..XY)", table, 1) }
	fill := func(head, unit string) func() io.Reader {
		return func() io.Reader {
			return io.LimitReader(io.MultiReader(strings.NewReader(head), &endless{unit: unit}), garbageSize)
		}
	}
	random := func(head string) func() io.Reader {
		return func() io.Reader {
			return io.LimitReader(io.MultiReader(strings.NewReader(head), rand.NewChaCha8([32]byte{1})), garbageSize)
		}
	}
	return map[string]func() io.Reader{
		"random bytes":       random(""),
		"random after head":  random(head),
		"one endless line":   fill("", "A"),
		"endless title":      fill("##TITLE= ", "word\n"),
		"endless records":    fill("##TITLE= x\n", "##$X= y\n"),
		"endless peaks":      fill(head, "1 1\n"),
		"endless duplicates": fill(in("##XYDATA= (X++(Y..Y))"), "1AZ99\n"),
		"line ends":          fill("", "\r"),
		"comments":           fill(head, "$$ nothing\n"),
		"blocks":             fill("", "##TITLE=\n##DATA TYPE= LINK\n##END=\n"),
		"other blocks":       fill("", "##TITLE=\n##DATA TYPE= X\n##END=\n"),
		"pages":              fill("##TITLE=\n##DATA TYPE= MASS SPECTRUM\n##NTUPLES=\n##SYMBOL= X,Y\n", "##PAGE=\n##DATA TABLE= (XY..XY)\n1 1\n"),
		"assignments":        fill(in("##PEAK ASSIGNMENTS= (XYA)"), "(1,1,<a>)\n"),
		"open assignment":    fill(in("##PEAK ASSIGNMENTS= (XYA)")+"(1,1,<", "a\n"),
	}
}

func BenchmarkGarbage(b *testing.B) {
	for name, text := range garbage() {
		b.Run(strings.ReplaceAll(name, " ", "-"), func(b *testing.B) {
			for b.Loop() {
				if _, err := jcamp.Read(text()); err == nil {
					b.Fatal("garbage was read")
				}
			}
		})
	}
}

func TestFailingReader(t *testing.T) {
	broken := errors.New("the disk is gone")
	_, err := jcamp.Read(iotest.TimeoutReader(iotest.OneByteReader(strings.NewReader(skeleton))))
	if !errors.Is(err, iotest.ErrTimeout) {
		t.Errorf("error %v, want the reader's", err)
	}
	_, err = jcamp.Read(iotest.ErrReader(broken))
	if !errors.Is(err, broken) {
		t.Errorf("error %v, want the reader's", err)
	}
	if _, err := jcamp.Read(iotest.OneByteReader(strings.NewReader(strings.ReplaceAll(skeleton, "\n", "\r\n")))); err != nil {
		t.Errorf("byte by byte: %v", err)
	}
}
