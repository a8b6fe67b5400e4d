package molfile

import (
	"bufio"
	"fmt"
	"io"
	"strings"

	"ionwright/mol"
)

// Version is a version of the table.
type Version uint8

// The versions that are written.
const (
	Fitting Version = iota // V2000 where the molecule fits, else V3000
	V2000                  // up to 999 atoms and bonds
	V3000
)

// maxV2000 is what three columns can count.
const maxV2000 = 999

// Write writes a MOL file. Bonds are written in a Kekule form, valences
// wherever a reader could fill in other hydrogens.
//
// Points must be empty or as many as there are atoms. With points in the plane
// (all Z are 0) tetrahedral arrangements are written as wedges, and double
// bonds of unknown arrangement as such; points that contradict an arrangement
// are an error. Without points tetrahedral arrangements are kept as atom
// parities, and those of double bonds are lost: the format has no place for
// them. Arrangements of other classes are lost always.
//
// It fails on quadruple bonds, on charges beyond 15, and on molecules too
// large for the version.
func Write(w io.Writer, record Record, version Version) error {
	out := bufio.NewWriter(w)
	if err := write(out, record, version); err != nil {
		return err
	}
	return out.Flush()
}

// WriteSD writes a record of an SD file: a MOL file, the data items, and the
// line "$$$$".
func WriteSD(w io.Writer, record Record, version Version) error {
	out := bufio.NewWriter(w)
	if err := write(out, record, version); err != nil {
		return err
	}
	for _, field := range record.Data {
		name := strings.NewReplacer("<", "(", ">", ")", "\n", " ", "\r", " ").Replace(field.Name)
		fmt.Fprintf(out, "> <%s>\n", name)
		for line := range strings.Lines(field.Value) {
			// A blank line would end the item, "$$$$" the record.
			line = strings.TrimRight(line, "\r\n")
			if strings.TrimSpace(line) != "" && !strings.HasPrefix(line, "$$$$") {
				fmt.Fprintf(out, "%s\n", line)
			}
		}
		fmt.Fprintln(out)
	}
	fmt.Fprintln(out, "$$$$")
	return out.Flush()
}

func write(out *bufio.Writer, record Record, version Version) error {
	m := record.Mol
	if len(record.Points) != 0 && len(record.Points) != m.NumAtoms() {
		return fmt.Errorf("writing a connection table: %d points are given for %d atoms", len(record.Points), m.NumAtoms())
	}
	if version == Fitting {
		version = V2000
		if m.NumAtoms() > maxV2000 || m.NumBonds() > maxV2000 {
			version = V3000
		}
	}
	if version == V2000 && (m.NumAtoms() > maxV2000 || m.NumBonds() > maxV2000) {
		return fmt.Errorf("writing a connection table: %d atoms and %d bonds are too many for V2000, which counts to %d; write V3000", m.NumAtoms(), m.NumBonds(), maxV2000)
	}
	for i := range m.NumBonds() {
		if m.Bond(i).Order == mol.Quadruple {
			return fmt.Errorf("writing a connection table: bond %d is quadruple, for which the format has no type", i+1)
		}
	}
	for i := range m.NumAtoms() {
		if c := m.Atom(i).Charge; c < -15 || c > 15 {
			return fmt.Errorf("writing a connection table: the charge %+d of atom %d is beyond 15", c, i+1)
		}
	}
	d := drawing{m: m, points: record.Points, wedges: make([]wedge, m.NumBonds()), from: make([]int32, m.NumBonds())}
	if err := d.draw(); err != nil {
		return fmt.Errorf("writing a connection table: %w", err)
	}
	dimension := "2D"
	switch {
	case len(record.Points) == 0:
		dimension = "  "
	case d.spatial:
		dimension = "3D"
	}
	// The program's line: two columns of initials, eight of program, ten of
	// date, two of dimension. No date: the same molecule gives the same bytes.
	fmt.Fprintf(out, "%s\n  ionwrigh          %s\n%s\n", headerLine(record.Name), dimension, headerLine(record.Comment))
	if version == V2000 {
		d.writeV2000(out)
	} else {
		d.writeV3000(out)
	}
	fmt.Fprintln(out, "M  END")
	return nil
}

// headerLine is a text that fits in a header line.
func headerLine(s string) string {
	s = strings.NewReplacer("\n", " ", "\r", " ").Replace(s)
	if len(s) > 80 {
		s = s[:80]
	}
	return s
}

// radicalCode is the code for the unpaired electrons of an atom: 0 where a
// reader finds them by the valence that is given, as more than two can only be
// found.
func radicalCode(m *mol.Mol, i int) int {
	a := m.Atom(i)
	found := mol.UnpairedElectrons(a.Element, int(a.Charge), m.Valence(i))
	switch {
	case a.Radical == 0 && found > 0:
		return 1
	case a.Radical == 1 || a.Radical == 2:
		return int(a.Radical) + 1
	}
	return 0
}

