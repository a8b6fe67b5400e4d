package jcamp_test

import (
	"strings"
	"testing"

	"ionwright/chem"
	"ionwright/spectrum"
	"ionwright/spectrum/jcamp"
)

// file makes a block around records, after those that it must have.
func file(records ...string) string {
	return "##TITLE= test\n##JCAMP-DX= 5.00\n##DATA TYPE= MASS SPECTRUM\n##OWNER= us\n" + strings.Join(records, "\n") + "\n##END=\n"
}

// The skeleton of the mass spectrum of Appl. Spectrosc. 48 (1994) 1545 in the
// words of our format notes; intensities are placeholders.
const skeleton = `##TITLE= 2-pentanone, simulated EI spectrum
##JCAMP-DX= 5.00
##DATA TYPE= MASS SPECTRUM
##DATA CLASS= PEAK TABLE
##ORIGIN= course name
##OWNER= author and licence
##NAMES= 2-pentanone
##MOLFORM= C 5 H 10 O
##SPECTROMETER/DATA SYSTEM= simulated
##.SPECTROMETER TYPE= SECTOR      $$ type, inlet, ionization mode
##.INLET= DIRECT
##.IONIZATION MODE= EI+
##.IONIZATION ENERGY= 70
##XUNITS= M/Z
##YUNITS= RELATIVE ABUNDANCE
##XFACTOR= 1
##YFACTOR= 1
##FIRSTX= 15
##LASTX= 86
##FIRSTY= 12
##NPOINTS= 5
##PEAK TABLE= (XY..XY)
15,12 29,9 43,100
58,11 86,20
##END=
`

func TestSkeleton(t *testing.T) {
	spectra, err := jcamp.Read(strings.NewReader(skeleton))
	if err != nil {
		t.Fatal(err)
	}
	s := spectra[0]
	if len(spectra) != 1 || s.Notation() != "15:12 29:9 43:100 58:11 86:20" {
		t.Errorf("peaks %q", s.Notation())
	}
	want := spectrum.Info{
		Name: "2-pentanone", Formula: chem.MustFormula("C5H10O"), EnergyEV: 70,
		Instrument: "simulated", Owner: "author and licence",
	}
	if s.Title != "2-pentanone, simulated EI spectrum" || s.Info != want {
		t.Errorf("title %q, info %+v", s.Title, s.Info)
	}
}

