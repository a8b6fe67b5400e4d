package jcamp_test

import (
	"bytes"
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"
	"unicode/utf8"

	"ionwright/chem"
	"ionwright/internal/fixture"
	"ionwright/spectrum"
	"ionwright/spectrum/jcamp"
)

var forms = map[string]jcamp.Form{
	"peak table": jcamp.PeakTable, "FIX": jcamp.Fixed, "PAC": jcamp.Packed,
	"SQZ": jcamp.Squeezed, "DIF": jcamp.Difference, "DIFDUP": jcamp.Duplicate,
}

// encode writes blocks and checks what holds for every file: lines of at most
// 80 characters, and nothing that reading warns of.
func encode(t *testing.T, blocks []jcamp.Block, form jcamp.Form) (string, *jcamp.File) {
	t.Helper()
	var out bytes.Buffer
	if err := jcamp.Encode(&out, blocks, form); err != nil {
		t.Fatal(err)
	}
	for i, line := range strings.Split(out.String(), "\n") {
		if n := utf8.RuneCountInString(line); n > 80 { // JCAMP-DX, format notes
			t.Errorf("line %d has %d characters: %q", i+1, n, line)
		}
	}
	f, err := jcamp.Decode(bytes.NewReader(out.Bytes()), jcamp.Limits{})
	if err != nil {
		t.Fatalf("%v, of\n%s", err, out.String())
	}
	for _, w := range f.Warnings {
		if !strings.Contains(w.Message, "##OWNER=") {
			t.Errorf("reading our own file warns: %v, of\n%s", w, out.String())
		}
	}
	return out.String(), f
}

func TestWritten(t *testing.T) {
	s := spectrum.MustParse("15:12 29:9 43:100 58:11 86:20")
	s.Title = "2-pentanone"
	s.Info = spectrum.Info{
		Name: "2-pentanone", Formula: chem.MustFormula("C5H10O"), EnergyEV: 70, Instrument: "a sector", SourceID: "7",
		Owner: "us", License: "CC0", Comment: "first line\n\nthird line", Origin: spectrum.Computed,
	}
	var out bytes.Buffer
	if err := jcamp.Write(&out, s); err != nil {
		t.Fatal(err)
	}
	const want = `##TITLE= 2-pentanone
##JCAMP-DX= 5.00
##DATA TYPE= MASS SPECTRUM
##DATA CLASS= PEAK TABLE
##ORIGIN= computed
##OWNER= us
##NAMES= 2-pentanone
##MOLFORM= C 5 H 10 O
##SOURCE REFERENCE= 7
##SPECTROMETER/DATA SYSTEM= a sector
##.IONIZATION MODE= EI+
##.IONIZATION ENERGY= 70
##$LICENSE= CC0
##$SPECTRUM ORIGIN= computed
##COMMENTS= first line
##COMMENTS=
##COMMENTS= third line
##XUNITS= M/Z
##YUNITS= RELATIVE ABUNDANCE
##XFACTOR= 1
##YFACTOR= 1
##NPOINTS= 5
##FIRSTX= 15
##LASTX= 86
##FIRSTY= 12
##PEAK TABLE= (XY..XY)
15,12 29,9 43,100 58,11 86,20
##END=
`
	if out.String() != want {
		t.Errorf("wrote\n%s\nwant\n%s", out.String(), want)
	}
}

func TestRoundTripOfMeasured(t *testing.T) {
	var all []jcamp.Block
	for _, r := range fixture.Measured(t) {
		s := r.Spectrum(t)
		all = append(all, jcamp.Block{Spectrum: s})
		for name, form := range forms {
			_, f := encode(t, []jcamp.Block{{Spectrum: s}}, form)
			if !reflect.DeepEqual(f.Blocks[0].Spectrum, s) {
				t.Fatalf("%s came back from %s as\n%+v, was\n%+v", r.Name, name, f.Blocks[0].Spectrum, s)
			}
		}
	}
	_, f := encode(t, all, jcamp.PeakTable)
	if len(f.Blocks) != len(all) {
		t.Fatalf("%d spectra came back of %d", len(f.Blocks), len(all))
	}
	for i := range all {
		if !reflect.DeepEqual(f.Blocks[i].Spectrum, all[i].Spectrum) {
			t.Errorf("%s came back changed from a LINK block", all[i].Spectrum.Title)
		}
	}
}

func TestCompressionPays(t *testing.T) {
	s := fixture.ByName(t, "toluene").Spectrum(t)
	size := map[string]int{}
	for name, form := range forms {
		text, _ := encode(t, []jcamp.Block{{Spectrum: s}}, form)
		size[name] = len(text)
	}
	if !(size["FIX"] > size["SQZ"] && size["DIF"] > size["DIFDUP"] && size["FIX"] > size["DIFDUP"]) {
		t.Errorf("sizes %v: the compressed forms are there to be smaller", size)
	}
}

