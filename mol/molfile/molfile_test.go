package molfile_test

import (
	"bytes"
	"errors"
	"io"
	"os"
	"strings"
	"testing"

	"ionwright/mol"
	"ionwright/mol/molfile"
	"ionwright/mol/smiles"
)

// table makes a V2000 table of lines.
func table(lines ...string) string {
	return "name\n  program\ncomment\n" + strings.Join(lines, "\n") + "\nM  END\n"
}

// at makes an atom line at a place in the plane.
func at(symbol, x, y string) string {
	pad := func(s string) string { return strings.Repeat(" ", 10-len(s)) + s }
	return pad(x) + pad(y) + pad("0.0000") + " " + symbol + strings.Repeat(" ", 3-len(symbol)) + " 0  0  0  0  0  0  0  0  0  0  0  0"
}

// What is read is said by its SMILES.
func TestReadV2000(t *testing.T) {
	c, n, o := at("C", "0", "0"), at("N", "0", "0"), at("O", "0", "0")
	for _, c := range []struct{ name, text, smiles string }{
		{"no atoms", table("  0  0  0  0  0  0            999 V2000"), ""},
		{"methane", table("  1  0  0  0  0  0            999 V2000", c), "C"},
		{"a counts line without version", table("  1  0", c), "C"},
		{"acetaldehyde", table("  3  2  0  0  0  0            999 V2000", c, c, o, "  1  2  1  0", "  2  3  2  0"), "CC=O"},
		{"hydrogen cyanide", table("  2  1  0  0  0  0            999 V2000", c, n, "  1  2  3  0"), "C#N"},
		{"benzene with aromatic bonds", table("  6  6  0  0  0  0            999 V2000", c, c, c, c, c, c,
			"  1  2  4  0", "  2  3  4  0", "  3  4  4  0", "  4  5  4  0", "  5  6  4  0", "  6  1  4  0"), "c1ccccc1"},
		{"charges", table("  2  0  0  0  0  0            999 V2000", at("Na", "0", "0"), at("Cl", "0", "0"), "M  CHG  2   1   1   2  -1"), "[Na+].[Cl-]"},
		{"charge code of the atom line", table("  1  0  0  0  0  0            999 V2000", strings.Replace(n, " 0  0  0", " 0  3  0", 1)), "[NH4+]"},
		{"a line M  CHG cancels it", table("  2  0  0  0  0  0            999 V2000", strings.Replace(n, " 0  0  0", " 0  3  0", 1), o, "M  CHG  1   2  -1"), "N.[OH-]"},
		{"methyl radical", table("  1  0  0  0  0  0            999 V2000", c, "M  RAD  1   1   2"), "[CH3]"},
		{"triplet methylene", table("  1  0  0  0  0  0            999 V2000", c, "M  RAD  1   1   3"), "[CH2]"},
		{"radical code of the atom line", table("  1  0  0  0  0  0            999 V2000", strings.Replace(c, " 0  0  0", " 0  4  0", 1)), "[CH3]"},
		{"carbon-13", table("  1  0  0  0  0  0            999 V2000", c, "M  ISO  1   1  13"), "[13CH4]"},
		{"mass difference", table("  1  0  0  0  0  0            999 V2000", strings.Replace(c, "C   0", "C   1", 1)), "[13CH4]"},
		{"deuterium", table("  2  1  0  0  0  0            999 V2000", at("D", "0", "0"), c, "  1  2  1  0"), "[2H]C"},
		{"valence 15 is none", table("  1  0  0  0  0  0            999 V2000", strings.Replace(c, "C   0  0  0  0  0  0", "C   0  0  0  0  0 15", 1)), "[C]"},
		{"explicit hydrogens", table("  3  2  0  0  0  0            999 V2000", at("H", "0", "0"), o, at("H", "0", "0"), "  1  2  1  0", "  2  3  1  0"), "O"},
		{"an alias", table("  1  0  0  0  0  0            999 V2000", c, "A    1", "Me"), "C"},
		{"windows line ends", strings.ReplaceAll(table("  1  0  0  0  0  0            999 V2000", c), "\n", "\r\n"), "C"},
		// A wedge to fluorine, seen from hydrogen behind: F, Cl, Br clockwise for
		// the viewer in front, so counterclockwise from the hydrogen.
		{"a wedge", table("  4  3  0  0  1  0            999 V2000", at("C", "0", "0"), at("F", "0", "1"), at("Cl", "0.9", "-0.5"), at("Br", "-0.9", "-0.5"),
			"  1  2  1  1", "  1  3  1  0", "  1  4  1  0"), "[C@H](F)(Cl)Br"},
		{"a hash", table("  4  3  0  0  1  0            999 V2000", at("C", "0", "0"), at("F", "0", "1"), at("Cl", "0.9", "-0.5"), at("Br", "-0.9", "-0.5"),
			"  1  2  1  6", "  1  3  1  0", "  1  4  1  0"), "[C@@H](F)(Cl)Br"},
		{"a wavy bond", table("  4  3  0  0  1  0            999 V2000", at("C", "0", "0"), at("F", "0", "1"), at("Cl", "0.9", "-0.5"), at("Br", "-0.9", "-0.5"),
			"  1  2  1  4", "  1  3  1  0", "  1  4  1  0"), "C(F)(Cl)Br"},
		{"trans", table("  4  3  0  0  0  0            999 V2000", at("F", "-1", "1"), at("C", "-0.5", "0"), at("C", "0.5", "0"), at("Cl", "1", "-1"),
			"  1  2  1  0", "  2  3  2  0", "  3  4  1  0"), "F/C=C/Cl"},
		{"cis", table("  4  3  0  0  0  0            999 V2000", at("F", "-1", "1"), at("C", "-0.5", "0"), at("C", "0.5", "0"), at("Cl", "1", "1"),
			"  1  2  1  0", "  2  3  2  0", "  3  4  1  0"), "F/C=C\\Cl"},
		{"a crossed double bond", table("  4  3  0  0  0  0            999 V2000", at("F", "-1", "1"), at("C", "-0.5", "0"), at("C", "0.5", "0"), at("Cl", "1", "1"),
			"  1  2  1  0", "  2  3  2  3", "  3  4  1  0"), "FC=CCl"},
	} {
		record, err := molfile.Read(strings.NewReader(c.text))
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if record.Name != "name" || record.Comment != "comment" {
			t.Errorf("%s: name %q, comment %q", c.name, record.Name, record.Comment)
		}
		if got, want := smiles.Canonical(record.Mol), canonical(t, c.smiles); got != want {
			t.Errorf("%s: %s, want %s", c.name, got, want)
		}
	}
}

