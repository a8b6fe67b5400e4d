package web

import (
	"fmt"
	"net/url"
	"strings"

	"ionwright/draw/structure"
	"ionwright/mol"
	"ionwright/practice"
	"ionwright/practice/answer"
)

// arrowRow is one electron arrow as it is chosen from lists: where it begins,
// how many electrons it moves, and where it ends.
type arrowRow struct {
	Number         int
	From, With, To string // names of the fields
	Begin, End     []arrowPlaces
	Pair           bool
}

// arrowPlaces is a part of a list of places, under its heading.
type arrowPlaces struct {
	Heading string
	Places  []arrowPlace
}

type arrowPlace struct {
	Value, Text string
	Chosen      bool
}

// Rows for arrows: at least so many, one to spare, and at most.
const (
	fewestArrows = 3
	mostArrows   = 12
)

// arrowField names a part of the n-th arrow, 1-based: "from", "with" or "to".
func arrowField(id string, n int, part string) string {
	return fmt.Sprintf("%s.%d.%s", answerField(id), n, part)
}

// arrowsIn reads the arrows that were chosen from lists, and those that an
// address tells as text, in the notation of package answer.
func arrowsIn(values url.Values, id string) []string {
	var out []string
	for _, text := range values[answerField(id)] {
		out = append(out, strings.FieldsFunc(text, func(r rune) bool { return strings.ContainsRune(",;\r\n", r) })...)
	}
	for n := 1; n <= mostArrows; n++ {
		from, to := strings.TrimSpace(values.Get(arrowField(id, n, "from"))), strings.TrimSpace(values.Get(arrowField(id, n, "to")))
		if from == "" && to == "" {
			continue
		}
		head := " > "
		if values.Get(arrowField(id, n, "with")) == "2" {
			head = " => "
		}
		out = append(out, from+head+to)
	}
	return out
}

// arrowRows are the lists for a question, with what was chosen.
func arrowRows(values url.Values, id string, key practice.Arrows) []arrowRow {
	given := arrowsIn(values, id)
	var rows []arrowRow
	for n := 1; n <= min(mostArrows, max(fewestArrows, len(given)+1)); n++ {
		row := arrowRow{Number: n, From: arrowField(id, n, "from"), With: arrowField(id, n, "with"), To: arrowField(id, n, "to")}
		var from, to string
		if n <= len(given) {
			if arrow, err := answer.ParseArrow(given[n-1]); err == nil {
				from, to, row.Pair = arrow.From.String(), arrow.To.String(), !arrow.Half
			} else { // one end is missing: the other stays chosen
				from, to, _ = strings.Cut(given[n-1], ">")
				row.Pair = strings.HasSuffix(from, "=")
				from, to = strings.Trim(from, " ="), strings.TrimSpace(to)
			}
		}
		row.Begin, row.End = placesOf(key.Drawn, from, false), placesOf(key.Drawn, to, true)
		rows = append(rows, row)
	}
	return rows
}

// placesOf lists the atoms and bonds of a structure, and with pairs also the
// places between atoms that aren't joined, where a bond can form.
func placesOf(m *mol.Mol, chosen string, pairs bool) []arrowPlaces {
	const mostPaired = 14 // atoms; the pairs of more make a list that nobody goes through
	name := func(i int) string { return fmt.Sprintf("%s%d", m.Atom(i).Element.Symbol(), i+1) }
	place := func(p answer.Place, text string) arrowPlace {
		return arrowPlace{p.String(), text, p.String() == chosen}
	}
	atoms, bonds, apart := arrowPlaces{Heading: "Atoms"}, arrowPlaces{Heading: "Bonds"}, arrowPlaces{Heading: "A new bond between"}
	for i := range m.NumAtoms() {
		atoms.Places = append(atoms.Places, place(answer.Place{A: i + 1}, name(i)))
		for k := i + 1; k < m.NumAtoms(); k++ {
			p := answer.Place{A: i + 1, B: k + 1}
			if bond, ok := m.BondBetween(i, k); ok {
				sign := map[int]string{1: "–", 2: "=", 3: "≡"}[int(m.KekuleOrder(bond))]
				bonds.Places = append(bonds.Places, place(p, name(i)+sign+name(k)))
			} else if pairs && m.NumAtoms() <= mostPaired {
				apart.Places = append(apart.Places, place(p, name(i)+" and "+name(k)))
			}
		}
	}
	out := []arrowPlaces{atoms, bonds}
	if len(apart.Places) > 0 {
		out = append(out, apart)
	}
	return out
}

// drawnFor is the structure that arrows are asked on, its atoms numbered.
func drawnFor(number int, key practice.Arrows) (*shownFigure, error) {
	f, err := structure.Draw(key.Drawn, structure.Options{Name: "the ion", Numbers: true, LonePairs: true, Bond: 40})
	if err != nil {
		return nil, err
	}
	return show(fmt.Sprintf("drawn-%d", number), f, nil)
}
