package reading

import (
	"slices"
	"strings"
	"sync"

	"ionwright/chem"
)

// Assignment is an ion that a peak may be.
type Assignment struct {
	Formula chem.Formula // with charge
	Name    string       // empty for a mere composition
	Context string       // where it is typically met
	Source  string       // where that was read
}

// LossAssignment is a neutral that a mass difference may be.
type LossAssignment struct {
	Formula chem.Formula
	Written string // the formula in its usual order, "HCl"
	Name    string
	Context string
	Source  string
}

// tables are the parsed rows by nominal m/z and mass.
type tables struct {
	ions   map[int][]Assignment
	losses map[int][]LossAssignment
}

var parsedTables = sync.OnceValue(func() tables {
	t := tables{map[int][]Assignment{}, map[int][]LossAssignment{}}
	for _, row := range ionRows {
		f := chem.MustFormula(row.formula)
		mz := f.NominalMass()
		t.ions[mz] = append(t.ions[mz], Assignment{f, row.name, row.context, sourceNames[row.source]})
	}
	for _, row := range lossRows {
		f := chem.MustFormula(row.formula)
		t.losses[f.NominalMass()] = append(t.losses[f.NominalMass()], LossAssignment{f, row.formula, row.name, row.context, sourceNames[row.source]})
	}
	return t
})

// Common returns the common assignments of an ion of nominal m/z, the one met
// most often first; none for an m/z that the table doesn't have.
func Common(mz int) []Assignment { return slices.Clone(parsedTables().ions[mz]) }

// Assignments returns the common assignments of an ion of nominal m/z, the one
// met most often first. For an m/z that the table doesn't have it returns all
// sensible compositions instead, without names, those of fewest unusual
// elements first.
func Assignments(mz int) []Assignment {
	if common := Common(mz); len(common) > 0 {
		return common
	}
	return Compositions(mz)
}

// Losses returns the common neutrals of a nominal mass in Da, the one lost
// most often first; none for a mass that the table doesn't have.
func Losses(nominal int) []LossAssignment { return slices.Clone(parsedTables().losses[nominal]) }

// within keeps the assignments that the formula, if one is given, contains and
// that are no heavier than the molecular ion.
func (d *desk) within(all []Assignment) []Assignment {
	f, told := d.formula()
	var out []Assignment
	for _, a := range all {
		if told && !f.Contains(a.Formula.WithCharge(0)) {
			continue
		}
		out = append(out, a)
	}
	return out
}

// lossesWithin is within for neutrals.
func (d *desk) lossesWithin(all []LossAssignment) []LossAssignment {
	f, told := d.formula()
	var out []LossAssignment
	for _, a := range all {
		if !told || f.Contains(a.Formula) {
			out = append(out, a)
		}
	}
	return out
}

var subscripts = strings.NewReplacer("0", "₀", "1", "₁", "2", "₂", "3", "₃", "4", "₄", "5", "₅", "6", "₆", "7", "₇", "8", "₈", "9", "₉")

// text is the neutral's formula as it is usually written, with the dot of a
// radical: "HCl", "CH₃•".
func (l LossAssignment) text() string {
	text := subscripts.Replace(l.Written)
	if l.Formula.OddElectron() {
		text += "•"
	}
	return text
}

// describe is the neutral's formula and, where it has one of its own, its name.
func (l LossAssignment) describe() string {
	text := l.text()
	if plain := strings.TrimSuffix(text, "•"); l.Name == plain || l.Name == plain+" radical" {
		return text
	}
	return text + ", " + l.Name
}