func canonical(t *testing.T, text string) string {
	t.Helper()
	m, err := smiles.Parse(text)
	if err != nil {
		t.Fatal(err)
	}
	return smiles.Canonical(m)
}

func TestReadV3000(t *testing.T) {
	ctab := func(lines ...string) string {
		return table("  0  0  0     0  0            999 V3000", "M  V30 "+strings.Join(lines, "\nM  V30 "))
	}
	for _, c := range []struct{ name, text, smiles string }{
		{"acetate", ctab("BEGIN CTAB", "COUNTS 4 3 0 0 0", "BEGIN ATOM", "1 C 0 0 0 0", "2 C 0 0 0 0", "3 O 0 0 0 0", "7 O 0 0 0 0 CHG=-1", "END ATOM",
			"BEGIN BOND", "1 1 1 2", "2 2 2 3", "3 1 2 7", "END BOND", "END CTAB"), "CC(=O)[O-]"},
		{"a continued line", ctab("BEGIN CTAB", "COUNTS 1 0 0 0 0", "BEGIN ATOM", "1 C 0 0 -", "0 0 MASS=1-", "3", "END ATOM", "END CTAB"), "[13CH4]"},
		{"radical, valence, class", ctab("BEGIN CTAB", "COUNTS 2 0 0 0 0", "BEGIN ATOM", "1 C 0 0 0 5 RAD=2", "2 C 0 0 0 0 VAL=-1", "END ATOM", "END CTAB"), "[CH3:5].[C]"},
		{"a quoted symbol, a list in a property", ctab("BEGIN CTAB", "COUNTS 1 0 0 0 0", "BEGIN ATOM", `1 "N" 0 0 0 0 ATTCHORD=(2 1 2)`, "END ATOM", "BEGIN SGROUP", "1 DAT 0 ATOMS=(1 1)", "END SGROUP", "END CTAB"), "N"},
		{"a parity", ctab("BEGIN CTAB", "COUNTS 4 3 0 0 1", "BEGIN ATOM", "1 C 0 0 0 0 CFG=1", "2 F 0 0 0 0", "3 Cl 0 0 0 0", "4 Br 0 0 0 0", "END ATOM",
			"BEGIN BOND", "1 1 1 2", "2 1 1 3", "3 1 1 4", "END BOND", "END CTAB"), "[C@H](F)(Cl)Br"},
	} {
		record, err := molfile.Read(strings.NewReader(c.text))
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
		} else if got, want := smiles.Canonical(record.Mol), canonical(t, c.smiles); got != want {
			t.Errorf("%s: %s, want %s", c.name, got, want)
		}
	}
}