func TestRoundTripOfHardNumbers(t *testing.T) {
	s := spectrum.MustParse("0.1:0.1 1.007825:5e-324 43.018389:1e300 1e15:0 1.7e308:123456789.123456789")
	_, f := encode(t, []jcamp.Block{{Spectrum: s}}, jcamp.PeakTable)
	if got := f.Blocks[0].Spectrum.Notation(); got != s.Notation() {
		t.Errorf("came back as %q, was %q", got, s.Notation())
	}
	even := spectrum.MustParse("43:0.3 43.25:26.6 43.5:1e-10 43.75:12")
	for _, form := range forms {
		_, f := encode(t, []jcamp.Block{{Spectrum: even}}, form)
		if got := f.Blocks[0].Spectrum.Notation(); got != even.Notation() {
			t.Errorf("form %d: came back as %q, was %q", form, got, even.Notation())
		}
	}
	_, f = encode(t, []jcamp.Block{{Spectrum: spectrum.Spectrum{Title: "nothing"}}}, jcamp.PeakTable)
	if len(f.Blocks[0].Spectrum.Peaks) != 0 || f.Blocks[0].Spectrum.Title != "nothing" {
		t.Errorf("the empty spectrum came back as %+v", f.Blocks[0].Spectrum)
	}
}

func TestRoundTripOfText(t *testing.T) {
	long := strings.Repeat("a comment that goes on, with ## in it and = too, ", 20) + "and ends"
	for _, text := range []string{"x", "Müller, 5 µg", "= begins", "## begins", long, "a  b"} {
		s := spectrum.MustParse("43:100")
		s.Title = text
		s.Info = spectrum.Info{Name: text, Instrument: text, Owner: text, SourceID: text, License: text, Comment: text + "\n" + text}
		_, f := encode(t, []jcamp.Block{{Spectrum: s}}, jcamp.PeakTable)
		if !reflect.DeepEqual(f.Blocks[0].Spectrum, s) {
			t.Errorf("came back as\n%+v, was\n%+v", f.Blocks[0].Spectrum, s)
		}
	}
	for _, formula := range []string{"C5H10O", "[13C]CH4", "C[2H]4", "C7H7 2+", "C6H5+", "SO4 2-", "C3H9ClSi"} {
		s := spectrum.MustParse("43:100")
		s.Info.Formula = chem.MustFormula(formula)
		text, f := encode(t, []jcamp.Block{{Spectrum: s}}, jcamp.PeakTable)
		if got := f.Blocks[0].Spectrum.Info.Formula; got != s.Info.Formula {
			t.Errorf("%s came back as %v, of\n%s", formula, got, text)
		}
	}
}

func TestRoundTripOfAssignments(t *testing.T) {
	want := []jcamp.Assignment{
		{MZ: 43, Intensity: 100, Text: "C2H3O+"},
		{MZ: 43, Intensity: 100, Text: "or C3H7+, which has the same nominal mass and needs more resolution than here to be told apart"},
		{MZ: 58, Intensity: 25, Text: ""},
	}
	s := spectrum.MustParse("43:100 58:25")
	s.Title = "2-pentanone"
	_, f := encode(t, []jcamp.Block{{Spectrum: s}, {Spectrum: s, Assignments: want}}, jcamp.PeakTable)
	if got := f.Blocks[1].Assignments; !reflect.DeepEqual(got, want) {
		t.Errorf("came back as %v", got)
	}
	if got := f.Blocks[1].Spectrum.Notation(); got != s.Notation() {
		t.Errorf("the assigned peaks are %q", got)
	}
}

