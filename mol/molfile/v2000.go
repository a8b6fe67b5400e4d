package molfile

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// readV2000 reads counts line, atom block, bond block and properties.
//
//	aaabbb..................................V2000
//	xxxxx.xxxxyyyyy.yyyyzzzzz.zzzz aaaddcccssshhhbbbvvvHHHrrriiimmmnnneee
//	111222tttsssxxxrrrccc
func (t *table) readV2000(counts string) error {
	atoms, err := t.columnInt(counts, 1, 3, "the number of atoms")
	if err != nil {
		return err
	}
	bonds, err := t.columnInt(counts, 4, 6, "the number of bonds")
	if err != nil {
		return err
	}
	if atoms < 0 || bonds < 0 {
		return t.fail(counts, "a number of atoms or bonds is negative", "")
	}
	for range atoms {
		line, err := t.need("an atom line")
		if err != nil {
			return err
		}
		if err := t.atomV2000(line); err != nil {
			return err
		}
	}
	for range bonds {
		line, err := t.need("a bond line")
		if err != nil {
			return err
		}
		if err := t.bondV2000(line); err != nil {
			return err
		}
	}
	return t.propertiesV2000()
}

// columnInt reads an integer from columns; blank columns are 0.
func (t *table) columnInt(line string, from, to int, what string) (int, error) {
	field := strings.TrimSpace(column(line, from, to))
	if field == "" {
		return 0, nil
	}
	n, err := strconv.Atoi(field)
	if err != nil {
		return 0, t.fail(field, fmt.Sprintf("%s is expected in columns %d to %d", what, from, to), "the columns of a V2000 table are fixed")
	}
	return n, nil
}

func (t *table) atomV2000(line string) error {
	if len(line) < 32 {
		return t.fail(line, "the atom line is too short", "an atom line has three coordinates of ten columns and the symbol in columns 32 to 34")
	}
	var xyz [3]float64
	for k := range xyz {
		field := strings.TrimSpace(column(line, 10*k+1, 10*k+10))
		x, err := strconv.ParseFloat(field, 64)
		if err != nil && field != "" {
			return t.fail(field, fmt.Sprintf("a coordinate is expected in columns %d to %d", 10*k+1, 10*k+10), "the columns of a V2000 table are fixed")
		}
		xyz[k] = x
	}
	p := Point{xyz[0], xyz[1], xyz[2]}
	if !finite(p) {
		return t.fail(line, "a coordinate isn't a finite number", "")
	}
	if err := t.addAtom(strings.TrimSpace(column(line, 32, 34)), p); err != nil {
		return err
	}
	at := len(t.atoms) - 1
	var fields [12]int // mass difference, charge, parity, hydrogens, box, valence, ..., mapping
	for k, c := range [...][2]int{{35, 36}, {37, 39}, {40, 42}, {43, 45}, {46, 48}, {49, 51}, {52, 54}, {55, 57}, {58, 60}, {61, 63}} {
		n, err := t.columnInt(line, c[0], c[1], "a number")
		if err != nil {
			return err
		}
		fields[k] = n
	}
	if difference := fields[0]; difference != 0 {
		mass := int(math.Round(float64(t.atoms[at].Element.AverageMass()))) + difference
		if err := t.setIsotope(at, mass); err != nil {
			return err
		}
	}
	switch code := fields[1]; code {
	case 0:
	case 4:
		t.atoms[at].Radical, t.given[at] = 1, true
	case 1, 2, 3, 5, 6, 7:
		t.atoms[at].Charge = int8(4 - code)
	default:
		return t.fail(line, fmt.Sprintf("the charge code %d isn't known", code), "charge codes are 0 to 7; larger charges are given in a line M  CHG")
	}
	if fields[2] == 1 || fields[2] == 2 {
		t.parity[at] = int8(fields[2])
	}
	switch v := fields[5]; {
	case v == 15:
		t.valence[at] = 0
	case v > 0 && v < 15:
		t.valence[at] = int8(v)
	}
	if fields[9] > 0 {
		t.atoms[at].Class = uint32(fields[9])
	}
	return nil
}

func (t *table) bondV2000(line string) error {
	var fields [4]int
	for k, what := range [...]string{"the number of an atom", "the number of an atom", "the bond type", "the bond's drawing"} {
		n, err := t.columnInt(line, 3*k+1, 3*k+3, what)
		if err != nil {
			return err
		}
		fields[k] = n
	}
	drawn := plain
	switch fields[3] {
	case 1:
		drawn = up
	case 3, 4:
		drawn = either
	case 6:
		drawn = down
	}
	return t.addBond(fields[0], fields[1], fields[2], drawn)
}

// propertiesV2000 reads the lines up to M  END. The first of M  CHG and M  RAD
// cancels the charges of the atom lines, the first of M  ISO the mass
// differences.
func (t *table) propertiesV2000() error {
	charges, isotopes := false, false
	for {
		line, err := t.need("the line M  END")
		if err != nil {
			return err
		}
		switch {
		case strings.HasPrefix(line, "M  END"):
			return nil
		case strings.HasPrefix(line, "$$$$"):
			return t.fail(line, "the record ends without a line M  END", "the table is cut short")
		case strings.HasPrefix(line, "M  CHG"), strings.HasPrefix(line, "M  RAD"):
			if !charges {
				charges = true
				for i := range t.atoms {
					t.atoms[i].Charge, t.atoms[i].Radical, t.given[i] = 0, 0, false
				}
			}
			set := t.setCharge
			if line[3] == 'R' {
				set = t.setRadical
			}
			if err := t.property(line, set); err != nil {
				return err
			}
		case strings.HasPrefix(line, "M  ISO"):
			if !isotopes {
				isotopes = true
				for i := range t.atoms {
					if t.atoms[i].Element > 1 {
						t.atoms[i].Isotope = 0
					}
				}
			}
			if err := t.property(line, t.setIsotope); err != nil {
				return err
			}
		case strings.HasPrefix(line, "M  ALS"), strings.HasPrefix(line, "M  RGP"), strings.HasPrefix(line, "M  LIN"):
			return t.fail(line, "atom lists, R groups and linking atoms aren't supported", "every atom needs a known element")
		case strings.HasPrefix(line, "A  "), strings.HasPrefix(line, "G  "):
			// The text of an alias or abbreviation follows on its own line.
			if _, err := t.need("the text of the line before"); err != nil {
				return err
			}
		}
	}
}

// property reads pairs of atom and value.
//
//	M  CHGnn8 aaa vvv ...
func (t *table) property(line string, set func(atom, value int) error) error {
	fields := strings.Fields(line[6:])
	if len(fields) == 0 {
		return t.fail(line, "the number of entries is missing", "")
	}
	n, err := strconv.Atoi(fields[0])
	if err != nil || n < 0 || len(fields) != 1+2*n {
		return t.fail(line, "as many pairs of atom and value are expected as the line says", "M  CHG  1   5  -1 gives atom 5 the charge -1")
	}
	for k := range n {
		atom, err := strconv.Atoi(fields[1+2*k])
		value, err2 := strconv.Atoi(fields[2+2*k])
		if err != nil || err2 != nil || atom < 1 || atom > len(t.atoms) {
			return t.fail(line, fmt.Sprintf("entry %d names no atom or isn't a number", k+1), "atoms are numbered from 1")
		}
		if err := set(atom-1, value); err != nil {
			return err
		}
	}
	return nil
}
