package reading

import (
	"fmt"
	"slices"
	"strings"
)

// conclude says what formula and groups the reading arrives at.
func conclude(d *desk, r Reading) []Statement {
	var out []Statement
	if len(r.Formulas) > 0 {
		out = append(out, formulaStatement(d, r))
	}
	const most = 5
	for _, g := range r.Groups {
		if g.Probability < 0.5 || len(out) == most {
			break
		}
		s := Statement{About: capital(g.Name), Hint: "Which functional groups explain the fragments together?", Clue: -1}
		if slices.Contains(d.given.Groups, g.Name) {
			s.Step = fmt.Sprintf("%s is given.", capital(groupText(g.Name)))
		} else {
			s.Step = fmt.Sprintf("%s %s is there (probability %.0f %%).", capital(sure(g.Probability)), groupText(g.Name), clampPercent(g.Probability))
		}
		s.Full = s.Step
		if words := evidenceText(g.For); words != "" && g.Probability < 1 {
			s.Full += " For it: " + words + "."
		}
		if words := evidenceText(g.Against); words != "" {
			s.Full += " Against it: " + words + "."
		}
		for _, e := range slices.Concat(g.For, g.Against) {
			s.Peaks = append(s.Peaks, e.Peaks...)
		}
		slices.Sort(s.Peaks)
		s.Peaks = slices.Compact(s.Peaks)
		out = append(out, s)
	}
	return out
}

func formulaStatement(d *desk, r Reading) Statement {
	best := r.Formulas[0]
	s := Statement{About: "Formula", Hint: "Which formulas of this mass fit all that is known so far?", Peaks: []int{d.mol}, Clue: -1}
	s.Step = fmt.Sprintf("Of the formulas with this mass %s fits best (probability %.0f %%).", best.Formula.Unicode(), clampPercent(best.Probability))
	if _, told := d.formula(); told {
		s.Step = fmt.Sprintf("The formula is given: %s.", best.Formula.Unicode())
	}
	s.Full = s.Step
	reasons := best.Reasons
	if len(reasons) > 0 && reasons[0] == isGiven {
		reasons = reasons[1:]
	}
	if len(reasons) > 0 {
		s.Full += " " + capital(list(reasons, "and")) + "."
	}
	var rest []string
	for _, f := range r.Formulas[1:min(4, len(r.Formulas))] {
		if f.Probability >= leastCandidate {
			rest = append(rest, fmt.Sprintf("%s (%.0f %%)", f.Formula.Unicode(), clampPercent(f.Probability)))
		}
	}
	if len(rest) > 0 {
		s.Full += " Next comes " + list(rest, "and then") + "."
	}
	return s
}

func evidenceText(all []Evidence) string {
	var words []string
	for _, e := range all {
		words = append(words, e.Sentence)
	}
	return list(words, "and")
}

// open says what the peaks leave open and what would settle it.
func open(d *desk, r Reading) []Open {
	var out []Open
	if d.mixed {
		out = append(out, Open{"whether the peaks belong to one compound", "A gas chromatogram would show whether there are two."})
	}
	if m := r.MolecularIon; d.given.mass() == 0 && len(m) > 0 && m[0].Probability < 0.9 {
		o := Open{"whether the mass is " + fmt.Sprint(m[0].MZ), "A softer ionization (chemical ionization, or electrons of 15 eV) would show the mass."}
		if len(m) > 1 {
			o.Question += " or " + fmt.Sprint(m[1].MZ)
		}
		out = append(out, o)
	}
	if _, told := d.formula(); !told {
		if f := r.Formulas; len(f) > 1 && f[0].Probability < 0.9 {
			out = append(out, Open{fmt.Sprintf("the formula (%s or %s)", f[0].Formula.Unicode(), f[1].Formula.Unicode()), "An exact mass to a few millionths would tell the formulas apart."})
		} else if len(f) == 0 {
			out = append(out, Open{"the formula", "An exact mass to a few millionths would give the formula."})
		}
	}
	var doubtful []string
	for _, g := range r.Groups {
		if g.Probability >= 0.25 && g.Probability < 0.75 {
			doubtful = append(doubtful, groupText(g.Name))
		}
	}
	if len(doubtful) > 0 {
		out = append(out, Open{"whether there is " + list(doubtful[:min(4, len(doubtful))], "or"), "An infrared spectrum or a nuclear magnetic resonance spectrum would show such groups."})
	}
	return append(out, Open{"how the parts are joined: isomers often give nearly the same spectrum", "A comparison with the spectrum of the pure compound on the same instrument would settle that."})
}

// undecided words what is open.
func undecided(all []Open) Statement {
	var questions, measurements []string
	for _, o := range all {
		questions = append(questions, o.Question)
		measurements = append(measurements, o.Measurement)
	}
	text := "Undecided remains " + list(questions, "and") + "."
	return Statement{
		About: "Open questions",
		Hint:  "What can't be decided from these peaks, and what would decide it?",
		Step:  text,
		Full:  text + " " + strings.Join(measurements, " "),
		Clue:  -1,
	}
}