func TestRefusesToWrite(t *testing.T) {
	with := func(change func(*jcamp.Block)) []jcamp.Block {
		b := jcamp.Block{Spectrum: spectrum.MustParse("43:100 58:25")}
		b.Spectrum.Title = "acetone"
		change(&b)
		return []jcamp.Block{b}
	}
	tests := []struct {
		blocks []jcamp.Block
		form   jcamp.Form
		want   string
	}{
		{nil, jcamp.PeakTable, "no spectrum to write"},
		{with(func(b *jcamp.Block) { b.Spectrum.Title = "5 $$" }), 0, `##TITLE= can't hold "5 $$": $$ starts a comment`},
		{with(func(b *jcamp.Block) { b.Spectrum.Info.Name = "a\nb" }), 0, `##NAMES= can't hold "a\nb": it has a line end`},
		{with(func(b *jcamp.Block) { b.Spectrum.Info.Owner = " us" }), 0, "space at its ends gets lost"},
		{with(func(b *jcamp.Block) { b.Spectrum.Info.Owner = "\xff" }), 0, "it isn't UTF-8"},
		{with(func(b *jcamp.Block) { b.Spectrum.Info.Owner = strings.Repeat("x", 100) }), 0, "a word of it doesn't fit a line of 80 characters"},
		{with(func(b *jcamp.Block) { b.Spectrum.Info.EnergyEV = -1 }), 0, "an electron energy of -1 eV"},
		{with(func(b *jcamp.Block) { b.Spectrum.Peaks[0].MZ = 60 }), 0, `spectrum 1 ("acetone"): peak 2 at m/z 58 doesn't come after m/z 60`},
		{with(func(b *jcamp.Block) { b.Spectrum.Peaks[0].Intensity = math.NaN() }), 0, "peak 1 is m/z 43, intensity NaN"},
		{with(func(b *jcamp.Block) { b.Spectrum.Peaks[0].MZ = 43.1 }), jcamp.Fixed, "XYDATA"},
		{with(func(b *jcamp.Block) { b.Spectrum = spectrum.MustParse("43:1 43.1:1 44:1") }), jcamp.Difference, "XYDATA needs whole or evenly spaced m/z"},
		{with(func(b *jcamp.Block) { b.Spectrum.Peaks[0].Intensity = 1e-20 }), jcamp.Fixed, "XYDATA can't hold the intensities exactly"},
		{with(func(b *jcamp.Block) { b.Spectrum.Peaks = nil }), jcamp.Fixed, "XYDATA can't hold a spectrum without peaks"},
		{with(func(b *jcamp.Block) { b.Assignments = []jcamp.Assignment{{MZ: 43, Text: "a > b"}} }), 0, "< and > enclose an assignment"},
	}
	for _, test := range tests {
		err := jcamp.Encode(&bytes.Buffer{}, test.blocks, test.form)
		if test.want == "XYDATA" { // two points are always evenly spaced
			if err != nil {
				t.Errorf("two points: %v", err)
			}
			continue
		}
		if err == nil || !strings.Contains(err.Error(), test.want) {
			t.Errorf("error %v, want one with %q", err, test.want)
		}
	}
	if err := jcamp.Write(failingWriter{}, fixture.ByName(t, "toluene").Spectrum(t)); !errors.Is(err, errFull) {
		t.Errorf("error %v, want the writer's", err)
	}
}

var errFull = errors.New("the disk is full")

type failingWriter struct{}

func (failingWriter) Write([]byte) (int, error) { return 0, errFull }

func FuzzRead(f *testing.F) {
	f.Add(skeleton)
	f.Add(file("##NPOINTS= 16", "##FIRSTX= 43", "##LASTX= 58", "##XYDATA= (X++(Y..Y))", "43A00j00%s", "53@%VK5", "58B5"))
	f.Add(file("##NPOINTS= 1", "##PEAK ASSIGNMENTS= (XYA)", "(43, 100, <C2H3O+>)"))
	f.Add(file("##NTUPLES= MASS SPECTRUM", "##SYMBOL= X, Y", "##FACTOR= 1, 0.1", "##PAGE= N=1", "##NPOINTS= 1", "##DATA TABLE= (XY..XY), PEAKS", "43,1000", "##END NTUPLES"))
	f.Add("##TITLE= a\n##DATA TYPE= LINK\n##BLOCKS= 1\n" + file("##XFACTOR= 0.1", "##PEAK TABLE= (XY..XY)", "430,1E+02;580 25") + "##END")
	f.Fuzz(func(t *testing.T, text string) {
		small := jcamp.Limits{Points: 10_000, Blocks: 100}
		first, err := jcamp.Decode(strings.NewReader(text), small)
		if err != nil {
			if first != nil {
				t.Error("an error and a file")
			}
			return
		}
		// What was read can be written, unless a text of it is too much for
		// the format, and comes back the same.
		for _, form := range forms {
			for _, b := range first.Blocks {
				b.Page = ""
				if p := b.Spectrum.Peaks; len(p) > 0 && p[len(p)-1].MZ-p[0].MZ > 5000 {
					continue // an even grid of that length takes the fuzzer's time
				}
				var out bytes.Buffer
				if err := jcamp.Encode(&out, []jcamp.Block{b}, form); err != nil {
					continue
				}
				again, err := jcamp.Decode(bytes.NewReader(out.Bytes()), jcamp.Limits{})
				if err != nil {
					t.Fatalf("own text refused: %v\n%s", err, out.String())
				}
				want, got := b.Spectrum, again.Blocks[0].Spectrum
				if b.Assignments != nil {
					if !reflect.DeepEqual(b.Assignments, again.Blocks[0].Assignments) {
						t.Fatalf("assignments came back as %v, were %v", again.Blocks[0].Assignments, b.Assignments)
					}
					continue
				}
				if form != jcamp.PeakTable {
					want, _ = spectrum.New(want.AtLeast(0).Peaks) // XYDATA leaves zeros out
					got.Title, got.Info = "", spectrum.Info{}
				}
				if got.Notation() != want.Notation() || got.Info != want.Info || got.Title != want.Title {
					t.Fatalf("came back as\n%+v, was\n%+v\nthrough\n%s", got, want, out.String())
				}
			}
		}
	})
}