func TestReadErrors(t *testing.T) {
	c := at("C", "0", "0")
	v3 := func(lines ...string) string {
		return table("  0  0  0     0  0            999 V3000", strings.Join(lines, "\n"))
	}
	for _, c := range []struct {
		name, text string
		line       int
		says       string
	}{
		{"empty", "", 1, "empty"},
		{"cut in the header", "name\n", 1, "header"},
		{"cut before the counts", "a\nb\nc\n", 3, "counts line"},
		{"cut in the atoms", "a\nb\nc\n  2  0  0  0  0  0            999 V2000\n" + c + "\n", 5, "an atom line"},
		{"no end", "a\nb\nc\n  1  0  0  0  0  0            999 V2000\n" + c + "\n", 5, "M  END"},
		{"the record ends early", "a\nb\nc\n  1  0  0  0  0  0            999 V2000\n" + c + "\n$$$$\n", 6, "M  END"},
		{"counts aren't numbers", table("  x  0  0  0  0  0            999 V2000"), 4, "the number of atoms"},
		{"negative counts", table(" -1  0  0  0  0  0            999 V2000"), 4, "negative"},
		{"another version", table("  1  0  0  0  0  0            999 V4000"), 4, "V4000"},
		{"a short atom line", table("  1  0  0  0  0  0            999 V2000", "0 0 0 C"), 5, "too short"},
		{"a coordinate that is none", table("  1  0  0  0  0  0            999 V2000", strings.Replace(c, "0", "x", 1)), 5, "coordinate"},
		{"a query atom", table("  1  0  0  0  0  0            999 V2000", at("A", "0", "0")), 5, "query atoms"},
		{"an R group", table("  1  0  0  0  0  0            999 V2000", at("R#", "0", "0")), 5, "R groups"},
		{"an atom list", table("  1  0  0  0  0  0            999 V2000", c, "M  ALS   1  2 F C   N"), 6, "atom lists"},
		{"a query bond", table("  2  1  0  0  0  0            999 V2000", c, c, "  1  2  8  0"), 7, "bond type 8"},
		{"a bond to nowhere", table("  2  1  0  0  0  0            999 V2000", c, c, "  1  3  1  0"), 7, "atoms 1 and 3"},
		{"a bond to itself", table("  2  1  0  0  0  0            999 V2000", c, c, "  1  1  1  0"), 7, "itself"},
		{"a bond twice", table("  2  2  0  0  0  0            999 V2000", c, c, "  1  2  1  0", "  2  1  1  0"), 8, "already"},
		{"five bonds at carbon", table("  6  5  0  0  0  0            999 V2000", c, c, c, c, c, c, "  1  2  1  0", "  1  3  1  0", "  1  4  1  0", "  1  5  1  0", "  1  6  1  0"), 5, "carbon, has bonds of order 5"},
		{"no Kekule form", table("  3  3  0  0  0  0            999 V2000", c, c, c, "  1  2  4  0", "  2  3  4  0", "  3  1  4  0"), 7, "double bond"},
		{"an unknown nuclide", table("  1  0  0  0  0  0            999 V2000", c, "M  ISO  1   1  99"), 6, "99C"},
		{"a charge for no atom", table("  1  0  0  0  0  0            999 V2000", c, "M  CHG  1   2   1"), 6, "names no atom"},
		{"pairs missing", table("  1  0  0  0  0  0            999 V2000", c, "M  CHG  2   1   1"), 6, "as many pairs"},
		{"a charge out of range", table("  1  0  0  0  0  0            999 V2000", c, "M  CHG  1   1  40"), 6, "out of range"},
		{"a line of V3000 without prefix", v3("M  V30 BEGIN CTAB", "nonsense"), 6, "M  V30"},
		{"a parenthesis open", v3("M  V30 BEGIN CTAB", "M  V30 BEGIN ATOM", "M  V30 1 C 0 0 0 0 X=(1"), 7, "isn't closed"},
		{"an index twice", v3("M  V30 BEGIN CTAB", "M  V30 BEGIN ATOM", "M  V30 1 C 0 0 0 0", "M  V30 1 C 0 0 0 0"), 8, "before"},
		{"too many atoms announced", v3("M  V30 BEGIN CTAB", "M  V30 COUNTS 9999999 0 0 0 0"), 6, "number of atoms up to"},
		{"a long line", table("  1  0  0  0  0  0            999 V2000", c, strings.Repeat("x", 100000)), 6, "too long"},
	} {
		record, err := molfile.Read(strings.NewReader(c.text))
		var e *molfile.Error
		if !errors.As(err, &e) {
			t.Errorf("%s: error %v of type %T, read %v", c.name, err, err, record.Mol)
			continue
		}
		if e.Line != c.line || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s: line %d, %v; want line %d, ...%s...", c.name, e.Line, err, c.line, c.says)
		}
	}
}

