package molfile

import (
	"fmt"
	"strconv"
	"strings"

	"ionwright/mol"
)

// readV3000 reads the blocks of a V3000 table up to M  END.
//
//	M  V30 BEGIN CTAB
//	M  V30 COUNTS atoms bonds ...
//	M  V30 BEGIN ATOM ... END ATOM
//	M  V30 BEGIN BOND ... END BOND
//	M  V30 END CTAB
func (t *table) readV3000() error {
	numbers := map[int]int{} // of an atom in the file: its index
	block := ""
	for {
		line, err := t.lineV3000()
		if err != nil {
			return err
		}
		if line == "" {
			return nil // M  END
		}
		fields, err := t.split(line)
		if err != nil {
			return err
		}
		if len(fields) == 0 {
			continue
		}
		switch {
		case fields[0] == "BEGIN" && len(fields) > 1:
			if block == "" || block == "CTAB" {
				block = fields[1]
			}
			if fields[1] == "RGROUP" || fields[1] == "TEMPLATE" {
				return t.fail(line, "R groups and templates aren't supported", "every atom needs a known element")
			}
		case fields[0] == "END" && len(fields) > 1:
			if fields[1] == block {
				block = "CTAB"
			}
		case block == "ATOM":
			if err := t.atomV3000(fields, numbers); err != nil {
				return err
			}
		case block == "BOND":
			if err := t.bondV3000(fields, numbers); err != nil {
				return err
			}
		case fields[0] == "COUNTS":
			if len(fields) < 3 {
				return t.fail(line, "the counts line needs the numbers of atoms and bonds", "")
			}
			if n, err := strconv.Atoi(fields[1]); err != nil || n < 0 || n > maxAtoms {
				return t.fail(fields[1], fmt.Sprintf("a number of atoms up to %d is expected", maxAtoms), "")
			}
		}
	}
}

// lineV3000 reads a line "M  V30 ..." with its continuations and returns what
// follows the prefix; "" at M  END.
func (t *table) lineV3000() (string, error) {
	const prefix = "M  V30 "
	line, err := t.need("the line M  END")
	if err != nil {
		return "", err
	}
	if strings.HasPrefix(line, "M  END") {
		return "", nil
	}
	if !strings.HasPrefix(line, prefix) {
		return "", t.fail(line, "a line of a V3000 table begins with M  V30", "the table is cut short or damaged")
	}
	text := line[len(prefix):]
	for strings.HasSuffix(text, "-") {
		if line, err = t.need("the continuation of the line before"); err != nil {
			return "", err
		}
		if !strings.HasPrefix(line, prefix) {
			return "", t.fail(line, "the line before ends with '-', so M  V30 must follow", "")
		}
		text = text[:len(text)-1] + line[len(prefix):]
		if len(text) > maxLine {
			return "", t.fail(text[:maxQuoted], "the line is too long for a connection table", "")
		}
	}
	if text == "" {
		text = " "
	}
	return text, nil
}

// split splits a line at blanks outside of quotes and parentheses.
func (t *table) split(line string) ([]string, error) {
	var fields []string
	depth, quoted, begin := 0, false, -1
	for i := 0; i <= len(line); i++ {
		if i == len(line) || line[i] == ' ' && depth == 0 && !quoted {
			if begin >= 0 {
				fields = append(fields, line[begin:i])
			}
			begin = -1
			continue
		}
		if begin < 0 {
			begin = i
		}
		switch c := line[i]; {
		case c == '"':
			quoted = !quoted
		case quoted:
		case c == '(':
			depth++
		case c == ')':
			depth--
		}
	}
	if depth != 0 || quoted {
		return nil, t.fail(line, "a quotation or parenthesis isn't closed", "")
	}
	return fields, nil
}

// atomV3000 reads an atom: index type x y z aamap [KEY=value ...].
func (t *table) atomV3000(fields []string, numbers map[int]int) error {
	if len(fields) < 6 {
		return t.fail(t.text, "an atom needs index, symbol, three coordinates and mapping number", "")
	}
	index, err := strconv.Atoi(fields[0])
	if err != nil || index < 1 {
		return t.fail(fields[0], "the index of an atom is expected", "atoms are numbered from 1")
	}
	if _, ok := numbers[index]; ok {
		return t.fail(fields[0], "this index has been given to an atom before", "")
	}
	if len(t.atoms) >= maxAtoms {
		return t.fail(t.text, fmt.Sprintf("the table has more than %d atoms", maxAtoms), "")
	}
	var xyz [3]float64
	for k := range xyz {
		if xyz[k], err = strconv.ParseFloat(fields[2+k], 64); err != nil {
			return t.fail(fields[2+k], "a coordinate is expected", "")
		}
	}
	p := Point{xyz[0], xyz[1], xyz[2]}
	if !finite(p) {
		return t.fail(t.text, "a coordinate isn't a finite number", "")
	}
	if err := t.addAtom(strings.Trim(fields[1], `"`), p); err != nil {
		return err
	}
	at := len(t.atoms) - 1
	numbers[index] = at
	class, err := strconv.Atoi(fields[5])
	if err != nil || class < 0 || class > 999_999_999 {
		return t.fail(fields[5], "a mapping number is expected", "0 stands for none")
	}
	t.atoms[at].Class = uint32(class)
	for _, field := range fields[6:] {
		key, value, ok := strings.Cut(field, "=")
		if !ok {
			return t.fail(field, "a property KEY=value is expected", "")
		}
		n := 0
		switch key {
		case "CHG", "RAD", "CFG", "MASS", "VAL":
			if n, err = strconv.Atoi(value); err != nil {
				return t.fail(field, "a whole number is expected after '='", "")
			}
		}
		switch key {
		case "CHG":
			err = t.setCharge(at, n)
		case "RAD":
			err = t.setRadical(at, n)
		case "MASS":
			err = t.setIsotope(at, n)
		case "CFG":
			if n == 1 || n == 2 {
				t.parity[at] = int8(n)
			}
		case "VAL":
			switch {
			case n == -1:
				t.valence[at] = 0
			case n > 0 && n < 15:
				t.valence[at] = int8(n)
			}
		}
		if err != nil {
			return err
		}
	}
	return nil
}

// bondV3000 reads a bond: index type atom1 atom2 [KEY=value ...].
func (t *table) bondV3000(fields []string, numbers map[int]int) error {
	if len(fields) < 4 {
		return t.fail(t.text, "a bond needs index, type and two atoms", "")
	}
	var n [4]int
	for k := range n {
		value, err := strconv.Atoi(fields[k])
		if err != nil {
			return t.fail(fields[k], "a whole number is expected", "")
		}
		n[k] = value
	}
	if len(t.bonds) > 4*mol.MaxAtoms {
		return t.fail(t.text, "the table has too many bonds", "")
	}
	drawn := plain
	for _, field := range fields[4:] {
		if value, ok := strings.CutPrefix(field, "CFG="); ok {
			switch value {
			case "1":
				drawn = up
			case "2":
				drawn = either
			case "3":
				drawn = down
			}
		}
	}
	begin, ok := numbers[n[2]]
	end, ok2 := numbers[n[3]]
	if !ok || !ok2 {
		return t.fail(t.text, fmt.Sprintf("the bond joins atoms %d and %d, of which one isn't there", n[2], n[3]), "the atom block comes first")
	}
	return t.addBond(begin+1, end+1, n[1], drawn)
}
