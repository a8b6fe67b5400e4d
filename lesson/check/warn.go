package check

import (
	"regexp"
	"strings"

	"github.com/yuin/goldmark/ast"

	"ionwright/lesson/diag"
	"ionwright/lesson/eval"
	"ionwright/lesson/load"
	"ionwright/lesson/source"
)

// seenFrom is the relative intensity in percent from which a molecular ion is
// seen in a printed spectrum.
const seenFrom = 1

// trustedFrom is the confidence (the cosine to expect with a measurement) from
// which the engine's spectrum may be shown without the author's word that it is
// meant to be a computed one. Two measurements of one compound agree to about
// 0.9; the engine's mean over compounds it wasn't fitted to is 0.72.
const trustedFrom = 0.65

// warn names what is risky though true.
func (c *checker) warn() {
	for _, clue := range c.clues {
		for _, mz := range clue.trace.Assigned {
			if all := eval.AlternativesAt(mz); len(all) > 1 && !c.listed[listing{clue.part, false, mz}] {
				c.add(diag.New(diag.ClueAlternatives, clue.at, "m/z %d is given one formula, but %s are common there", mz, strings.Join(all, ", ")).
					Suggesting("tell students in %s what else it could be: {{ assignments(%d) }}", where(clue.part), mz))
			}
		}
		for _, mass := range clue.trace.Lost {
			if all := eval.AlternativeLosses(mass); len(all) > 1 && !c.listed[listing{clue.part, true, mass}] {
				c.add(diag.New(diag.ClueAlternatives, clue.at, "a loss of %d is given one formula, but %s are common", mass, strings.Join(all, ", ")).
					Suggesting("tell students in %s what else it could be: {{ losses(%d) }}", where(clue.part), mass))
			}
		}
		for _, compound := range clue.trace.MolecularIons {
			if x := compound.Spectrum.Relative(compound.NominalMass()); x < seenFrom {
				c.add(diag.New(diag.MolecularIonWeak, clue.at, "the molecular ion of %s at m/z %d has %.1f %% of the base peak (%s): students won't see it",
					compound.Key, compound.NominalMass(), x, compound.Origin()))
			}
		}
	}
	for _, f := range c.report.Figures {
		if f.Compound != nil && f.Structure == nil {
			c.trusted(f.Compound, f.shown())
		}
	}
	c.report.Source.Walk(func(p *source.Prose, n ast.Node) {
		if s, ok := source.Plain(p, n); ok {
			c.numbers(s)
			c.terms(s)
		}
	})
}

// where names the part of the lesson that a clue stands in.
func where(part int) string {
	if part == anyPart {
		return "the text"
	}
	return "this section"
}

// shown is the place at which a figure names its compound.
func (f *Figure) shown() source.Text {
	switch {
	case f.Sweep != nil:
		return f.Sweep.Ions
	case f.Structure != nil:
		return f.Structure.Compound
	case f.Mechanism != nil:
		return f.Mechanism.Compound
	case f.Map != nil:
		return f.Map.Compound
	}
	return f.Spectrum.Spectrum
}

func (c *checker) trusted(compound *load.Compound, at source.Text) {
	if compound.Measured || compound.Source.Computed || compound.Prediction.Confidence >= trustedFrom {
		return
	}
	c.add(diag.New(diag.LowConfidence, at.Place(), "the spectrum of %s is computed, and the engine's confidence in it is only %.2f",
		compound.Key, compound.Prediction.Confidence).
		Suggesting("give a measured file, or say in the front matter that it is meant so: computed: yes"))
}

var bareMZ = regexp.MustCompile(`\bm/z\s+(\d+(?:\.\d+)?)`)

// numbers reports a number beside "m/z" that nothing computes.
func (c *checker) numbers(s source.Sentence) {
	for _, m := range bareMZ.FindAllStringSubmatchIndex(s.Words, -1) {
		words, number := s.Words[m[0]:m[1]], s.Words[m[2]:m[3]]
		c.add(diag.New(diag.NumberUnchecked, s.Span(m[0], m[1]), "%q stands in the prose and nothing checks it", words).
			Suggesting("let it be checked, m/z [%s]{= basePeak(...).mz }, or computed, m/z {{ basePeak(...).mz }}", number))
	}
}

// term is a way of speaking that students shouldn't learn.
type term struct {
	pattern *regexp.Regexp
	instead string
	because string
}

const iupac2013 = "IUPAC's recommendations of 2013 (Pure Appl. Chem. 85, 1515)"

// discouraged is the visible list of terms.
var discouraged = []term{
	{regexp.MustCompile(`(?i)\bparent (ion|peak)s?\b`), `"molecular ion", or "precursor ion" for the ion a product comes from`, iupac2013},
	{regexp.MustCompile(`(?i)\bdaughter ions?\b`), `"product ion"`, iupac2013},
	{regexp.MustCompile(`(?i)\belectron[- ]impact\b`), `"electron ionization"`, iupac2013},
	{regexp.MustCompile(`\bm/e\b`), `"m/z"`, "the Gold Book's entry m/z (M03752)"},
	{regexp.MustCompile(`(?i)\bmass[- ]spectroscop\w*`), `"mass spectrometry": nothing is absorbed or emitted`, iupac2013},
	{regexp.MustCompile(`\bm/z\s+\d+(?:\.\d+)?\s?(?:Da|u)\b`), `m/z without a unit: it is a ratio of two numbers`, "the Gold Book's entry m/z (M03752)"},
	{regexp.MustCompile(`\bamu\b`), `"Da" or "u"`, iupac2013},
}

// terms reports discouraged terms.
func (c *checker) terms(s source.Sentence) {
	for _, t := range discouraged {
		for _, m := range t.pattern.FindAllStringIndex(s.Words, -1) {
			c.add(diag.New(diag.TermDiscouraged, s.Span(m[0], m[1]), "%q is discouraged", s.Words[m[0]:m[1]]).
				Noted("by %s", t.because).Suggesting("write %s", t.instead))
		}
	}
}