// An SD file: data items, and a broken record that doesn't spoil the next.
func TestSD(t *testing.T) {
	ethanol, err := smiles.Parse("CCO")
	if err != nil {
		t.Fatal(err)
	}
	var file bytes.Buffer
	data := []molfile.Field{{Name: "formula", Value: "C2H6O"}, {Name: "two lines", Value: "one\ntwo"}}
	if err := molfile.WriteSD(&file, molfile.Record{Name: "ethanol", Mol: ethanol, Data: data}, molfile.Fitting); err != nil {
		t.Fatal(err)
	}
	file.WriteString("broken\n\n\n  1  0  0  0  0  0            999 V2000\nno atom\nM  END\n> <x>\n1\n\n$$$$\n")
	if err := molfile.WriteSD(&file, molfile.Record{Name: "again", Mol: ethanol}, molfile.V3000); err != nil {
		t.Fatal(err)
	}
	r := molfile.NewReader(&file)
	first, err := r.Next()
	if err != nil {
		t.Fatal(err)
	}
	if first.Name != "ethanol" || len(first.Data) != 2 || first.Data[0] != data[0] || first.Data[1] != data[1] || smiles.Canonical(first.Mol) != "OCC" {
		t.Errorf("the first record is %+v", first)
	}
	if _, err := r.Next(); err == nil {
		t.Error("the broken record is read")
	}
	third, err := r.Next()
	if err != nil || third.Name != "again" || smiles.Canonical(third.Mol) != "OCC" {
		t.Errorf("the third record is %+v, %v", third, err)
	}
	if _, err := r.Next(); err != io.EOF {
		t.Errorf("after the last record: %v", err)
	}
}

// Without coordinates all but double-bond arrangements and classes beyond the
// tetrahedral come back.
func TestWriteThenRead(t *testing.T) {
	lines, err := os.ReadFile("../smiles/testdata/odd.smi")
	if err != nil {
		t.Fatal(err)
	}
	for line := range strings.Lines(string(lines)) {
		line = strings.TrimSpace(line)
		if strings.HasPrefix(line, "#") || strings.ContainsAny(line, `/\$`) || strings.Contains(line, "@TB") || strings.Contains(line, "@OH") || strings.Contains(line, "@SP") || strings.Contains(line, "=[C@") {
			continue
		}
		m, err := smiles.Parse(line)
		if err != nil {
			t.Fatal(err)
		}
		for _, version := range []molfile.Version{molfile.V2000, molfile.V3000} {
			var text bytes.Buffer
			if err := molfile.Write(&text, molfile.Record{Mol: m}, version); err != nil {
				t.Errorf("%s: %v", line, err)
				continue
			}
			record, err := molfile.Read(&text)
			if err != nil {
				t.Errorf("%s: %v", line, err)
			} else if got, want := smiles.Canonical(record.Mol), smiles.Canonical(m); got != want {
				t.Errorf("%s: read again %s, want %s", line, got, want)
			}
		}
	}
}

