package reading

import (
	"slices"

	"ionwright/chem"
	"ionwright/reading/infer"
	"ionwright/spectrum"
)

// Given is what the reader is told beside the spectrum. The zero value is
// nothing.
type Given struct {
	Formula     chem.Formula // of the neutral compound; empty: not told
	NominalMass int          // Da; 0: not told; the formula's, if one is told, goes before it
	Groups      []string     // functional groups known to be there, names of infer.Groups
}

// mass returns the nominal mass that is given, 0 if none is.
func (g Given) mass() int {
	if !g.Formula.IsEmpty() {
		return g.Formula.NominalMass()
	}
	return g.NominalMass
}

// Reading is everything read from one spectrum.
type Reading struct {
	BasePeak     int         // m/z, 0 for an empty spectrum
	MolecularIon []Candidate // most probable first, at least 1 % each
	Clues        []Clue      // in the order in which they are taught
	Formulas     []FormulaCandidate
	Groups       []GroupCall // most probable first
	Argument     []Statement // in the order in which it is taught; ends in what remains undecided
	Open         []Open      // what remains undecided
	Doubts       []string    // what is wrong with the data or with what is given, and what was done about it, in sentences
	SetApart     []int       // m/z of peaks that look like background and weren't read
}

// Candidate is a place where the molecular ion may be.
type Candidate struct {
	MZ          int
	Probability float64
	Intensity   float64  // relative, % of base; 0 if no peak is there
	Reasons     []string // for it, then against it, in sentences
}

// FormulaCandidate is a formula that the compound may have.
type FormulaCandidate struct {
	Formula     chem.Formula
	Probability float64
	Reasons     []string
}

// GroupCall is how probable it is that the compound has a functional group.
type GroupCall struct {
	Name        string
	Probability float64
	For         []Evidence // strongest first
	Against     []Evidence
}

// Evidence is one thing that moved a probability.
type Evidence struct {
	Sentence string
	Peaks    []int   // m/z behind it
	Weight   float64 // change of the log-odds, natural logarithm
}

// Clue is one piece of evidence from a spectrum.
type Clue struct {
	Kind         Kind
	Key          string // names the case within the kind, such as "ion 77 strong"
	Title        string
	Sentence     string   // one or more plain sentences
	Peaks        []int    // m/z, ascending
	Suggests     []string // the first is what Probability speaks of
	Alternatives []string // what else would give it
	Probability  float64  // that the first of Suggests is true; see OnlyAtoms
	OnlyAtoms    bool     // Probability says only that the compound has the atoms for it
	holds        func(Truth) bool
	conditional  bool // presumes that the molecular ion is the first candidate
}

// Truth is what is known about a compound when a clue is checked.
type Truth struct {
	Formula chem.Formula // of the neutral compound
	Groups  map[string]bool
}

// Holds tells whether what the clue suggests first is true of a known
// compound, and false for known where the clue suggests nothing checkable.
func (c Clue) Holds(t Truth) (holds, known bool) {
	if c.holds == nil {
		return false, false
	}
	return c.holds(t), true
}

// leastCandidate is the probability under which a candidate isn't listed.
const leastCandidate = 0.01

// leastAtoms is the share of cases with the atoms for an assignment under
// which it isn't worth a sentence.
const leastAtoms = 0.3

// Read reads a spectrum. It never fails: what is wrong with the data or with
// what is given is said in Doubts, and a spectrum without peaks gives a
// reading without clues. Peaks are taken at unit resolution; a spectrum of
// half a million peaks takes well under a second.
func Read(s spectrum.Spectrum, given Given) Reading {
	d := newDesk(s, given, explained)
	d.explainIons()
	r := d.reading()
	if d.view.Count == 0 {
		return r
	}
	for _, rule := range rules {
		for _, c := range rule.read(d) {
			c.Kind = rule.Kind
			c = calibrated(c, d)
			if c.OnlyAtoms && c.Kind != BasePeak && c.Probability < leastAtoms {
				continue
			}
			r.Clues = append(r.Clues, c)
		}
	}
	r.Open = open(d, r)
	r.Argument = argue(r, d)
	return r
}

// explained is how many formulas and groups get reasons.
const explained = 6

// Quick is Read without clues, reasons and argument: the candidates, formulas
// and the groups of GroupNames only, for many spectra at a time.
func Quick(s spectrum.Spectrum, given Given) Reading {
	return newDesk(s, given, 0).reading()
}

func (d *desk) reading() Reading {
	r := Reading{BasePeak: d.view.Base, MolecularIon: d.candidates, Formulas: d.formulas, Groups: d.groups, Doubts: d.doubts, SetApart: d.apart}
	if d.view.Count == 0 {
		r.Doubts = append(r.Doubts, "The spectrum has no peaks, so there is nothing to read.")
	}
	return r
}

// GroupNames returns the names of the functional groups that accuracy is
// reported on, in a fixed order; Reading.Groups holds these and wider families.
func GroupNames() []string {
	var out []string
	for _, g := range infer.Groups[:infer.ScoredGroups] {
		out = append(out, g.Name())
	}
	return out
}

// AllGroupNames returns GroupNames and then the wider families that are read
// for: what Given.Groups may hold.
func AllGroupNames() []string {
	var out []string
	for _, g := range infer.Groups {
		out = append(out, g.Name())
	}
	return out
}

// knownGroup tells whether Given.Groups may hold the name.
func knownGroup(name string) bool {
	return slices.Contains(AllGroupNames(), name)
}
