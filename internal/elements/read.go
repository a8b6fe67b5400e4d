package main

import (
	"bufio"
	"fmt"
	"io"
	"strconv"
	"strings"
)

// element is one row of elements.tsv.
type element struct {
	number         int
	symbol, name   string
	representative int // mass number that stands for an element without natural composition; 0 for the others
}

// isotope is one row of isotopes.tsv. The numbers stay as the text has them,
// so that no digit is lost on the way to the generated source.
type isotope struct {
	number, massNumber           int
	mass, uncertainty, abundance string // Da, Da, fraction; "0" where not given
}

// table is the content of both files.
type table struct {
	elements []element
	isotopes []isotope // ascending element, then mass number
}

// read reads both files and checks what the generated tables rely on: every
// element from 1 on in order, isotopes ascending, numbers that are numbers,
// abundances of each element that add up to 1 within 2e-5.
func read(elements, isotopes io.Reader) (table, error) {
	var t table
	err := rows(elements, "elements.tsv", 4, func(cells []string) error {
		number, err := strconv.Atoi(cells[0])
		if err != nil || number != len(t.elements)+1 {
			return fmt.Errorf("element number %q where %d was expected", cells[0], len(t.elements)+1)
		}
		representative := 0
		if cells[3] != "-" {
			if representative, err = strconv.Atoi(cells[3]); err != nil || representative < number {
				return fmt.Errorf("bad mass number %q", cells[3])
			}
		}
		t.elements = append(t.elements, element{number, cells[1], cells[2], representative})
		return nil
	})
	if err != nil {
		return t, err
	}
	total := make([]float64, len(t.elements)+1)
	err = rows(isotopes, "isotopes.tsv", 8, func(cells []string) error {
		row, abundance, err := t.isotope(cells)
		if err != nil {
			return err
		}
		if n := len(t.isotopes); n > 0 {
			last := t.isotopes[n-1]
			if row.number < last.number || row.number == last.number && row.massNumber <= last.massNumber {
				return fmt.Errorf("%s-%d is not in ascending order", cells[1], row.massNumber)
			}
		}
		total[row.number] += abundance
		t.isotopes = append(t.isotopes, row)
		return nil
	})
	if err != nil {
		return t, err
	}
	for _, e := range t.elements {
		if sum := total[e.number]; e.representative == 0 && (sum < 1-2e-5 || sum > 1+2e-5) || e.representative != 0 && sum != 0 {
			return t, fmt.Errorf("isotopes.tsv: the abundances of %s add up to %.6f", e.symbol, sum)
		}
		if _, ok := t.principal(e); !ok {
			return t, fmt.Errorf("isotopes.tsv: no row for the principal isotope of %s", e.symbol)
		}
	}
	return t, nil
}

// principal is the most abundant natural isotope of e, or the representative
// one where there is no natural composition.
func (t table) principal(e element) (isotope, bool) {
	var best isotope
	most := 0.0
	for _, i := range t.isotopes {
		if i.number != e.number {
			continue
		}
		if e.representative != 0 && i.massNumber == e.representative {
			return i, true
		}
		if a, _ := strconv.ParseFloat(i.abundance, 64); a > most {
			best, most = i, a
		}
	}
	return best, most > 0
}

// average is the mass of e's natural mixture in Da: the sum of abundance x
// mass over the sum of abundances, or the mass of the representative isotope.
func (t table) average(e element) float64 {
	if e.representative != 0 {
		i, _ := t.principal(e)
		mass, _ := strconv.ParseFloat(i.mass, 64)
		return mass
	}
	var sum, total float64
	for _, i := range t.isotopes {
		if i.number == e.number {
			mass, _ := strconv.ParseFloat(i.mass, 64)
			abundance, _ := strconv.ParseFloat(i.abundance, 64)
			sum += mass * abundance
			total += abundance
		}
	}
	return sum / total
}

// isotope reads one row; the second result is its abundance as a number.
func (t table) isotope(cells []string) (isotope, float64, error) {
	number, err := strconv.Atoi(cells[0])
	if err != nil || number < 1 || number > len(t.elements) || t.elements[number-1].symbol != cells[1] {
		return isotope{}, 0, fmt.Errorf("%q %q is not an element of elements.tsv", cells[0], cells[1])
	}
	massNumber, err := strconv.Atoi(cells[2])
	if err != nil || massNumber < number {
		return isotope{}, 0, fmt.Errorf("bad mass number %q", cells[2])
	}
	row := isotope{number: number, massNumber: massNumber, mass: cells[3], uncertainty: cells[4], abundance: cells[6]}
	mass, err := strconv.ParseFloat(row.mass, 64)
	if err != nil || mass < float64(massNumber)-0.5 || mass > float64(massNumber)+0.5 {
		return isotope{}, 0, fmt.Errorf("mass %q is not within 0.5 Da of the mass number %d", row.mass, massNumber)
	}
	if row.uncertainty == "-" {
		row.uncertainty = "0"
	}
	if u, err := strconv.ParseFloat(row.uncertainty, 64); err != nil || u < 0 || u > 0.01 {
		return isotope{}, 0, fmt.Errorf("bad uncertainty %q", row.uncertainty)
	}
	if row.abundance == "-" {
		row.abundance = "0"
	}
	abundance, err := strconv.ParseFloat(row.abundance, 64)
	if err != nil || abundance < 0 || abundance > 1 {
		return isotope{}, 0, fmt.Errorf("bad abundance %q", row.abundance)
	}
	if cells[5] == "" || (cells[7] == "-") != (cells[6] == "-") {
		return isotope{}, 0, fmt.Errorf("a value without its edition")
	}
	return row, abundance, nil
}

// rows calls each with the tab-separated cells of every line that is neither
// empty nor a comment (#). An error names file and line.
func rows(r io.Reader, name string, columns int, each func(cells []string) error) error {
	lines := bufio.NewScanner(r)
	for number := 1; lines.Scan(); number++ {
		text := lines.Text()
		if text == "" || strings.HasPrefix(text, "#") {
			continue
		}
		cells := strings.Split(text, "\t")
		if len(cells) != columns {
			return fmt.Errorf("%s:%d: %d cells where %d were expected", name, number, len(cells), columns)
		}
		if err := each(cells); err != nil {
			return fmt.Errorf("%s:%d: %w", name, number, err)
		}
	}
	return lines.Err()
}
