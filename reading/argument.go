package reading

import (
	"fmt"
	"strings"
)

// Statement is one step of the argument at three depths, tied to its peaks so
// that a page can highlight them.
type Statement struct {
	About string // what it speaks of, such as "Loss of 15"; it gives away as much as Step
	Hint  string // where to look
	Step  string // what is seen there and what it says
	Full  string // the same with the alternatives and the doubt
	Peaks []int  // m/z, ascending
	Clue  int    // index into Reading.Clues, -1 for a conclusion
}

// Open is something that the peaks leave undecided.
type Open struct {
	Question    string // "whether the mass is 86 or 88"
	Measurement string // what would decide it, a sentence
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
	ChargeTwo:           "Are there peaks at half units, or at half the mass?",
	Metastable:          "Is there a broad peak at a broken m/z?",
	Background:          "Could some peaks come from air, water or a contamination?",
}

// hint is the family's hint, with the peak it is about where there are several
// such clues.
func (c Clue) hint() string {
	switch {
	case c.Kind == NeutralLoss && len(c.Peaks) == 2:
		return fmt.Sprintf("What neutral of %d Da is lost from m/z %d to %d?", c.Peaks[1]-c.Peaks[0], c.Peaks[1], c.Peaks[0])
	case c.Kind == FragmentIon:
		return fmt.Sprintf("What can m/z %d be? Think of more than one ion.", c.Peaks[0])
	}
	return hints[c.Kind]
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
func argue(r Reading, d *desk) []Statement {
	var out []Statement
	for i, c := range r.Clues {
		s := Statement{About: c.Title, Hint: c.hint(), Step: c.Sentence, Peaks: c.Peaks, Clue: i}
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
	return append(out, undecided(r.Open))
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
