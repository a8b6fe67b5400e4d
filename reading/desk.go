package reading

import (
	"fmt"
	"math"

	"ionwright/chem"
	"ionwright/reading/infer"
	"ionwright/spectrum"
)

// desk is what lies before every rule: the peaks, what is given, and what was
// inferred before the clues are put into words.
type desk struct {
	view       *infer.View
	whole      *infer.View  // with what was set apart
	model      *infer.Model // nil only in a damaged build; said in doubts
	spectrum   spectrum.Spectrum
	inexact    bool  // the m/z scatter, were moved or come from a profile: their decimals are no exact masses
	mixed      bool  // the peaks look like those of two compounds
	apart      []int // m/z left out as background
	saturated  []int // m/z of the peaks that are all equally strongest
	given      Given
	candidates []Candidate
	mol        int     // m/z of the first candidate, 0 if there is none
	molP       float64 // its probability
	formulas   []FormulaCandidate
	groups     []GroupCall
	doubts     []string
}

func newDesk(s spectrum.Spectrum, given Given, explain int) *desk {
	d := &desk{spectrum: s, given: given}
	d.takePeaks()
	d.checkGiven()
	if d.view.Count == 0 {
		return d
	}
	model, err := infer.Load()
	if err != nil {
		d.doubts = append(d.doubts, fmt.Sprintf("The fitted parameters can't be read (%v), so nothing is said about probabilities.", err))
		return d
	}
	d.model = model
	d.infer(explain)
	return d
}

// rel is the relative intensity at m/z in % of base.
func (d *desk) rel(mz int) float64 { return d.view.At(mz) }

// formula returns the given formula, and false if none is given.
func (d *desk) formula() (chem.Formula, bool) {
	return d.given.Formula, !d.given.Formula.IsEmpty()
}

func (d *desk) checkGiven() {
	g := &d.given
	if g.NominalMass < 0 || g.NominalMass > infer.MaxMZ {
		d.doubts = append(d.doubts, fmt.Sprintf("The given mass %d isn't between 1 and %d and was ignored.", g.NominalMass, infer.MaxMZ))
		g.NominalMass = 0
	}
	if f, ok := d.formula(); ok {
		switch mass := f.NominalMass(); {
		case mass < 1 || mass > infer.MaxMZ:
			d.doubts = append(d.doubts, fmt.Sprintf("The given formula %v has the nominal mass %d, which isn't between 1 and %d; it was ignored.", f, mass, infer.MaxMZ))
			g.Formula = chem.Formula{}
		case g.NominalMass != 0 && g.NominalMass != mass:
			d.doubts = append(d.doubts, fmt.Sprintf("The given mass %d isn't that of the given formula %v, %d; the formula was used.", g.NominalMass, f, mass))
		}
	}
	for _, name := range g.Groups {
		if !knownGroup(name) {
			d.doubts = append(d.doubts, fmt.Sprintf("The given group %q isn't one that is read for; it was ignored.", name))
		}
	}
}

// noFormulas, for explain, leaves the formulas out.
const noFormulas = -1

// infer asks the model and keeps its answers.
func (d *desk) infer(explain int) {
	result := d.model.Infer(d.view, infer.Options{Mass: d.given.mass(), Formulas: explain != noFormulas, Families: explain > 0, Explain: max(explain, 0)})
	for _, ion := range result.Ions {
		if ion.Probability < leastCandidate && len(d.candidates) > 0 {
			break
		}
		d.candidates = append(d.candidates, Candidate{MZ: ion.MZ, Probability: ion.Probability, Intensity: d.rel(ion.MZ)})
	}
	if len(d.candidates) > 0 {
		d.mol, d.molP = d.candidates[0].MZ, d.candidates[0].Probability
	}
	if result.Mixed {
		d.tellMixed()
	}
	d.keepFormulas(result.Formulas)
	d.keepGroups(result.Groups)
}

// explainIons gives the candidates for the molecular ion their reasons.
func (d *desk) explainIons() {
	for i := range d.candidates {
		c := &d.candidates[i]
		if d.given.mass() > 0 {
			c.Reasons = append(c.Reasons, "its mass is given")
		}
		c.Reasons = append(c.Reasons, reasons(d, c.MZ)...)
	}
}

// satellite tells whether the peak at m/z may be nothing but an isotope peak
// of a stronger one just below.
func (d *desk) satellite(mz int) bool {
	r := d.rel(mz)
	if below := d.rel(mz - 1); below > r && r <= below*(float64(mz)/14*0.0108*1.4+0.01)+0.2 {
		return true
	}
	below := d.rel(mz - 2)
	if below <= 0 {
		return false
	}
	q := r / below
	return q < 0.06 || below >= 3 && (math.Abs(q-0.32) < 0.03 || math.Abs(q-0.97) < 0.05)
}