func TestVariants(t *testing.T) {
	const want = "43:100 58:25"
	tests := map[string]string{
		"peak table":              file("##NPOINTS= 2", "##PEAK TABLE= (XY..XY)", "43,100 58,25"),
		"no space in the label":   file("##NPOINTS=2", "##PEAKTABLE=(XY..XY)", "43,100", "58,25"),
		"label in small letters":  file("##npoints=2", "##peak_table=(xy..xy)", "43,100", "58,25"),
		"semicolons":              file("##NPOINTS= 2", "##PEAK TABLE= (XY..XY)", "43,100;58,25"),
		"semicolon at the end":    file("##NPOINTS= 2", "##PEAK TABLE= (XY..XY)", "43, 100; 58, 25;"),
		"spaces":                  file("##NPOINTS= 2", "##PEAK TABLE= (XY..XY)", "43 100 58 25"),
		"tabs":                    file("##NPOINTS= 2", "##PEAK TABLE= (XY..XY)", "43\t100", "58\t25"),
		"text after the form":     file("##NPOINTS= 2", "##PEAK TABLE= (XY..XY) 2 PEAKS", "43,100 58,25"),
		"XYDATA of pairs":         file("##NPOINTS= 2", "##XYDATA=(XY..XY)", "43 100", "58 25"),
		"XYPOINTS":                file("##NPOINTS= 2", "##XYPOINTS=(XY..XY)", "43,100 58,25"),
		"version 4.24":            strings.Replace(file("##NPOINTS= 2", "##PEAK TABLE= (XY..XY)", "43,100 58,25"), "5.00", "4.24", 1),
		"version 5.01":            strings.Replace(file("##NPOINTS= 2", "##PEAK TABLE= (XY..XY)", "43,100 58,25"), "5.00", "5.01", 1),
		"revision":                strings.Replace(file("##NPOINTS= 2", "##PEAK TABLE= (XY..XY)", "43,100 58,25"), "##JCAMP-DX= 5.00", "##JCAMPDX=Revision 5.00", 1),
		"bare end":                strings.Replace(file("##NPOINTS= 2", "##PEAK TABLE= (XY..XY)", "43,100 58,25"), "##END=", "##END", 1),
		"CR":                      strings.ReplaceAll(file("##NPOINTS= 2", "##PEAK TABLE= (XY..XY)", "43,100", "58,25"), "\n", "\r"),
		"CR LF":                   strings.ReplaceAll(file("##NPOINTS= 2", "##PEAK TABLE= (XY..XY)", "43,100", "58,25"), "\n", "\r\n"),
		"byte order mark":         "\ufeff" + file("##NPOINTS= 2", "##PEAK TABLE= (XY..XY)", "43,100 58,25"),
		"comments":                file("##NPOINTS= 2 $$ two", "$$ a line", "##PEAK TABLE= (XY..XY) $$ form", "43,100 $$ base", "$$ x", "58,25"),
		"factors":                 file("##XFACTOR= 0.1", "##YFACTOR= 5", "##NPOINTS= 2", "##FIRSTX= 43", "##LASTX= 58", "##FIRSTY= 100", "##PEAK TABLE= (XY..XY)", "430,20 580,5"),
		"count after the table":   file("##PEAK TABLE= (XY..XY)", "43,100 58,25", "##NPOINTS= 2"),
		"unsorted":                file("##NPOINTS= 2", "##PEAK TABLE= (XY..XY)", "58,25 43,100"),
		"exponents":               file("##NPOINTS= 2", "##PEAK TABLE= (XY..XY)", "4.3E1,1E+02 58,2.5e1"),
		"assignments":             file("##NPOINTS= 3", "##PEAK ASSIGNMENTS= (XYA)", "(43, 100, <C2H3O+>) (58, 25, <C3H6O+", "by rearrangement>)", "(58, 25, <second view>)"),
		"steps":                   file("##NPOINTS= 16", "##FIRSTX= 43", "##LASTX= 58", "##XYDATA= (X++(Y..Y))", "43 100 0 0 0 0 0 0 0", "51 0 0 0 0 0 0 0 25"),
		"steps downward":          file("##NPOINTS= 16", "##FIRSTX= 58", "##LASTX= 43", "##XYDATA= (X++(Y..Y))", "58 25 0 0 0 0 0 0 0", "50 0 0 0 0 0 0 0 100"),
		"steps with DELTAX alone": file("##FIRSTX= 43", "##DELTAX= 15", "##XYDATA= (X++(Y..Y))", "43 100 25"),
		"DIFDUP":                  file("##NPOINTS= 16", "##FIRSTX= 43", "##LASTX= 58", "##XYDATA= (X++(Y..Y))", "43A00j00%s", "53@%VK5", "58B5"),
		"blocks in a row":         file("##NPOINTS= 2", "##PEAK TABLE= (XY..XY)", "43,100 58,25") + "\n" + file("##NPOINTS= 1", "##PEAK TABLE= (XY..XY)", "43,100"),
		"link":                    "##TITLE= both\n##JCAMP-DX= 5.00\n##DATA TYPE= LINK\n##BLOCKS= 1\n" + file("##NPOINTS= 2", "##PEAK TABLE= (XY..XY)", "43,100 58,25") + "##END=\n",
		"data of another kind before": "##TITLE= ir\n##DATA TYPE= INFRARED SPECTRUM\n##XYDATA= (X++(Y..Y))\nanything at all\n##END=\n" +
			file("##NPOINTS= 2", "##PEAK TABLE= (XY..XY)", "43,100 58,25"),
		"m/z by the unit alone": strings.Replace(file("##XUNITS= m/z", "##NPOINTS= 2", "##PEAK TABLE= (XY..XY)", "43,100 58,25"), "##DATA TYPE= MASS SPECTRUM\n", "", 1),
	}
	for name, text := range tests {
		spectra, err := jcamp.Read(strings.NewReader(text))
		if err != nil {
			t.Errorf("%s: %v\n%s", name, err, text)
			continue
		}
		if got := spectra[0].Notation(); got != want {
			t.Errorf("%s: peaks %q, want %q", name, got, want)
		}
	}
}