func TestWriteErrors(t *testing.T) {
	chain := func(n int) *mol.Mol {
		m, err := smiles.Parse(strings.Repeat("C", n))
		if err != nil {
			t.Fatal(err)
		}
		return m
	}
	quadruple, _ := smiles.Parse("[Re]$[Re]")
	ion, _ := smiles.Parse("[U+20]")
	center, _ := smiles.Parse("[C@H](F)(Cl)Br")
	trans, _ := smiles.Parse("F/C=C/Cl")
	cisPlaces := []molfile.Point{{X: -1, Y: 1}, {X: -0.5}, {X: 0.5}, {X: 1, Y: 1}}
	for _, c := range []struct {
		name    string
		record  molfile.Record
		version molfile.Version
		says    string
	}{
		{"1,000 atoms in V2000", molfile.Record{Mol: chain(1000)}, molfile.V2000, "too many for V2000"},
		{"1,000 atoms", molfile.Record{Mol: chain(1000)}, molfile.Fitting, ""},
		{"a quadruple bond", molfile.Record{Mol: quadruple}, molfile.Fitting, "quadruple"},
		{"a large charge", molfile.Record{Mol: ion}, molfile.Fitting, "charge +20"},
		{"too few points", molfile.Record{Mol: chain(3), Points: make([]molfile.Point, 2)}, molfile.Fitting, "2 points are given for 3 atoms"},
		{"a center at one point", molfile.Record{Mol: center, Points: make([]molfile.Point, 4)}, molfile.Fitting, "no bond for a wedge"},
		{"a contradicted double bond", molfile.Record{Mol: trans, Points: cisPlaces}, molfile.Fitting, "contradict"},
	} {
		err := molfile.Write(io.Discard, c.record, c.version)
		if c.says == "" && err != nil || c.says != "" && (err == nil || !strings.Contains(err.Error(), c.says)) {
			t.Errorf("%s: %v, want ...%s...", c.name, err, c.says)
		}
	}
}

func FuzzRead(f *testing.F) {
	for _, s := range []string{"", "C", "c1ccccc1", "[2H]C", "[NH4+].[Cl-]", "[C@H](F)(Cl)Br", "[CH2]", "C%10CC%10", "[13CH3:7]"} {
		m, err := smiles.Parse(s)
		if err != nil {
			f.Fatal(err)
		}
		for _, version := range []molfile.Version{molfile.V2000, molfile.V3000} {
			var text bytes.Buffer
			if err := molfile.WriteSD(&text, molfile.Record{Name: "x", Mol: m, Data: []molfile.Field{{Name: "a", Value: "b"}}}, version); err != nil {
				f.Fatal(err)
			}
			f.Add(text.String())
		}
	}
	f.Add(table("  4  3  0  0  0  0            999 V2000", at("F", "-1", "1"), at("C", "-0.5", "0"), at("C", "0.5", "0"), at("Cl", "1", "-1"), "  1  2  1  0", "  2  3  2  0", "  3  4  1  6"))
	f.Fuzz(func(t *testing.T, text string) {
		r := molfile.NewReader(strings.NewReader(text))
		for range 5 {
			record, err := r.Next()
			if err == io.EOF {
				return
			}
			var e *molfile.Error
			if err != nil {
				if !errors.As(err, &e) {
					t.Errorf("error of type %T: %v", err, err)
				}
				continue
			}
			var again bytes.Buffer
			record.Points = nil
			if err := molfile.Write(&again, record, molfile.Fitting); err != nil {
				continue // refused with a reason
			}
			back, err := molfile.Read(&again)
			if err != nil {
				t.Fatalf("what was written can't be read: %v\n%s", err, again.String())
			}
			if back.Mol.Formula() != record.Mol.Formula() {
				t.Errorf("formula %s became %s", record.Mol.Formula(), back.Mol.Formula())
			}
		}
	})
}