// givenValence is the valence to give for an atom, -1 where every reader fills
// in the right hydrogens.
func givenValence(m *mol.Mol, i int) int {
	a := m.Atom(i)
	valence := m.Valence(i)
	if valence >= 15 {
		return -1
	}
	sum := valence - int(a.Hydrogens)
	plain := a.Charge == 0 && a.Radical == 0 && radicalCode(m, i) == 0
	if h, ok := mol.ImplicitHydrogens(a.Element, sum, false); plain && ok && h == int(a.Hydrogens) {
		return -1
	}
	return valence
}

// writeV2000 writes counts line, blocks and properties.
func (d *drawing) writeV2000(out *bufio.Writer) {
	m := d.m
	fmt.Fprintf(out, "%3d%3d  0  0%3d  0            999 V2000\n", m.NumAtoms(), m.NumBonds(), d.chiralFlag())
	for i := range m.NumAtoms() {
		a := m.Atom(i)
		p := d.point(i)
		valence := 0
		switch v := givenValence(m, i); {
		case v == 0:
			valence = 15
		case v > 0:
			valence = v
		}
		class := a.Class
		if class > maxV2000 {
			class = 0
		}
		fmt.Fprintf(out, "%10.4f%10.4f%10.4f %-3s 0  0%3d  0  0%3d  0  0  0%3d  0  0\n", p.X, p.Y, p.Z, a.Element.Symbol(), d.parity(i), valence, class)
	}
	for i := range m.NumBonds() {
		from, to := d.ends(i)
		code := 0
		switch d.wedges[i] {
		case up:
			code = 1
		case down:
			code = 6
		case either:
			code = 3
		}
		fmt.Fprintf(out, "%3d%3d%3d%3d\n", from+1, to+1, m.KekuleOrder(i), code)
	}
	properties(out, "CHG", m.NumAtoms(), func(i int) int { return int(m.Atom(i).Charge) })
	properties(out, "RAD", m.NumAtoms(), func(i int) int { return radicalCode(m, i) })
	properties(out, "ISO", m.NumAtoms(), func(i int) int { return int(m.Atom(i).Isotope) })
}

// properties writes the values that aren't 0, eight a line.
func properties(out *bufio.Writer, kind string, atoms int, value func(i int) int) {
	var entries []string
	for i := range atoms {
		if v := value(i); v != 0 {
			entries = append(entries, fmt.Sprintf(" %3d %3d", i+1, v))
		}
	}
	for len(entries) > 0 {
		n := min(len(entries), 8)
		fmt.Fprintf(out, "M  %s%3d%s\n", kind, n, strings.Join(entries[:n], ""))
		entries = entries[n:]
	}
}

// writeV3000 writes the blocks.
func (d *drawing) writeV3000(out *bufio.Writer) {
	m := d.m
	fmt.Fprintf(out, "  0  0  0     0  0            999 V3000\nM  V30 BEGIN CTAB\nM  V30 COUNTS %d %d 0 0 %d\nM  V30 BEGIN ATOM\n", m.NumAtoms(), m.NumBonds(), d.chiralFlag())
	for i := range m.NumAtoms() {
		a := m.Atom(i)
		p := d.point(i)
		fmt.Fprintf(out, "M  V30 %d %s %.4f %.4f %.4f %d", i+1, a.Element.Symbol(), p.X, p.Y, p.Z, a.Class)
		item := func(key string, value int) {
			if value != 0 {
				fmt.Fprintf(out, " %s=%d", key, value)
			}
		}
		item("CHG", int(a.Charge))
		item("RAD", radicalCode(m, i))
		item("CFG", d.parity(i))
		item("MASS", int(a.Isotope))
		switch v := givenValence(m, i); {
		case v == 0:
			item("VAL", -1)
		case v > 0:
			item("VAL", v)
		}
		fmt.Fprintln(out)
	}
	fmt.Fprintln(out, "M  V30 END ATOM")
	if m.NumBonds() > 0 {
		fmt.Fprintln(out, "M  V30 BEGIN BOND")
		for i := range m.NumBonds() {
			from, to := d.ends(i)
			fmt.Fprintf(out, "M  V30 %d %d %d %d", i+1, m.KekuleOrder(i), from+1, to+1)
			switch d.wedges[i] {
			case up:
				fmt.Fprint(out, " CFG=1")
			case down:
				fmt.Fprint(out, " CFG=3")
			case either:
				fmt.Fprint(out, " CFG=2")
			}
			fmt.Fprintln(out)
		}
		fmt.Fprintln(out, "M  V30 END BOND")
	}
	fmt.Fprintln(out, "M  V30 END CTAB")
}
