package reading

import (
	"fmt"
	"strings"
)

// Statement is one step of the argument at three depths, tied to its peaks so
// that a page can highlight them.
type Statement struct {
	Hint  string // where to look
	Step  string // what is seen there and what it says
	Full  string // the same with the alternatives and the doubt
	Peaks []int  // m/z
}

// Depth is how much of the argument is told.
type Depth uint8

// The depths.
const (
	Hint Depth = iota
	Step
	Full
)

// Text returns the statement at a depth.
func (s Statement) Text(depth Depth) string {
	switch depth {
	case Hint:
		return s.Hint
	case Step:
		return s.Step
	}
	return s.Full
}

// hints say where to look for each family of clues, without the answer.
var hints = [...]string{
	BasePeak:            "Which peak is the strongest?",
	MolecularIon:        "Look at the upper end: which peak, apart from its isotope peaks, can be the whole molecule? Test the losses below it.",
	IsotopePattern:      "Compare the peaks one, two and four above the molecular ion with it.",
	CarbonCount:         "How strong is the peak one above the molecular ion, and what does that say at 1.1 % a carbon?",
	NitrogenRule:        "Is the mass of the molecular ion even or odd?",
	NeutralLoss:         "Take the difference between the molecular ion and the next strong peaks: which neutrals have these masses?",
	IonSeries:           "Are there ions 14 apart at low m/z?",
	FragmentIon:         "What are the strongest fragments commonly, and what else has the same m/z?",
	OddElectronFragment: "Which fragments have an even m/z, and what does that need?",
	ChargeTwo:           "Are there peaks at half units?",
	Metastable:          "Is there a broad peak at a broken m/z?",
	Background:          "Could some peaks come from air, water or a contamination?",
}

// Sentences returns the argument at a depth: one text per statement, hints that
// repeat the one before left out.
func (r Reading) Sentences(depth Depth) []string {
	var out []string
	for _, s := range r.Argument {
		text := s.Text(depth)
		if n := len(out); n > 0 && out[n-1] == text {
			continue
		}
		out = append(out, text)
	}
	return out
}

// argue orders the clues into statements.
func argue(d *desk, r Reading) []Statement {
	var out []Statement
	for _, c := range r.Clues {
		s := Statement{Hint: hints[c.Kind], Step: c.Sentence, Peaks: c.Peaks}
		var full strings.Builder
		full.WriteString(c.Sentence)
		full.WriteString(c.verdict())
		if len(c.Alternatives) > 0 {
			fmt.Fprintf(&full, " What else would give it: %s.", strings.Join(c.Alternatives, "; "))
		}
		s.Full = full.String()
		out = append(out, s)
	}
	out = append(out, conclude(d, r)...)
	return append(out, undecided(d, r))
}

// verdict words the probability of a clue.
func (c Clue) verdict() string {
	p := clampPercent(c.Probability)
	switch {
	case len(c.Suggests) == 0 || c.Probability == 0:
		return ""
	case c.OnlyAtoms:
		return fmt.Sprintf(" In %.0f %% of such cases the compound has the atoms for the first of these.", p)
	case c.Probability < 0.4:
		return fmt.Sprintf(" By itself that says little about %s (probability %.0f %%).", c.Suggests[0], p)
	}
	return fmt.Sprintf(" This suggests %s (probability %.0f %%).", c.Suggests[0], p)
}

// clampPercent keeps stated probabilities off 0 and 100.
func clampPercent(p float64) float64 { return min(99, max(1, 100*p)) }

// conclude says what formula and groups the reading arrives at.
func conclude(d *desk, r Reading) []Statement {
	var out []Statement
	if len(r.Formulas) > 0 {
		best := r.Formulas[0]
		s := Statement{Hint: "Which formulas of this mass fit all that is known so far?", Peaks: []int{d.mol}}
		s.Step = fmt.Sprintf("Of the formulas with this mass %s fits best (probability %.0f %%).", best.Formula.Unicode(), clampPercent(best.Probability))
		if _, told := d.formula(); told {
			s.Step = fmt.Sprintf("The formula is given: %s, with %s.", best.Formula.Unicode(), plural(int(best.Formula.DBE()), "ring or double bond", "rings or double bonds"))
		}
		s.Full = s.Step
		if len(best.Reasons) > 0 {
			s.Full += " " + capital(list(best.Reasons, "and")) + "."
		}
		var rest []string
		for _, f := range r.Formulas[1:min(4, len(r.Formulas))] {
			rest = append(rest, fmt.Sprintf("%s (%.0f %%)", f.Formula.Unicode(), clampPercent(f.Probability)))
		}
		if len(rest) > 0 {
			s.Full += " Next come " + list(rest, "and") + "."
		}
		out = append(out, s)
	}
	for _, g := range r.Groups {
		if g.Probability < 0.5 {
			break
		}
		s := Statement{Hint: "Which functional groups explain the fragments together?"}
		s.Step = fmt.Sprintf("%s %s is there (probability %.0f %%).", capital(sure(g.Probability)), groupText(g.Name), clampPercent(g.Probability))
		s.Full = s.Step
		if len(g.For) > 0 {
			s.Full += " For it: " + evidenceText(g.For) + "."
			for _, e := range g.For {
				s.Peaks = append(s.Peaks, e.Peaks...)
			}
		}
		if len(g.Against) > 0 {
			s.Full += " Against it: " + evidenceText(g.Against) + "."
		}
		out = append(out, s)
		if len(out) == 5 {
			break
		}
	}
	return out
}

func evidenceText(all []Evidence) string {
	var words []string
	for _, e := range all {
		words = append(words, e.Sentence)
	}
	return list(words, "and")
}

// undecided says what the peaks leave open and what would settle it.
func undecided(d *desk, r Reading) Statement {
	var open, settle []string
	if d.given.mass() == 0 && d.molP < 0.9 && len(r.MolecularIon) > 1 {
		open = append(open, fmt.Sprintf("whether the mass is %d or %d", r.MolecularIon[0].MZ, r.MolecularIon[1].MZ))
		settle = append(settle, "a softer ionization (chemical ionization, or electrons of 15 eV) would show the mass")
	}
	if _, told := d.formula(); !told {
		if len(r.Formulas) > 1 && r.Formulas[0].Probability < 0.9 {
			open = append(open, fmt.Sprintf("the formula (%s or %s)", r.Formulas[0].Formula.Unicode(), r.Formulas[1].Formula.Unicode()))
			settle = append(settle, "an exact mass to a few millionths would tell the formulas apart")
		} else if len(r.Formulas) == 0 {
			open = append(open, "the formula")
			settle = append(settle, "an exact mass to a few millionths would give the formula")
		}
	}
	var doubtful []string
	for _, g := range r.Groups {
		if g.Probability >= 0.25 && g.Probability < 0.75 {
			doubtful = append(doubtful, groupText(g.Name))
		}
	}
	if len(doubtful) > 0 {
		open = append(open, "whether there is "+list(doubtful[:min(4, len(doubtful))], "or"))
		settle = append(settle, "an infrared or a nuclear magnetic resonance spectrum would show these groups")
	}
	open = append(open, "how the parts are joined: isomers often give nearly the same spectrum")
	settle = append(settle, "a comparison with the spectrum of the pure compound on the same instrument would")
	text := capital("undecided remains " + list(open, "and") + ".")
	return Statement{
		Hint: "What can't be decided from these peaks, and what would decide it?",
		Step: text,
		Full: text + " " + capital(strings.Join(settle, "; ")) + ".",
	}
}