func TestBases(t *testing.T) {
	for _, base := range []string{"100", "999", "1000", "9999"} { // in use, format notes
		spectra, err := jcamp.Read(strings.NewReader(file("##NPOINTS= 1", "##FIRSTY= "+base, "##YUNITS= RELATIVE INTENSITY", "##PEAK TABLE= (XY..XY)", "43,"+base)))
		if err != nil || spectra[0].Relative(43) != 100 {
			t.Errorf("base %s: %v, %v", base, spectra, err)
		}
	}
}

func TestAssignments(t *testing.T) {
	f, err := jcamp.Decode(strings.NewReader(file("##NPOINTS= 3", "##PEAK ASSIGNMENTS= (XYA)",
		"(43, 100, <C2H3O+>) (58, 25, <C3H6O+,", "  by rearrangement>)", "(58,25)")), jcamp.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	want := []jcamp.Assignment{{MZ: 43, Intensity: 100, Text: "C2H3O+"}, {MZ: 58, Intensity: 25, Text: "C3H6O+, by rearrangement"}, {MZ: 58, Intensity: 25}}
	got := f.Blocks[0].Assignments
	if len(got) != len(want) {
		t.Fatalf("%d assignments: %v", len(got), got)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("assignment %d is %v, want %v", i+1, got[i], want[i])
		}
	}
}

func TestPages(t *testing.T) {
	// The layout of a spectral series in Appl. Spectrosc. 48 (1994) 1545, seen
	// in a public test of a reader; numbers ours.
	text := file(
		"##DATA CLASS= NTUPLES", "##NTUPLES= MASS SPECTRUM",
		"##VAR_NAME= MASS, INTENSITY, RETENTION TIME", "##SYMBOL= X, Y, T",
		"##VAR_TYPE= INDEPENDENT, DEPENDENT, INDEPENDENT", "##VAR_FORM= AFFN, AFFN, AFFN",
		"##VAR_DIM= , , 2", "##UNITS= M/Z, RELATIVE ABUNDANCE, SECONDS", "##FACTOR= 1, 0.1, 1",
		"##FIRST= , , 10", "##LAST= , , 20",
		"##PAGE= T=10", "##NPOINTS= 2", "##DATA TABLE= (XY..XY), PEAKS", "43,1000;58,250",
		"##PAGE= T=20", "##NPOINTS= 1", "##DATA TABLE= (XY..XY), PEAKS", "91,1234",
		"##END NTUPLES= MASS SPECTRUM")
	f, err := jcamp.Decode(strings.NewReader(text), jcamp.Limits{})
	if err != nil || len(f.Blocks) != 2 || len(f.Warnings) != 0 {
		t.Fatalf("%+v, %v", f, err)
	}
	for i, want := range []struct{ page, peaks string }{{"T=10", "43:100 58:25"}, {"T=20", "91:123.4"}} {
		b := f.Blocks[i]
		if b.Page != want.page || b.Spectrum.Notation() != want.peaks || b.Spectrum.Title != "test" || b.Spectrum.Info.Owner != "us" {
			t.Errorf("page %d is %q %q %+v", i+1, b.Page, b.Spectrum.Notation(), b.Spectrum)
		}
	}
	scan := file("##NTUPLES= MASS SPECTRUM", "##SYMBOL= X, Y", "##UNITS= M/Z, COUNTS", "##FIRST= 43, ", "##LAST= 58, ", "##VAR_DIM= 16, 16",
		"##PAGE= N=1", "##DATA TABLE= (X++(Y..Y)), PROFILE", "43A00j00%s", "53@%VK5", "58B5", "##END NTUPLES")
	spectra, err := jcamp.Read(strings.NewReader(scan))
	if err != nil || spectra[0].Notation() != "43:100 58:25" {
		t.Errorf("scan: %v, %v", spectra, err)
	}
}

func TestLatin1(t *testing.T) {
	f, err := jcamp.Decode(strings.NewReader(file("##ORIGIN= D\xfcsseldorf", "##NAMES= M\xfcsli", "##NPOINTS= 1", "##PEAK TABLE= (XY..XY)", "43,100")), jcamp.Limits{})
	if err != nil {
		t.Fatal(err)
	}
	if got := f.Blocks[0].Spectrum.Info.Name; got != "Müsli" {
		t.Errorf("name %q", got)
	}
	if len(f.Warnings) != 1 || f.Warnings[0].Line != 5 || !strings.Contains(f.Warnings[0].Message, "ISO 8859-1") {
		t.Errorf("warnings %v", f.Warnings)
	}
}
