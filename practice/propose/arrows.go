package propose

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"

	"ionwright/ionize"
	"ionwright/mol"
	"ionwright/mol/smiles"
	"ionwright/practice"
	"ionwright/practice/arrow"
	"ionwright/practice/cause"
)

// askArrows asks for the electron arrows of the step from the molecular ion to
// a strong peak. At level 1 and 2 the step is a single movement; at level 3 the
// last of several is asked about too.
func askArrows(_ context.Context, s *subject) (*practice.Question, error) {
	const strong = 20 // % of the base peak
	for _, p := range s.spectrum.AtLeast(strong).Strongest(4) {
		mz := int(math.Round(p.MZ))
		f := s.facts(cause.Movement)
		if mz == s.mass() || !s.at(&f, mz) {
			continue
		}
		route := s.prediction.Route(s.prediction.At(mz)[0].ID)
		if len(route) != 1 {
			continue
		}
		m, err := s.prediction.Movement(route[0])
		if err != nil || m.Whole || len(m.Panels) > 1 && s.request.Level < 3 {
			continue
		}
		last := m.Panels[len(m.Panels)-1]
		if !leaves(last) {
			continue
		}
		key, err := arrow.Key(last)
		if err != nil {
			continue // a bond with one electron, which isn't drawn
		}
		for _, a := range key.Ways[0] {
			f.Moves = append(f.Moves, cause.Move{Half: a.Half, Text: a.String()})
		}
		what := "The molecular ion"
		if len(m.Panels) > 1 {
			what = "The ion that the hydrogen shift leaves"
		}
		return &practice.Question{
			ID: "electron_arrows", Marks: float64(len(key.Ways[0])), Facts: f, Key: key,
			Ask: fmt.Sprintf("%s of %s is drawn with its atoms numbered, %s%s. Draw the electron arrows of the step that leads to m/z %d.",
				what, s.Name, smiles.Write(arrow.Numbered(key.Drawn)), unpaired(key.Drawn), mz),
			Solution: []string{s.route(mz), "Arrows: " + key.Solved().String() + "."},
		}, nil
	}
	return nil, nil
}

// unpaired says where the unpaired electrons are, which a SMILES doesn't.
func unpaired(m *mol.Mol) string {
	var at []string
	for v := range m.NumAtoms() {
		if m.Atom(v).Radical > 0 {
			at = append(at, strconv.Itoa(v+1))
		}
	}
	if len(at) == 0 {
		return ""
	}
	return " (unpaired electron on atom " + strings.Join(at, " and ") + ")"
}

// leaves tells whether the pieces part in the panel: a bond ends to a neutral.
func leaves(p ionize.Panel) bool {
	joined := func(f ionize.Form) int {
		n := 0
		for _, b := range f.Bonds {
			if f.Atoms[b.Begin].Leaves != f.Atoms[b.End].Leaves {
				n++
			}
		}
		return n
	}
	return joined(p.Before) > 0 && joined(p.After) == 0
}

// askAssignment asks for the ions of the strongest peaks, from the structure.
func askAssignment(_ context.Context, s *subject) (*practice.Question, error) {
	const strong, most = 15, 4 // % of the base peak; peaks
	var key practice.Assign
	var solution []string
	f := s.facts(cause.IonAt)
	for _, p := range s.spectrum.AtLeast(strong).Strongest(most) {
		mz := int(math.Round(p.MZ))
		at := f
		if !s.at(&at, mz) {
			continue // two ions may stand there
		}
		key.Rows = append(key.Rows, practice.Assigned{MZ: mz, Ions: at.Possible})
		if text := s.route(mz); text != "" && mz != s.mass() {
			solution = append(solution, text)
			if f.MZ == 0 {
				f.MZ = p.MZ // the hints are on the strongest fragment
			}
		}
	}
	const least = 3
	if len(key.Rows) < least {
		return nil, nil
	}
	slices.SortFunc(key.Rows, func(a, b practice.Assigned) int { return a.MZ - b.MZ })
	return &practice.Question{
		ID: "assignment", Marks: float64(len(key.Rows)), Facts: f, Key: key, Solution: solution,
		Ask: fmt.Sprintf("The spectrum is that of %s, %s. Write the formula of the ion, with its charge, beside each of the peaks asked about.", s.Name, s.formula.Unicode()),
	}, nil
}
